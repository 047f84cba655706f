"""The sheets to take to the machine as blocks of the report, whatever they are about."""

from __future__ import annotations

from collections.abc import Iterator

from phasewright.papers.report.blocks import (
    Block,
    Column,
    Heading,
    Step,
    Table,
    Words,
    bullets,
)
from phasewright.papers.sheets import sheet as of


def sheet_blocks(sheet: of.Sheet) -> Iterator[Block]:
    """A sheet from the top of a page."""
    yield Heading(sheet.title, 1, page=True)
    for section in sheet.sections:
        if section.title:
            yield Heading(section.title)
        for part in section.parts:
            yield from _part(part)


def left_out(sheets: of.Sheets) -> Iterator[Block]:
    """Sheets this shop gives no figures for, and why."""
    if sheets.left_out:
        yield Heading("Sheets that were left out")
        yield from bullets((each.title, each.words) for each in sheets.left_out)


def _part(part: of.Part) -> Iterator[Block]:
    match part:
        case of.Paragraph(words, kind):
            yield Words(words, look="caution" if kind == "caution" else "plain")
        case of.Table():
            yield from _table(part)
        case of.Steps(steps, first):
            for number, each in enumerate(steps, start=first):
                yield Step(number, each.words, each.caution, tuple(_measures(each)))


def _measures(step: of.Step) -> Iterator[tuple[str, str, str, str]]:
    """What is measured in a step; the same meaning of another reading once."""
    before = ""
    for each in step.measures:
        again = each.differs and each.differs == before
        yield each.between, each.meter, each.expected, "as above" if again else each.differs
        before = each.differs


def _table(table: of.Table) -> Iterator[Block]:
    if table.title:
        yield Heading(table.title, 3)
    widths = table.widths or (1,) * len(table.columns)
    columns = tuple(
        Column(name[:1].upper() + name[1:], float(width), blank=name in table.blank)
        for name, width in zip(table.columns, widths, strict=True)
    )
    rows = tuple(
        tuple("" if column.blank else cell for column, cell in zip(columns, row, strict=True))
        for row in table.rows
    )
    if rows:
        yield Table(columns, rows, small=True)
