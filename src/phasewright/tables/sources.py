"""Every source the program's figures come from, and where each is used."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from phasewright.tables.published import Status, data_files, source_rows, tables_of


@dataclass(frozen=True, slots=True)
class Use:
    """One table that rests on a source, and how sure that is."""

    table: str
    status: Status


@dataclass(frozen=True, slots=True)
class Source:
    """A book, standard, law, paper or habit of the trade, and the tables that rest on it."""

    id: str
    title: str
    edition: str
    uses: tuple[Use, ...]

    @property
    def status(self) -> str:
        """All its statuses in words, as "published" or "from memory, derived"."""
        return ", ".join(dict.fromkeys(use.status for use in self.uses))

    @property
    def where_used(self) -> str:
        """The tables that rest on it, in words."""
        return ", ".join(use.table for use in self.uses)


@cache
def all_sources() -> tuple[Source, ...]:
    """Every source in use, by title; one that nothing uses is left out."""
    uses: dict[str, list[Use]] = {}
    for file in data_files():
        for of in tables_of(file):
            uses.setdefault(of.source, []).append(
                Use(f"{file}: {of.name.replace('_', ' ')}", of.status)
            )
    rows = source_rows()
    found = (
        Source(id, rows[id]["title"], rows[id].get("edition", ""), tuple(of))
        for id, of in uses.items()
    )
    return tuple(sorted(found, key=lambda source: source.title.lower()))
