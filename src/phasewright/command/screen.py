"""The terminal: plain text 80 wide that reads the same without colour, in a pipe, in a file."""

from __future__ import annotations

import io
import sys

from rich.console import Console
from rich.text import Text

from phasewright.quantities import units
from phasewright.quantities.codes import Severity, Verdict
from phasewright.quantities.kinds import KINDS
from phasewright.quantities.value import Value

WIDEST = 100
NARROWEST = 60
_SI = frozenset(kind.si for kind in KINDS.values())
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


def money(number: float, currency: str | None) -> str:
    """An amount of money; without a currency it carries no sign."""
    amount = f"{number:,.0f}" if abs(number) >= 100 else f"{number:,.2f}"
    return f"{amount} {currency}" if currency else amount


def spread(value: Value) -> str:
    """A figure with its lowest and highest credible value, where they differ as printed."""
    low, high = amount(value.low, value.unit), amount(value.high, value.unit)
    middle = amount(value.number, value.unit)
    if low == high:
        return middle
    units_of = {text.partition(" ")[2] for text in (low, middle, high)}
    if len(units_of) == 1:
        low = low.partition(" ")[0]
    return f"{middle} ({low} to {high})"


def amount(number: float, unit: str) -> str:
    """A number in the unit an owner reads; relays and clamps are marked in amps, not in parts."""
    if unit == "A" and 0.1 <= abs(number) < 1.0:
        return f"{number:.3g} A"
    if unit in _SI and unit != "kWh":
        return units.format(number, unit)
    if unit.startswith("1/"):
        return f"{_digits(number)} a {unit[2:]}"
    return f"{_digits(number)} {unit}".rstrip()


def _digits(number: float) -> str:
    return f"{number:,.0f}" if abs(number) >= 1000 else f"{number:.3g}"
