"""Compiled: powers and stored energies of a motor on a drive, and the drive's link.

Link: C/2 dV^2/dt = -(3/2 Re(v* i) + loss) - V^2/R while the resistor is on; the rectifier does not
let it fall below its own volts. An energy balance, derived here.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from phasewright.network.compiled import jit_inlined
from phasewright.running.rows import A1, A2, G_FE, L1, L2, LS, LU, R1, R2, RS, S
from phasewright.starts import drive_layout as at
from phasewright.starts.layout import ROW
from phasewright.starts.machine import (
    FIXED,
    FLUXES,
    I1,
    I2,
    IS,
    PM,
    SHARE,
    SPEED,
    VM,
    knee,
    load_torque,
)  # fmt: skip

# What is kept of the drive from step to step.
DOES, HZ, OUT_HZ, ANGLE, PEAK_V, LAGGED_NM, LINK_J, RESISTOR_ON, SINCE = range(9)
P_IN, P_STATOR, P_ROTOR, P_IRON, P_LOAD, P_FRICTION = range(9, 15)  # powers at the step's end
NOW = 15
POWERS = 6


@jit_inlined
def squared(z: complex) -> float:
    """|z|^2."""
    return z.real * z.real + z.imag * z.imag


@jit_inlined
def bent(rows: Any, fixed: Any, flux: float) -> float:
    """How much more current the main path takes at a flux than unsaturated, less one."""
    return 0.0 if rows[0, S] == 0.0 else knee(fixed, 0, flux)


@jit_inlined
def field_j(rows: Any, fixed: Any, fluxes: Any) -> float:
    """Energy in leakages and main flux [J]: 3/2 (sum L_q |i_q|^2/2 + integral of nu x dx)."""
    x = abs(fluxes[0, PM])
    leaks = rows[0, LS] * squared(fluxes[0, IS]) + rows[0, L1] * squared(fluxes[0, I1])
    leaks += rows[0, L2] * squared(fluxes[0, I2])
    main = x * x / rows[0, LU] * (1.0 + 2.0 / (rows[0, S] + 2.0) * bent(rows, fixed, x))
    stored: float = 0.75 * (leaks + main)
    return stored


@jit_inlined
def line_amps(rows: Any, fluxes: Any) -> float:
    """Line amps as rms of a steady vector, iron included [A]."""
    amps: float = math.sqrt(0.5 * squared(fluxes[0, IS] + rows[0, G_FE] * fluxes[0, VM]))
    return amps


@jit_inlined
def powers(machine: Any, rows: Any, fluxes: Any, states: Any, now: Any, into: Any) -> None:
    """Powers of this instant [W]: input, losses of stator, rotor, iron, the load's, friction."""
    i, v, speed = fluxes[0, IS], fluxes[0, VM], states[0, SPEED]
    heat = 1.5 * squared(i)
    into[1] = machine[0, RS] * heat
    into[2] = 1.5 * (rows[0, R1] * squared(fluxes[0, I1]))
    if rows[0, L2] != 0.0:
        into[2] += 1.5 * rows[0, R2] * squared(fluxes[0, I2])
    if now[DOES] == at.WAITING or now[DOES] == at.OFF:
        into[0], into[3] = 0.0, (rows[0, RS] - machine[0, RS]) * heat
    else:
        into[3] = 1.5 * rows[0, G_FE] * squared(v)
        along = v.conjugate() * i
        into[0] = 1.5 * along.real + into[3]
    into[5] = (rows[0, A1] + rows[0, A2] * abs(speed)) * speed * speed
    into[4] = load_torque(rows, 0, states[0, SHARE], speed) * speed - into[5]


@jit_inlined
def charge(drive: Any, now: Any, totals: Any, input_w: float, span: float) -> None:
    """The link over a step in which the motor took `input_w`."""
    live = now[DOES] != at.WAITING and now[DOES] != at.OFF
    loss_w = drive[at.LOSS_W] if live else 0.0
    totals[at.LOSS_J] += loss_w * span
    totals[at.PEAK_BACK_W] = max(totals[at.PEAK_BACK_W], -input_w - loss_w)
    now[LINK_J] -= (input_w + loss_w) * span
    least = 0.5 * drive[at.LINK_F] * drive[at.RECTIFIED_V] * drive[at.RECTIFIED_V]
    if now[RESISTOR_ON] != 0.0 and now[LINK_J] > 0.0:
        gone = now[LINK_J] * (
            1.0 - math.exp(-2.0 * span / (drive[at.RESISTOR_OHM] * drive[at.LINK_F]))
        )
        watts = 2.0 * now[LINK_J] / drive[at.LINK_F] / drive[at.RESISTOR_OHM]
        totals[at.RESISTOR_J] += gone
        totals[at.PEAK_RESISTOR_W] = max(totals[at.PEAK_RESISTOR_W], watts)
        now[LINK_J] -= gone
    if now[LINK_J] < least:
        totals[at.RECTIFIER_J] += least - now[LINK_J]
        now[LINK_J] = least
    volts = math.sqrt(2.0 * now[LINK_J] / drive[at.LINK_F])
    totals[at.PEAK_LINK_V] = max(totals[at.PEAK_LINK_V], volts)
    if drive[at.RESISTOR_OHM] > 0.0:
        if volts >= drive[at.RESISTOR_ON_V]:
            now[RESISTOR_ON] = 1.0
        elif volts <= drive[at.RESISTOR_OFF_V]:
            now[RESISTOR_ON] = 0.0


def warm() -> None:
    """Compile what stands by itself; the rest is compiled into its caller."""
    rows, fluxes = np.ones((1, ROW)), np.zeros((1, FLUXES), np.complex128)
    field_j(rows, np.ones((1, FIXED)), fluxes)
    line_amps(rows, fluxes)
