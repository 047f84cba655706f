"""Least squares for a handful of unknowns by the method of Levenberg and Marquardt.

Damping after Nielsen (Damping parameter in Marquardt's method, IMM-REP-1999-05, from memory).
Written out because a general library takes longer to load than every fit of a shop.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
_STEP = 1.5e-8
"""Forward difference: the square root of the machine's precision."""


def least_squares(
    residuals: Callable[[Floats], Floats],
    start: Floats,
    *,
    tolerance: float = 1e-7,
    rounds: int = 60,
) -> tuple[float, Floats]:
    """Half the sum of squared residuals at a minimum near `start`, and where it is.

    `residuals` is given points (points, unknowns) and gives (points, residuals).

    Ends where the sum falls, or the unknowns move, by less than `tolerance` of themselves, or
    after so many `rounds` of trial steps; the best point met is given in any case.
    """
    x = np.array(start, dtype=np.float64)
    at, slope = _with_slope(residuals, x)
    cost = 0.5 * float(at @ at)
    damping = 1e-3 * float(np.max(np.sum(slope * slope, axis=0)))
    growth = 2.0
    for _ in range(rounds):
        down = slope.T @ at
        step = np.linalg.solve(slope.T @ slope + damping * np.eye(x.size), -down)
        trial, there = _with_slope(residuals, x + step)
        found = 0.5 * float(trial @ trial)
        promised = 0.5 * float(step @ (damping * step - down))
        if not found < cost:  # a NaN is no progress either
            if float(np.max(np.abs(step))) < tolerance * 1e-2 or promised <= 0.0:
                break
            damping, growth = damping * growth, growth * 2.0
            continue
        gain = (cost - found) / promised
        small = cost - found < tolerance * cost and float(np.linalg.norm(step)) < tolerance**0.5
        x, at, cost, slope = x + step, trial, found, there
        if small or float(np.linalg.norm(step)) < tolerance * float(np.linalg.norm(x)):
            break
        damping, growth = damping * max(1.0 / 3.0, 1.0 - (2.0 * gain - 1.0) ** 3), 2.0
    return cost, x


def _with_slope(residuals: Callable[[Floats], Floats], x: Floats) -> tuple[Floats, Floats]:
    """Residuals at a point and their slopes (residuals, unknowns), asked for all at once."""
    steps = _STEP * np.maximum(1.0, np.abs(x))
    found = residuals(np.vstack([x, x + np.diag(steps)]))
    return found[0], np.ascontiguousarray(((found[1:] - found[0]) / steps[:, None]).T)
