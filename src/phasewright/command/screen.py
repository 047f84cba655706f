"""The terminal: plain text 80 wide that reads the same without colour, in a pipe, in a file."""

from __future__ import annotations

import io
import sys

from rich.console import Console
from rich.table import Table
from rich.text import Text

from phasewright.quantities.codes import Severity, Verdict
from phasewright.quantities.told import amount, money, spread

__all__ = [
    "Screen", "amount", "draws", "heading", "line", "money", "screen", "shape", "spread",
    "tabled",
]  # fmt: skip
WIDEST = 100
NARROWEST = 60
_SHAPES: dict[str, tuple[str, str, str]] = {  # drawn, in plain letters, style
    "suits": ("●", "(+)", "bold"),
    "with_conditions": ("◐", "(o)", ""),
    "refused": ("○", "(-)", "dim"),
    "stop": ("■", "[!]", "bold"),
    "condition": ("▲", "[>]", ""),
    "caution": ("△", "[?]", ""),
    "info": ("·", "-", "dim"),
}


class Screen(Console):
    """A console that leaves it to the command what a closed output means."""

    def on_broken_pipe(self) -> None:
        raise BrokenPipeError


def screen(*, errors: bool = False) -> Console:
    """A console on the output (or on the error output) that never fails on a letter."""
    stream = sys.stderr if errors else sys.stdout
    if isinstance(stream, io.TextIOWrapper):
        stream.reconfigure(errors="replace")
    console = Screen(file=stream, highlight=False, markup=False, emoji=False, soft_wrap=False)
    console.width = max(NARROWEST, min(WIDEST, console.width))
    return console


def draws(console: Console) -> bool:
    """True where the output can show more than plain letters."""
    return console.encoding.lower().replace("-", "").startswith("utf")


def shape(console: Console, name: Verdict | Severity) -> Text:
    """The shape of a verdict or a severity; its word always stands beside it."""
    drawn, letters, style = _SHAPES[name]
    return Text(drawn if draws(console) else letters, style=style)


def heading(console: Console, words: str) -> None:
    """A heading with an empty line before it."""
    console.print()
    console.print(Text(words.upper(), style="bold"))


def line(console: Console, words: str | Text, *, mark: Text | None = None, inset: int = 2) -> None:
    """A line that wraps under its own beginning, with a mark before it."""
    text = Text(words) if isinstance(words, str) else words
    lead = Text(" " * inset) if mark is None else Text.assemble(" " * inset, mark, " ")
    for part in text.wrap(console, max(20, console.width - lead.cell_len)):
        part.rstrip()
        console.print(Text.assemble(lead, part), soft_wrap=True)
        lead = Text(" " * lead.cell_len)


def tabled(console: Console, table: Table) -> None:
    """A table under its heading, no space left at the ends of its lines."""
    with console.capture() as caught:
        console.print(table, width=console.width - 2)
    for row in Text.from_ansi(caught.get()).split():
        row.rstrip()
        console.print(Text("  ") + row, soft_wrap=True)
