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
    Table,
    Words,
    bullets,
    table,
)
from phasewright.papers.report.steps import steps_of
from phasewright.papers.sheets import sheet as of
from phasewright.papers.sheets.uses import SHEETS, USES

NARROW, LONG = 4, 20
"""A table of no more columns fits half the width of a page; one of more rows is cut in two."""


AT_HAND = ("before-you-open", "settings")
"""Sheets that stand in the report; the others stand in a file beside it."""


def at_hand(sheets: of.Sheets) -> Iterator[Block]:
    """The sheets to work by, then the names of those that have a file of their own."""
    others = []
    for sheet in sheets.sheets:
        if sheet.name in AT_HAND:
            yield from sheet_blocks(sheet)
        else:
            others.append((sheet.title, USES[sheet.name], f"sheets/{sheet.name}.txt"))
    if others:
        yield Heading("Papers of their own", 1)
        yield Words(
            f"To hand out, to write in, to check by: printed from {SHEETS}, each from a page of "
            "its own; as text in the folder sheets. Settings, wires one by one, every figure with "
            "its inputs: settings.csv, drives.txt, lists, workings.json.",
            look="small",
        )
        columns = (Column("Paper", 1.4), Column("For whom, what for", 3.0), Column("As text", 1.1))
        yield from table(columns, others, small=True)
    yield from _left_out(sheets)


def apart(sheets: of.Sheets) -> Iterator[Block]:
    """The sheets that do not stand in the report, whole, each from a page of its own."""
    for sheet in sheets.sheets:
        if sheet.name not in AT_HAND:
            yield from sheet_blocks(sheet, alone=True)


def sheet_blocks(sheet: of.Sheet, *, alone: bool = False) -> Iterator[Block]:
    """A sheet: in two columns, but for wide tables. What stands elsewhere in the report is not
    printed again, unless the sheet is to stand `alone`, from a page of its own."""
    yield Heading(sheet.title, 1, page=alone)
    told: dict[str, int] = {}
    blocks = [each for section in sheet.sections for each in _section(section, told, alone)]
    for narrow, run in groupby(_joined(blocks), key=_narrow):
        if narrow:
            yield halves(tuple(run))
        else:
            yield from run


def _left_out(sheets: of.Sheets) -> Iterator[Block]:
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


def _section(section: of.Section, told: dict[str, int], alone: bool) -> Iterator[Block]:
    if section.title:
        yield Heading(section.title)
    if section.stands and not alone:
        yield Words(f"See “{section.stands}” in these papers.", look="small")
        return
    for part in section.parts:
        yield from _part(part, told)


def _part(part: of.Part, told: dict[str, int]) -> Iterator[Block]:
    match part:
        case of.Paragraph(words, kind):
            yield Words(words, look="caution" if kind == "caution" else "plain")
        case of.Table():
            yield from _table_of(part)
        case of.Record():
            yield _record(part)
            yield Words("; ".join(f"{a}: {b}" for a, b in zip(part.parts, part.back, strict=True)),
                        "Put back by:")  # fmt: skip
        case of.Steps(steps, first):
            yield from steps_of(steps, first, told)


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


def _table_of(table: of.Table) -> Iterator[Block]:
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
