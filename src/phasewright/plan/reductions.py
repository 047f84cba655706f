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
def add_least(first: Any, after: Any, begin: Any, now: Any, total: Any) -> None:
    """Add to total (B, S) the cheapest option of every unit of `now`, by state now and later.

    first (S, U, A) is the cost by the state now, of which those of `begin` (B,) are asked for;
    after (S, U, at least A) that by the later one. What costs the same in every state now, as most
    options do, is one row for all of them.
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
            if not apart[a] and first[0, u, a] < math.inf:
                for t in range(states):
                    row[t] = min(row[t], first[0, u, a] + after[t, u, a])
        for k in range(begin.size):
            least[:] = row
            for a in range(options):
                now_a = first[begin[k], u, a]
                if apart[a] and now_a < math.inf:
                    for t in range(states):
                        least[t] = min(least[t], now_a + after[t, u, a])
            for t in range(states):
                total[k, t] += least[t]


@jit
def both_stages(first: Any, after: Any, second: Any, costs: Any, least: Any, at_best: Any) -> None:
    """Both stages of every unit by its option now, for one state now.

    first (E, U, A) is the stage now, after (E, S, U, at least A) the least later one, added where
    `second` (E,) says that there is one. Fills costs (E, S, U, A), least (E, S, U) over the options
    and at_best (E, U, A) over the later states.
    """
    at_best[:] = math.inf
    classes, states, units, options = costs.shape
    for e in range(classes):
        for t in range(states):
            for u in range(units):
                lowest = math.inf
                for a in range(options):
                    value = first[e, u, a] + (after[e, t, u, a] if second[e] else 0.0)
                    costs[e, t, u, a] = value
                    lowest = min(lowest, value)
                    at_best[e, u, a] = min(at_best[e, u, a], value)
                least[e, t, u] = lowest


@jit
def from_then_on(change: Any, running: Any, fresh: Any, into: Any) -> None:
    """Costs from the arrival on into (S, U, A + 1, A): what a change of option costs (U, A, A) and
    running it (S, U, A); in the last row those of a unit that was not there (S, U, A)."""
    states, units, options = running.shape
    for s in range(states):
        for u in range(units):
            for b in range(options):
                for a in range(options):
                    into[s, u, b, a] = change[u, b, a] + running[s, u, a]
            for a in range(options):
                into[s, u, options, a] = fresh[s, u, a]


def warm() -> None:
    """Compile the kernels of this module."""
    one = np.zeros((1, 1, 1))
    greatest(one, np.zeros(1))
    least_after(np.zeros((1, 1, 1, 1, 1)), np.zeros((1, 1)), np.zeros((1, 1, 1, 1)))
    add_least(one, one, np.zeros(1, dtype=np.int64), np.zeros(1, dtype=np.int64), one[0])
    four = np.zeros((1, 1, 1, 1))
    both_stages(one, four, np.ones(1, dtype=np.bool_), four, one, one)
    from_then_on(one, one, one, np.zeros((1, 1, 2, 1)))
