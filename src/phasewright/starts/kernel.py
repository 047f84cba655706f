"""Compiled: a three-line network in time, electrical and mechanical, step by step.

Space vectors (peak values, stationary frame) x = 2/3 (x1 + a x2 + a^2 x3), line 2 the reference:
v = (2/3 v1 - v3/3) - j v3/sqrt(3). One step is the trapezoidal rule with g = tan(w h/2)/w in place
of h/2 (exact at the supply's frequency); after every event two half steps of backward Euler, whose
conductances are the same. Two real node equations remain, whatever the number of machines.

Source: companion models (H. W. Dommel, IEEE Trans. PAS-88, 1969) and critical damping adjustment
(J. Lin, J. R. Marti, IEEE Trans. Power Systems 5, 1990), both from memory.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from phasewright.network.compiled import jit, jit_inlined
from phasewright.running.rows import (
    G12,
    G23,
    G31,
    G_FE,
    LU,
    REVERSED,
    E,
    W,
)  # fmt: skip
from phasewright.starts.gathering import ROOT3, gather, keep
from phasewright.starts.layout import (
    BLEEDER_S,
    BRIDGED,
    CLOSES,
    E_3_OLD,
    E_OLD,
    FED,
    H_HEAD,
    H_PER_MACHINE,
    HEAD,
    I_12,
    I_23,
    I_31,
    I_BEFORE,
    I_ST,
    I_Z,
    I_Z3,
    LINES,
    NETS,
    OPENED,
    OPENING,
    PER_MACHINE,
    PER_TOLD,
    PHASE,
    RESISTOR_OHM,
    ROW,
    SQUARE_12,
    SQUARE_31,
    START_F,
    START_ON,
    T12,
    T23,
    T31,
    THREE,
    TOLD,
    V1,
    V3,
    V_ST,
)  # fmt: skip
from phasewright.starts.machine import (
    FIXED,
    FLUXES,
    HIST,
    NET_NM,
    NU,
    NU_BEFORE,
    ON,
    PER_J,
    SHARE,
    SPEED,
    STATES,
    TORQUE,
    WORK,
    Y,
    advance,
    fix,
    load_torque,
    prepare,
)  # fmt: skip
from phasewright.starts.source import (
    OPEN_S,
    ST_G,
    STILL,
    THIRD,
    Y_12,
    Y_23,
    Y_31,
    Y_ST,
    feed,
    keep_still,
)
from phasewright.starts.switching import (
    LAG_S,
    OVER,
    STEADY_HALVES,
    SWITCHED,
    holds_itself,
    settled,
    steady,
    switch,
)

PER_ROOT3 = 1.0 / ROOT3
# Capacitors that travel with a machine: volts and currents across 1-2, 2-3, 3-1.
TIED = 6


@jit_inlined
def stamp(rows: Any, k: int, work: Any) -> tuple[float, float, float, float, float, float]:
    """What a machine adds to the node equations: y11, y13, y31, y33, r1, r3."""
    y, hist = work[k, Y] + rows[k, G_FE], work[k, HIST]
    if rows[k, REVERSED] != 0.0:
        y, hist = y.conjugate(), hist.conjugate()
    a_1, a_3 = 2.0 * THIRD * y.real, PER_ROOT3 * y.imag - THIRD * y.real
    b_1, b_3 = 2.0 * THIRD * y.imag, -PER_ROOT3 * y.real - THIRD * y.imag
    half = 0.5 * ROOT3
    return (
        a_1, a_3, -0.5 * a_1 - half * b_1, -0.5 * a_3 - half * b_3,
        -hist.real, 0.5 * hist.real + half * hist.imag,
    )  # fmt: skip


@jit_inlined
def travels(rows: Any, k: int) -> bool:
    """Whether capacitors are switched with this machine."""
    return bool(rows[k, T12] + rows[k, T23] + rows[k, T31] > 0.0)


@jit_inlined
def tied_history(
    rows: Any, k: int, tied: Any, g: float, old: float
) -> tuple[float, float, float, float, float, float]:
    """Conductances and histories of capacitors that travel with a machine."""
    y12, y23, y31 = rows[k, T12] / g, rows[k, T23] / g, rows[k, T31] / g
    return (
        y12, y23, y31,
        y12 * tied[k, 0] + old * tied[k, 3],
        y23 * tied[k, 1] + old * tied[k, 4],
        y31 * tied[k, 2] + old * tied[k, 5],
    )  # fmt: skip


@jit_inlined
def tie(rows: Any, k: int, tied: Any, g: float, old: float, v1: float, v3: float) -> None:
    """Volts and currents of capacitors that travel with a machine, at the end of the step."""
    y12, y23, y31, h12, h23, h31 = tied_history(rows, k, tied, g, old)
    tied[k, 0], tied[k, 1], tied[k, 2] = v1, -v3, v3 - v1
    tied[k, 3], tied[k, 4], tied[k, 5] = y12 * v1 - h12, -y23 * v3 - h23, y31 * (v3 - v1) - h31


@jit_inlined
def predict(rows: Any, fixed: Any, k: int, fluxes: Any, states: Any, work: Any,
            g: float, span: float, euler: bool) -> None:  # fmt: skip
    """A machine's conductance and history, its speed predicted by the torque it has."""
    speed = states[k, SPEED]
    states[k, NET_NM] = states[k, TORQUE] - load_torque(rows, k, states[k, SHARE], speed)
    ahead = speed + span * states[k, NET_NM] * fixed[k, PER_J]
    prepare(rows, fixed, k, fluxes, states, work, g, ahead, euler)


