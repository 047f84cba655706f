"""Compiled: what a solved point of a three-line network means, and many points in one call."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from phasewright.network.compiled import jit, jit_inlined
from phasewright.running.kernel import (
    BACK,
    BRANCHES,
    IB,
    IF,
    TURN,
    VB,
    VF,
    ZB,
    ZF,
    fill_branches,
    fill_currents,
    solve_lines,
    stray_shape,
)  # fmt: skip
from phasewright.running.newton import MOST_STEPS, SETTLED, first_guess, search, working_arrays
from phasewright.running.rows import (
    A1,
    A2,
    C12,
    C23,
    C31,
    COLUMNS,
    G12,
    G23,
    G31,
    G_FE,
    LINE_COLUMNS,
    PSI_RATED,
    REVERSED,
    RS,
    RZ,
    STRAY,
    SYNCHRONOUS,
    W,
)  # fmt: skip

# Columns of the outcome of the lines.
V12, V23, V31, VUF, SUPPLY_A, SUPPLY_W, SUPPLY_VAR, LOADS_W, LINE_LOSS_W = range(9)
CAP12_A, CAP23_A, CAP31_A = 9, 10, 11
LINE_OUTCOMES = 12

# Columns of the outcome of a machine.
SLIP, SHAFT_NM, SHAFT_W, INPUT_W, I1, I2, I3, J1, J2, J3 = range(10)
STATOR_W, ROTOR_W, CORE_W, FRICTION_W, STRAY_W, FLUX, GAP_NM = 10, 11, 12, 13, 14, 15, 16
MACHINE_OUTCOMES = 17

_LEAD = complex(math.sqrt(0.75), 0.5)  # 30 degrees ahead
_LAG = complex(math.sqrt(0.75), -0.5)


@jit_inlined
def square(z: complex) -> float:
    """The modulus squared."""
    return z.real * z.real + z.imag * z.imag


@jit_inlined
def size(z: complex) -> float:
    """The modulus, without the guards of the general one."""
    return math.sqrt(square(z))


@jit_inlined
def _three(p: complex, n: complex, into: Any, k: int, at: int) -> None:
    """Moduli of the three phasors that have the sequences p and n."""
    into[k, at] = size(p + n)
    into[k, at + 1] = size(BACK * p + TURN * n)
    into[k, at + 2] = size(TURN * p + BACK * n)


@jit_inlined
def lines_outcome(line: Any, v1: complex, v3: complex, out: Any) -> None:
    """Volts, unbalance, currents and powers of the lines into out, shape (LINE_OUTCOMES,)."""
    w = line[W]
    out[V12], out[V23], out[V31] = size(v1), size(v3), size(v3 - v1)
    v_p = (v1 + BACK * v3) / 3.0
    v_n = (v1 + TURN * v3) / 3.0
    out[VUF] = size(v_n) / size(v_p)
    out[CAP12_A] = w * line[C12] * out[V12]
    out[CAP23_A] = w * line[C23] * out[V23]
    out[CAP31_A] = w * line[C31] * out[V31]
    out[LOADS_W] = line[G12] * out[V12] ** 2 + line[G23] * out[V23] ** 2 + line[G31] * out[V31] ** 2


@jit_inlined
def supply_outcome(line: Any, v1: complex, v3: complex, drawn: complex, out: Any) -> None:
    """Supply current and powers, where `drawn` is the current of all machines from line 1."""
    w = line[W]
    y12 = complex(line[G12], w * line[C12])
    y31 = complex(line[G31], w * line[C31])
    current = drawn + y12 * v1 + y31 * (v1 - v3)
    power = v1 * current.conjugate()
    out[SUPPLY_A] = size(current)
    out[SUPPLY_W], out[SUPPLY_VAR] = power.real, power.imag
    out[LINE_LOSS_W] = line[RZ] * out[SUPPLY_A] ** 2


@jit_inlined
def machine_outcome(rows: Any, k: int, line: Any, slips: Any, branches: Any, out: Any) -> complex:
    """Fill out, shape (machines, MACHINE_OUTCOMES); returns the current drawn from line 1."""
    w = line[W]
    v_f, v_b, i_f, i_b = branches[k, VF], branches[k, VB], branches[k, IF], branches[k, IB]
    square_f, square_b = square(i_f), square(i_b)
    synchronous = rows[k, SYNCHRONOUS]
    speed = (1.0 - slips[k]) * synchronous
    gap_f, gap_b = 3.0 * square_f * branches[k, ZF].real, 3.0 * square_b * branches[k, ZB].real
    gap = (gap_f - gap_b) / synchronous
    friction = rows[k, A1] * speed + rows[k, A2] * speed * abs(speed)
    stray = rows[k, STRAY] * (square_f + square_b) * stray_shape(speed, synchronous)[0]
    out[k, SLIP], out[k, GAP_NM] = slips[k], gap
    out[k, SHAFT_NM] = gap - friction - stray
    out[k, SHAFT_W] = out[k, SHAFT_NM] * speed
    out[k, STATOR_W] = 3.0 * rows[k, RS] * (square_f + square_b)
    out[k, ROTOR_W] = gap_f * slips[k] + gap_b * (2.0 - slips[k])
    out[k, CORE_W] = 3.0 * rows[k, G_FE] * (square(v_f) + square(v_b))
    out[k, FRICTION_W], out[k, STRAY_W] = friction * speed, stray * speed
    out[k, FLUX] = math.sqrt(2.0) * size(branches[k, ZF] * i_f) / (w * rows[k, PSI_RATED])
    t_f, t_b = i_f + rows[k, G_FE] * v_f, i_b + rows[k, G_FE] * v_b
    out[k, INPUT_W] = 3.0 * (
        (v_f * t_f.conjugate()).real + (v_b * t_b.conjugate()).real
    )  # fmt: skip
    t_p, t_n = (t_b, t_f) if rows[k, REVERSED] != 0.0 else (t_f, t_b)
    _three(t_p, t_n, out, k, I1)
    root = 1.0 / math.sqrt(3.0)
    _three(root * _LEAD * t_p, root * _LAG * t_n, out, k, J1)
    drawn: complex = t_p + t_n
    return drawn


@jit_inlined
def outcome(
    line: Any, rows: Any, slips: Any, levels: Any, branches: Any, out: Any, each: Any
) -> None:
    """The whole outcome of a point: out (LINE_OUTCOMES,), each (machines, MACHINE_OUTCOMES)."""
    fill_branches(rows, line[W], slips, levels, branches)
    v1, v3, _, _, _, _ = solve_lines(line, rows, branches)
    fill_currents(rows, (v1 + BACK * v3) / 3.0, (v1 + TURN * v3) / 3.0, branches)
    lines_outcome(line, v1, v3, out)
    drawn = complex(0.0, 0.0)
    for k in range(rows.shape[0]):
        drawn += machine_outcome(rows, k, line, slips, branches, each)
    supply_outcome(line, v1, v3, drawn, out)


@jit
def outcome_of(line: Any, rows: Any, slips: Any, levels: Any, out: Any, each: Any) -> None:
    """The same with its own working array."""
    branches = np.empty((rows.shape[0], BRANCHES), dtype=np.complex128)
    outcome(line, rows, slips, levels, branches, out, each)


@jit
def sweep(
    line: Any, rows: Any, capacitances: Any, load_scales: Any, status: Any, out: Any, each: Any
) -> None:
    """Settle n points: capacitances (n, 3), load_scales (n, machines).

    Fills status (n,), out (n, LINE_OUTCOMES), each (n, machines, MACHINE_OUTCOMES); every
    point starts from the same small slips, so that no point depends on another. A point that
    has no status SETTLED is filled with NaN.
    """
    m = rows.shape[0]
    work = working_arrays(m)
    held = np.zeros(m, dtype=np.bool_)
    slips = np.empty(m)
    levels = np.empty((m, 2))
    mine = line.copy()
    for i in range(capacitances.shape[0]):
        mine[C12], mine[C23], mine[C31] = (
            capacitances[i, 0], capacitances[i, 1], capacitances[i, 2]
        )  # fmt: skip
        first_guess(mine, rows, load_scales[i], slips, levels)
        status[i] = search(
            mine, rows, load_scales[i], held, slips, levels, work, 0.0, MOST_STEPS
        )  # fmt: skip
        if status[i] == SETTLED:
            outcome(mine, rows, slips, levels, work[0], out[i], each[i])
        else:
            out[i, :] = math.nan
            each[i, :, :] = math.nan


def warm() -> None:
    """Compile the kernels of this module."""
    line, rows = np.ones(LINE_COLUMNS), np.ones((1, COLUMNS))
    out, each = np.empty((1, LINE_OUTCOMES)), np.empty((1, 1, MACHINE_OUTCOMES))
    outcome_of(line, rows, np.full(1, 0.02), np.ones((1, 2)), out[0], each[0])
    sweep(line, rows, np.zeros((1, 3)), np.ones((1, 1)), np.zeros(1, dtype=np.int64), out, each)
