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
    C12,
    C23,
    C31,
    G12,
    G23,
    G31,
    G_FE,
    L2,
    LU,
    LZ,
    R1,
    R2,
    REVERSED,
    RS,
    RZ,
    SYNCHRONOUS,
    E,
    W,
)  # fmt: skip
from phasewright.starts.layout import (
    AT_SPEED,
    AT_TIME,
    AT_VOLTS,
    BLEEDER_S,
    BYPASSED,
    CLOSES,
    DROP_AT,
    DROP_OF,
    DROP_RULE,
    H_HEAD,
    H_PEAK,
    H_PER_MACHINE,
    H_SERVICE,
    H_SUPPLY,
    H_V12,
    H_V23,
    H_V31,
    H_VC,
    HEAD,
    INERTIA,
    LINES,
    LOST,
    OPENS,
    PER_MACHINE,
    PHASE,
    RESISTOR_OHM,
    RETURNS,
    ROW,
    SERVICE,
    START_A,
    START_F,
    START_JOINS,
    START_OHM,
    SUPPLY,
    TIME,
    V12,
    V23,
    V31,
)  # fmt: skip
from phasewright.starts.machine import (
    FLUXES,
    HIST,
    I1,
    I2,
    IS,
    NU,
    NU_BEFORE,
    ON,
    PM,
    PS,
    SPEED,
    STATES,
    TORQUE,
    WORK,
    Y,
    advance,
    load_torque,
    prepare,
)  # fmt: skip

ROOT3 = math.sqrt(3.0)
OPEN_S = 1e-9  # conductance of an open switch

# What is kept of the lines from step to step: node volts, branch currents, switches, instants.
V1, V3, E_OLD, I_Z, I_BEFORE, I_12, I_23, I_31, I_ST, V_ST, SQUARE_31 = range(11)
FED, OPENING, BRIDGED, JOINED, START_ON, DROPPED_S, OPENED_S, RETURNED_S = range(11, 19)
NETS = 19
LAG_S = 0.02
"""Lag through which a voltage relay sees the square of its volts [s]."""


@jit_inlined
def events_of(line: Any, rows: Any, fluxes: Any, states: Any, net: Any, t: float) -> bool:
    """Switch what is to be switched at this instant; True where anything was."""
    changed = False
    now = t + 1e-12
    for k in range(rows.shape[0]):
        wanted = rows[k, CLOSES] <= now < rows[k, OPENS]
        if wanted != (states[k, ON] != 0.0):
            changed = True
            states[k, ON] = 1.0 if wanted else 0.0
            if not wanted:  # what its stator held beside the main flux goes in the arc
                fluxes[k, PS] = fluxes[k, PM]
                fluxes[k, IS] = 0.0
    if net[JOINED] == 0.0 and line[START_F] > 0.0 and line[START_JOINS] <= now:
        net[JOINED] = net[START_ON] = 1.0
        changed = True
    if net[BRIDGED] == 0.0 and now >= line[BYPASSED]:
        net[BRIDGED] = 1.0
        changed = True
    if net[FED] != 0.0 and net[OPENING] == 0.0 and line[LOST] <= now < line[RETURNS]:
        net[OPENING] = 1.0
    if net[FED] == 0.0 and now >= line[RETURNS]:
        net[FED] = 1.0
        net[RETURNED_S] = t
        changed = True
    if net[START_ON] != 0.0 and drops(line, rows, states, now, net[SQUARE_31]):
        net[START_ON] = net[I_ST] = 0.0
        net[DROPPED_S] = t
        changed = True
    return changed


@jit_inlined
def source_of(line: Any, net: Any, g: float, e: float, euler: bool) -> tuple[float, float]:
    """Conductance and history of the source behind its impedance; `e` at the end of the step."""
    if net[FED] == 0.0:
        return OPEN_S, 0.0
    ohm, per_g = line[RZ], line[LZ] / g
    if net[BRIDGED] == 0.0:
        ohm += line[RESISTOR_OHM]
    y = 1.0 / (ohm + per_g)
    if euler:
        return y, y * (e + per_g * net[I_Z])
    if line[LZ] > 0.0:
        return y, y * (e + (per_g - ohm) * net[I_Z] + net[E_OLD] - net[V1])
    return y, y * e