@jit_inlined
def turn(rows: Any, fixed: Any, k: int, states: Any, span: float) -> None:
    """Speed of a shaft at the end of the step, from its new torque."""
    before = states[k, SPEED]
    ahead = before + span * states[k, NET_NM] * fixed[k, PER_J]
    after = states[k, TORQUE] - load_torque(rows, k, states[k, SHARE], ahead)
    states[k, SPEED] = before + 0.5 * span * (states[k, NET_NM] + after) * fixed[k, PER_J]


@jit_inlined
def advance_network(
    line: Any, still: Any, rows: Any, fixed: Any, fluxes: Any, states: Any, work: Any,
    tied: Any, net: Any, g: float, span: float, three: bool, e: float, e_3: float,
    euler: bool,
) -> None:  # fmt: skip
    """One step of `span` seconds: two node equations, then every branch and machine."""
    v1, v3 = net[V1], net[V3]
    y_z, y_x, y_3, j_z, j_3 = feed(line, still, net, three, e, e_3, euler)
    c12, c23, c31 = still[Y_12], still[Y_23], still[Y_31]
    old = 0.0 if euler else 1.0
    h12 = c12 * v1 + old * net[I_12]
    h23 = -c23 * v3 + old * net[I_23]
    h31 = c31 * (v3 - v1) + old * net[I_31]
    y_st = h_st = 0.0
    if net[START_ON] != 0.0:
        y_st = still[Y_ST]
        h_st = y_st * (net[V_ST] + old * still[ST_G] * net[I_ST])
    across = c31 + line[G31] + y_st
    y11 = y_z + c12 + line[G12] + across
    y33 = c23 + line[G23] + across + OPEN_S + y_3
    y13 = y31 = y_x - across
    r1, r3 = j_z + h12 - h31 - h_st, h31 + h_st - h23 + j_3
    for k in range(rows.shape[0]):
        if states[k, ON] == 0.0:
            continue
        predict(rows, fixed, k, fluxes, states, work, g, span, euler)
        s11, s13, s31, s33, s1, s3 = stamp(rows, k, work)
        y11, y13, y31, y33 = y11 + s11, y13 + s13, y31 + s31, y33 + s33
        r1, r3 = r1 + s1, r3 + s3
        if travels(rows, k):
            t12, t23, t31, u12, u23, u31 = tied_history(rows, k, tied, g, old)
            y11, y13, y31, y33 = y11 + t12 + t31, y13 - t31, y31 - t31, y33 + t23 + t31
            r1, r3 = r1 + u12 - u31, r3 + u31 - u23
    det = 1.0 / (y11 * y33 - y13 * y31)
    v1, v3 = (r1 * y33 - y13 * r3) * det, (y11 * r3 - y31 * r1) * det
    net[V1], net[V3], net[E_OLD] = v1, v3, e
    net[I_BEFORE] = net[I_Z]
    net[I_Z] = j_z - y_z * v1 if net[FED] != 0.0 else 0.0
    if three:
        net[I_Z] -= y_x * v3
        net[I_Z3], net[E_3_OLD] = j_3 - y_x * v1 - y_3 * v3, e_3
    net[I_12] = c12 * v1 - h12
    net[I_23] = -c23 * v3 - h23
    net[I_31] = c31 * (v3 - v1) - h31
    if net[START_ON] != 0.0:
        i_st = y_st * (v3 - v1) - h_st
        net[V_ST] += still[ST_G] * (i_st + old * net[I_ST])
        net[I_ST] = i_st
    elif line[BLEEDER_S] > 0.0:
        net[V_ST] *= math.exp(-span * line[BLEEDER_S] / line[START_F])
    v = v_of(v1, v3)
    for k in range(rows.shape[0]):
        if states[k, ON] != 0.0:
            own = v.conjugate() if rows[k, REVERSED] != 0.0 else v
            advance(rows, fixed, k, fluxes, states, work, g, own)
            if travels(rows, k):
                tie(rows, k, tied, g, old, v1, v3)
        elif holds_itself(rows, k):
            alone(rows, fixed, k, fluxes, states, work, tied, g, span, euler)
        else:
            states[k, TORQUE] = 0.0
            states[k, NET_NM] = -load_torque(rows, k, states[k, SHARE], states[k, SPEED])
        turn(rows, fixed, k, states, span)


