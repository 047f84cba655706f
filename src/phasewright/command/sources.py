"""`phasewright sources`: every published figure in use, with its source."""

from __future__ import annotations

from rich.text import Text

from phasewright.command.screen import heading, line, screen
from phasewright.tables.sources import Source, all_sources


def list_sources() -> None:
    """Print the sources by how sure they are, each with its edition and where it is used."""
    console = screen()
    groups: dict[str, list[Source]] = {}
    for source in all_sources():
        groups.setdefault(source.status, []).append(source)
    for status in sorted(groups):
        heading(console, status)
        for source in groups[status]:
            edition = f", {source.edition}" if source.edition else ""
            line(console, f"{source.title}{edition} [{source.id}]", mark=Text("-"))
