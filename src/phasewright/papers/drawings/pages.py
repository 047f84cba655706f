"""Sheets: rows of rails with their columns put on pages, a frame and a title block round them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from phasewright.papers.drawings.columns import Plan, Spot, Writer, drawn_column, measured
from phasewright.papers.drawings.look import (
    CAPTION,
    EDGE,
    HEIGHT,
    PITCH,
    RAIL,
    SAYS,
    STYLE,
    TITLE_BLOCK,
    WIDTH,
    rectangle,
    wire,
)
from phasewright.papers.font import width_of
from phasewright.papers.svg import Mark, drawing, line, mark, words, wrapped
from phasewright.papers.wiring.model import Band, Unit

INSIDE = 14.0
"""From the frame to what is drawn in it."""
GAP = 16.0
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

    @property
    def devices(self) -> tuple[str, ...]:
        """What stands in this row."""
        return tuple(each.device for plan in self.columns for each in plan.column.elements)

    @property
    def width(self) -> float:
        return max(
            self.start + sum(each.width for each in self.columns), width_of(self.title, CAPTION)
        )

    @property
    def rails_end(self) -> float:
        """Height from the row's top to below its last rail."""
        return 16.0 + RAIL * len(self.labels)

    @property
    def height(self) -> float:
        return self.rails_end + max((each.height for each in self.columns), default=0.0) + GAP


@dataclass(frozen=True, slots=True)
class Page:
    """A sheet: its name, what it shows, the drawing, and where every terminal stands on it."""

    name: str
    title: str
    number: int
    marks: Mark
    spots: tuple[Spot, ...] = ()


@dataclass(frozen=True, slots=True)
class Frame:
    """What the title block of every sheet says."""

    shop: str
    plan: str
    revision: str
    sheets: int


def rows_of(writer: Writer, unit: Unit) -> list[Row]:
    """The bands of a unit in rows that are as wide as a sheet."""
    rows: list[Row] = []
    for band in unit.bands:
        labels = tuple(_label(writer, each.terminal, each.potential) for each in band.rails)
        start = max(width_of(label, SAYS) for label in labels) + 8.0
        waiting = [measured(writer, column) for column in band.columns]
        held: list[Plan] = []
        for plan in waiting:
            if held and start + sum(p.width for p in held) + plan.width > _room():
                rows.append(_row(band, labels, start, held))
                held = []
            held.append(plan)
        rows.append(_row(band, labels, start, held))
    return rows


def _row(band: Band, labels: tuple[str, ...], start: float, held: Sequence[Plan]) -> Row:
    """The row of some columns of a band, with the rails that they hang on alone."""
    used = sorted({k for plan in held for k in plan.column.rails})
    place = {k: at for at, k in enumerate(used)}
    held = [
        replace(plan, column=replace(
            plan.column, rails=tuple(place[k] for k in plan.column.rails)
        ))
        for plan in held
    ]  # fmt: skip
    labels = tuple(labels[k] for k in used)
    band = replace(band, rails=tuple(band.rails[k] for k in used))
    return Row(
        band.title,
        labels,
        tuple(each.terminal for each in band.rails),
        tuple(each.potential for each in band.rails),
        start,
        tuple(held),
    )


def _room() -> float:
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


def paged(rows: Iterable[Row], notes: Sequence[str]) -> list[list[Placed]]:
    """Every row at the first free corner, from the top, then from the left; a new sheet where
    none is left. The notes stand below the last."""
    pages: list[list[Placed]] = [[]]
    for row in rows:
        spot = _free(pages[-1], row)
        if spot is None:
            pages.append([])
            spot = Placed(row, 0.0, 0.0)
        pages[-1].append(spot)
    if pages[-1] and _deepest(pages[-1]) + _notes_height(notes) > _depth():
        pages.append([])
    return pages


def _free(page: Sequence[Placed], row: Row) -> Placed | None:
    if not page:
        return Placed(row, 0.0, 0.0)
    across = sorted({0.0, *(each.right for each in page)})
    down = sorted({0.0, *(each.bottom for each in page)})
    for y in down:
        for x in across:
            spot = Placed(row, x, y)
            if spot.right - APART > _room() or spot.bottom > _depth():
                continue
            if not any(spot.meets(each) for each in page):
                return spot
    return None


def _depth() -> float:
    return HEIGHT - 2 * EDGE - 2 * INSIDE - TITLE_BLOCK


def _deepest(page: Sequence[Placed]) -> float:
    return max((each.bottom for each in page), default=0.0)


def _notes_height(notes: Sequence[str]) -> float:
    return sum(PITCH * len(wrapped(note, SAYS, _room())) + 4.0 for note in notes)


