"""Compiled: what is written down of a run, row by row and by half cycle."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from phasewright.network.compiled import jit_inlined
from phasewright.running.rows import G_FE, L2, R1, R2, REVERSED, RS
from phasewright.starts.layout import (
    BRIDGED,
    E_OLD,
    FED,
    H_HEAD,
    H_LINE_2,
    H_LINE_3,
    H_PEAK,
    H_PER_MACHINE,
    H_POWER,
    H_SERVICE,
    H_SUPPLY,
    H_V12,
    H_V23,
    H_V31,
    H_VC,
    HEAD,
    I_ST,
    I_Z,
    I_Z3,
    PER_MACHINE,
    RESISTOR_OHM,
    SERVICE,
    START_A,
    SUPPLY,
    TIME,
    V1,
    V3,
    V12,
    V23,
    V31,
    V_ST,
)  # fmt: skip
from phasewright.starts.machine import I1, I2, IS, ON, SPEED, TORQUE, VM, by

ROOT3 = math.sqrt(3.0)


@jit_inlined
def gather(
    line: Any, three: bool, rows: Any, fluxes: Any, states: Any, net: Any, half: Any, at: int
) -> None:
    """Add one step to the sums of a half cycle."""
    v1, v3, i_z = net[V1], net[V3], net[I_Z]
    half[at, H_V12] += v1 * v1
    half[at, H_V23] += v3 * v3
    half[at, H_V31] += (v3 - v1) * (v3 - v1)
    half[at, H_SUPPLY] += i_z * i_z
    half[at, H_PEAK] = max(half[at, H_PEAK], abs(i_z))
    half[at, H_VC] = max(half[at, H_VC], abs(net[V_ST]))
    service = service_volts(line, net)
    half[at, H_SERVICE] += service * service
    if three:
        i_3 = net[I_Z3]
        i_2 = -i_z - i_3
        half[at, H_LINE_2] += i_2 * i_2
        half[at, H_LINE_3] += i_3 * i_3
        half[at, H_PEAK] = max(half[at, H_PEAK], abs(i_2), abs(i_3))
        half[at, H_POWER] += v1 * i_z + v3 * i_3
    for k in range(rows.shape[0]):
        to = H_HEAD + H_PER_MACHINE * k
        half[at, to + 5] += states[k, SPEED]
        if states[k, ON] == 0.0:
            continue
        i1, i2, i3 = line_currents(rows, fluxes, k)
        half[at, to] += i1 * i1
        half[at, to + 1] += i2 * i2
        half[at, to + 2] += i3 * i3
        half[at, to + 3] += 1.5 * rows[k, RS] * squared(fluxes[k, IS])
        rotor = rows[k, R1] * squared(fluxes[k, I1])
        if rows[k, L2] != 0.0:
            rotor += rows[k, R2] * squared(fluxes[k, I2])
        half[at, to + 4] += 1.5 * rotor


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
def line_currents(rows: Any, fluxes: Any, k: int) -> tuple[float, float, float]:
    """Currents into a machine from lines 1, 2, 3, its iron's included [A]."""
    i = fluxes[k, IS] + by(rows[k, G_FE], fluxes[k, VM])
    if rows[k, REVERSED] != 0.0:
        i = i.conjugate()
    i3 = -0.5 * i.real - 0.5 * ROOT3 * i.imag
    return i.real, -i.real - i3, i3


@jit_inlined
def keep(
    line: Any, rows: Any, fluxes: Any, states: Any, net: Any, records: Any, at: int, t: float
) -> None:
    """Write one record."""
    v1, v3 = net[V1], net[V3]
    records[at, TIME] = t
    records[at, V12], records[at, V23], records[at, V31] = v1, -v3, v3 - v1
    records[at, SUPPLY], records[at, START_A] = net[I_Z], net[I_ST]
    records[at, SERVICE] = service_volts(line, net)
    for k in range(rows.shape[0]):
        to = HEAD + PER_MACHINE * k
        records[at, to + 3], records[at, to + 4] = states[k, TORQUE], states[k, SPEED]
        if states[k, ON] != 0.0:
            i1, i2, i3 = line_currents(rows, fluxes, k)
            records[at, to], records[at, to + 1], records[at, to + 2] = i1, i2, i3


def warm() -> None:
    """Compile what stands by itself; the rest is compiled into its caller."""
    squared(complex(np.ones(1)[0], 1.0))
