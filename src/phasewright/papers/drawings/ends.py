"""What a column leads to: motors, strips, loads, inputs."""

from __future__ import annotations

import math
from collections.abc import Sequence

from phasewright.papers.drawings.look import circle, rectangle, wire
from phasewright.papers.svg import Mark, polyline, words

END_HEIGHT = {"motor": 74.0, "generator": 74.0, "strip": 24.0, "input": 24.0, "measuring": 24.0,
              "dial": 40.0, "load": 44.0, "brake": 44.0, "battery": 44.0, "sequence": 40.0,
              "bank": 44.0}  # fmt: skip
RADIUS = 19.0
DEEP = 36.0
REACH = {"motor": 26.0, "generator": 26.0, "load": 26.0, "dial": 26.0, "brake": 26.0,
         "sequence": 26.0, "rectifier": 28.0,
         "input": 26.0, "switch_box": 28.0, "drive_box": 40.0, "source_box": 28.0,
         "transformer": 28.0}  # fmt: skip


def reach(shape: str) -> float:
    """How far a symbol with its marks reaches to the right of its last leg."""
    return REACH.get(shape, 24.0)


def end_marks(shape: str, feet: Sequence[float], y: float, carries: Sequence[str]) -> list[Mark]:
    """The symbol at the foot of the legs that stand at `feet`, and at height y."""
    if shape in ("motor", "generator"):
        return _machine("M" if shape == "motor" else "G", feet, y, carries)
    if shape in ("strip", "input", "measuring"):
        return [circle((x, y + 3.0), 3.0, "eye") for x in feet]
    if shape == "bank":
        return _capacitor(feet[0], y)
    if shape == "battery":
        return _battery(feet, y)
    left, right = feet[0] - 12.0, feet[-1] + 12.0
    marks = [rectangle((left, y), right - left, 26.0)]
    middle, level = (left + right) / 2, y + 13.0
    if shape == "dial":
        marks.append(polyline([(middle - 9.0, level + 8.0), (middle + 9.0, level - 8.0)], "sign"))
    if shape == "brake":
        marks += [polyline([(right, y + 6.0), (right + 6.0, y + 6.0), (right + 6.0, y + 20.0),
                            (right, y + 20.0)], "sign")]  # fmt: skip
    if shape == "sequence":
        marks += [
            polyline(
                [
                    (middle + 1.2 * k - 7.0, level + 4.0 * math.sin(k / 2.0 + turn))
                    for k in range(13)
                ],
                "sign",
            )
            for turn in (0.0, 2.1, 4.2)
        ]
    return marks


def _capacitor(x: float, y: float) -> list[Mark]:
    """Two plates at the end of the one line that stands for all."""
    bars = [polyline([(x - 8.0, y + at), (x + 8.0, y + at)], "sign") for at in (8.0, 14.0)]
    return [*wire((x, y), (x, y + 8.0)), *bars]


def _battery(feet: Sequence[float], y: float) -> list[Mark]:
    """Two cells between plus and minus, the longer plate plus."""
    level, middle = y + 14.0, (feet[0] + feet[-1]) / 2
    marks = [*wire((feet[0], y), (feet[0], level)), *wire((feet[-1], y), (feet[-1], level))]
    marks += wire((feet[0], level), (middle - 7.5, level))
    marks += wire((middle + 7.5, level), (feet[-1], level))
    for at, half in ((-7.5, 10.0), (-2.5, 5.0), (2.5, 10.0), (7.5, 5.0)):
        x = middle + at
        marks.append(polyline([(x, level - half), (x, level + half)], "sign"))
    return marks


def _machine(letter: str, feet: Sequence[float], y: float, carries: Sequence[str]) -> list[Mark]:
    """A circle with its letter; every leg is led to its edge."""
    middle, centre = (feet[0] + feet[-1]) / 2, y + DEEP
    marks = [
        circle((middle, centre), RADIUS, "sign"),
        words(letter, (middle, centre + 4.5), 12.5, "middle"),
    ]
    for x, carried in zip(feet, carries, strict=True):
        away = math.hypot(x - middle, DEEP)
        edge = (middle + (x - middle) * RADIUS / away, centre - DEEP * RADIUS / away)
        marks += wire((x, y), edge, carried)
    return marks
