"""The bounds of all shared states at once, against proven plans and a plain loop."""

from __future__ import annotations

import numpy as np
import pytest
from plan.invented_problems import invented

from phasewright.plan.costs import ranked_costs
from phasewright.plan.floors import floors
from phasewright.plan.problem import Problem
from phasewright.plan.search import solve
from phasewright.quantities.errors import NotComputable


def by_hand(problem: Problem, state: int) -> float:
    """The bound of one state, reckoned future by future and unit by unit."""
    costs = ranked_costs(problem, None, None)
    total = 0.0
    for future, weight in enumerate(problem.probability):
        e = int(problem.epoch[future])
        total += float(weight * costs.hold[e, state])
        best = np.inf
        for later in range(problem.states):
            second = bool(problem.second[e])
            if not second and later != state:
                continue
            found = float(costs.move[e, state, later]) if second else 0.0
            for unit in range(problem.now.size):
                if problem.now[unit]:
                    after = costs.cheapest[e, later, unit, :-1] if second else 0.0
                    found += float(np.min(costs.first[e, state, unit] + after))
                elif problem.present[future, unit]:
                    found += float(costs.cheapest[e, later, unit, -1])
            best = min(best, found)
        total += float(weight) * best
    return total


@pytest.mark.parametrize("seed", range(6))
def test_floors_are_the_plain_sums_and_below_every_proven_plan(seed: int) -> None:
    problem = invented(seed)
    found = floors(ranked_costs(problem, None, None))
    for state in range(problem.states):
        assert found[state] == pytest.approx(by_hand(problem, state), rel=1e-12)
        try:
            best = solve(problem, fixed_state=state)
        except NotComputable:
            continue
        if best.serves_all:
            assert found[state] <= best.expected + 1e-6
