"""Compiled: one machine over one step, as a conductance with a history.

With psi_m the main flux, i_q = (psi_q - psi_m)/L_q for the stator and both cages, and the main-flux
law sum(i_q) = nu(|psi_m|) psi_m:

    d psi_s/dt = v - R_s i_s,    d psi_1,2/dt = j p w psi_1,2 - R_1,2 i_1,2

The law maps fluxes to currents, so nothing saturates in a derivative and energy is kept. As each
current is a difference of fluxes over one inductance, a step of the trapezoidal rule needs one
complex division for the main flux. Torque 3/2 p Im(psi_s* i_s).

Source: exact isotropic main-flux saturation with flux states, derived here; the two-axis equations
are those of P. C. Krause, O. Wasynczuk, S. D. Sudhoff, Analysis of Electric Machinery (memory).
"""

from __future__ import annotations

from typing import Any

import numpy as np

from phasewright.network.compiled import jit_inlined
from phasewright.running.flux import power
from phasewright.running.kernel import inverse
from phasewright.running.rows import (
    A1,
    A2,
    CONSTANT,
    FAN,
    L1,
    L2,
    LOAD,
    LOAD_NM,
    LOAD_RAD_S,
    LS,
    LU,
    PAIRS,
    PSI_K,
    R1,
    R2,
    RS,
    VISCOUS,
    S,
)  # fmt: skip
from phasewright.starts.layout import BREAKAWAY, ROW

# What is kept of a machine from step to step (complex): fluxes, currents, the main flux.
PS, P1, P2, IS, I1, I2, PM, VM = range(8)
FLUXES = 8
# What is kept of a machine from step to step (real).
SPEED, NU, NU_BEFORE, TORQUE, ON = range(5)
STATES = 5
# What is worked out anew in every step: conductance and history of the machine, parts of it.
Y, HIST, D_S, D_1, D_2, TOP, BOTTOM, B_S, B_1, B_2 = range(10)
WORK = 10


@jit_inlined
def load_torque(rows: Any, k: int, speed: float) -> float:
    """Torque of load and friction at a speed [N m]; see `running.network.LoadLaw`.

    Below one radian a second a constant load falls off to nothing, and the load asks for what it
    takes to break away.
    """
    law, turned = rows[k, LOAD], speed / rows[k, LOAD_RAD_S]
    friction = rows[k, A1] * speed + rows[k, A2] * speed * abs(speed)
    slow = min(max(speed, -1.0), 1.0)
    asked = 0.0
    if law == CONSTANT:
        asked = rows[k, LOAD_NM] * slow
    elif law == FAN:
        asked = rows[k, LOAD_NM] * turned * abs(turned)
    elif law == VISCOUS:
        asked = rows[k, LOAD_NM] * turned
    more = rows[k, BREAKAWAY] - abs(asked)
    if more > 0.0:
        asked += more * slow * max(0.0, 1.0 - 0.1 * abs(speed))
    whole: float = asked + friction
    return whole


@jit_inlined
def reluctance(rows: Any, k: int, flux: float) -> float:
    """nu = i/psi of the main path [1/H]."""
    knee = 0.0 if rows[k, S] == 0.0 else power(flux / rows[k, PSI_K], rows[k, S])
    per_h: float = (1.0 + knee) / rows[k, LU]
    return per_h


@jit_inlined
def main_flux(rows: Any, k: int, linkage: float, gathered: float, nu: float) -> float:
    """|psi_m| from |sum psi_q/L_q|: x (G + nu(x)) = linkage, by Newton from nu."""
    x = linkage / (gathered + nu)
    if rows[k, S] == 0.0:
        return x
    for _ in range(30):
        knee = power(x / rows[k, PSI_K], rows[k, S])
        miss = x * (gathered + (1.0 + knee) / rows[k, LU]) - linkage
        slope = gathered + (1.0 + (1.0 + rows[k, S]) * knee) / rows[k, LU]
        x -= miss / slope
        if abs(miss) <= 1e-12 * linkage:
            break
    return x


