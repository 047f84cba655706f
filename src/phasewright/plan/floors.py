"""What any plan that begins with a shared state must cost at least, for all states at once.

The bound of `bound.Bound` with nothing decided and the groups left out: in every future each
unit by itself takes the cheapest of its options before and after, under the best later state.
"""

from __future__ import annotations

import numpy as np

from phasewright.plan.costs import Costs
from phasewright.plan.problem import Floats, Integers
from phasewright.plan.reductions import add_least


def floors(ranked: Costs) -> Floats:
    """(S,) lower bounds by the state bought now; inf where nothing can begin with it."""
    problem = ranked.problem
    begin = np.flatnonzero(np.isfinite(ranked.hold[np.unique(problem.epoch)]).all(axis=0))
    units = _units_now(ranked, begin)
    coming = problem.present & ~problem.now
    fresh = ranked.cheapest[..., -1]
    total = np.full(problem.states, np.inf)
    total[begin] = 0.0
    for future, weight in enumerate(problem.probability):
        epoch = int(problem.epoch[future])
        later = units[epoch] + _moves(ranked, epoch, begin)
        later += fresh[epoch][:, coming[future]].sum(axis=1)
        total[begin] += weight * (ranked.hold[epoch, begin] + later.min(axis=1))
    return total


def _units_now(ranked: Costs, begin: Integers) -> Floats:
    """(E, B, S): the units that are there now, by state now (of `begin`) and later."""
    problem = ranked.problem
    classes, states, _, _ = ranked.first.shape
    total = np.zeros((classes, begin.size, states))
    now = np.flatnonzero(problem.now)
    for epoch in range(classes):
        after = ranked.cheapest[epoch]
        if not problem.second[epoch]:
            after = np.zeros_like(after)
        add_least(np.ascontiguousarray(ranked.first[epoch]), after, begin, now, total[epoch])
    return total


def _moves(ranked: Costs, epoch: int, begin: Integers) -> Floats:
    """(B, S): the transition; without a second stage the state stays."""
    if ranked.problem.second[epoch]:
        change: Floats = ranked.move[epoch, begin]
        return change
    states = np.arange(ranked.problem.states)
    return np.where(begin[:, None] == states[None], 0.0, np.inf)
