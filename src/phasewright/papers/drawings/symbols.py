"""Symbols of devices as strokes, in the IEC and in the North American tradition.

Drawn from their usual shapes, from memory; no symbol numbers are given, for they were not verified.
One description serves both ways a symbol can lie: a pole runs from (0, 0) down to (0, LONG), and is
turned where it stands across two conductors.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from phasewright.quantities.codes import Region

LONG = 36.0
"""Length of a symbol with its leads."""
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Shape:
    """Strokes, circles (centre, radius) and dots of one pole."""

    strokes: tuple[tuple[Point, ...], ...] = ()
    circles: tuple[tuple[Point, float], ...] = ()
    dots: tuple[Point, ...] = ()


def turned(shape: Shape) -> Shape:
    """The symbol lying: from (0, 0) to the right."""
    return Shape(
        tuple(tuple((y, x) for x, y in stroke) for stroke in shape.strokes),
        tuple(((y, x), radius) for (x, y), radius in shape.circles),
        tuple((y, x) for x, y in shape.dots),
    )


def shape_of(name: str, region: Region) -> Shape:
    """The symbol of this name; raises KeyError for an unknown one."""
    own = NORTH_AMERICAN if region == "NEC" else INTERNATIONAL
    return own[name] if name in own else BOTH[name]


def _arc(
    centre: Point, radius: float, begin: float, end: float, steps: int = 10
) -> tuple[Point, ...]:
    """Points of an arc; degrees, clockwise from the right as the drawing's y grows downwards."""
    angles = [math.radians(begin + (end - begin) * k / steps) for k in range(steps + 1)]
    return tuple(
        (centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)) for a in angles
    )


def _box(half: float, top: float, bottom: float) -> tuple[Point, ...]:
    return ((-half, top), (half, top), (half, bottom), (-half, bottom), (-half, top))


UPPER: tuple[Point, ...] = ((0.0, 0.0), (0.0, 10.0))
LOWER: tuple[Point, ...] = ((0.0, 26.0), (0.0, LONG))
BLADE: tuple[Point, ...] = ((0.0, 26.0), (-7.0, 11.0))
CLOSED: tuple[Point, ...] = ((0.0, 26.0), (4.0, 9.0))
SEAT: tuple[Point, ...] = ((0.0, 10.0), (6.0, 10.0))
PLUNGER: tuple[tuple[Point, ...], ...] = (
    ((-4.0, 18.0), (-12.0, 18.0)),
    ((-12.0, 14.0), (-12.0, 22.0)),
)
LEADS = (UPPER, LOWER)
BARS: tuple[tuple[Point, ...], ...] = (
    ((0.0, 0.0), (0.0, 15.0)), ((0.0, 21.0), (0.0, LONG)), ((-7.0, 15.0), (7.0, 15.0)),
    ((-7.0, 21.0), (7.0, 21.0)),
)  # fmt: skip
SLASH: tuple[Point, ...] = ((-7.0, 24.0), (7.0, 12.0))
PUSHED: tuple[tuple[Point, float], ...] = (((0.0, 12.0), 2.0), ((0.0, 24.0), 2.0))
ROUND: tuple[tuple[Point, ...], ...] = (((0.0, 0.0), (0.0, 10.0)), ((0.0, 26.0), (0.0, LONG)))
WAVES = tuple(_arc((0.0, 12.0 + 6.0 * k), 3.0, -90.0, 90.0) for k in range(3))
SENSED: tuple[tuple[Point, ...], ...] = (
    ((-2.0, 30.0), (-10.0, 30.0), (-10.0, 18.0), (-4.0, 18.0)),
)
"""From the ring round the conductors to what it lets fall."""
ZIGZAG: tuple[Point, ...] = (
    (0.0, 0.0), (0.0, 10.0), (4.0, 11.5), (-4.0, 14.5), (4.0, 17.5), (-4.0, 20.5), (4.0, 23.5),
    (0.0, 26.0), (0.0, LONG),
)  # fmt: skip
WOUND: tuple[tuple[Point, ...], ...] = (
    ((0.0, 0.0), (0.0, 9.0)),
    *WAVES,
    ((0.0, 27.0), (0.0, LONG)),
)

INTERNATIONAL: dict[str, Shape] = {
    "make": Shape((*LEADS, BLADE)),
    "break": Shape((*LEADS, CLOSED, SEAT)),
    "contactor": Shape((*LEADS, BLADE, _arc((0.0, 8.0), 2.4, -90.0, 90.0))),
    "isolator": Shape((*LEADS, BLADE, ((-4.0, 10.0), (4.0, 10.0)))),
    "breaker": Shape(
        (*LEADS, BLADE, ((-2.5, 7.5), (2.5, 12.5)), ((2.5, 7.5), (-2.5, 12.5)))
    ),
    "residual": Shape((*LEADS, BLADE, *SENSED), (((0.0, 30.0), 2.0),)),
    "plug": Shape(
        (((0.0, 0.0), (0.0, 10.0)), _arc((0.0, 16.0), 6.0, 180.0, 360.0), _box(1.6, 15.0, 24.0),
         ((0.0, 24.0), (0.0, LONG)))
    ),
    "late_make": Shape(
        (*LEADS, BLADE, ((-4.0, 18.0), (-9.0, 18.0)), _arc((-12.0, 18.0), 3.0, -90.0, 90.0))
    ),
    "fuse": Shape((((0.0, 0.0), (0.0, LONG)), _box(4.0, 10.0, 26.0))),
    "overload": Shape(
        (((0.0, 0.0), (0.0, 14.0)), ((0.0, 14.0), (5.0, 14.0), (5.0, 22.0), (0.0, 22.0)),
         ((0.0, 22.0), (0.0, LONG)), _box(8.0, 10.0, 26.0))
    ),
    "overload_contact": Shape(
        (*LEADS, CLOSED, SEAT, ((2.0, 18.0), (-9.0, 18.0)),
         ((-9.0, 15.0), (-9.0, 21.0), (-12.0, 21.0)))
    ),
    "make_button": Shape((*LEADS, BLADE, *PLUNGER)),
    "break_button": Shape((*LEADS, CLOSED, SEAT, ((2.0, 18.0), (-12.0, 18.0)), PLUNGER[1])),
    "emergency_stop": Shape(
        (*LEADS, CLOSED, SEAT, ((2.0, 18.0), (-11.0, 18.0)), _arc((-11.0, 18.0), 6.0, 90.0, 270.0),
         ((-11.0, 12.0), (-11.0, 24.0)))
    ),
    "coil": Shape((*LEADS, _box(8.0, 10.0, 26.0))),
    "lamp": Shape(
        (*LEADS, ((-5.6, 12.4), (5.6, 23.6)), ((5.6, 12.4), (-5.6, 23.6))), (((0.0, 18.0), 8.0),)
    ),
    "resistor": Shape((*LEADS, _box(4.0, 10.0, 26.0))),
    "capacitor": Shape(BARS),
    "choke": Shape(WOUND),
}  # fmt: skip

