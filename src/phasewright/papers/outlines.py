"""Machines as outlines that stand on a floor line: what a workshop sketch shows of each kind.

Every outline lies in a box 84 wide and 56 high whose lower edge is the floor; it is drawn at a
place by its middle on the floor. The shapes are our own.
"""

from __future__ import annotations

from phasewright.papers.svg import Mark, mark
from phasewright.quantities.codes import LoadKindName

WIDE = 84.0
HIGH = 56.0
Shape = tuple[str, tuple[tuple[float, float, float], ...]]
"""A path with its nought at the middle of the floor, up is negative; circles (x, y, radius)."""

_LATHE: Shape = (
    "M-40 0V-12H-24V0M24 0V-12H40V0M-40 -12H40V-20H-40ZM-40 -20V-44H-16V-20M22 -20V-38H36V-20"
    "M36 -31H22L14 -29M-16 -34H-10V-26H-16M-6 -20V-25H10V-20",
    ((-28.0, -33.0, 5.0),),
)
_SAW: Shape = (
    "M-30 0L-24 -26M30 0L24 -26M-40 -26H40V-32H-40ZM-14 -32A16 16 0 0 1 18 -32M-24 -12H24",
    ((2.0, -16.0, 7.0),),
)
_BANDSAW: Shape = (
    "M-20 0V-6H24V0M-8 -6V-54H4V-6M-26 -28H-8M-22 -46V-12M-30 -26H10",
    ((-10.0, -44.0, 12.0), (-10.0, -14.0, 12.0)),
)
_PRESS: Shape = (
    "M-26 0V-54H22V-38H-6V-14H26V0ZM2 -38V-24H14V-38M-2 -20H18V-14",
    ((-16.0, -40.0, 9.0),),
)
_GRINDER: Shape = (
    "M-16 0L-8 -22H8L16 0ZM-14 -22V-38H14V-22ZM-14 -30H-18M14 -30H18",
    ((-28.0, -30.0, 10.0), (28.0, -30.0, 10.0)),
)
_SANDER: Shape = (
    "M-34 0V-14H34V0ZM-26 -38H26M-26 -18H26M-36 -44H-30M30 -44H36",
    ((-26.0, -28.0, 10.0), (26.0, -28.0, 10.0)),
)
_FAN: Shape = (
    "M-22 0L-14 -10M14 0L8 -10M-6 -50H36V-32H14M-26 0H22",
    ((-6.0, -29.0, 21.0), (-6.0, -29.0, 7.0)),
)
_PUMP: Shape = (
    "M-38 0V-5H38V0M-34 -5V-27H4V-5M-34 -22H4M-34 -16H4M4 -16H10M24 -30V-42H34V-30",
    ((24.0, -17.0, 13.0), (24.0, -17.0, 4.0)),
)
_WELL: Shape = (
    "M-16 0V-52M16 0V-52M-24 -52H24M-6 -2V-26H6V-2ZM-4 -26V-34H4V-26M0 -34V-56M-6 -16H6",
    (),
)
_TANK_PUMP: Shape = (
    "M-34 0V-26H30V0ZM-34 -8Q-26 -12 -18 -8T-2 -8T14 -8T30 -8M-24 -26V-46H0V-26M0 -38H10V-26"
    "M-24 -40H0M20 -26V-48H36",
    (),
)
_COMPRESSOR: Shape = (
    "M-30 -6H30Q38 -6 38 -16T30 -26H-30Q-38 -26 -38 -16T-30 -6ZM-26 0V-6M26 0V-6"
    "M-26 -26V-44H-8V-26M4 -26V-36H10V-50H22V-36H28V-26M10 -44H22M10 -40H22M-8 -34H4",
    (),
)
_COLD: Shape = (
    "M-36 0V-52H36V0ZM8 -52V0M14 -30V-22M-36 -12H8",
    ((-14.0, -32.0, 13.0), (-14.0, -32.0, 3.0)),
)
_CRUSHER: Shape = (
    "M-24 0L-18 -20M24 0L18 -20M-24 -20H24V-36H-24ZM-36 -56H36L22 -36H-22Z"
    "M-10 -20L-14 -8H14L10 -20",
    ((0.0, -28.0, 6.0),),
)
_MIXER: Shape = (
    "M-36 0V-5H34V0M16 -5V-46M28 -5V-46M-12 -54H32V-46H-12ZM-6 -46V-22M-6 -22L-12 -12M-6 -22L0 -12"
    "M-28 -30H16M-28 -30Q-28 -6 -6 -6T16 -30",
    (),
)
_CONVEYOR: Shape = (
    "M-28 0V-8M24 0V-34M-34 -20L24 -50M-26 -4L34 -34",
    ((-30.0, -12.0, 9.0), (29.0, -42.0, 9.0)),
)
_FEED: Shape = (
    "M-38 0V-16H38V0ZM-30 -16V-22H30V-16M-38 -34H38M-38 -38V-30M38 -38V-30M-6 -22V-42H10V-22"
    "M-24 -37L-20 -31M-16 -37L-12 -31M16 -37L20 -31M24 -37L28 -31",
    (),
)
_LIFT: Shape = (
    "M-36 0V-52H36V0M-36 -46H36M-8 -46V-36H8V-46M0 -36V-20M0 -20Q6 -18 4 -13T-5 -14",
    (),
)
_DRUM: Shape = (
    "M-20 0L-14 -10M20 0L14 -10M-24 -10H24V-40H-24ZM-18 -40L-10 -50H10L18 -40M0 -10V-46"
    "M24 -32H36V-24",
    (),
)
_OTHER: Shape = (
    "M-34 0V-34H34V0ZM-34 -34L-26 -46H26L34 -34M-22 -10H4M-22 -16H4",
    ((20.0, -18.0, 7.0),),
)
CONVERTER: Shape = (
    "M-36 0V-5H36V0M-26 -5Q-34 -14 -34 -24T-26 -43H26Q34 -34 34 -24T26 -5M-18 -43V-5M18 -43V-5"
    "M-8 -43V-52H8V-43M34 -24H40",
    (),
)
"""A motor that turns alone: the idler of a rotary converter."""
BOX: Shape = ("M-32 0V-50H32V0ZM-32 -40H32M-24 -8L24 -34M-22 -30Q-18 -35 -14 -30T-6 -30", ())
"""Electronics in a box: the sign of a converter on its front."""
_KINDS: dict[LoadKindName, Shape] = {
    "spindle": _LATHE, "saw": _SAW, "flywheel": _BANDSAW, "press": _PRESS, "grinder": _GRINDER,
    "sander": _SANDER, "fan": _FAN, "pump": _PUMP, "coolant_pump": _PUMP, "vacuum_pump": _PUMP,
    "submersible": _WELL, "hydraulic_pump": _TANK_PUMP, "compressor": _COMPRESSOR,
    "refrigeration": _COLD, "crusher": _CRUSHER, "mixer": _MIXER, "conveyor": _CONVEYOR,
    "feed": _FEED, "lift": _LIFT, "separator": _DRUM, "other": _OTHER,
}  # fmt: skip


def shape_of(kind: LoadKindName) -> Shape:
    """The shape of a machine by what its motor turns."""
    return _KINDS[kind]


def outline(shape: Shape, at: tuple[float, float], look: str = "outline") -> Mark:
    """A shape standing on the floor at a place."""
    path, circles = shape
    return mark(
        "g",
        mark("path", d=path),
        *(mark("circle", cx=x, cy=y, r=r) for x, y, r in circles),
        look=look,
        transform=f"translate({at[0]:.1f} {at[1]:.1f})",
    )