@jit_inlined
def prepare(
    rows: Any, k: int, fluxes: Any, states: Any, work: Any, g: float, ahead: float, euler: bool
) -> None:
    """Conductance and history of one machine for the coming step; `ahead` predicts its speed."""
    turn = complex(0.0, g * rows[k, PAIRS] * ahead)
    k_s, k_1 = 1.0 / rows[k, LS], 1.0 / rows[k, L1]
    k_2 = 0.0 if rows[k, L2] == 0.0 else 1.0 / rows[k, L2]
    a_s, a_1, a_2 = g * rows[k, RS] * k_s, g * rows[k, R1] * k_1, 0.0
    b_s, b_1, b_2 = fluxes[k, PS], fluxes[k, P1], fluxes[k, P2]
    if k_2 != 0.0:
        a_2 = g * rows[k, R2] * k_2
    if not euler:
        now = complex(0.0, rows[k, PAIRS] * states[k, SPEED])
        b_s += g * (fluxes[k, VM] - rows[k, RS] * fluxes[k, IS])
        b_1 += g * (now * fluxes[k, P1] - rows[k, R1] * fluxes[k, I1])
        if k_2 != 0.0:
            b_2 += g * (now * fluxes[k, P2] - rows[k, R2] * fluxes[k, I2])
    d_s = complex(1.0 / (1.0 + a_s), 0.0)
    d_1 = inverse(1.0 + a_1 - turn)
    d_2 = inverse(1.0 + a_2 - turn)
    nu = (
        states[k, NU]
        if euler
        else max(2.0 * states[k, NU] - states[k, NU_BEFORE], 1.0 / rows[k, LU])
    )
    bottom = inverse(k_s + k_1 + k_2 + nu - a_s * k_s * d_s - a_1 * k_1 * d_1 - a_2 * k_2 * d_2)
    top = b_s * d_s * k_s + b_1 * d_1 * k_1 + b_2 * d_2 * k_2
    own = d_s * k_s
    work[k, Y] = g * own * (1.0 - own * bottom)
    work[k, HIST] = own * (b_s - top * bottom)
    work[k, D_S], work[k, D_1], work[k, D_2] = d_s, d_1, d_2
    work[k, TOP], work[k, BOTTOM] = top, bottom
    work[k, B_S], work[k, B_1], work[k, B_2] = b_s, b_1, b_2


@jit_inlined
def advance(rows: Any, k: int, fluxes: Any, states: Any, work: Any, g: float, v: complex) -> None:
    """Fluxes, currents and torque of one machine at the end of the step."""
    k_s, k_1 = 1.0 / rows[k, LS], 1.0 / rows[k, L1]
    k_2 = 0.0 if rows[k, L2] == 0.0 else 1.0 / rows[k, L2]
    pm = (work[k, TOP] + g * v * work[k, D_S] * k_s) * work[k, BOTTOM]
    fluxes[k, PS] = work[k, D_S] * (work[k, B_S] + g * v + g * rows[k, RS] * k_s * pm)
    fluxes[k, P1] = work[k, D_1] * (work[k, B_1] + g * rows[k, R1] * k_1 * pm)
    if k_2 != 0.0:
        fluxes[k, P2] = work[k, D_2] * (work[k, B_2] + g * rows[k, R2] * k_2 * pm)
    linkage = fluxes[k, PS] * k_s + fluxes[k, P1] * k_1 + fluxes[k, P2] * k_2
    gathered = k_s + k_1 + k_2
    states[k, NU_BEFORE] = states[k, NU]
    if rows[k, S] != 0.0:
        x = main_flux(rows, k, abs(linkage), gathered, states[k, NU])
        states[k, NU] = reluctance(rows, k, x)
    pm = linkage / (gathered + states[k, NU])
    fluxes[k, PM], fluxes[k, VM] = pm, v
    fluxes[k, IS] = (fluxes[k, PS] - pm) * k_s
    fluxes[k, I1] = (fluxes[k, P1] - pm) * k_1
    fluxes[k, I2] = (fluxes[k, P2] - pm) * k_2
    along = fluxes[k, PS].conjugate() * fluxes[k, IS]
    states[k, TORQUE] = 1.5 * rows[k, PAIRS] * along.imag


def warm() -> None:
    """Compile what stands by itself; the rest is compiled into its caller."""
    rows = np.ones((1, ROW))
    load_torque(rows, 0, 1.0)
    main_flux(rows, 0, 1.0, 1.0, 1.0)
