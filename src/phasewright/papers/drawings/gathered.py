"""All drawings of a wiring gathered on few pages: rails with what hangs on them, terminal boxes and
banks side by side as they fit, each bearing the designation of its circuit.

The sheets that stand alone (`sheets.py`) show one circuit each; here circuits share pages.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Literal

from phasewright.papers.drawings.grid import Cell
from phasewright.papers.drawings.look import CAPTION, PITCH, SAYS, STYLE
from phasewright.papers.drawings.measures import References, Writer
from phasewright.papers.drawings.overview import overview
from phasewright.papers.drawings.pages import row_marks
from phasewright.papers.drawings.rows import Row, rows_of
from phasewright.papers.drawings.sheets import small_drawings
from phasewright.papers.font import width_of
from phasewright.papers.svg import Mark, drawing, mark, words, wrapped
from phasewright.papers.wiring.model import Wiring

First = Literal["top", "left"]
"""Which free corner is taken: the uppermost, or that which is furthest to the left."""
BACK = 2
"""A circuit may fill what the pages of so many before it left free."""
APART, BELOW = 24.0, 8.0
"""Between drawings side by side, and one below another [1/96 inch]."""
HEAD = 17.0
"""Room of a circuit's title above its first drawing."""
TITLE = 12.5
NOTES = 500.0
"""Width of the notes of a circuit, where the page is wide enough."""


@dataclass(frozen=True, slots=True)
class Piece:
    """What is not parted: the circuit it is of, its size and its marks from a corner on."""

    of: str
    width: float
    height: float
    marks: Callable[[float, float], Sequence[Mark]]


@dataclass(frozen=True, slots=True)
class Spot:
    """A piece with where its upper left corner stands."""

    piece: Piece
    x: float
    y: float

    @property
    def right(self) -> float:
        return self.x + self.piece.width + APART

    @property
    def bottom(self) -> float:
        return self.y + self.piece.height + BELOW

    def meets(self, other: Spot) -> bool:
        """Whether two pieces share room."""
        across = self.x < other.right and other.x < self.right
        return across and self.y < other.bottom and other.y < self.bottom


@dataclass(frozen=True, slots=True)
class Room:
    """Pages for drawings: how wide they are, how high, and what the first has less [1/96 inch]."""

    wide: float
    height: float
    less: float = 0.0

    def high(self, number: int) -> float:
        """The height of a page, counted from 0."""
        return self.height - (self.less if number == 0 else 0.0)


@dataclass(frozen=True, slots=True)
class _Part:
    """A circuit, or small drawings of one sort."""

    name: str
    title: str
    pieces: tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class Gathered:
    """A page of drawings: its marks, the titles of the circuits that begin on it."""

    marks: Mark
    titles: tuple[str, ...]


def gathered(
    wiring: Wiring,
    room: Room,
    said: Mapping[str, Sequence[str]],
    left_out: frozenset[str] = frozenset(),
) -> list[Gathered]:
    """Every circuit but those in `left_out`, on as few pages as were found; `said` are further
    notes of a circuit. A drawing that is larger than a page stands alone on one as large as it
    needs."""
    parts = list(_parts(wiring, room.wide, said, left_out))
    orders = (parts, [replace(each, pieces=_tallest_first(each.pieces)) for each in parts])
    ways = [_packed(order, room, first) for order in orders for first in ("top", "left")]
    titles = {each.name: each.title for each in parts}
    return [_page(each, titles, room.wide) for each in min(ways, key=_length)]


