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

import math
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
    NONE,
    PAIRS,
    PSI_K,
    R1,
    R2,
    RS,
    S,
)  # fmt: skip
from phasewright.starts.layout import BREAKAWAY, INERTIA, ROW

# What is kept of a machine from step to step (complex): fluxes, currents, main flux, volts.
PS, P1, P2, IS, I1, I2, PM, VM = range(8)
FLUXES = 8
# What is kept of a machine from step to step (real).
SPEED, NU, NU_BEFORE, NU_AHEAD, TORQUE, ON, NET_NM, SHARE = range(8)
STATES = 8
# What is worked out anew in every step (complex).
Y, HIST, D_1, D_2, TOP, BOTTOM, B_S, B_1, B_2 = range(9)
WORK = 9
# What stays the same for a whole run (real); g stands for half a step.
K_S, K_1, K_2 = 0, 1, 2  # 1/leakage
DROP_S, DROP_1, DROP_2 = 3, 4, 5  # g R/leakage: what a resistance drops in half a step
D_S, OWN = 6, 7  # 1/(1 + DROP_S), and over the leakage
GATHERED, STIFF = 8, 9  # sum of 1/leakage, and that less what the stator's own drop takes
TURN, PER_J, PER_T = 10, 11, 12  # g pairs, 1/inertia, 3/2 pairs
PER_LU, PER_KNEE, POWER = 13, 14, 15  # of the main path: 1/inductance, 1/knee flux, half of s
FIXED = 16


@jit_inlined
def fix(rows: Any, k: int, fixed: Any, g: float) -> None:
    """What stays the same of a machine for a whole run."""
    k_s, k_1 = 1.0 / rows[k, LS], 1.0 / rows[k, L1]
    k_2 = 0.0 if rows[k, L2] == 0.0 else 1.0 / rows[k, L2]
    fixed[k, K_S], fixed[k, K_1], fixed[k, K_2] = k_s, k_1, k_2
    fixed[k, DROP_S], fixed[k, DROP_1] = g * rows[k, RS] * k_s, g * rows[k, R1] * k_1
    fixed[k, DROP_2] = 0.0 if k_2 == 0.0 else g * rows[k, R2] * k_2
    fixed[k, D_S] = 1.0 / (1.0 + fixed[k, DROP_S])
    fixed[k, OWN] = fixed[k, D_S] * k_s
    fixed[k, GATHERED] = k_s + k_1 + k_2
    fixed[k, STIFF] = k_s + k_1 + k_2 - fixed[k, DROP_S] * fixed[k, OWN]
    fixed[k, TURN] = g * rows[k, PAIRS]
    fixed[k, PER_J] = 1.0 / rows[k, INERTIA]
    fixed[k, PER_T] = 1.5 * rows[k, PAIRS]
    fixed[k, PER_LU], fixed[k, PER_KNEE] = 1.0 / rows[k, LU], 1.0 / rows[k, PSI_K]
    fixed[k, POWER] = 0.5 * rows[k, S]


@jit_inlined
def load_torque(rows: Any, k: int, share: float, speed: float) -> float:
    """Torque of load and friction at a speed [N m]; see `running.network.LoadLaw`; the load asks
    `share` times its law.

    Below one radian a second a constant load falls off to nothing, and the load asks for what it
    takes to break away.
    """
    law = rows[k, LOAD]
    friction = rows[k, A1] * speed + rows[k, A2] * speed * abs(speed)
    slow = min(max(speed, -1.0), 1.0)
    asked = 0.0
    if law == CONSTANT:
        asked = share * rows[k, LOAD_NM] * slow
    elif law != NONE:
        turned = speed / rows[k, LOAD_RAD_S]
        asked = share * rows[k, LOAD_NM] * turned
        if law == FAN:
            asked *= abs(turned)
    more = rows[k, BREAKAWAY] - abs(asked)
    if more > 0.0:
        asked += more * slow * max(0.0, 1.0 - 0.1 * abs(speed))
    whole: float = asked + friction
    return whole


@jit_inlined
def knee(fixed: Any, k: int, flux: float) -> float:
    """(flux/knee flux)^s of the main-flux law nu = i/psi = (1 + knee)/Lu."""
    over = flux * fixed[k, PER_KNEE]
    return power(over * over, fixed[k, POWER])


@jit_inlined
def reluctance(fixed: Any, k: int, linkage: float, nu: float) -> float:
    """nu of the main flux x that belongs to |sum psi_q/L_q|: x (G + nu(x)) = linkage, by Newton
    from a nu; every step squares what is missing."""
    gathered, per_lu, s = fixed[k, GATHERED], fixed[k, PER_LU], 2.0 * fixed[k, POWER]
    x = linkage / (gathered + nu)
    for _ in range(30):
        bent = knee(fixed, k, x)
        miss = x * (gathered + (1.0 + bent) * per_lu) - linkage
        x -= miss / (gathered + (1.0 + (1.0 + s) * bent) * per_lu)
        if abs(miss) <= 1e-5 * linkage:
            break
    per_h: float = (1.0 + knee(fixed, k, x)) * per_lu
    return per_h


