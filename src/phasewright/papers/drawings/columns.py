"""A column of a diagram: devices one below another on the conductors that run down."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from phasewright.papers.drawings.ends import end_marks
from phasewright.papers.drawings.look import (
    LEAD,
    NAME,
    TERMINAL,
    block,
    circle,
    dot,
    drawn,
    rectangle,
    wire,
)
from phasewright.papers.drawings.measures import BOX, SIDE, Cell, Plan, Writer
from phasewright.papers.drawings.symbols import LINKED, LONG, Point, shape_of, turned
from phasewright.papers.svg import Anchor, Mark, line, polyline, words
from phasewright.papers.wiring.model import Device, Element


@dataclass
class _Pen:
    """A column being drawn: where each leg's last terminal is, and what it carries."""

    writer: Writer
    plan: Plan
    x: float
    marks: list[Mark]
    down: list[float]
    carries: list[str]
    last: dict[int, tuple[float, float]] = field(default_factory=dict)

    def leg(self, number: int) -> float:
        return self.x + self.plan.leg(number)

    def lead(self, leg: int, y: float) -> None:
        """The conductor of a leg down to y."""
        x = self.leg(leg)
        self.marks += wire((x, self.down[leg]), (x, y), self.carries[leg])
        self.down[leg] = y

    def terminal(
        self, device: Device, name: str, at: Point, words_at: Point, anchor: Anchor
    ) -> None:
        """A terminal's place, and its mark."""
        if not self.writer.single:
            self.writer.spots.append((device.at(name), at))
            self.marks.append(words(name, words_at, TERMINAL, anchor, "quiet"))


def drawn_column(
    writer: Writer, plan: Plan, x: float, rails: Sequence[float], top: float
) -> list[Mark]:
    """The marks of a column whose left edge is at x and whose devices begin at `top`; `rails` are
    the heights of the rails it hangs on."""
    pen = _Pen(
        writer, plan, x, [], list(rails),
        list(plan.column.elements[0].potentials[: len(rails)]) if plan.column.elements else [],
    )  # fmt: skip
    for k, y in enumerate(rails):
        pen.marks.append(dot((pen.leg(k), y)))
    y = top
    if writer.single and plan.cells and plan.cells[0].element.potentials[0]:
        pen.marks += _count(pen.leg(0), top, plan.cells[0].element)
    for place, cell in enumerate(plan.cells):
        further = {leg for later in plan.cells[place + 1 :] for leg in later.element.legs}
        _element(pen, cell, y, further)
        if cell.element.how != "beside":
            text_x = pen.leg(plan.legs - 1) + plan.beside
            pen.marks += block(cell.lines, (text_x, y + LEAD + NAME))
        y += cell.height
    return pen.marks


def _count(x: float, y: float, element: Element) -> list[Mark]:
    """A stroke through the line with the number of conductors it stands for."""
    return [
        line((x - 4.0, y + 5.0), (x + 4.0, y - 1.0), "sign"),
        words(element.potentials[0], (x + 6.0, y + 4.0), TERMINAL, look="quiet"),
    ]


def _element(pen: _Pen, cell: Cell, y: float, further: set[int]) -> None:
    device = pen.writer.wiring.device(cell.element.device)
    if cell.element.how == "series":
        _series(pen, cell.element, device, y + LEAD)
    elif cell.element.how == "beside":
        _beside(pen, cell, device)
    elif cell.element.how == "across":
        _across(pen, cell.element, device, y + 18.0, further)
    elif cell.element.how == "box":
        _box(pen, cell.element, device, y + LEAD)
    else:
        _end(pen, cell.element, device, y + LEAD)


def _series(pen: _Pen, element: Element, device: Device, y: float) -> None:
    shape = shape_of(element.shape, pen.writer.region)
    for k, leg in enumerate(element.legs):
        x = pen.leg(leg)
        pen.lead(leg, y)
        pen.marks += drawn(shape, (x, y))
        pen.terminal(device, element.ins[k], (x, y), (x + 3.0, y + 6.5), "start")
        pen.terminal(device, element.outs[k], (x, y + LONG), (x + 3.0, y + LONG - 1.0), "start")
        pen.last[leg] = (y, y + LONG)
        pen.down[leg] = y + LONG
        if leg < len(element.potentials):
            pen.carries[leg] = element.potentials[leg]
    if element.shape in LINKED and len(element.legs) > 1:
        mid = y + LONG / 2
        pen.marks.append(
            line(
                (pen.leg(element.legs[0]) - 3.0, mid),
                (pen.leg(element.legs[-1]) - 3.0, mid),
                "bond",
            )
        )


