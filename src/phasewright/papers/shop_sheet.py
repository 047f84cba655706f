"""The shop as a single-line drawing: machines as outlines on floor lines, lines thick by amps.

From the service at the top the supply's line runs down the left side and along above every floor;
what makes three phases stands on the first floor and sends out a line of its own. A line that
crosses another is joined to it only where there is a dot.
"""

from __future__ import annotations

from collections.abc import Sequence

from phasewright.papers.shop_floor import FOOT, REACH, another, cells, source_stand, stand
from phasewright.papers.shop_lines import (
    LEADING,
    MARGIN,
    RISER,
    SIZE,
    Sheet,
    dot,
    fuse,
    strokes,
    wire,
)
from phasewright.papers.shop_parts import Room, Scene, Source, Stand, Told
from phasewright.papers.shop_scene import scene
from phasewright.papers.svg import Mark, drawing, line, mark, size_of, words
from phasewright.plan.study import PlanSide, Study
from phasewright.quantities.words import place_words
from phasewright.shop.model import Shop

WIDTHS = {"phone": 328.0, "tablet": 736.0, "desk": 1120.0}
"""Widths a page chooses from by its own; every one is drawn with words of the same size."""
RAIL = 9.0
PAPER = 1.13
"""Height over width of the room that a sheet of A4 or Letter leaves to the drawing."""
ON_PAPER = (736.0, 820.0, 904.0, 1000.0)
KEY = "A line is as thick as its amps are many. A dot joins lines; where they cross they do not."


def shop_sheet(
    shop: Shop, study: Study | None, plan: PlanSide | None, *, width: float, at: str = ""
) -> Mark:
    """The drawing of a shop, `width` wide; with `at` its parts lead to pages below that address."""
    what = scene(shop, study, plan)
    sheet = Sheet(width, MARGIN + 20.0 + RISER * len(what.sources), at, 12.0)
    risers = {"": MARGIN + 10.0} | {
        source.id: MARGIN + 10.0 + RISER * (place + 1) for place, source in enumerate(what.sources)
    }
    amps = {"": None if what.amps is None else what.amps.number}
    amps |= {source.id: source.amps for source in what.sources}
    tops = {"": _head(sheet, what, risers[""])}
    ends: dict[str, float] = {}
    for sources in _rows(what.sources, sheet):
        _sources(sheet, sources, risers, amps, tops, ends)
    for number, room in enumerate(what.rooms, start=1):
        begins = _door(sheet, room)
        for stands in _rows(room.stands, sheet, extra=1 if at and number == len(what.rooms) else 0):
            _stands(sheet, stands, risers, amps, ends)
        _walls(sheet, room, begins)
    for source, end in ends.items():
        wire(
            sheet,
            [(risers[source], tops[source]), (risers[source], end)],
            amps[source],
            made=bool(source),
        )
    _title(sheet, what)
    height = sheet.y + 6.0
    frame = mark(
        "rect", x=2.0, y=2.0, width=width - 4.0, height=height - 4.0, fill="none", look="frame"
    )
    return drawing(
        width, height, f"{what.name}, drawn", _about(what), frame, *sheet.wires, *sheet.marks,
        look="sheet", role="group" if at else "img",
    )  # fmt: skip


def paper_sheet(shop: Shop, study: Study | None, plan: PlanSide | None) -> Mark:
    """The drawing for paper: as wide as gives the largest letters on an upright page."""
    drawn = [shop_sheet(shop, study, plan, width=width) for width in ON_PAPER]
    return min(drawn, key=lambda sheet: max(size_of(sheet)[0], size_of(sheet)[1] / PAPER))


def _rows(
    things: Sequence[Source] | Sequence[Stand], sheet: Sheet, extra: int = 0
) -> list[list[Source | Stand | None]]:
    """Things row by row as many as fit; `extra` free places at the end."""
    every: list[Source | Stand | None] = [*things, *([None] * extra)]
    fit = len(cells(sheet, max(1, len(every))))
    return [every[first : first + fit] for first in range(0, len(every), fit)]


def _door(sheet: Sheet, room: Room) -> float:
    """The name of a room and what is said of it; where its walls begin, above that."""
    begins = sheet.y + 4.0
    if not room.name:
        return begins
    sheet.y += 8.0
    left, wide = sheet.left + 6.0, sheet.width - sheet.left - MARGIN - 12.0
    marks: list[Mark] = []
    named = f"In {place_words(room.name)}"
    sheet.y = sheet.tell(Told(named), left, wide, sheet.y, marks, of=named, look="name")
    for said in room.told:
        sheet.y = sheet.tell(said, left, wide, sheet.y, marks, of=named)
    for entry in room.wrong:
        sheet.y = sheet.wrong(entry, left, wide, sheet.y, marks, of=named)
    touch = sheet.touch(left, begins + 4.0, wide, sheet.y - begins)
    sheet.put(room.page, "Change it.", touch, *marks)
    return begins


def _walls(sheet: Sheet, room: Room, begins: float) -> None:
    """The walls of a room around its floors, as a double line; the supply's line goes through."""
    if not room.name:
        return
    sheet.y += 4.0
    for inset in (0.0, 3.0):
        sheet.marks.append(
            mark(
                "rect", x=sheet.left - 2.0 + inset, y=begins + inset,
                width=sheet.width - sheet.left - MARGIN + 4.0 - 2.0 * inset,
                height=sheet.y - begins - 2.0 * inset, look="wall",
            )
        )  # fmt: skip
    sheet.y += 8.0


