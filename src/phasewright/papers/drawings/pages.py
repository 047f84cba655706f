"""Sheets: rows of rails with their columns put on pages, a frame and a title block round them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from phasewright.papers.drawings.columns import drawn_column
from phasewright.papers.drawings.look import (
    CAPTION,
    EDGE,
    HEIGHT,
    INSIDE,
    PITCH,
    RAIL,
    SAYS,
    STYLE,
    TITLE_BLOCK,
    WIDTH,
    rectangle,
    wire,
)
from phasewright.papers.drawings.measures import Spot, Writer
from phasewright.papers.drawings.rows import APART, Placed, Row, deepest, room
from phasewright.papers.font import width_of
from phasewright.papers.svg import Mark, boxes, drawing, group, line, mark, words, wrapped
from phasewright.papers.wiring.model import Unit


@dataclass(frozen=True, slots=True)
class Page:
    """A sheet: its name, what it shows, the drawing, and where every terminal stands on it.

    `inside` is what stands in the frame, `reach` how far that goes to the right, for who puts
    several drawings on one page.
    """

    name: str
    title: str
    number: int
    marks: Mark
    spots: tuple[Spot, ...] = ()
    inside: tuple[Mark, ...] = ()
    reach: float = 0.0


@dataclass(frozen=True, slots=True)
class Frame:
    """What the title block of every sheet says."""

    shop: str
    plan: str
    revision: str
    sheets: int


def notes_height(notes: Sequence[str]) -> float:
    """Room the notes take."""
    return sum(PITCH * len(wrapped(note, SAYS, room())) + 4.0 for note in notes)


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
            for each in row_marks(writer, spot.row, corner + spot.x, corner + spot.y)
        ]
        y = corner + deepest(here)
        if last:
            marks += note_marks(unit.notes, y)
            y += notes_height(unit.notes)
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


def row_marks(writer: Writer, row: Row, left: float, y: float) -> list[Mark]:
    """A row with its upper left corner at (left, y)."""
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
    return [group(*marks, look="later")] if row.later else marks


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
        if not writer.single:
            writer.spots.append((row.terminals[k], begin))
        marks.append(line(begin, (end, height), look))
    return marks


def note_marks(notes: Sequence[str], y: float) -> list[Mark]:
    """Notes below what is drawn."""
    marks: list[Mark] = []
    for note in notes:
        for text in wrapped(note, SAYS, room()):
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
    return Page(name, title, number, whole, spots, tuple(marks), EDGE + INSIDE + needs[0])


def lowest(marks: Sequence[Mark]) -> float:
    """How far down marks reach."""
    return max([0.0, *(bottom for each in marks for bottom in _bottoms(each))])


def _bottoms(of: Mark) -> Iterator[float]:
    """How far down a mark and each that it holds reach."""
    yield from (box.bottom for box in boxes(of))
    has = dict(of.attributes)
    yield from (float(has[name]) for name in ("y1", "y2") if name in has)
    yield from (float(pair.partition(",")[2]) for pair in has.get("points", "").split())
    if of.name == "rect":
        yield float(has["y"]) + float(has["height"])
    if of.name == "circle":
        yield float(has["cy"]) + float(has["r"])
    for each in of.holds:
        if isinstance(each, Mark):
            yield from _bottoms(each)


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
