"""What stands on a floor line of the shop's drawing: machines, and what makes three phases."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from phasewright.papers.font import width_of
from phasewright.papers.outlines import BOX, CONVERTER, HIGH, outline, shape_of
from phasewright.papers.shop_lines import (
    LEADING,
    MARGIN,
    SIZE,
    Sheet,
    device,
    dot,
    wire,
)
from phasewright.papers.shop_parts import Drop, Source, Stand, Told, Wrong
from phasewright.papers.svg import Anchor, Mark, line, mark, words, wrapped
from phasewright.quantities.told import amount

CELL = 150.0
WIDEST = 250.0
PAD = 7.0
REACH = 74.0
"""From the lowest line above a floor down to where an outline begins."""
FOOT = 30.0
"""How far down a source's lines are drawn; its outline, which is filled, hides their ends."""
SPREAD = 76.0
"""Motors of one machine stand no farther apart than this, all together."""


@dataclass(frozen=True, slots=True)
class Cell:
    """Room for one thing on a floor."""

    left: float
    wide: float

    @property
    def middle(self) -> float:
        return self.left + 0.5 * self.wide


def cells(sheet: Sheet, count: int) -> list[Cell]:
    """Rooms beside each other on one floor, as many of `count` as fit."""
    free = sheet.width - sheet.left - MARGIN
    fit = min(count, max(1, int(free // CELL)))
    wide = min(free / fit, WIDEST)
    return [Cell(sheet.left + wide * place, wide) for place in range(fit)]


def stand(
    sheet: Sheet, what: Stand, cell: Cell, top: float, rails: Mapping[str, float]
) -> tuple[float, dict[str, float]]:
    """A machine with its motors' lines; how far down it reaches, and where its lines hang."""
    floor = top + REACH + HIGH
    marks: list[Mark] = []
    hangs: dict[str, float] = {}
    step = min(34.0, SPREAD / max(1, len(what.drops) - 1))
    shape = shape_of(what.kind)
    for place, drop in enumerate(what.drops):
        x = cell.middle + step * (place - 0.5 * (len(what.drops) - 1))
        rail = rails.get(drop.source) if drop.way is not None else None
        _drop(sheet, drop, what, x, top, rail, floor, min(9.0, 0.5 * step - 0.5), marks)
        if rail is not None:
            hangs[drop.source] = max(hangs.get(drop.source, 0.0), x)
        _amps(sheet, drop, place, what, (x, top + 22.0), marks)
    if what.to_come:
        room = cell.left + cell.wide - PAD - x - 13.0
        for row, told in enumerate(wrapped(what.to_come, SIZE, room)):
            at = x + 13.0, top + 38.0 + LEADING * row
            marks.append(words(told, at, SIZE, look="words small"))
    marks.append(
        outline(shape, (cell.middle, floor), "outline planned" if what.planned else "outline")
    )
    bottom = _below(sheet, what.name, what.told, what.wrong, cell, floor, marks)
    touch = sheet.touch(cell.left + 2.0, top + 8.0, cell.wide - 4.0, bottom - top - 8.0)
    page = f"machine/{what.place}"
    sheet.put(page, "Change it.", touch, *marks)
    return bottom + 6.0, hangs


def _drop(
    sheet: Sheet,
    drop: Drop,
    what: Stand,
    x: float,
    top: float,
    rail: float | None,
    floor: float,
    radius: float,
    marks: list[Mark],
) -> None:
    """A motor's line from its rail through what stands in it to the motor."""
    amps = None if drop.amps is None else drop.amps.number
    motor = top + 56.0
    if rail is not None:
        wire(sheet, [(x, rail), (x, motor)], amps, made=bool(drop.source))
        dot(sheet, (x, rail))
        marks.append(device(drop.way, (x, top + 26.0)))
    elif what.decided:
        marks.append(line((x, top + 20.0), (x, motor), "thin"))
        marks.append(device(None, (x, top + 26.0)))
    else:
        marks.append(line((x, top + 30.0), (x, motor), "open-line"))
    marks.append(mark("circle", cx=x, cy=motor, r=radius, look="box"))
    if radius > 6.0:
        marks.append(words("M", (x, motor + 4.0), 11.0, "middle"))
    marks.append(line((x, motor + radius), (x, floor - 4.0), "shaft"))


def _amps(
    sheet: Sheet, drop: Drop, place: int, what: Stand, at: tuple[float, float], marks: list[Mark]
) -> None:
    """A line's amps beside it, where there is room."""
    of = len(what.drops)
    if drop.amps is None or of > 2:
        return
    x, y = at
    aside = -13.0 if of == 2 and place == 0 else 13.0
    anchor: Anchor = "end" if aside < 0.0 else "start"
    text = amount(drop.amps.number, "A")
    marks.append(words(text, (x + aside, y), SIZE, anchor, look="words amps"))
    if sheet.at and drop.amps_at:
        left = x + aside - (width_of(text, SIZE) if anchor == "end" else 0.0)
        sheet.figure(text, drop.amps_at, (left, y), f"{what.name}, amps in the line")


def source_stand(sheet: Sheet, what: Source, cell: Cell, top: float) -> float:
    """What makes three phases, on its floor; how far down it reaches."""
    floor = top + 16.0 + HIGH
    shape = CONVERTER if what.way == "rotary_converter" else BOX
    marks = [outline(shape, (cell.middle, floor))]
    bottom = _below(sheet, what.name, what.told, what.wrong, cell, floor, marks, what.at)
    touch = sheet.touch(cell.left + 2.0, top + FOOT, cell.wide - 4.0, bottom - top - FOOT)
    sheet.put(what.page, "See its amps and volts, change it.", touch, *marks)
    return bottom + 6.0


def another(sheet: Sheet, cell: Cell, top: float) -> float:
    """A free place for one more machine."""
    floor = top + REACH + HIGH
    x = cell.middle
    marks = [
        mark("rect", x=x - 34.0, y=floor - 46.0, width=68.0, height=46.0, look="free"),
        line((x - 9.0, floor - 23.0), (x + 9.0, floor - 23.0), "plus"),
        line((x, floor - 32.0), (x, floor - 14.0), "plus"),
    ]
    bottom = _below(sheet, "Another machine", (), (), cell, floor, marks)
    touch = sheet.touch(cell.left + 2.0, floor - 52.0, cell.wide - 4.0, bottom - floor + 52.0)
    sheet.put("machine/new", "Add it.", touch, *marks)
    return bottom + 6.0


def _below(
    sheet: Sheet,
    name: str,
    told: Sequence[Told],
    wrong: Sequence[Wrong],
    cell: Cell,
    floor: float,
    marks: list[Mark],
    at: str = "",
) -> float:
    """The floor under a thing, and what is said of it; how far down that reaches. `at` is where
    the numbers in its name stand in the result file."""
    left, right = cell.left + PAD, cell.left + cell.wide - PAD
    marks.append(line((cell.left, floor), (cell.left + cell.wide, floor), "floor"))
    hatch = "".join(
        f"M{x:.0f} {floor:.1f}l-4 5"
        for x in range(int(cell.left) + 8, int(cell.left + cell.wide), 12)
    )
    marks.append(mark("path", d=hatch, look="hatch"))
    named = Told(name, at=at)
    y = sheet.tell(
        named, left, right - left, floor + 9.0, marks, of=name, look="name", size=SIZE + 1.0
    )
    for sentence in told:
        y = sheet.tell(sentence, left, right - left, y, marks, of=name)
    for entry in wrong:
        y = sheet.wrong(entry, left, right - left, y, marks, of=name)
    return y
