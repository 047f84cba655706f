"""`phasewright sources`: every published figure in use, with its source."""

from __future__ import annotations

from rich.text import Text

from phasewright.command.screen import line, screen
from phasewright.tables.sources import Source, all_sources


def list_sources() -> None:
    """Print every source with its edition, how sure it is, and the tables that rest on it."""
    console = screen()
    for source in all_sources():
        edition = f", {source.edition}" if source.edition else ""
        console.print(Text(f"{source.title}{edition}", style="bold"))
        for status, tables in _by_status(source).items():
            line(console, f"{status}: {', '.join(tables)}", mark=Text("-"))


def _by_status(source: Source) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for use in source.uses:
        found.setdefault(use.status, []).append(use.table)
    return found
