"""Compiled: what is switched in a run, when, and when all has settled."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from phasewright.network.compiled import jit_inlined
from phasewright.running.rows import PER_NM, SYNCHRONOUS, E, W
from phasewright.starts.layout import (
    AT_SPEED,
    AT_TIME,
    AT_VOLTS,
    BRIDGED,
    BYPASS,
    BYPASSED,
    DROP_AT,
    DROP_OF,
    DROP_RULE,
    DROPPED,
    FED,
    H_HEAD,
    H_PER_MACHINE,
    H_SUPPLY,
    H_V12,
    H_V31,
    I_ST,
    INERTIA,
    JOINED,
    JOINS,
    LOST,
    ON_WAVE_S,
    OPENED,
    OPENING,
    OPENS,
    PER_TOLD,
    RELEASE_V,
    RETURNED,
    RETURNS,
    ROW,
    SETTLED,
    SQUARE_12,
    SQUARE_31,
    START_F,
    START_JOINS,
    START_ON,
    STEP_AT,
    STEP_OF,
    STEP_SHARE,
    STEPPED,
    T12,
    T23,
    T31,
    TOLD,
    WAITS,
)
from phasewright.starts.machine import IS, NET_NM, ON, PM, PS, SHARE, SPEED

LAG_S = 0.02
"""Lag through which a relay or a coil sees the square of its volts [s]."""
JUST = 1e-12
"""How far ahead of an instant a step still counts as being at it [s]."""
STEADY_SPEED = 5e-5
"""Change of mean speed from cycle to cycle, over synchronous speed, that counts as settled: a
quarter of a per cent a second at 50 Hz."""
STEADY_TORQUE = 2e-3
"""Torque that still speeds a shaft up or down, over a torque of the size of the machine's greatest:
a heavy shaft creeps long before it has settled."""
STEADY_VOLTS = 1e-3
"""The same of the rms volts of a cycle, over the source's, and of its rms current, over itself."""
STEADY_HALVES = 6
"""Half cycles one after the other that must be steady."""
GOES_ON, SWITCHED, OVER = range(3)


@jit_inlined
def switch(line: Any, rows: Any, steps: Any, fluxes: Any, states: Any, net: Any, closes: Any,
           told: Any, t: float, half_step: float) -> bool:  # fmt: skip
    """Switch what is to be switched at this instant; True where anything was."""
    changed = False
    now = t + JUST
    for k in range(rows.shape[0]):
        of = TOLD + PER_TOLD * k
        wanted = 0.0 <= closes[k] <= now < rows[k, OPENS] and told[of + 1] < 0.0
        if wanted and net[SQUARE_12] < rows[k, RELEASE_V] ** 2 and told[of] >= 0.0:
            wanted, told[of + 1] = False, t
        if wanted != (states[k, ON] != 0.0):
            changed = True
            states[k, ON] = 1.0 if wanted else 0.0
            if wanted and told[of] < 0.0:
                told[of] = t
            elif not wanted and not holds_itself(rows, k):
                fluxes[k, PS] = fluxes[k, PM]  # what is beside the main flux goes in the arc
                fluxes[k, IS] = 0.0
    if net[JOINED] == 0.0 and line[START_F] > 0.0 and line[START_JOINS] <= now:
        net[JOINED] = net[START_ON] = 1.0
        changed = True
    if net[BRIDGED] == 0.0 and 0.0 <= line[BYPASSED] <= now:
        net[BRIDGED], told[BYPASS] = 1.0, t
        changed = True
    if net[FED] != 0.0 and net[OPENING] == 0.0 and line[LOST] <= now < line[RETURNS]:
        net[OPENING] = 1.0
    if net[FED] == 0.0 and now >= line[RETURNS]:
        net[FED], told[RETURNED] = 1.0, t
        changed = True
    if net[START_ON] != 0.0 and drops(line, rows, states, now, net[SQUARE_31], half_step):
        net[START_ON] = net[I_ST] = 0.0
        told[DROPPED] = t
        changed = True
    at = int(net[STEPPED])
    while at < steps.shape[0] and steps[at, STEP_AT] <= now:
        states[int(steps[at, STEP_OF]), SHARE] = steps[at, STEP_SHARE]
        at += 1
    net[STEPPED] = at
    return changed


@jit_inlined
def holds_itself(rows: Any, k: int) -> bool:
    """Whether a machine switched off keeps capacitors that close the path of its currents."""
    across = int(rows[k, T12] > 0.0) + int(rows[k, T23] > 0.0) + int(rows[k, T31] > 0.0)
    return across >= 2