@jit_inlined
def alone(rows: Any, fixed: Any, k: int, fluxes: Any, states: Any, work: Any, tied: Any,
          g: float, span: float, euler: bool) -> None:  # fmt: skip
    """A machine switched off with its capacitors: two node equations of its own."""
    predict(rows, fixed, k, fluxes, states, work, g, span, euler)
    old = 0.0 if euler else 1.0
    y11, y13, y31, y33, r1, r3 = stamp(rows, k, work)
    t12, t23, t31, u12, u23, u31 = tied_history(rows, k, tied, g, old)
    y11, y13, y31, y33 = y11 + t12 + t31, y13 - t31, y31 - t31, y33 + t23 + t31
    r1, r3 = r1 + u12 - u31, r3 + u31 - u23
    det = 1.0 / (y11 * y33 - y13 * y31)
    v1, v3 = (r1 * y33 - y13 * r3) * det, (y11 * r3 - y31 * r1) * det
    v = v_of(v1, v3)
    own = v.conjugate() if rows[k, REVERSED] != 0.0 else v
    advance(rows, fixed, k, fluxes, states, work, g, own)
    tie(rows, k, tied, g, old, v1, v3)


@jit_inlined
def v_of(v1: float, v3: float) -> complex:
    """Space vector of the three lines."""
    return complex(THIRD * (2.0 * v1 - v3), -PER_ROOT3 * v3)


