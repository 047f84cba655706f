"""`phasewright sources`: every published figure and rule in use, with its source."""

from __future__ import annotations

from rich.text import Text

from phasewright.command.screen import line, screen
from phasewright.rules.register import all_rules
from phasewright.tables.sources import Source, all_sources


def list_sources() -> None:
    """Print every source, its edition, how sure it is and what rests on it; then the rules."""
    console = screen()
    for source in all_sources():
        edition = f", {source.edition}" if source.edition else ""
        console.print(Text(f"{source.title}{edition}", style="bold"))
        for status, tables in _by_status(source).items():
            line(console, f"{status}: {', '.join(tables)}", mark=Text("-"))
    console.print()
    console.print(Text("The rules that a plan is held against", style="bold"))
    for rule in all_rules():
        words = " ".join(rule.words.split("\n\n")[0].split())
        line(console, f"{rule.id}: {words} Source: {rule.source} ({rule.status}).", mark=Text("-"))


def _by_status(source: Source) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for use in source.uses:
        found.setdefault(use.status, []).append(use.table)
    return found