def _tallest_first(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """The titled piece, then the others, the tallest first."""
    return (pieces[0], *sorted(pieces[1:], key=lambda piece: -piece.height))


def _length(pages: Sequence[Sequence[Spot]]) -> tuple[int, float]:
    return len(pages), max(spot.bottom for spot in pages[-1])


def _parts(
    wiring: Wiring, widest: float, said: Mapping[str, Sequence[str]], left_out: frozenset[str]
) -> Iterator[_Part]:
    first, whole = overview(wiring)
    to = _fed(wiring)
    for unit in (first, *wiring.units):
        if unit.id in left_out:
            continue
        writer = Writer(whole, unit.id, References({}, to), single=unit is first)
        pieces = [
            _row(writer, replace(row, title=f"{unit.id}  {row.title}"))
            for row in rows_of(writer, unit, widest)
        ]
        title = f"{unit.id}  {unit.title}"
        notes = (*unit.notes, *said.get(unit.id, ()))
        yield _part(unit.id, title, pieces, notes, widest)
    for small in small_drawings(wiring):
        pieces = [_cell(small.name, cell) for cell in small.cells]
        yield _part(small.name, small.title, pieces, small.notes, widest)


def _part(name: str, title: str, pieces: list[Piece], notes: Sequence[str], widest: float) -> _Part:
    return _Part(name, title, (*_titled(title, pieces), *_notes(title, name, notes, widest)))


def _fed(wiring: Wiring) -> dict[str, str]:
    """In words, by strip: the circuits that hang on it beside its own."""
    found: dict[str, list[str]] = {}
    for unit in wiring.units:
        for band in unit.bands:
            for rail in band.rails:
                strip = rail.terminal.partition(":")[0]
                if not strip.startswith(f"{unit.id}-"):
                    found.setdefault(strip, []).append(unit.id)
    return {strip: f"to {', '.join(dict.fromkeys(of))}" for strip, of in found.items()}


def _cell(of: str, cell: Cell) -> Piece:
    size = cell(0.0, 0.0)
    return Piece(of, size.width, size.height, lambda x, y: cell(x, y).marks)


def _row(writer: Writer, row: Row) -> Piece:
    return Piece(writer.unit, row.width, row.height, partial(row_marks, writer, row))


def _titled(title: str, pieces: list[Piece]) -> list[Piece]:
    """The title above the first piece."""
    first = pieces[0]

    def marks(x: float, y: float) -> list[Mark]:
        return [words(title, (x, y + TITLE), TITLE), *first.marks(x, y + HEAD)]

    wide = max(first.width, width_of(title, TITLE))
    return [Piece(first.of, wide, first.height + HEAD, marks), *pieces[1:]]


def _notes(title: str, of: str, notes: Sequence[str], widest: float) -> list[Piece]:
    """What is said of a circuit, under the words that name it."""
    wide = min(NOTES, widest)
    lines = [line for note in notes for line in wrapped(note, SAYS, wide)]
    if not lines:
        return []
    head = of if of.startswith("=") else title

    def marks(x: float, y: float) -> list[Mark]:
        return [words(head, (x, y + CAPTION), CAPTION, look="quiet"), *(
            words(line, (x, y + CAPTION + PITCH * k), SAYS) for k, line in enumerate(lines, start=1)
        )]  # fmt: skip

    return [Piece(of, wide, CAPTION + PITCH * (len(lines) + 0.6), marks)]


def _packed(parts: Sequence[_Part], room: Room, first: First) -> list[list[Spot]]:
    """Every piece at the first free corner, from the page on where the part `BACK` before its own
    begins."""
    pages: list[list[Spot]] = []
    begins: list[int] = []
    for part in parts:
        earliest = min(begins[-BACK:], default=0)
        begins.append(min([_put(pages, piece, room, first, earliest) for piece in part.pieces]))
    return pages


def _put(pages: list[list[Spot]], piece: Piece, room: Room, first: First, earliest: int) -> int:
    """Put a piece at the first free corner of the first page that has one; the page's number."""
    for number in range(earliest, len(pages)):
        spot = _free(pages[number], piece, room.wide, room.high(number), first)
        if spot is not None:
            pages[number].append(spot)
            return number
    pages.append([Spot(piece, 0.0, 0.0)])
    return len(pages) - 1


def _free(
    page: Sequence[Spot], piece: Piece, wide: float, high: float, first: First
) -> Spot | None:
    across = sorted({0.0, *(each.right for each in page)})
    down = sorted({0.0, *(each.bottom for each in page)})
    corners = [(x, y) for x in across for y in down]
    if first == "top":
        corners.sort(key=lambda corner: (corner[1], corner[0]))
    for x, y in corners:
        if x + piece.width > wide or y + piece.height > high:
            continue
        spot = Spot(piece, x, y)
        if not any(spot.meets(each) for each in page):
            return spot
    return None


def _page(page: Sequence[Spot], titles: Mapping[str, str], widest: float) -> Gathered:
    wide = max([widest, *(spot.x + spot.piece.width for spot in page)])
    high = max(spot.bottom for spot in page) - BELOW
    begun = tuple(dict.fromkeys(titles[spot.piece.of] for spot in page))
    marks = [each for spot in page for each in spot.piece.marks(spot.x, spot.y)]
    about = f"Drawings: {'; '.join(begun)}"
    return Gathered(
        drawing(wide, high, about, about, mark("style", STYLE), *marks, look="sheet"), begun
    )