def unit_pages(
    writer: Writer, unit: Unit, pages: Sequence[Sequence[Placed]], frame: Frame, first: int
) -> list[Page]:
    """The sheets of a unit from its placed rows."""
    made = []
    for place, here in enumerate(pages):
        last = place == len(pages) - 1
        writer.spots = []
        corner = EDGE + INSIDE
        marks = [
            each
            for spot in here
            for each in _row_marks(writer, spot.row, corner + spot.x, corner + spot.y)
        ]
        y = corner + _deepest(here)
        if last:
            marks += note_marks(unit.notes, y)
            y += _notes_height(unit.notes)
        part = f", part {place + 1}" if len(pages) > 1 else ""
        name = unit.id.lstrip("=") or "sheet"
        wide = max((spot.right - APART for spot in here), default=0.0)
        made.append(
            framed(
                f"{first + place:02d}-{name}", f"{unit.id}  {unit.title}{part}", first + place,
                marks, frame, (wide, y), tuple(writer.spots),
            )
        )  # fmt: skip
    return made


def _row_marks(writer: Writer, row: Row, left: float, y: float) -> list[Mark]:
    marks = [words(row.title, (left, y + CAPTION), CAPTION, look="quiet")]
    heights = [y + 16.0 + RAIL * (k + 0.5) for k in range(len(row.labels))]
    for label, height in zip(row.labels, heights, strict=True):
        marks.append(words(label, (left, height + 3.0), SAYS))
    marks += _rails(writer, row, heights, left)
    x = left + row.start
    for plan in row.columns:
        rails = [heights[k] for k in plan.column.rails]
        marks += drawn_column(writer, plan, x, rails, y + row.rails_end)
        x += plan.width
    return marks


def _rails(writer: Writer, row: Row, heights: Sequence[float], left: float) -> list[Mark]:
    """Every rail as far as the last column that hangs on it."""
    marks: list[Mark] = []
    for k, height in enumerate(heights):
        x, end = left + row.start, left + row.start + 12.0
        for plan in row.columns:
            if k in plan.column.rails:
                end = max(end, x + plan.leg(plan.column.rails.index(k)) + 12.0)
            x += plan.width
        look = "earth" if row.potentials[k] == "PE" else "rail"
        begin = (left + row.start - 4.0, height)
        writer.spots.append((row.terminals[k], begin))
        marks.append(line(begin, (end, height), look))
    return marks


def note_marks(notes: Sequence[str], y: float) -> list[Mark]:
    """Notes below what is drawn."""
    marks: list[Mark] = []
    for note in notes:
        for text in wrapped(note, SAYS, _room()):
            y += PITCH
            marks.append(words(text, (EDGE + INSIDE, y), SAYS))
        y += 4.0
    return marks


def framed(
    name: str,
    title: str,
    number: int,
    marks: Sequence[Mark],
    frame: Frame,
    needs: tuple[float, float],
    spots: tuple[Spot, ...] = (),
) -> Page:
    """A sheet with its frame and title block; `needs` is how far the marks reach from the inner
    left edge, and down to which height."""
    width = max(WIDTH, needs[0] + 2 * EDGE + 2 * INSIDE)
    height = max(HEIGHT, needs[1] + TITLE_BLOCK + EDGE + INSIDE)
    top = height - EDGE - TITLE_BLOCK
    inner = width - 2 * EDGE
    cuts = (EDGE + 0.5 * inner, EDGE + 0.82 * inner)
    block: list[Mark] = [
        rectangle((EDGE, EDGE), inner, height - 2 * EDGE, "frame"),
        *wire((EDGE, top), (width - EDGE, top)),
        *(line((cut, top), (cut, height - EDGE), "frame") for cut in cuts),
        *_cell(title, frame.shop, EDGE, cuts[0], top, 12.0),
        *_cell(frame.plan, "Wiring as this plan has it; local code and licence decide who does it",
               cuts[0], cuts[1], top, SAYS + 0.5),
        *_cell(f"Sheet {number} of {frame.sheets}", f"Revision {frame.revision}", cuts[1],
               width - EDGE, top, 10.0),
    ]  # fmt: skip
    whole = drawing(
        width, height, title, f"{title}. {frame.plan}.", mark("style", STYLE), *marks, *block,
        look="sheet",
    )  # fmt: skip
    return Page(name, title, number, whole, spots)


def _cell(
    first: str, second: str, left: float, right: float, top: float, size: float
) -> list[Mark]:
    room = right - left - 12.0
    one = _fitting(first, size, room)
    return [
        words(one[0], (left + 6.0, top + 19.0), one[1]),
        words(*_at(_fitting(second, SAYS, room), left + 6.0, top + 36.0), look="quiet"),
    ]


def _at(fitting: tuple[str, float], x: float, y: float) -> tuple[str, tuple[float, float], float]:
    return fitting[0], (x, y), fitting[1]


def _fitting(text: str, size: float, room: float) -> tuple[str, float]:
    """The words at a size at which they fit their cell."""
    wide = width_of(text, size)
    return (text, size) if wide <= room else (text, size * room / wide)
