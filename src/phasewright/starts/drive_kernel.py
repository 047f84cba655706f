"""Compiled: one motor on an inverter in time, electrical and mechanical, with the drive's link.

The averaged inverter is a stiff space-vector source v = sqrt(2/3) V(f) e^(j theta), so a step of
the machine (`starts.machine`) needs no network round it: the trapezoidal rule with
g = tan(pi f h)/(2 pi f) in place of h/2, exact at the frequency of the moment; after every jump two
half steps of backward Euler.

Equations from the motor's model of this house, derived here; the link stands in `drive_meters`.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from phasewright.network.compiled import jit, jit_inlined
from phasewright.running.rows import (
    PAIRS,
)  # fmt: skip
from phasewright.starts import drive_layout as at
from phasewright.starts.drive_meters import (
    ANGLE,
    DOES,
    HZ,
    LAGGED_NM,
    LINK_J,
    NOW,
    OUT_HZ,
    P_IN,
    PEAK_V,
    POWERS,
    RESISTOR_ON,
    charge,
    field_j,
    line_amps,
    powers,
)  # fmt: skip
from phasewright.starts.drive_switching import next_does, turn_to
from phasewright.starts.kernel import predict, turn
from phasewright.starts.layout import BREAKAWAY, INERTIA, ROW
from phasewright.starts.machine import (
    FIXED,
    FLUXES,
    NU,
    NU_BEFORE,
    SHARE,
    SPEED,
    STATES,
    TORQUE,
    VM,
    WORK,
    advance,
    fix,
    load_torque,
)  # fmt: skip

TAU = 2.0 * math.pi
EASE = 0.1
"""Share of the current limit over which the frequency's rate falls to nothing."""
TURNS_WITH_FIELD = 0.7
"""Least speed over that of the field at which a motor counts as run up."""
STEADY = 0.02
"""Torque left over for acceleration, over the rated one, below which a run-up is over."""


@jit_inlined
def steer(drive: Any, rows: Any, fluxes: Any, states: Any, now: Any, h: float, t: float) -> None:
    """Frequency and volts of the coming step.

    Amps hold back only what would raise them: a motor that drives back is let run up, one that
    drives is let run down.
    """
    limit, back = drive[at.LIMIT_A], states[0, TORQUE] < 0.0
    ease = (limit - line_amps(rows, fluxes)) / (EASE * limit)
    if now[DOES] == at.RUNNING:
        rate = drive[at.UP_HZ_S] if t >= drive[at.MAGNETISES_S] else 0.0
        most = drive[at.TARGET_HZ]
        ease = 1.0 if back else ease
    else:
        rate, most = -drive[at.DOWN_HZ_S], max(drive[at.TARGET_HZ], now[HZ])
        volts = math.sqrt(2.0 * now[LINK_J] / drive[at.LINK_F])
        band = 0.5 * (drive[at.HOLDS_V] - drive[at.RECTIFIED_V])
        ease = min(ease if back else 1.0, (drive[at.HOLDS_V] - volts) / band)
    now[HZ] = min(max(now[HZ] + rate * min(max(ease, -1.0), 1.0) * h, 0.0), most)
    now[LAGGED_NM] += h / drive[at.LAG_S] * (states[0, TORQUE] - now[LAGGED_NM])
    helped = drive[at.SLIP_HZ] * max(now[LAGGED_NM], 0.0) / drive[at.RATED_NM]
    now[OUT_HZ] = now[HZ] + helped
    line_v = drive[at.BOOST_V] + drive[at.BASE_V] * now[OUT_HZ] / drive[at.BASE_HZ]
    now[PEAK_V] = math.sqrt(2.0 / 3.0) * min(line_v, drive[at.MOST_V])


@jit_inlined
def step_machine(
    rows: Any, fixed: Any, fluxes: Any, states: Any, work: Any,
    g: float, span: float, v: complex, euler: bool,
) -> None:  # fmt: skip
    """Fluxes, torque and speed at the end of a step of `span` seconds; v at its end."""
    predict(rows, fixed, 0, fluxes, states, work, g, span, euler)
    advance(rows, fixed, 0, fluxes, states, work, g, v)
    turn(rows, fixed, 0, states, span)