@jit_inlined
def advance_network(
    line: Any, rows: Any, fluxes: Any, states: Any, work: Any, net: Any,
    g: float, span: float, e: float, euler: bool,
) -> None:  # fmt: skip
    """One step of `span` seconds: two node equations, then every branch and machine."""
    v1, v3 = net[V1], net[V3]
    y_z, j_z = source_of(line, net, g, e, euler)
    c12, c23, c31 = line[C12] / g, line[C23] / g, line[C31] / g
    old = 0.0 if euler else 1.0
    h12 = c12 * v1 + old * net[I_12]
    h23 = -c23 * v3 + old * net[I_23]
    h31 = c31 * (v3 - v1) + old * net[I_31]
    y_st = h_st = 0.0
    if net[START_ON] != 0.0:
        y_st = 1.0 / (line[START_OHM] + g / line[START_F])
        h_st = y_st * (net[V_ST] + old * g / line[START_F] * net[I_ST])
    across = c31 + line[G31] + y_st
    y11 = y_z + c12 + line[G12] + across
    y33 = c23 + line[G23] + across + OPEN_S
    y13 = y31 = -across
    r1, r3 = j_z + h12 - h31 - h_st, h31 + h_st - h23
    for k in range(rows.shape[0]):
        if states[k, ON] == 0.0:
            continue
        speed = states[k, SPEED]
        net_nm = states[k, TORQUE] - load_torque(rows, k, speed)
        ahead = speed + span * net_nm / rows[k, INERTIA]
        prepare(rows, k, fluxes, states, work, g, ahead, euler)
        y, hist = work[k, Y] + rows[k, G_FE], work[k, HIST]
        if rows[k, REVERSED] != 0.0:
            y, hist = y.conjugate(), hist.conjugate()
        a_1, a_3 = y.real / 1.5, -y.real / 3.0 + y.imag / ROOT3
        b_1, b_3 = y.imag / 1.5, -y.imag / 3.0 - y.real / ROOT3
        y11 += a_1
        y13 += a_3
        y31 -= 0.5 * a_1 + 0.5 * ROOT3 * b_1
        y33 -= 0.5 * a_3 + 0.5 * ROOT3 * b_3
        r1 -= hist.real
        r3 += 0.5 * hist.real + 0.5 * ROOT3 * hist.imag
    det = 1.0 / (y11 * y33 - y13 * y31)
    v1, v3 = (r1 * y33 - y13 * r3) * det, (y11 * r3 - y31 * r1) * det
    net[V1], net[V3], net[E_OLD] = v1, v3, e
    net[I_BEFORE] = net[I_Z]
    net[I_Z] = j_z - y_z * v1 if net[FED] != 0.0 else 0.0
    net[I_12] = c12 * v1 - h12
    net[I_23] = -c23 * v3 - h23
    net[I_31] = c31 * (v3 - v1) - h31
    if net[START_ON] != 0.0:
        i_st = y_st * (v3 - v1) - h_st
        net[V_ST] += g / line[START_F] * (i_st + old * net[I_ST])
        net[I_ST] = i_st
    elif line[BLEEDER_S] > 0.0:
        net[V_ST] *= math.exp(-span * line[BLEEDER_S] / line[START_F])
    turn_shafts(rows, fluxes, states, work, g, span, v_of(v1, v3))