@jit_inlined
def by(real: float, z: complex) -> complex:
    """real z, without the products with a zero that a complex product would have."""
    return complex(real * z.real, real * z.imag)


@jit_inlined
def on_j(real: float, z: complex) -> complex:
    """j real z."""
    return complex(-real * z.imag, real * z.real)


@jit_inlined
def prepare(
    rows: Any, fixed: Any, k: int, fluxes: Any, states: Any, work: Any,
    g: float, ahead: float, euler: bool,
) -> None:  # fmt: skip
    """Conductance and history of one machine for the coming step; `ahead` predicts its speed."""
    k_2, own, nu = fixed[k, K_2], fixed[k, OWN], states[k, NU]
    b_s, b_1, b_2 = fluxes[k, PS], fluxes[k, P1], fluxes[k, P2]
    if not euler:
        now = fixed[k, TURN] * states[k, SPEED]
        b_s += by(g, fluxes[k, VM]) - by(g * rows[k, RS], fluxes[k, IS])
        b_1 += on_j(now, b_1) - by(g * rows[k, R1], fluxes[k, I1])
        if k_2 != 0.0:
            b_2 += on_j(now, b_2) - by(g * rows[k, R2], fluxes[k, I2])
        nu = max(2.0 * nu - states[k, NU_BEFORE], fixed[k, PER_LU])
    turned = -fixed[k, TURN] * ahead
    d_1 = inverse(complex(1.0 + fixed[k, DROP_1], turned))
    under = complex(fixed[k, STIFF] + nu, 0.0) - by(fixed[k, DROP_1] * fixed[k, K_1], d_1)
    top = by(own, b_s) + by(fixed[k, K_1], b_1 * d_1)
    if k_2 != 0.0:
        d_2 = inverse(complex(1.0 + fixed[k, DROP_2], turned))
        under -= by(fixed[k, DROP_2] * k_2, d_2)
        top += by(k_2, b_2 * d_2)
        work[k, D_2], work[k, B_2] = d_2, b_2
    bottom = inverse(under)
    part = g * own
    work[k, Y] = complex(part - part * own * bottom.real, -part * own * bottom.imag)
    work[k, HIST] = by(own, b_s - top * bottom)
    work[k, D_1], work[k, TOP], work[k, BOTTOM] = d_1, top, bottom
    work[k, B_S], work[k, B_1] = b_s, b_1
    states[k, NU_AHEAD] = nu


@jit_inlined
def advance(
    rows: Any, fixed: Any, k: int, fluxes: Any, states: Any, work: Any, g: float, v: complex
) -> None:
    """Fluxes, currents and torque of one machine at the end of the step."""
    k_2, gathered = fixed[k, K_2], fixed[k, GATHERED]
    pm = (work[k, TOP] + by(g * fixed[k, OWN], v)) * work[k, BOTTOM]
    ps = by(fixed[k, D_S], work[k, B_S] + by(g, v) + by(fixed[k, DROP_S], pm))
    p1 = work[k, D_1] * (work[k, B_1] + by(fixed[k, DROP_1], pm))
    linkage, p2 = by(fixed[k, K_S], ps) + by(fixed[k, K_1], p1), complex(0.0, 0.0)
    if k_2 != 0.0:
        p2 = work[k, D_2] * (work[k, B_2] + by(fixed[k, DROP_2], pm))
        linkage += by(k_2, p2)
    nu = states[k, NU]
    states[k, NU_BEFORE] = nu
    if rows[k, S] != 0.0:
        length = math.sqrt(linkage.real * linkage.real + linkage.imag * linkage.imag)
        nu = reluctance(fixed, k, length, states[k, NU_AHEAD])
        states[k, NU] = nu
    pm = by(1.0 / (gathered + nu), linkage)
    i_s = by(fixed[k, K_S], ps - pm)
    fluxes[k, PS], fluxes[k, P1], fluxes[k, P2], fluxes[k, PM] = ps, p1, p2, pm
    fluxes[k, IS], fluxes[k, I1] = i_s, by(fixed[k, K_1], p1 - pm)
    fluxes[k, I2], fluxes[k, VM] = by(k_2, p2 - pm), v
    states[k, TORQUE] = fixed[k, PER_T] * (ps.real * i_s.imag - ps.imag * i_s.real)


def warm() -> None:
    """Compile what stands by itself; the rest is compiled into its caller."""
    rows = np.ones((1, ROW))
    fixed = np.ones((1, FIXED))
    load_torque(rows, 0, 1.0, 1.0)
    fix(rows, 0, fixed, 1.0)
    reluctance(fixed, 0, 1.0, 1.0)