def _beside(pen: _Pen, cell: Cell, device: Device) -> None:
    element = cell.element
    leg = element.legs[0]
    begin, end = pen.last[leg]
    x, side = pen.leg(leg), pen.leg(leg) - SIDE
    above, below = begin - LEAD / 2, end + LEAD / 2
    for height, terminal in ((above, begin), (below, end)):
        pen.marks += [*wire((x, height), (side, height)), *wire((side, height), (side, terminal))]
        pen.marks.append(dot((x, height)))
    pen.lead(leg, below)
    pen.marks += drawn(shape_of(element.shape, pen.writer.region), (side, begin))
    pen.terminal(device, element.ins[0], (side, begin), (side + 3.0, begin + 6.5), "start")
    pen.terminal(device, element.outs[0], (side, end), (side + 3.0, end - 1.0), "start")
    pen.marks.append(words(cell.lines[0], (side - 10.0, begin + LONG / 2 + 3.0), NAME, "end"))


def _across(pen: _Pen, element: Element, device: Device, y: float, further: set[int]) -> None:
    one, other = element.legs
    left, right = sorted((one, other))
    pad = (pen.plan.apart - LONG) / 2
    for leg in (left, right):
        pen.lead(leg, y)
        if leg in further:
            pen.marks.append(dot((pen.leg(leg), y)))
    start = pen.leg(left) + pad
    pen.marks += wire((pen.leg(left), y), (start, y))
    pen.marks += drawn(turned(shape_of(element.shape, pen.writer.region)), (start, y))
    pen.marks += wire((start + LONG, y), (pen.leg(right), y))
    ends = element.ins if one < other else element.ins[::-1]
    pen.terminal(device, ends[0], (start, y), (pen.leg(left) + 3.0, y - 2.5), "start")
    pen.terminal(device, ends[1], (start + LONG, y), (pen.leg(left + 1) - 3.0, y - 2.5), "end")


def _box(pen: _Pen, element: Element, device: Device, y: float) -> None:
    last = max(len(element.ins), len(element.outs)) - 1
    left, right = pen.leg(0) - 14.0, pen.leg(last) + 20.0
    for leg, name in enumerate(element.ins):
        pen.lead(leg, y)
        x = pen.leg(leg)
        pen.terminal(device, name, (x, y), (x + 2.0, y + 9.0), "start")
    pen.marks += [rectangle((left, y), right - left, BOX), *_glyph(element.shape, left, right, y)]
    for leg, name in enumerate(element.outs):
        x = pen.leg(leg)
        pen.terminal(device, name, (x, y + BOX), (x + 2.0, y + BOX - 3.0), "start")
    pen.down = [y + BOX] * len(element.outs)
    pen.carries = list(element.potentials)


def _glyph(shape: str, left: float, right: float, y: float) -> list[Mark]:
    """What a box does, as a small sign in its middle."""
    middle, level = (left + right) / 2, y + BOX / 2
    if shape == "transformer":
        return [circle((middle, level + offset), 7.0, "sign") for offset in (-4.5, 4.5)]
    if shape == "rectifier":
        return [
            polyline([(middle - 6.0, level - 6.0), (middle - 6.0, level + 6.0),
                      (middle + 5.0, level), (middle - 6.0, level - 6.0)], "sign"),
            polyline([(middle + 5.0, level - 6.0), (middle + 5.0, level + 6.0)], "sign"),
        ]  # fmt: skip
    if shape == "switch_box":
        return [polyline([(middle - 12.0, level + 5.0), (middle + 9.0, level - 5.0)], "sign")]
    wave = [(middle + 1.5 * k - 9.0, level - 5.0 * math.sin(math.pi * k / 6.0)) for k in range(13)]
    return [polyline(wave, "sign")]


def _end(pen: _Pen, element: Element, device: Device, y: float) -> None:
    for leg in element.legs:
        pen.lead(leg, y)
    feet = [pen.leg(leg) for leg in element.legs]
    for x, name in zip(feet, element.ins, strict=True):
        below = element.shape in ("strip", "input", "measuring")
        at = (x, y + 14.0) if below else (x + 3.0, y - 1.5)
        pen.terminal(device, name, (x, y), at, "middle" if below else "start")
    pen.marks += end_marks(element.shape, feet, y, [pen.carries[leg] for leg in element.legs])