NORTH_AMERICAN: dict[str, Shape] = {
    "make": Shape(BARS),
    "break": Shape((*BARS, SLASH)),
    "contactor": Shape(BARS),
    "isolator": Shape((*LEADS, BLADE), PUSHED),
    "breaker": Shape(
        (((0.0, 0.0), (0.0, 9.0)), ((0.0, 27.0), (0.0, LONG)), _arc((0.0, 18.0), 9.0, -70.0, 70.0))
    ),
    "residual": Shape(
        (((0.0, 0.0), (0.0, 9.0)), ((0.0, 27.0), (0.0, LONG)), _arc((0.0, 18.0), 9.0, -70.0, 70.0),
         *SENSED), (((0.0, 30.0), 2.0),)
    ),
    "plug": Shape(
        (((0.0, 0.0), (0.0, 15.0)), ((-5.0, 9.0), (0.0, 15.0), (5.0, 9.0)),
         ((-5.0, 15.0), (0.0, 21.0), (5.0, 15.0)), ((0.0, 21.0), (0.0, LONG)))
    ),
    "late_make": Shape((*BARS, ((-7.0, 15.0), (-11.0, 15.0)), ((-11.0, 12.0), (-11.0, 18.0)))),
    "fuse": Shape(
        (((0.0, 0.0), (0.0, 10.0)), ((0.0, 26.0), (0.0, LONG)),
         (*_arc((0.0, 14.0), 4.0, -90.0, 90.0), *_arc((0.0, 22.0), 4.0, -90.0, -270.0)))
    ),
    "overload": Shape(
        (((0.0, 0.0), (0.0, 10.0)), ((0.0, 26.0), (0.0, LONG)),
         _arc((0.0, 14.0), 4.0, -90.0, 90.0), _arc((0.0, 22.0), 4.0, 270.0, 90.0))
    ),
    "overload_contact": Shape((*BARS, SLASH, ((-12.0, 15.0), (-12.0, 21.0), (-9.0, 21.0)))),
    "make_button": Shape(
        (((0.0, 0.0), (0.0, 10.0)), ((0.0, 26.0), (0.0, LONG)), ((-6.0, 10.0), (-6.0, 26.0)),
         ((-6.0, 18.0), (-12.0, 18.0))), PUSHED
    ),
    "break_button": Shape(
        (((0.0, 0.0), (0.0, 10.0)), ((0.0, 26.0), (0.0, LONG)), ((2.0, 8.0), (2.0, 28.0)),
         ((2.0, 18.0), (-12.0, 18.0))), PUSHED
    ),
    "emergency_stop": Shape(
        (((0.0, 0.0), (0.0, 10.0)), ((0.0, 26.0), (0.0, LONG)), ((2.0, 8.0), (2.0, 28.0)),
         ((2.0, 18.0), (-10.0, 18.0)), _arc((-10.0, 18.0), 6.0, 90.0, 270.0),
         ((-10.0, 12.0), (-10.0, 24.0))), PUSHED
    ),
    "coil": Shape(ROUND, (((0.0, 18.0), 8.0),)),
    "lamp": Shape(
        (*LEADS, ((-5.6, 12.4), (-9.0, 9.0)), ((5.6, 12.4), (9.0, 9.0)),
         ((-5.6, 23.6), (-9.0, 27.0)),
         ((5.6, 23.6), (9.0, 27.0))), (((0.0, 18.0), 8.0),)
    ),
    "resistor": Shape((ZIGZAG,)),
    "capacitor": Shape(
        (((0.0, 0.0), (0.0, 15.0)), ((-7.0, 15.0), (7.0, 15.0)),
         _arc((0.0, 29.0), 10.0, -135.0, -45.0),
         ((0.0, 19.0), (0.0, LONG)))
    ),
    "choke": Shape(WOUND),
}  # fmt: skip

BOTH: dict[str, Shape] = {
    "overload_pole": Shape((((0.0, 0.0), (0.0, LONG)), _box(8.0, 10.0, 26.0))),
    "reversing": Shape(
        (*LEADS, ((0.0, 26.0), (-6.0, 12.0)), ((0.0, 26.0), (6.0, 12.0))), ((( 0.0, 26.0), 1.6),)
    ),
    "resistor_in_line": Shape((*LEADS, _box(4.0, 10.0, 26.0))),
}  # fmt: skip
LINKED = ("breaker", "residual", "plug", "isolator", "contactor", "fuse", "overload", "reversing")
"""Symbols whose poles move together: a broken line joins them."""
