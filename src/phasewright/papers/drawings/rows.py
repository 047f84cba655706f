"""Rows of a sheet: rails with the columns that hang on them side by side, and their places."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from phasewright.papers.drawings.look import (
    CAPTION,
    EDGE,
    HEIGHT,
    INSIDE,
    RAIL,
    SAYS,
    TITLE_BLOCK,
    WIDTH,
)
from phasewright.papers.drawings.measures import Plan, Writer, measured
from phasewright.papers.font import width_of
from phasewright.papers.wiring.model import Band, Unit

GAP = 16.0
SPILL = 60.0
"""How much a sheet may grow for its notes before they take a sheet of their own."""
APART = 30.0
"""Between rows that stand side by side."""


@dataclass(frozen=True, slots=True)
class Row:
    """Rails with the columns of theirs that stand side by side on one sheet."""

    title: str
    labels: tuple[str, ...]
    terminals: tuple[str, ...]
    potentials: tuple[str, ...]
    start: float
    columns: tuple[Plan, ...]
    later: bool = False

    @property
    def devices(self) -> tuple[str, ...]:
        """What stands in this row."""
        return tuple(each.device for plan in self.columns for each in plan.column.elements)

    @property
    def width(self) -> float:
        return max(
            self.start + sum(each.width for each in self.columns), width_of(self.title, CAPTION)
        )

    def of(self, held: Sequence[Plan]) -> Row:
        """A row of some of the columns, with the rails that they hang on alone."""
        used = sorted({k for plan in held for k in plan.column.rails})
        place = {k: at for at, k in enumerate(used)}
        columns = tuple(
            replace(plan, column=replace(
                plan.column, rails=tuple(place[k] for k in plan.column.rails)
            ))
            for plan in held
        )  # fmt: skip
        return Row(
            self.title, tuple(self.labels[k] for k in used),
            tuple(self.terminals[k] for k in used), tuple(self.potentials[k] for k in used),
            self.start, columns, self.later,
        )  # fmt: skip

    @property
    def rails_end(self) -> float:
        """Height from the row's top to below its last rail."""
        return 16.0 + RAIL * len(self.labels)

    @property
    def height(self) -> float:
        return self.rails_end + max((each.height for each in self.columns), default=0.0) + GAP


def rows_of(writer: Writer, unit: Unit, widest: float) -> list[Row]:
    """The bands of a unit in rows that are no wider than `widest`, but for a single column that
    is."""
    rows: list[Row] = []
    for band in unit.bands:
        labels = tuple(_label(writer, each.terminal, each.potential) for each in band.rails)
        start = max(width_of(label, SAYS) for label in labels) + 8.0
        waiting = [measured(writer, column) for column in band.columns]
        held: list[Plan] = []
        for plan in waiting:
            if held and start + sum(p.width for p in held) + plan.width > widest:
                rows.append(_row(band, labels, start, held))
                held = []
            held.append(plan)
        rows.append(_row(band, labels, start, held))
    return rows


def _row(band: Band, labels: tuple[str, ...], start: float, held: Sequence[Plan]) -> Row:
    """The row of some columns of a band, with the rails that they hang on alone."""
    whole = Row(
        band.title, labels, tuple(each.terminal for each in band.rails),
        tuple(each.potential for each in band.rails), start, (), band.later,
    )  # fmt: skip
    return whole.of(held)


def room() -> float:
    """Width between the frame's inner edges."""
    return WIDTH - 2 * EDGE - 2 * INSIDE


def _label(writer: Writer, terminal: str, potential: str) -> str:
    device = terminal.partition(":")[0]
    other = writer.single or not terminal.startswith(f"{writer.unit}-")
    sheet = writer.pages.stands.get(device) if other else None
    shown = (terminal if other else terminal.removeprefix(writer.unit)).removesuffix(":")
    return f"{potential}  {shown}" + (f"  (sheet {sheet})" if sheet else "")


@dataclass(frozen=True, slots=True)
class Placed:
    """A row with where its upper left corner stands inside the frame."""

    row: Row
    x: float
    y: float

    @property
    def right(self) -> float:
        return self.x + self.row.width + APART

    @property
    def bottom(self) -> float:
        return self.y + self.row.height

    def meets(self, other: Placed) -> bool:
        """Whether two rows share room."""
        across = self.x < other.right and other.x < self.right
        return across and self.y < other.bottom and other.y < self.bottom


def paged(rows: Iterable[Row], notes_height: float) -> list[list[Placed]]:
    """Every row at the first free corner, from the top, then from the left; where none is left as
    many of its columns as still find one, the others as a row of their own; then a new sheet. The
    notes stand below the last, this high."""
    pages: list[list[Placed]] = [[]]
    waiting = list(rows)
    while waiting:
        row = waiting.pop(0)
        spot = _free(pages[-1], row)
        if spot is None:
            spot, rest = _partly(pages[-1], row)
            waiting[:0] = rest
        if spot is None:
            pages.append([])
            continue
        pages[-1].append(spot)
    if pages[-1] and deepest(pages[-1]) + notes_height > _depth() + SPILL:
        pages.append([])
    return pages


def _partly(page: Sequence[Placed], row: Row) -> tuple[Placed | None, list[Row]]:
    """The first columns of a row that find a place, the more the better, and the rest of it, or
    the whole row where not even one does."""
    for count in range(len(row.columns) - 1, 0, -1):
        head, rest = row.of(row.columns[:count]), row.of(row.columns[count:])
        spot = _free(page, head)
        if spot is not None:
            return spot, [rest]
    return None, [row]


def _free(page: Sequence[Placed], row: Row) -> Placed | None:
    if not page:
        return Placed(row, 0.0, 0.0)
    across = sorted({0.0, *(each.right for each in page)})
    down = sorted({0.0, *(each.bottom for each in page)})
    for y in down:
        for x in across:
            spot = Placed(row, x, y)
            if spot.right - APART > room() or spot.bottom > _depth():
                continue
            if not any(spot.meets(each) for each in page):
                return spot
    return None


def _depth() -> float:
    return HEIGHT - 2 * EDGE - 2 * INSIDE - TITLE_BLOCK


def deepest(page: Sequence[Placed]) -> float:
    """How far down the rows of a sheet reach."""
    return max((each.bottom for each in page), default=0.0)
