"""Compiled: from the misfit of a three-line network to its operating point.

Newton's method from small slips, its steps limited. Held machines keep their slip (standstill,
scans); the saturation of every main flux is solved for all the same. A pseudo-time keeps the
search on the road a real run-up would take: with a short one the point follows the motion of
the shafts, without one (`pace` zero) it is the plain method.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from phasewright.network.compiled import jit, jit_inlined
from phasewright.running.kernel import BALANCES, BRANCHES, fill_jacobian, load_torque, misfit
from phasewright.running.rows import (
    A1,
    A2,
    COLUMNS,
    LINE_COLUMNS,
    PSI_K,
    PSI_RATED,
    R1,
    R2,
    SYNCHRONOUS,
    E,
    S,
)  # fmt: skip

SETTLED, NOT_FOUND, FALSE_ROOT = 0, 1, 2

TOLERANCE = 1e-11
MOST_STEPS = 60
SLIP_STEP = 0.03
SATURATION_STEP = 0.5
LAST_SLIP = 0.5
REUSED = 5e-3  # slopes found this near to the root serve for the next steps as well
NEARLY = 1e-13  # misfit now times misfit where the slopes were found: the step leaves about that
SAG = 1.15  # square of the usual drop of volts, backwards field included
LEAST_SLIP, MOST_SLIP = 2e-4, 0.05


@jit_inlined
def bring_pivot(matrix: Any, right: Any, n: int, i: int) -> float:
    """Bring the largest entry of column i to row i; -1 where that exchanged two rows, else 1."""
    pivot = i
    for r in range(i + 1, n):
        if abs(matrix[r, i]) > abs(matrix[pivot, i]):
            pivot = r
    if pivot == i:
        return 1.0
    for c in range(i, n):
        matrix[i, c], matrix[pivot, c] = matrix[pivot, c], matrix[i, c]
    right[i], right[pivot] = right[pivot], right[i]
    return -1.0


@jit_inlined
def eliminate(matrix: Any, right: Any, n: int) -> float:
    """Solve in place by elimination with pivots; the answer stands in `right`.

    Returns the sign of the determinant (0 for a singular matrix).
    """
    sign = 1.0
    for i in range(n):
        sign *= bring_pivot(matrix, right, n, i)
        if matrix[i, i] == 0.0 or not math.isfinite(matrix[i, i]):
            return 0.0
        if matrix[i, i] < 0.0:
            sign = -sign
        for r in range(i + 1, n):
            share = matrix[r, i] / matrix[i, i]
            for c in range(i + 1, n):
                matrix[r, c] -= share * matrix[i, c]
            right[r] -= share * right[i]
    for i in range(n - 1, -1, -1):
        for c in range(i + 1, n):
            right[i] -= matrix[i, c] * right[c]
        right[i] /= matrix[i, i]
    return sign


@jit_inlined
def first_guess(line: Any, rows: Any, load_scale: Any, slips: Any, levels: Any) -> None:
    """Small slips and the saturation of rated flux, from which the search starts.

    The slip is that of the torque at full speed over the slope of an ideal rotor at the
    source's volts, within what a running motor can have.
    """
    for k in range(rows.shape[0]):
        synchronous = rows[k, SYNCHRONOUS]
        load, _ = load_torque(rows, k, synchronous)
        torque = load_scale[k] * load + rows[k, A1] * synchronous + rows[k, A2] * synchronous**2
        ohm = rows[k, R1] * rows[k, R2] / (rows[k, R1] + rows[k, R2])
        slip = SAG * torque * synchronous * ohm / (line[E] * line[E])
        slips[k] = min(max(slip, LEAST_SLIP), MOST_SLIP)
    first_levels(rows, levels)


@jit_inlined
def first_levels(rows: Any, levels: Any) -> None:
    """The saturation of every main flux at rated flux."""
    for k in range(rows.shape[0]):
        level = 1.0
        if rows[k, S] > 0.0:
            level += (rows[k, PSI_RATED] / rows[k, PSI_K]) ** rows[k, S]
        levels[k, 0] = level
        levels[k, 1] = level


@jit_inlined
def unknowns(rows: Any, held: Any, order: Any) -> int:
    """List the unknowns that are free in `order`; returns how many."""
    n = 0
    for k in range(rows.shape[0]):
        if not held[k]:
            order[n] = 3 * k
            n += 1
        if rows[k, S] > 0.0:
            order[n] = 3 * k + 1
            order[n + 1] = 3 * k + 2
            n += 2
    return n


@jit_inlined
def move(step: Any, order: Any, n: int, slips: Any, levels: Any) -> None:
    """Take a step, limited in every unknown."""
    for i in range(n):
        k, q = order[i] // 3, order[i] % 3
        if q == 0:
            slips[k] += min(max(step[i], -SLIP_STEP), SLIP_STEP)
        else:
            grow = math.exp(min(max(step[i], -SATURATION_STEP), SATURATION_STEP))
            levels[k, q - 1] = max(levels[k, q - 1] * grow, 1.0)


@jit_inlined
def true_root(sign: float, held: Any, slips: Any) -> bool:
    """False with an odd number of growing motions, or where a free machine is below half speed."""
    for k in range(slips.shape[0]):
        if not held[k] and not (sign > 0.0 and slips[k] < LAST_SLIP):
            return False
    return True


@jit_inlined
def search(
    line: Any, rows: Any, load_scale: Any, held: Any, slips: Any, levels: Any,
    work: Any, pace: float, most_steps: int,
) -> int:  # fmt: skip
    """Move slips and levels to the operating point; returns SETTLED, NOT_FOUND or FALSE_ROOT.

    `held[k]` keeps the slip of machine k; `work` comes from `working_arrays`.
    """
    branches, balances, residual, jacobian, matrix, right, order = work
    n = unknowns(rows, held, order)
    known = last = math.inf
    for _ in range(most_steps):
        answers = misfit(line, rows, slips, levels, load_scale, branches, balances, residual)
        worst = 0.0
        for i in range(n):
            right[i] = -residual[order[i]]
            if not abs(right[i]) <= worst:
                worst = abs(right[i])
        if not math.isfinite(worst):
            return NOT_FOUND
        if not (known < REUSED and worst < 0.2 * last and pace == 0.0):
            z_pp, z_pn, z_np, z_nn = answers
            fill_jacobian(rows, levels, branches, balances, z_pp, z_pn, z_np, z_nn, jacobian)
            known = worst
        last = worst
        for i in range(n):
            for c in range(n):
                matrix[i, c] = jacobian[order[i], order[c]]
            if order[i] % 3 == 0:
                matrix[i, i] += pace
        sign = eliminate(matrix, right, n)
        if worst < TOLERANCE:
            return SETTLED if true_root(sign, held, slips) else FALSE_ROOT
        if sign == 0.0:
            return NOT_FOUND
        move(right, order, n, slips, levels)
        if worst * known < NEARLY and pace == 0.0:
            return SETTLED if true_root(sign, held, slips) else FALSE_ROOT
    return NOT_FOUND


@jit
def working_arrays(m: int) -> Any:
    """Room for `search` with m machines."""
    return (
        np.empty((m, BRANCHES), dtype=np.complex128),
        np.empty((m, BALANCES)),
        np.empty(3 * m),
        np.empty((3 * m, 3 * m)),
        np.empty((3 * m, 3 * m)),
        np.empty(3 * m),
        np.empty(3 * m, dtype=np.int64),
    )


@jit
def settle_one(
    line: Any, rows: Any, load_scale: Any, held: Any, slips: Any, levels: Any,
    pace: float, most_steps: int,
) -> int:  # fmt: skip
    """The same from given slips and levels, with its own working arrays."""
    work = working_arrays(rows.shape[0])
    return search(line, rows, load_scale, held, slips, levels, work, pace, most_steps)


@jit
def slopes(line: Any, rows: Any, load_scale: Any, slips: Any, levels: Any) -> Any:
    """(residual, jacobian) at a point, shapes (3 m,) and (3 m, 3 m); see `misfit`.

    Rows and columns of the saturation of a linear machine carry -1 on the diagonal only.
    """
    m = rows.shape[0]
    branches, balances, residual, jacobian, _, _, _ = working_arrays(m)
    jacobian[:, :] = -np.eye(3 * m)
    z_pp, z_pn, z_np, z_nn = misfit(
        line, rows, slips, levels, load_scale, branches, balances, residual
    )
    fill_jacobian(rows, levels, branches, balances, z_pp, z_pn, z_np, z_nn, jacobian)
    return residual, jacobian


def warm() -> None:
    """Compile the kernels of this module."""
    line, rows = np.ones(LINE_COLUMNS), np.ones((1, COLUMNS))
    slips, levels, ones = np.full(1, 0.02), np.ones((1, 2)), np.ones(1)
    first_guess(line, rows, ones, slips, levels)
    settle_one(line, rows, ones, np.zeros(1, dtype=np.bool_), slips, levels, 0.0, 1)
    slopes(line, rows, ones, slips, levels)