@jit_inlined
def watch(drive: Any, rows: Any, fluxes: Any, states: Any, now: Any, totals: Any, t: float) -> bool:
    """Peaks and instants at the end of a step; True where the run is over."""
    amps, speed = line_amps(rows, fluxes), states[0, SPEED]
    stopping = t > drive[at.STOPS_S]
    peak = at.PEAK_STOP_A if stopping else at.PEAK_RUN_A
    totals[peak] = max(totals[peak], amps)
    if not stopping and totals[at.RUN_UP_S] < 0.0 and now[HZ] >= drive[at.TARGET_HZ]:
        spare = states[0, TORQUE] - load_torque(rows, 0, states[0, SHARE], speed)
        field = TAU * now[HZ] / rows[0, PAIRS]
        if spare <= STEADY * drive[at.RATED_NM] and speed >= TURNS_WITH_FIELD * field:
            totals[at.RUN_UP_S] = t
    if stopping and totals[at.REST_S] < 0.0 and abs(speed) <= drive[at.REST_RAD_S]:
        totals[at.REST_S] = t
    over = drive[at.ENDS] == at.RUN_UP and totals[at.RUN_UP_S] >= 0.0
    ended = totals[at.REST_S] >= 0.0 or totals[at.TRIPPED_S] >= 0.0
    over = over or (drive[at.ENDS] == at.AT_REST and ended)
    return bool(over or amps > drive[at.GIVES_UP_A])


@jit_inlined
def keep(rows: Any, fluxes: Any, states: Any, now: Any, drive: Any, record: Any, t: float) -> None:
    """One record."""
    volts = math.sqrt(2.0 * now[LINK_J] / drive[at.LINK_F])
    record[at.R_TIME], record[at.R_HZ] = t, now[OUT_HZ]
    record[at.R_VOLTS] = math.sqrt(1.5) * abs(fluxes[0, VM])
    record[at.R_AMPS] = 0.0 if now[DOES] in (at.WAITING, at.OFF) else line_amps(rows, fluxes)
    record[at.R_TORQUE], record[at.R_SPEED] = states[0, TORQUE], states[0, SPEED]
    record[at.R_LINK_V], record[at.R_DOES] = volts, now[DOES]
    record[at.R_RESISTOR_W] = (
        0.0 if now[RESISTOR_ON] == 0.0 else volts * volts / drive[at.RESISTOR_OHM]
    )