def _head(sheet: Sheet, what: Scene, x: float) -> float:
    """The service with what it gives; how far up its line begins."""
    left, top = x + 24.0, sheet.y
    marks: list[Mark] = [mark("circle", cx=x, cy=top + 8.0, r=4.0, look="open")]
    y = top
    wide = sheet.width - left - MARGIN
    for sentence in what.supply:
        y = sheet.tell(sentence, left, wide, y, marks, of="The supply")
    for wrong in what.wrong:
        y = sheet.wrong(wrong, left, wide, y, marks, of="The supply")
    y += 4.0
    marks += strokes((x, top + 22.0), what.lines)
    if what.fuse:
        y = max(y, top + 36.0) + LEADING
        marks += [fuse((x, y - 4.0)), words(what.fuse, (left, y), SIZE)]
    if what.feeder:
        y += LEADING + 2.0
        marks += [words(what.feeder, (left, y), SIZE)]
    y = max(y, top + 40.0)
    touch = sheet.touch(0.0, top, sheet.width, y + 6.0 - top)
    sheet.put("supply", "Change it.", touch, *marks)
    sheet.y = y + 10.0
    return top + 12.0


def _sources(
    sheet: Sheet,
    sources: Sequence[Source | Stand | None],
    risers: dict[str, float],
    amps: dict[str, float | None],
    tops: dict[str, float],
    ends: dict[str, float],
) -> None:
    """A row of what makes three phases: the supply's line in, a line of its own out."""
    here = [source for source in sources if isinstance(source, Source)]
    supply = sheet.y + 8.0
    places = cells(sheet, len(here))
    top = supply + RAIL * len(here) + 12.0
    last = 0.0
    for level, (source, cell) in enumerate(zip(here, places, strict=True), start=1):
        into, out = cell.middle - 14.0, cell.middle + 14.0
        rail = supply + RAIL * level
        foot = top + FOOT
        wire(sheet, [(into, supply), (into, foot)], amps[""])
        dot(sheet, (into, supply))
        wire(sheet, [(out, foot), (out, rail), (risers[source.id], rail)], source.amps, made=True)
        sheet.marks += strokes((risers[source.id] + 30.0, rail), 3, across=True)
        tops[source.id] = rail
        last = max(last, into)
    wire(sheet, [(risers[""], supply), (last, supply)], amps[""])
    ends[""] = supply
    sheet.y = max(source_stand(sheet, s, c, top) for s, c in zip(here, places, strict=True))


def _stands(
    sheet: Sheet,
    stands: Sequence[Source | Stand | None],
    risers: dict[str, float],
    amps: dict[str, float | None],
    ends: dict[str, float],
) -> None:
    """A row of machines below the lines they hang on."""
    places = cells(sheet, len(stands))
    here = [(s, c) for s, c in zip(stands, places, strict=False) if isinstance(s, Stand)]
    used = [
        source for source in risers
        if any(drop.way and drop.source == source for s, _ in here for drop in s.drops)
    ]  # fmt: skip
    rails = {source: sheet.y + 8.0 + RAIL * level for level, source in enumerate(used)}
    top = sheet.y + 8.0 + RAIL * max(1, len(used))
    bottoms = [sheet.y]
    reach: dict[str, float] = {}
    for entry, cell in here:
        bottom, ends_at = stand(sheet, entry, cell, top, rails)
        bottoms.append(bottom)
        for source, x in ends_at.items():
            reach[source] = max(reach.get(source, 0.0), x)
    for source, x in reach.items():
        wire(
            sheet, [(risers[source], rails[source]), (x, rails[source])], amps[source],
            made=bool(source),
        )  # fmt: skip
        dot(sheet, (risers[source], rails[source]))
        ends[source] = rails[source]
    if not here:
        top = sheet.y - REACH  # nothing hangs in this row
    bottoms += [
        another(sheet, cell, top)
        for free, cell in zip(stands, places, strict=False)
        if free is None
    ]
    sheet.y = max(bottoms)


def _title(sheet: Sheet, what: Scene) -> None:
    """The block at the foot of the sheet: whose shop, which plan, how to read the lines."""
    y = sheet.y + 6.0
    sheet.marks.append(line((2.0, y), (sheet.width - 2.0, y), "frame"))
    room = sheet.width - 2.0 * MARGIN
    y += 3.0
    for told, look in ((Told(what.name), "name"), (what.plan, "words"), (Told(KEY), "small")):
        y = sheet.tell(told, MARGIN, room, y, sheet.marks, of="The plan", look=look)
    sheet.marks += sheet.figures
    sheet.figures.clear()
    sheet.y = y + 1.0


def _about(what: Scene) -> str:
    """The drawing in words."""
    parts = [sentence.words for sentence in what.supply]
    things: list[Source | Stand] = [*what.sources, *what.stands]
    parts += [f"{s.name}: {' '.join(sentence.words for sentence in s.told)}" for s in things]
    return " ".join(parts)
