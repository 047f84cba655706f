"""What any plan that begins with a shared state must cost at least, for all states at once.

The bound of `bound.Bound` with nothing decided and the groups left out: in every future each
unit by itself takes the cheapest of its options before and after, under the best later state.
"""

from __future__ import annotations

import numpy as np

from phasewright.plan.costs import Costs
from phasewright.plan.problem import Floats
from phasewright.plan.reductions import add_least


def floors(ranked: Costs) -> Floats:
    """(S,) lower bounds by the state bought now; inf where nothing can begin with it."""
    problem = ranked.problem
    units = _units_now(ranked) + _moves(ranked)
    coming = problem.present & ~problem.now
    fresh = ranked.cheapest[..., -1]
    total = np.zeros(problem.states)
    for future, weight in enumerate(problem.probability):
        epoch = int(problem.epoch[future])
        later = units[epoch] + fresh[epoch][:, coming[future]].sum(axis=1)
        total += weight * (ranked.hold[epoch] + later.min(axis=1))
    return total


def _units_now(ranked: Costs) -> Floats:
    """(E, S, S): the units that are there now, by state now and later."""
    problem = ranked.problem
    classes, states, _, _ = ranked.first.shape
    total = np.zeros((classes, states, states))
    now = np.flatnonzero(problem.now)
    for epoch in range(classes):
        after = (
            ranked.cheapest[epoch] if problem.second[epoch] else np.zeros_like(ranked.cheapest[0])
        )
        add_least(np.ascontiguousarray(ranked.first[epoch]), after, now, total[epoch])
    return total


def _moves(ranked: Costs) -> Floats:
    """(E, S, S): the transition; without a second stage the state stays."""
    problem, states = ranked.problem, ranked.problem.states
    stays = np.where(np.eye(states, dtype=np.bool_), 0.0, np.inf)
    return np.where(problem.second[:, None, None], ranked.move, stays)