@jit_inlined
def turn_shafts(
    rows: Any, fluxes: Any, states: Any, work: Any, g: float, span: float, v: complex
) -> None:
    """Fluxes, torque and speed of every machine at the end of the step."""
    for k in range(rows.shape[0]):
        before = states[k, SPEED]
        net_nm = states[k, TORQUE] - load_torque(rows, k, before)
        if states[k, ON] != 0.0:
            own = v.conjugate() if rows[k, REVERSED] != 0.0 else v
            advance(rows, k, fluxes, states, work, g, own)
        else:
            states[k, TORQUE] = 0.0
        ahead = before + span * net_nm / rows[k, INERTIA]
        after = states[k, TORQUE] - load_torque(rows, k, ahead)
        states[k, SPEED] = before + 0.5 * span * (net_nm + after) / rows[k, INERTIA]


@jit
def run(
    line: Any, rows: Any, speeds: Any, h: float, per_half: int, halves: int, every: int,
    records: Any, half: Any, events: Any,
) -> int:  # fmt: skip
    """Run the network from rest of all currents; machines turn at `speeds` [rad/s] to begin with.

    h step [s], per_half steps a half cycle, halves half cycles in all, every how many steps a
    record is kept. Fills records (n, HEAD + PER_MACHINE machines), half (halves, H_HEAD +
    H_PER_MACHINE machines) and events (3,): instants of drop-out, of opening of the supply, of its
    return (-1 where none). Returns the number of records.
    """
    count = rows.shape[0]
    fluxes = np.zeros((count, FLUXES), np.complex128)
    work = np.zeros((count, WORK), np.complex128)
    states = np.zeros((count, STATES), np.float64)
    net = np.zeros(NETS, np.float64)
    for k in range(count):
        states[k, SPEED] = speeds[k]
        states[k, NU] = states[k, NU_BEFORE] = 1.0 / rows[k, LU]
    w, peak = line[W], math.sqrt(2.0) * line[E]
    g = math.tan(0.5 * w * h) / w
    net[E_OLD] = peak * math.sin(line[PHASE])
    net[FED] = 1.0
    net[BRIDGED] = 0.0 if line[RESISTOR_OHM] > 0.0 else 1.0
    net[DROPPED_S] = net[OPENED_S] = net[RETURNED_S] = -1.0
    kept, eulers = 0, 2
    for step in range(per_half * halves):
        t = step * h
        if events_of(line, rows, fluxes, states, net, t):
            eulers = 2
        halved = eulers > 0
        for part in range(2 if halved else 1):
            span = 0.5 * h if halved else h
            done = t + span * (part + 1)
            e = peak * math.sin(w * done + line[PHASE])
            advance_network(line, rows, fluxes, states, work, net, g, span, e, eulers > 0)
            eulers = max(eulers - 1, 0)
            if net[OPENING] != 0.0 and net[I_Z] * net[I_BEFORE] <= 0.0:
                net[OPENING] = net[FED] = net[I_Z] = 0.0
                net[OPENED_S] = done
                eulers = 2
        across = net[V3] - net[V1]
        net[SQUARE_31] += h / LAG_S * (across * across - net[SQUARE_31])
        gather(line, rows, fluxes, states, net, half, step // per_half)
        if (step + 1) % every == 0 and kept < records.shape[0]:
            keep(line, rows, fluxes, states, net, records, kept, t + h)
            kept += 1
    events[0], events[1], events[2] = net[DROPPED_S], net[OPENED_S], net[RETURNED_S]
    return kept


@jit_inlined
def v_of(v1: float, v3: float) -> complex:
    """Space vector of the three lines."""
    return complex(2.0 / 3.0 * v1 - v3 / 3.0, -v3 / ROOT3)


@jit_inlined
def drops(line: Any, rows: Any, states: Any, t: float, filtered: float) -> bool:
    """Whether the start branch drops out now."""
    rule = line[DROP_RULE]
    if rule == AT_SPEED:
        k = int(line[DROP_OF])
        return bool(states[k, SPEED] >= line[DROP_AT] * rows[k, SYNCHRONOUS])
    if rule == AT_TIME:
        return bool(t + 1e-12 >= line[DROP_AT])
    if rule == AT_VOLTS:
        return bool(filtered >= line[DROP_AT] * line[DROP_AT])
    return False


@jit_inlined
def gather(line: Any, rows: Any, fluxes: Any, states: Any, net: Any, half: Any, at: int) -> None:
    """Sums of a half cycle."""
    v1, v3 = net[V1], net[V3]
    half[at, H_V12] += v1 * v1
    half[at, H_V23] += v3 * v3
    half[at, H_V31] += (v3 - v1) * (v3 - v1)
    half[at, H_SUPPLY] += net[I_Z] * net[I_Z]
    half[at, H_PEAK] = max(half[at, H_PEAK], abs(net[I_Z]))
    half[at, H_VC] = max(half[at, H_VC], abs(net[V_ST]))
    service = service_volts(line, net)
    half[at, H_SERVICE] += service * service
    v = v_of(v1, v3)
    for k in range(rows.shape[0]):
        to = H_HEAD + H_PER_MACHINE * k
        half[at, to + 3] += states[k, SPEED]
        if states[k, ON] == 0.0:
            continue
        i1, i2, i3 = line_currents(rows, fluxes, k, v)
        half[at, to] += max(i1 * i1, i2 * i2, i3 * i3)
        half[at, to + 1] += 1.5 * rows[k, RS] * squared(fluxes[k, IS])
        rotor = rows[k, R1] * squared(fluxes[k, I1])
        if rows[k, L2] != 0.0:
            rotor += rows[k, R2] * squared(fluxes[k, I2])
        half[at, to + 2] += 1.5 * rotor


@jit_inlined
def service_volts(line: Any, net: Any) -> float:
    """Volts at the service: ahead of a series resistor, and ahead of an open contactor."""
    if net[FED] == 0.0:
        volts: float = net[E_OLD]
        return volts
    ahead: float = net[V1]
    if net[BRIDGED] == 0.0:
        ahead += line[RESISTOR_OHM] * net[I_Z]
    return ahead


@jit_inlined
def squared(z: complex) -> float:
    """|z|^2."""
    return z.real * z.real + z.imag * z.imag


@jit_inlined
def line_currents(rows: Any, fluxes: Any, k: int, v: complex) -> tuple[float, float, float]:
    """Currents into a machine from lines 1, 2, 3, its iron's included [A]."""
    i = fluxes[k, IS]
    if rows[k, REVERSED] != 0.0:
        i = i.conjugate()
    i = i + rows[k, G_FE] * v
    i3 = -0.5 * i.real - 0.5 * ROOT3 * i.imag
    return i.real, -i.real - i3, i3


@jit_inlined
def keep(
    line: Any, rows: Any, fluxes: Any, states: Any, net: Any, records: Any, at: int, t: float
) -> None:
    """One record."""
    v1, v3 = net[V1], net[V3]
    records[at, TIME] = t
    records[at, V12], records[at, V23], records[at, V31] = v1, -v3, v3 - v1
    records[at, SUPPLY], records[at, START_A] = net[I_Z], net[I_ST]
    records[at, SERVICE] = service_volts(line, net)
    for k in range(rows.shape[0]):
        to = HEAD + PER_MACHINE * k
        records[at, to + 3], records[at, to + 4] = states[k, TORQUE], states[k, SPEED]
        if states[k, ON] != 0.0:
            i1, i2, i3 = line_currents(rows, fluxes, k, v_of(v1, v3))
            records[at, to], records[at, to + 1], records[at, to + 2] = i1, i2, i3


def warm() -> None:
    """Compile the kernels of this module."""
    line, rows = np.zeros(LINES), np.ones((1, ROW))
    line[W] = 314.0
    half, records = np.zeros((1, H_HEAD + H_PER_MACHINE)), np.zeros((1, HEAD + PER_MACHINE))
    run(line, rows, np.zeros(1), 1e-4, 2, 1, 1, records, half, np.zeros(3))