@jit_inlined
def drops(line: Any, rows: Any, states: Any, t: float, filtered: float, half_step: float) -> bool:
    """Whether the start branch drops out now: at the step nearest to where its speed is passed."""
    rule = line[DROP_RULE]
    if rule == AT_SPEED:
        k = int(line[DROP_OF])
        soon = states[k, SPEED] + half_step * states[k, NET_NM] / rows[k, INERTIA]
        return bool(soon >= line[DROP_AT] * rows[k, SYNCHRONOUS])
    if rule == AT_TIME:
        return bool(t >= line[DROP_AT])
    if rule == AT_VOLTS:
        return bool(filtered >= line[DROP_AT] * line[DROP_AT])
    return False


@jit_inlined
def steady(line: Any, rows: Any, states: Any, half: Any, at: int, per_half: int) -> bool:
    """Whether the cycle that ends with half cycle `at` is like the one before it."""
    if at < 3:
        return False
    least = (STEADY_VOLTS * line[E]) ** 2 * per_half
    for column in range(H_V12, H_SUPPLY + 1):
        now = half[at, column] + half[at - 1, column]
        before = half[at - 2, column] + half[at - 3, column]
        if column <= H_V31:
            # difference of roots, from the difference of squares over the sum of the roots
            if (now - before) ** 2 > 4.0 * least * 2.0 * max(now, before):
                return False
        elif abs(now - before) > 2.0 * STEADY_VOLTS * max(now, before):
            return False
    for k in range(rows.shape[0]):
        if states[k, ON] == 0.0:
            continue
        to = H_HEAD + H_PER_MACHINE * k + 5
        change = half[at, to] + half[at - 1, to] - half[at - 2, to] - half[at - 3, to]
        change = abs(change) / (2.0 * per_half)  # from cycle to cycle [rad/s]
        if change > STEADY_SPEED * rows[k, SYNCHRONOUS]:
            return False
        torque = change * line[W] / (2.0 * math.pi) * rows[k, INERTIA]
        if torque * rows[k, PER_NM] > STEADY_TORQUE:
            return False
    return True


@jit_inlined
def awaited(line: Any, rows: Any, net: Any, closes: Any, told: Any, end: float) -> bool:
    """Whether a switching of the start itself is still to come at an instant that is set."""
    if net[BRIDGED] == 0.0 and 0.0 <= line[BYPASSED] < end:
        return True
    if net[START_ON] != 0.0 and line[DROP_RULE] == AT_TIME and line[DROP_AT] < end:
        return True
    if line[START_F] > 0.0 and net[JOINED] == 0.0 and line[START_JOINS] < end:
        return True
    due = False
    for k in range(rows.shape[0]):
        closed = told[TOLD + PER_TOLD * k] >= 0.0
        due = due or (not closed and 0.0 <= closes[k] < min(end, rows[k, OPENS]))
    return due


@jit_inlined
def next_of_settled(line: Any, rows: Any, net: Any, closes: Any, told: Any, t: float) -> bool:
    """What waits for the settling that has come at t: the bypass first, then one machine after
    the other. True where something was switched or will be."""
    if net[BRIDGED] == 0.0 and line[BYPASSED] < 0.0:
        net[BRIDGED], told[BYPASS] = 1.0, t
        return True
    began = -1.0
    for k in range(rows.shape[0]):
        if began < 0.0 and closes[k] == WAITS:
            began = closes[k] = t + rows[k, ON_WAVE_S]
        elif began >= 0.0:
            if closes[k] != JOINS:
                break
            closes[k] = began
    return bool(began >= 0.0)


@jit_inlined
def to_come(line: Any, rows: Any, steps: Any, states: Any, net: Any, told: Any, end: float) -> bool:
    """Whether anything else is set to happen before the end."""
    if told[OPENED] < 0.0 and line[LOST] < end:
        return True
    if told[RETURNED] < 0.0 and line[LOST] < line[RETURNS] < end:
        return True
    at = int(net[STEPPED])
    if at < steps.shape[0] and steps[at, STEP_AT] < end:
        return True
    due = False
    for k in range(rows.shape[0]):
        due = due or (states[k, ON] != 0.0 and rows[k, OPENS] < end)
    return due


@jit_inlined
def settled(
    line: Any,
    rows: Any,
    steps: Any,
    states: Any,
    net: Any,
    closes: Any,
    told: Any,
    t: float,
    end: float,
) -> int:
    """What follows when all is calm at t: GOES_ON, something was SWITCHED, or it is OVER."""
    if awaited(line, rows, net, closes, told, end):
        return GOES_ON
    if next_of_settled(line, rows, net, closes, told, t):
        told[SETTLED] = -1.0
        return SWITCHED
    if told[SETTLED] < 0.0:
        told[SETTLED] = t
    return GOES_ON if to_come(line, rows, steps, states, net, told, end) else OVER


def warm() -> None:
    """Compile what stands by itself; the rest is compiled into its caller."""
    rows = np.ones((1, ROW))
    holds_itself(rows, 0)
