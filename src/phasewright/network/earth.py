"""Volts of three lines to earth, from the volts between them and where the supply is earthed.

The three line volts are the sides of a triangle of phasors. Where a supply line is earthed,
earth is a corner of it; where the centre of the supply is, the middle of the side 1-2, and line
3 then stands the length of that side's median away (Apollonius: m^2 = (2a^2 + 2b^2 - c^2)/4).
What flows in neutral and earth conductors is left out: it moves earth by the drop along them.
"""

from __future__ import annotations

import math
from typing import Literal

from phasewright.network.unbalance import Volts, check_triangle

EarthedPoint = Literal["line_2", "centre"]


def third_line_to_centre_v(line_voltages_v: Volts) -> float:
    """Volts of line 3 to the middle between lines 1 and 2, from rms [v12, v23, v31].

    Raises UsageError for volts that close no triangle. Source: Apollonius's theorem (geometry).
    """
    check_triangle(line_voltages_v)
    v12, v23, v31 = line_voltages_v
    return math.sqrt(max(0.0, 2.0 * v23 * v23 + 2.0 * v31 * v31 - v12 * v12)) / 2.0


def volts_to_earth(line_voltages_v: Volts, earthed: EarthedPoint) -> Volts:
    """Rms volts of lines 1, 2, 3 to earth, from rms [v12, v23, v31] and the earthed point."""
    if earthed == "centre":
        half = line_voltages_v[0] / 2.0
        return half, half, third_line_to_centre_v(line_voltages_v)
    check_triangle(line_voltages_v)
    return line_voltages_v[0], 0.0, line_voltages_v[1]


def earthed_by(
    line_1_v: float, line_2_v: float, between_v: float
) -> Literal["line_1", "line_2", "centre", "none"] | None:
    """Which point of a supply of two lines is earthed, by the volts of each to earth.

    Within a tenth of the volts between them, as far as neutral and earth conductors move earth
    (common practice). None where the readings fit nothing.
    """
    room = 0.1 * between_v

    def near(volts: float, wanted: float) -> bool:
        return abs(volts - wanted) <= room

    if near(line_1_v, between_v) and near(line_2_v, 0.0):
        return "line_2"
    if near(line_2_v, between_v) and near(line_1_v, 0.0):
        return "line_1"
    if near(line_1_v, between_v / 2.0) and near(line_2_v, between_v / 2.0):
        return "centre"
    if near(line_1_v, 0.0) and near(line_2_v, 0.0):
        return "none"
    return None


def highest_to_earth(line_voltages_v: Volts) -> Volts:
    """The same where the earthed point is not known: of every line the higher of both."""
    one = volts_to_earth(line_voltages_v, "line_2")
    other = volts_to_earth(line_voltages_v, "centre")
    return max(one[0], other[0]), max(one[1], other[1]), max(one[2], other[2])
