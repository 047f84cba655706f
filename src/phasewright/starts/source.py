"""Compiled: what feeds a run: a source between lines 1 and 2, or one of all three lines.

Companion models as in `kernel`; what stays the same of lines and capacitors for a whole run.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from phasewright.network.compiled import jit_inlined
from phasewright.running.rows import C12, C23, C31, LZ, RZ
from phasewright.starts.layout import (
    BRIDGED,
    E_3_OLD,
    E_OLD,
    FED,
    I_Z,
    I_Z3,
    LINES,
    RESISTOR_OHM,
    START_F,
    START_OHM,
    V1,
    V3,
)

OPEN_S = 1e-9  # conductance of an open switch
THIRD = 1.0 / 3.0
# What stays the same of the lines for a whole run: conductances of source (bypass open, closed),
# capacitors and start branch; L/g, g/C of the start branch.
Y_THROUGH, Y_BRIDGED, PER_G, Y_12, Y_23, Y_31, Y_ST, ST_G = range(8)
STILL = 8


@jit_inlined
def keep_still(line: Any, still: Any, g: float) -> None:
    """What stays the same of the lines for a whole run."""
    still[PER_G] = line[LZ] / g
    still[Y_BRIDGED] = 1.0 / (line[RZ] + still[PER_G])
    still[Y_THROUGH] = 1.0 / (line[RZ] + line[RESISTOR_OHM] + still[PER_G])
    still[Y_12], still[Y_23], still[Y_31] = line[C12] / g, line[C23] / g, line[C31] / g
    if line[START_F] > 0.0:
        still[ST_G] = g / line[START_F]
        still[Y_ST] = 1.0 / (line[START_OHM] + still[ST_G])


@jit_inlined
def feed(
    line: Any, still: Any, net: Any, three: bool, e: float, e_3: float, euler: bool
) -> tuple[float, float, float, float, float]:
    """What the source adds to the node equations: y11, y13 and y31, y33, r1, r3; `e` is between
    lines 1 and 2, `e_3` between 3 and 2, at the end of the step."""
    if three:
        y, j_1, j_3 = three_of(line, still, net, e, e_3, euler)
        return y, -0.5 * y, y, j_1, j_3
    y, j = source_of(line, still, net, e, euler)
    return y, 0.0, 0.0, j, 0.0


@jit_inlined
def source_of(line: Any, still: Any, net: Any, e: float, euler: bool) -> tuple[float, float]:
    """Conductance and history of the source behind its impedance; `e` at the end of the step."""
    if net[FED] == 0.0:
        return OPEN_S, 0.0
    ohm, y, per_g = line[RZ], still[Y_BRIDGED], still[PER_G]
    if net[BRIDGED] == 0.0:
        ohm, y = ohm + line[RESISTOR_OHM], still[Y_THROUGH]
    if euler:
        return y, y * (e + per_g * net[I_Z])
    if per_g > 0.0:
        return y, y * (e + (per_g - ohm) * net[I_Z] + net[E_OLD] - net[V1])
    return y, y * e


@jit_inlined
def three_of(
    line: Any, still: Any, net: Any, e: float, e_3: float, euler: bool
) -> tuple[float, float, float]:
    """Source of three lines, each behind its impedance z: own conductance of lines 1 and 3 and
    their histories. What flows in both comes back in line 2: [[2, 1], [1, 2]] z i = e - v."""
    y, per_g = still[Y_BRIDGED], still[PER_G]
    kept = per_g
    if not euler:
        kept = per_g - line[RZ]
        if per_g > 0.0:
            e += net[E_OLD] - net[V1]
            e_3 += net[E_3_OLD] - net[V3]
        else:
            kept = 0.0
    third = THIRD * y
    j_1 = third * (2.0 * e - e_3) + y * kept * net[I_Z]
    j_3 = third * (2.0 * e_3 - e) + y * kept * net[I_Z3]
    return 2.0 * third, j_1, j_3


def warm() -> None:
    """Compile what stands by itself; the rest is compiled into its caller."""
    keep_still(np.ones(LINES), np.zeros(STILL), 1.0)
