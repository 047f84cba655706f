"""A sheet as plain text of fixed width."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from phasewright.papers.sheets.sheet import Paragraph, Part, Record, Sheet, Step, Steps, Table

WIDE = 78
BLANK = "____"
_LEAST, _MOST = 4, 18


def text(sheet: Sheet) -> str:
    """The whole sheet, its lines not longer than `WIDE` but for a word that is."""
    return "\n".join(line.rstrip() for line in _lines(sheet)) + "\n"


def _lines(sheet: Sheet) -> Iterator[str]:
    yield sheet.title
    yield "=" * len(sheet.title)
    for section in sheet.sections:
        yield ""
        if section.title:
            yield section.title
            yield "-" * len(section.title)
        for place, part in enumerate(section.parts):
            if place:
                yield ""
            yield from _part(part)


def _part(part: Part) -> Iterator[str]:
    if isinstance(part, Paragraph):
        mark = "TAKE CARE: " if part.kind == "caution" else ""
        yield from textwrap.wrap(mark + part.words, WIDE)
    elif isinstance(part, Table):
        yield from _table(part)
    elif isinstance(part, Record):
        yield from _record(part)
    elif isinstance(part, Steps):
        for number, step in enumerate(part.steps, part.first):
            if number > part.first:
                yield ""
            yield from _step(number, step)


def _step(number: int, step: Step) -> Iterator[str]:
    yield from textwrap.wrap(
        step.words, WIDE, initial_indent=f"[ ] {number}. ", subsequent_indent="      "
    )
    if step.caution:
        yield from _in(f"TAKE CARE: {step.caution}", 6)
    for each in step.measures:
        yield from _in(f"- {each.between}{f' ({each.at})' if each.at else ''}", 6, 8)
        yield from _in(f"{each.expected or 'no figure'}   read: {BLANK}____   ({each.meter})", 8)
    for differs in dict.fromkeys(each.differs for each in step.measures if each.differs):
        yield from _in(f"If not: {differs}", 6)


def _record(of: Record) -> Iterator[str]:
    for each in of.machines:
        yield each.title
        yield from _in(f"Now: {each.runs_on}. {each.linked}".strip(), 4)
        for part, changed in zip(of.parts, each.changed, strict=True):
            told = f"   changed: {changed}" if changed else ""
            yield from _in(f"- {part}: found {BLANK}____{told}", 4, 6)
        yield ""
    yield "How it is put back"
    for part, back in zip(of.parts, of.back, strict=True):
        yield from _in(f"- {part}: {back}", 4, 6)


def _in(words: str, first: int, then: int | None = None) -> list[str]:
    return textwrap.wrap(
        words, WIDE, initial_indent=" " * first,
        subsequent_indent=" " * (first if then is None else then),
    )  # fmt: skip


def _table(table: Table) -> Iterator[str]:
    if table.title:
        yield table.title
    wide = _widths(table)
    yield from _row(table.columns, wide)
    yield "  ".join("-" * each for each in wide)
    for row in table.rows:
        yield from _row(
            tuple(
                cell or (BLANK if name in table.blank else "")
                for name, cell in zip(table.columns, row, strict=True)
            ),
            wide,
        )


def _row(cells: tuple[str, ...], wide: list[int]) -> Iterator[str]:
    columns = [textwrap.wrap(cell, each) or [""] for cell, each in zip(cells, wide, strict=True)]
    for place in range(max(len(each) for each in columns)):
        yield "  ".join(
            (each[place] if place < len(each) else "").ljust(width)
            for each, width in zip(columns, wide, strict=True)
        )


def _widths(table: Table) -> list[int]:
    """As wide as what they hold where that fits, else by their shares, no word of a head cut."""
    room = WIDE - 2 * (len(table.columns) - 1)
    cells = [table.columns, *table.rows]
    natural = [max(len(row[k]) for row in cells) for k in range(len(table.columns))]
    if sum(natural) <= room:
        return [max(each, _LEAST) for each in natural]
    least = [_longest([name]) for name in table.columns]
    whole = [_longest([row[k] for row in cells]) for k in range(len(table.columns))]
    if sum(whole) <= room:
        least = whole
    shares = table.widths or tuple(natural)
    free = room - sum(least)
    return [each + free * share // sum(shares) for each, share in zip(least, shares, strict=True)]


def _longest(cells: Sequence[str]) -> int:
    """The longest word, but no longer than is worth a column's width."""
    return min(_MOST, max([_LEAST, *(len(word) for cell in cells for word in cell.split())]))
