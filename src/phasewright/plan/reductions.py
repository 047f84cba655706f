"""Compiled: the passes over the great arrays of a problem of which every search takes several.

Arrays of numbers reduce a short last axis slowly; here each entry is read once.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from phasewright.network.compiled import jit


@jit
def greatest(costs: Any, into: Any) -> bool:
    """Greatest magnitude of the finite entries of costs (O, N, I) into `into` (N,).

    False where an entry is not a number or minus infinity.
    """
    into[:] = 0.0
    for o in range(costs.shape[0]):
        for n in range(costs.shape[1]):
            most = into[n]
            for i in range(costs.shape[2]):
                value = costs[o, n, i]
                if value > most:
                    if value < math.inf:
                        most = value
                elif not value >= -most:
                    if not value > -math.inf:
                        return False
                    most = -value
            into[n] = most
    return True


@jit
def least_after(later: Any, own: Any, into: Any) -> None:
    """Least of later (E, S, U, B, A) plus own (U, A) over the last axis, into (E, S, U, B)."""
    classes, states, units, before, options = later.shape
    for e in range(classes):
        for s in range(states):
            for u in range(units):
                for b in range(before):
                    least = math.inf
                    for a in range(options):
                        value = later[e, s, u, b, a] + own[u, a]
                        if value < least:
                            least = value
                    into[e, s, u, b] = least


@jit
def add_least(first: Any, after: Any, now: Any, total: Any) -> None:
    """Add to total (S, S) the cheapest option of every unit of `now`, by state now and later.

    first (S, U, A) is the cost by the state now, after (S, U, at least A) that by the later one.
    What costs the same in every state now, as most options do, is one row for all of them.
    """
    states, _, options = first.shape
    row, least = np.empty(states), np.empty(states)
    apart = np.empty(options, dtype=np.bool_)
    for u in now:
        row[:] = math.inf
        for a in range(options):
            apart[a] = False
            for s in range(1, states):
                apart[a] = apart[a] or first[s, u, a] != first[0, u, a]
            if not apart[a]:
                for t in range(states):
                    row[t] = min(row[t], first[0, u, a] + after[t, u, a])
        for s in range(states):
            least[:] = row
            for a in range(options):
                if apart[a] and first[s, u, a] < math.inf:
                    for t in range(states):
                        least[t] = min(least[t], first[s, u, a] + after[t, u, a])
            for t in range(states):
                total[s, t] += least[t]


def warm() -> None:
    """Compile the kernels of this module."""
    one = np.zeros((1, 1, 1))
    greatest(one, np.zeros(1))
    least_after(np.zeros((1, 1, 1, 1, 1)), np.zeros((1, 1)), np.zeros((1, 1, 1, 1)))
    add_least(one, one, np.zeros(1, dtype=np.int64), np.zeros((1, 1)))
