"""Compiled: what the inverter does next, and what becomes of the motor as it begins to.

With the inverter off the stator feeds its own iron: 1/G_fe stands in series with R_s at no volts,
and what its leakage held goes through the diodes into the link.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from phasewright.network.compiled import jit_inlined
from phasewright.running.rows import (
    G_FE,
    RS,
    S,
)  # fmt: skip
from phasewright.starts import drive_layout as at
from phasewright.starts.drive_meters import (
    DOES,
    HZ,
    LINK_J,
    NOW,
    OUT_HZ,
    PEAK_V,
    SINCE,
    field_j,
)  # fmt: skip
from phasewright.starts.machine import (
    GATHERED,
    I1,
    I2,
    IS,
    K_1,
    K_2,
    NU,
    NU_BEFORE,
    P1,
    P2,
    PM,
    PS,
    SPEED,
    STATES,
    TORQUE,
    VM,
    reluctance,
)  # fmt: skip

MOST_IRON_OHM = 1e6
"""Resistance of the iron that is taken for a motor without iron loss."""


@jit_inlined
def switch_off(machine: Any, rows: Any, fixed: Any, fluxes: Any, states: Any) -> float:
    """Open the stator: fluxes after its current has gone; energy that goes into the link [J]."""
    before = field_j(machine, fixed, fluxes)
    k_1, k_2 = fixed[0, K_1], fixed[0, K_2]
    linkage, nu = k_1 * fluxes[0, P1] + k_2 * fluxes[0, P2], states[0, NU]
    if rows[0, S] != 0.0:
        fixed[0, GATHERED] = k_1 + k_2  # of the rotor alone; fixed anew at the step
        nu = reluctance(fixed, 0, abs(linkage), nu)
    pm = linkage / (k_1 + k_2 + nu)
    fluxes[0, PS] = fluxes[0, PM] = pm
    fluxes[0, IS] = fluxes[0, VM] = 0.0
    fluxes[0, I1] = (fluxes[0, P1] - pm) * k_1
    fluxes[0, I2] = (fluxes[0, P2] - pm) * k_2
    states[0, NU] = states[0, NU_BEFORE] = nu
    states[0, TORQUE] = 0.0
    rows[0, RS] = machine[0, RS] + 1.0 / max(machine[0, G_FE], 1.0 / MOST_IRON_OHM)
    return before - field_j(machine, fixed, fluxes)


@jit_inlined
def turn_to(
    does: float,
    t: float,
    machine: Any,
    rows: Any,
    fixed: Any,
    fluxes: Any,
    states: Any,
    now: Any,
    totals: Any,
) -> None:
    """The inverter begins to do something else."""
    live = now[DOES] == at.RUNNING or now[DOES] == at.RAMPING or now[DOES] == at.INJECTING
    now[DOES], now[SINCE] = does, t
    if does in (at.WAITING, at.OFF):
        now[PEAK_V] = now[OUT_HZ] = 0.0
        if live:
            freed = switch_off(machine, rows, fixed, fluxes, states)
            totals[at.FREED_J] += freed
            now[LINK_J] += freed
    elif does == at.INJECTING:
        rows[0, RS] = machine[0, RS]
        totals[at.INJECTED_S] = t


@jit_inlined
def next_does(drive: Any, states: Any, now: Any, t: float) -> float:
    """What the inverter does from this instant on."""
    does, slow = now[DOES], states[0, SPEED] <= drive[at.INJECT_BELOW]
    injects = drive[at.INJECTS] != 0.0
    if does == at.RUNNING and t >= drive[at.STOPS_S]:
        does = at.RAMPING if drive[at.DOWN_HZ_S] > 0.0 else (at.WAITING if injects else at.OFF)
    if does == at.RAMPING:
        if injects and slow:
            does = at.WAITING
        elif now[HZ] == 0.0 and abs(states[0, SPEED]) <= drive[at.REST_RAD_S]:
            does = at.OFF
    began = now[SINCE] if now[DOES] == at.WAITING else t
    if does == at.WAITING and slow and t >= began + drive[at.INJECT_WAITS]:
        does = at.INJECTING
    elif does == at.INJECTING and t >= now[SINCE] + drive[at.INJECT_S]:
        does = at.OFF
    over: float = does
    return over


def warm() -> None:
    """Compile what stands by itself; the rest is compiled into its caller."""
    drive, states, now = np.ones(at.DRIVE), np.zeros((1, STATES)), np.zeros(NOW)
    next_does(drive, states, now, 0.0)
