"""The costs of a problem as the search ranks plans by them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from phasewright.plan.problem import Flags, Floats, Problem
from phasewright.plan.reductions import least_after


@dataclass(frozen=True, slots=True, eq=False)
class Costs:
    """Costs as the search ranks them: barred options infinite, unserved ones with the penalty.

    extra (S, U, A) is what is added to the costs of an option under a state, hold (E, S), move
    (E, S, S), first (E, S, U, A); cheapest (E, S, U, A + 1) is the least later cost of a unit by
    its option before.
    """

    problem: Problem
    extra: Floats
    hold: Floats
    move: Floats
    first: Floats
    cheapest: Floats

    def drop(self, refused: set[tuple[int, int, int]]) -> None:
        """Bar every (state, unit, option) that was refused even alone."""
        for state, unit, option in sorted(refused):
            self.extra[state, unit, option] = np.inf
            self.first[:, state, unit, option] = np.inf
        for state, unit in sorted({(state, unit) for state, unit, _ in refused}):
            costs = self.problem.later[:, state, unit] + self.extra[state, unit]
            self.cheapest[:, state, unit] = costs.min(axis=2)


def ranked_costs(problem: Problem, allowed: Flags | None, states: Flags | None) -> Costs:
    """The costs of a problem with only some options (U, A) and states (S,) to choose from."""
    own = np.where(problem.unserved, problem.penalty, 0.0)
    if allowed is not None:
        own = np.where(allowed, own, np.inf)
    extra = np.tile(own, (problem.states, 1, 1))
    wall = np.zeros(problem.states) if states is None else np.where(states, 0.0, np.inf)
    cheapest = np.empty(problem.later.shape[:-1])
    least_after(np.ascontiguousarray(problem.later), own, cheapest)
    return Costs(
        problem, extra, problem.hold + wall, problem.move + wall, problem.first + own, cheapest
    )