@jit
def run(
    line: Any, rows: Any, steps: Any, speeds: Any, h: float, per_half: int, halves: int,
    every: int, stops: bool, records: Any, half: Any, told: Any,
) -> tuple[int, int]:  # fmt: skip
    """Run the network from rest of all currents; machines turn at `speeds` [rad/s] to begin with.

    h step [s], per_half steps a half cycle, halves half cycles at most, every how many steps a
    record is kept, stops: whether the run ends once all has settled. Fills records
    (n, HEAD + PER_MACHINE machines), half (halves, H_HEAD + H_PER_MACHINE machines) and told
    (TOLD + PER_TOLD machines): instants, -1 where none. Returns how many records and half cycles
    there are.
    """
    count = rows.shape[0]
    fluxes = np.zeros((count, FLUXES), np.complex128)
    work = np.zeros((count, WORK), np.complex128)
    states = np.zeros((count, STATES), np.float64)
    fixed = np.zeros((count, FIXED), np.float64)
    tied = np.zeros((count, TIED), np.float64)
    closes = np.zeros(count, np.float64)
    net = np.zeros(NETS, np.float64)
    still = np.zeros(STILL, np.float64)
    three = line[THREE] != 0.0
    w, peak = line[W], math.sqrt(2.0) * line[E]
    g = math.tan(0.5 * w * h) / w
    keep_still(line, still, g)
    # A cycle is a whole number of steps: source volts at every half step of one.
    source, source_3 = np.zeros(4 * per_half), np.zeros(4 * per_half)
    for at in range(source.size):
        source[at] = peak * math.sin(0.5 * w * h * at + line[PHASE])
        source_3[at] = peak * math.sin(0.5 * w * h * at + line[PHASE] + math.pi / 3.0)
    for k in range(count):
        fix(rows, k, fixed, g)
        states[k, SPEED], states[k, SHARE] = speeds[k], 1.0
        states[k, NU] = states[k, NU_BEFORE] = 1.0 / rows[k, LU]
        closes[k] = rows[k, CLOSES]
    net[E_OLD], net[E_3_OLD] = source[0], source_3[0]
    net[FED], net[SQUARE_12] = 1.0, line[E] ** 2
    net[BRIDGED] = 0.0 if line[RESISTOR_OHM] > 0.0 else 1.0
    told[:] = -1.0
    kept, eulers, calm, end, lag = 0, 2, 0, halves * per_half * h, h / LAG_S
    for step in range(per_half * halves):
        t = step * h
        if switch(line, rows, steps, fluxes, states, net, closes, told, t, 0.5 * h):
            eulers, calm = 2, 0
        halved = eulers > 0
        for part in range(2 if halved else 1):
            span = 0.5 * h if halved else h
            done = t + span * (part + 1)
            ahead = (2 * step + (part + 1 if halved else 2)) % source.size
            advance_network(
                line, still, rows, fixed, fluxes, states, work, tied, net, g, span,
                three, source[ahead], source_3[ahead] if three else 0.0, eulers > 0,
            )  # fmt: skip
            eulers = max(eulers - 1, 0)
            if net[OPENING] != 0.0 and net[I_Z] * net[I_BEFORE] <= 0.0:
                net[OPENING] = net[FED] = net[I_Z] = 0.0
                told[OPENED] = done
                eulers = 2
        across = net[V3] - net[V1]
        net[SQUARE_12] += lag * (net[V1] * net[V1] - net[SQUARE_12])
        net[SQUARE_31] += lag * (across * across - net[SQUARE_31])
        at = step // per_half
        gather(line, three, rows, fluxes, states, net, half, at)
        if (step + 1) % every == 0 and kept < records.shape[0]:
            keep(line, rows, fluxes, states, net, records, kept, t + h)
            kept += 1
        if (step + 1) % per_half != 0:
            continue
        calm = calm + 1 if steady(line, rows, states, half, at, per_half) else 0
        if calm >= STEADY_HALVES:
            went = settled(line, rows, steps, states, net, closes, told, t + h, end)
            if went == SWITCHED:
                calm, eulers = 0, 2
            elif went == OVER and stops:
                return kept, at + 1
    return kept, halves


def warm() -> None:
    """Compile the kernels of this module."""
    line, rows = np.zeros(LINES), np.ones((1, ROW))
    line[W] = 314.0
    half, records = np.zeros((1, H_HEAD + H_PER_MACHINE)), np.zeros((1, HEAD + PER_MACHINE))
    none = np.zeros((0, 3))
    told = np.zeros(TOLD + PER_TOLD)
    run(line, rows, none, np.zeros(1), 1e-4, 2, 1, 1, False, records, half, told)
