"""The sheets to take to the machine as blocks of the report, whatever they are about."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from phasewright.papers.report.balance import halves
from phasewright.papers.report.blocks import (
    SPAN,
    Block,
    Column,
    Heading,
    Measured,
    Step,
    Table,
    Words,
    bullets,
)
from phasewright.papers.sheets import sheet as of

NARROW, LONG = 4, 20
"""A table of no more columns fits half the width of a page; one of more rows is cut in two."""


def sheet_blocks(sheet: of.Sheet) -> Iterator[Block]:
    """A sheet: in two columns, but for wide tables. What stands elsewhere in the report is not
    printed again."""
    yield Heading(sheet.title, 1)
    told: dict[str, int] = {}
    blocks = [each for section in sheet.sections for each in _section(section, told)]
    for narrow, run in groupby(_joined(blocks), key=_narrow):
        if narrow:
            yield halves(tuple(run))
        else:
            yield from run


def left_out(sheets: of.Sheets) -> Iterator[Block]:
    """Sheets this shop gives no figures for, and why."""
    if sheets.left_out:
        yield Heading("Sheets that were left out")
        yield from bullets((each.title, each.words) for each in sheets.left_out)


def _joined(blocks: list[Block]) -> Iterator[Block]:
    """Wide tables of the same columns that follow each other as one, each heading a row in it."""
    place = 0
    while place < len(blocks):
        rows: list[tuple[str, ...]] = []
        columns: tuple[Column, ...] = ()
        while (pair := _headed(blocks, place)) and columns in ((), pair[1].columns):
            columns = pair[1].columns
            rows += [(SPAN, pair[0].words), *pair[1].rows]
            place += 2
        if rows:
            yield Table(columns, tuple(rows), small=True, wide=True)
        else:
            yield blocks[place]
            place += 1


def _headed(blocks: list[Block], place: int) -> tuple[Heading, Table] | None:
    """A heading with the wide table that stands under it."""
    match blocks[place : place + 2]:
        case [Heading() as heading, Table() as table] if not _narrow(table):
            return heading, table
    return None


def _narrow(block: Block) -> bool:
    return not isinstance(block, Table) or not (block.wide or len(block.columns) > NARROW)


def _section(section: of.Section, told: dict[str, int]) -> Iterator[Block]:
    if section.title:
        yield Heading(section.title)
    if section.stands:
        yield Words(f"See “{section.stands}” in these papers.", look="small")
        return
    for part in section.parts:
        yield from _part(part, told)


def _part(part: of.Part, told: dict[str, int]) -> Iterator[Block]:
    match part:
        case of.Paragraph(words, kind):
            yield Words(words, look="caution" if kind == "caution" else "plain")
        case of.Table():
            yield from _table(part)
        case of.Record():
            yield _record(part)
            yield Words("; ".join(f"{a}: {b}" for a, b in zip(part.parts, part.back, strict=True)),
                        "Put back by:")  # fmt: skip
        case of.Steps(steps, first):
            head = next((k for k, each in enumerate(steps, start=first) if each.measures), 0)
            for number, each in enumerate(steps, start=first):
                yield _step(number, each, told, headed=number == head)


def _step(number: int, step: of.Step, told: dict[str, int], *, headed: bool) -> Step:
    """A step; what another reading means is told once a sheet (`told`: words and number)."""
    measured: list[Measured] = []
    new: list[tuple[int, str]] = []
    meter = ""
    for each in step.measures:
        if each.differs and each.differs not in told:
            told[each.differs] = len(told) + 1
            new.append((told[each.differs], each.differs))
        again = each.meter == meter
        meter = each.meter
        measured.append(
            Measured(each.between, "" if again else meter, each.expected, told.get(each.differs, 0))
        )
    return Step(number, step.words, step.caution, tuple(measured), tuple(new), headed)


def _record(record: of.Record) -> Table:
    """A machine in a row, a part in a column, with room for how it was found."""
    head = (Column("Machine, on", 1.5), *(Column(_first_up(part), 1.0) for part in record.parts))
    rows = tuple(
        (f"{each.title}\n{each.runs_on}",
         *(f"found:\n\n\n{f'now: {new}' if new else ''}" for new in each.changed))
        for each in record.machines
    )  # fmt: skip
    return Table(head, rows, small=True, wide=True)


def _first_up(words: str) -> str:
    return words[:1].upper() + words[1:]


def _table(table: of.Table) -> Iterator[Block]:
    if table.title:
        yield Heading(table.title, 3)
    widths = table.widths or (1,) * len(table.columns)
    columns = tuple(
        Column(_first_up(name), float(width), blank=name in table.blank)
        for name, width in zip(table.columns, widths, strict=True)
    )
    rows = tuple(
        tuple("" if column.blank else cell for column, cell in zip(columns, row, strict=True))
        for row in table.rows
    )
    narrow = len(columns) <= NARROW and not table.wide
    part = -(-len(rows) // 2) if narrow and len(rows) > LONG else len(rows)
    for place in range(0, len(rows), max(part, 1)):
        yield Table(columns, rows[place : place + part], small=True, wide=table.wide)