@jit
def run(
    drive: Any, machine: Any, fluxes: Any, states: Any, hertz: float, h: float, steps: int,
    every: int, records: Any, totals: Any,
) -> int:  # fmt: skip
    """Run one motor on its drive from the fluxes (1, FLUXES) and states (1, STATES) given.

    h step [s], `hertz` the frequency at the beginning, every how many steps a record is kept.
    Fills records (n, RECORD) and totals (TOTALS,); fluxes and states end as the run ends. Returns
    the number of records.
    """
    rows = machine.copy()
    work, fixed = np.zeros((1, WORK), np.complex128), np.zeros((1, FIXED))
    now, fresh = np.zeros(NOW), np.zeros(POWERS)
    fix(rows, 0, fixed, 0.5 * h)
    begin(drive, machine, fixed, fluxes, states, now, totals, hertz)
    powers(machine, rows, fluxes, states, now, now[P_IN:])
    kept, eulers = 0, 2 if hertz == 0.0 else 0
    for step in range(steps):
        t = step * h
        asks = t >= drive[at.LOAD_FROM_S]
        states[0, SHARE] = 1.0 if asks else 0.0
        rows[0, BREAKAWAY] = machine[0, BREAKAWAY] if asks else 0.0
        does = next_does(drive, states, now, t)
        if now[LINK_J] > 0.5 * drive[at.LINK_F] * drive[at.TRIP_V] ** 2 and now[DOES] != at.OFF:
            totals[at.TRIPPED_S], does = t, at.OFF
        if does != now[DOES]:
            turn_to(does, t, machine, rows, fixed, fluxes, states, now, totals)
            eulers = 0 if does == at.RAMPING else 2
        before_hz = now[OUT_HZ]
        if does in (at.RUNNING, at.RAMPING):
            steer(drive, rows, fluxes, states, now, h, t)
        elif does == at.INJECTING:
            now[PEAK_V], now[OUT_HZ], before_hz = drive[at.INJECT_V], 0.0, 0.0
        w = 0.5 * TAU * (before_hz + now[OUT_HZ])
        g = math.tan(0.5 * w * h) / w if w > 0.0 else 0.5 * h
        fix(rows, 0, fixed, g)
        halved = eulers > 0
        span = 0.5 * h if halved else h
        for _ in range(2 if halved else 1):
            now[ANGLE] += w * span
            v = now[PEAK_V] * complex(math.cos(now[ANGLE]), math.sin(now[ANGLE]))
            step_machine(rows, fixed, fluxes, states, work, g, span, v, halved)
            powers(machine, rows, fluxes, states, now, fresh)
            mean_in = fresh[0] if halved else 0.5 * (fresh[0] + now[P_IN])
            for of in range(POWERS):
                before = fresh[of] if halved else now[P_IN + of]
                totals[at.INPUT_J + of] += 0.5 * span * (fresh[of] + before)
                now[P_IN + of] = fresh[of]
            charge(drive, now, totals, mean_in, span)
        eulers = 0
        if (step + 1) % every == 0 and kept < records.shape[0]:
            keep(rows, fluxes, states, now, drive, records[kept], t + h)
            kept += 1
        if watch(drive, rows, fluxes, states, now, totals, t + h):
            break
    totals[at.END_S], totals[at.END_RAD_S] = t + h, states[0, SPEED]
    totals[at.FIELD_END_J], totals[at.LINK_END_J] = field_j(machine, fixed, fluxes), now[LINK_J]
    totals[at.SHAFT_END_J] = 0.5 * machine[0, INERTIA] * states[0, SPEED] ** 2
    return kept


@jit
def begin(
    drive: Any,
    machine: Any,
    fixed: Any,
    fluxes: Any,
    states: Any,
    now: Any,
    totals: Any,
    hertz: float,
) -> None:
    """The drive at the first instant; its angle is counted from there."""
    totals[:] = 0.0
    totals[at.RUN_UP_S] = totals[at.REST_S] = totals[at.TRIPPED_S] = totals[at.INJECTED_S] = -1.0
    now[DOES], now[HZ] = at.RUNNING, hertz
    now[PEAK_V], now[LAGGED_NM] = abs(fluxes[0, VM]), states[0, TORQUE]
    now[OUT_HZ] = hertz + drive[at.SLIP_HZ] * max(now[LAGGED_NM], 0.0) / drive[at.RATED_NM]
    now[LINK_J] = 0.5 * drive[at.LINK_F] * drive[at.RECTIFIED_V] * drive[at.RECTIFIED_V]
    totals[at.FIELD_BEGIN_J], totals[at.LINK_BEGIN_J] = field_j(machine, fixed, fluxes), now[LINK_J]
    totals[at.SHAFT_BEGIN_J] = 0.5 * machine[0, INERTIA] * states[0, SPEED] ** 2
    totals[at.PEAK_LINK_V] = drive[at.RECTIFIED_V]


def warm() -> None:
    """Compile the kernels of this module."""
    drive, rows = np.ones(at.DRIVE), np.ones((1, ROW))
    fluxes, states = np.zeros((1, FLUXES), np.complex128), np.zeros((1, STATES))
    states[0, NU] = states[0, NU_BEFORE] = 1.0
    run(drive, rows, fluxes, states, 0.0, 1e-4, 2, 1, np.zeros((1, at.RECORD)), np.zeros(at.TOTALS))
