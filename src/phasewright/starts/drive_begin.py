"""Compiled: steady running of one motor on balanced volts of any frequency, as fluxes.

With slip s, field w and v along the real axis: i_q = -j s w psi_m/(R_q + j s w L_q) in each cage,
i_s = nu psi_m - i_1 - i_2, v = R_s i_s + j w (psi_m + L_s i_s). The same circuit as
`machines.performance`, in the states of `starts.machine`; a run that begins there stays there.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from phasewright.network.compiled import jit
from phasewright.running.rows import L1, L2, LS, LU, PAIRS, R1, R2, RS
from phasewright.starts.drive_meters import bent
from phasewright.starts.layout import ROW
from phasewright.starts.machine import (
    FIXED,
    FLUXES,
    I1,
    I2,
    IS,
    NU,
    NU_BEFORE,
    P1,
    P2,
    PER_LU,
    PM,
    PS,
    SHARE,
    SPEED,
    STATES,
    TORQUE,
    VM,
    fix,
    load_torque,
)  # fmt: skip

LEAST_SLIP, SLIP_STEP = 1e-6, 1.1


@jit
def at_slip(
    rows: Any, fixed: Any, w: float, v: float, slip: float, fluxes: Any, states: Any
) -> float:
    """Set fluxes and states for a slip; torque less that of load and friction [N m].

    `w` rad/s of the field, `v` peak volts of a phase.
    """
    turned = complex(0.0, slip * w)
    y_1 = turned / (rows[0, R1] + turned * rows[0, L1])
    y_2 = 0j if rows[0, L2] == 0.0 else turned / (rows[0, R2] + turned * rows[0, L2])
    series = complex(rows[0, RS], w * rows[0, LS])
    nu, x = 1.0 / rows[0, LU], 0.0
    for _ in range(100):
        asked = v / abs(complex(0.0, w) + series * (nu + y_1 + y_2))
        nu = (1.0 + bent(rows, fixed, asked)) * fixed[0, PER_LU]
        if abs(asked - x) <= 1e-13 * asked:
            break
        x = asked
    pm = v / (complex(0.0, w) + series * (nu + y_1 + y_2))
    i_1, i_2 = -y_1 * pm, -y_2 * pm
    i_s = nu * pm - i_1 - i_2
    fluxes[0, PM], fluxes[0, VM] = pm, v
    fluxes[0, IS], fluxes[0, I1], fluxes[0, I2] = i_s, i_1, i_2
    fluxes[0, PS] = pm + rows[0, LS] * i_s
    fluxes[0, P1], fluxes[0, P2] = pm + rows[0, L1] * i_1, pm + rows[0, L2] * i_2
    along = fluxes[0, PS].conjugate() * i_s
    states[0, NU] = states[0, NU_BEFORE] = nu
    states[0, TORQUE] = 1.5 * rows[0, PAIRS] * along.imag
    states[0, SPEED] = w * (1.0 - slip) / rows[0, PAIRS]
    spare: float = states[0, TORQUE] - load_torque(rows, 0, states[0, SHARE], states[0, SPEED])
    return spare


@jit
def settled(rows: Any, w: float, v: float, fluxes: Any, states: Any) -> bool:
    """Set fluxes and states for steady running under the load; False where there is none."""
    fixed = np.zeros((1, FIXED))
    fix(rows, 0, fixed, 0.0)
    low = high = LEAST_SLIP
    while at_slip(rows, fixed, w, v, high, fluxes, states) < 0.0:
        low, high = high, high * SLIP_STEP
        if high > 1.0:
            return False
    for _ in range(60):
        middle = 0.5 * (low + high)
        if at_slip(rows, fixed, w, v, middle, fluxes, states) < 0.0:
            low = middle
        else:
            high = middle
    return True


def warm() -> None:
    """Compile the kernels of this module."""
    fluxes, states = np.zeros((1, FLUXES), np.complex128), np.zeros((1, STATES))
    settled(np.ones((1, ROW)), 1.0, 1.0, fluxes, states)
