"""The search against every plan written out in plain Python: same cost, to the cent."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from plan.invented_problems import invented

from phasewright.plan.search import best_of_each, rank, solve
from phasewright.quantities.errors import NotComputable


def may_turn(problem, state, chosen):
    """Every group, and every unit by itself, cut down to those chosen."""
    sets = [set(group) for group in problem.groups] + [{u} for u in chosen]
    for group in sets:
        running = tuple(
            (u, chosen[u])
            for u in sorted(group)
            if u in chosen and not problem.unserved[u, chosen[u]]
        )
        if running and not problem.admit(state, running):
            return False
    return True


def worth(problem, cost, left):
    """Units without power come first, then money: the order the search promises."""
    return cost + problem.penalty * left


def second_stage(problem, future, state, chosen):
    """(cost, units left) of the best second stage, by trying all of them."""
    e = problem.epoch[future]
    there = [u for u in range(problem.now.size) if problem.present[future, u]]
    best = None
    for t in range(problem.states):
        for options in product(range(problem.first.shape[3]), repeat=len(there)):
            after = dict(zip(there, options, strict=True))
            cost = problem.move[e, state, t]
            for u, b in after.items():
                cost += problem.later[e, t, u, chosen.get(u, problem.first.shape[3]), b]
            if not np.isfinite(cost) or not may_turn(problem, t, after):
                continue
            left = sum(bool(problem.unserved[u, b]) for u, b in after.items())
            if best is None or worth(problem, cost, left) < worth(problem, *best):
                best = (cost, left)
    return best


def every_plan(problem):
    """(worth, cost, state, options) of every admissible plan, the best first."""
    units = [u for u in range(problem.now.size) if problem.now[u]]
    out = []
    for state in range(problem.states):
        for options in product(range(problem.first.shape[3]), repeat=len(units)):
            chosen = dict(zip(units, options, strict=True))
            if not may_turn(problem, state, chosen):
                continue
            left = sum(bool(problem.unserved[u, a]) for u, a in chosen.items())
            cost = order = 0.0
            for f, p in enumerate(problem.probability):
                e = problem.epoch[f]
                own = problem.hold[e, state] + sum(
                    problem.first[e, state, u, a] for u, a in chosen.items()
                )
                then = (0.0, 0)
                if problem.second[e]:
                    then = second_stage(problem, f, state, chosen)
                if then is None or not np.isfinite(own):
                    cost = np.inf
                    break
                cost += p * (own + then[0])
                order += p * (own + then[0] + problem.penalty * (left + then[1]))
            if np.isfinite(cost):
                row = tuple(chosen.get(u, -1) for u in range(problem.now.size))
                out.append((order, cost, state, row))
    return sorted(out)


def check(problem):
    """True where a plan exists and the search found the best one."""
    plans = every_plan(problem)
    if not plans:
        with pytest.raises(NotComputable):
            solve(problem)
        return False
    found = solve(problem)
    assert found.proven
    assert found.expected == pytest.approx(plans[0][1], abs=0.005)
    assert (found.state, found.options) == plans[0][2:]
    return True


def small(seed):
    """Sizes that brute force can bear, drawn from the seed."""
    draw = np.random.default_rng(seed + 10_000)
    units = int(draw.integers(1, 6))
    return {
        "units": units,
        "states": int(draw.integers(1, 4)),
        "options": int(draw.integers(1, 4 if units < 4 else 3)),
        "tightness": float(draw.uniform(0, 1)),
        "grouping": float(draw.uniform(0.3, 1)),
    }


def test_best_plan_of_200_random_problems():
    """Two hundred problems of up to five units; most have a plan, some have none."""
    solved = sum(check(invented(seed, **small(seed))) for seed in range(200))
    assert 120 <= solved < 200


def test_best_plan_where_units_may_be_left_without_power():
    """With an option to leave a unit unserved a plan always exists, and as few as can be are."""
    short = 0
    for seed in range(40):
        sizes = small(seed) | {"options": 3, "tightness": 1.0, "units": 1 + seed % 4}
        problem = invented(seed, **sizes, unserved=True, missing=0.3)
        assert check(problem)
        short += not solve(problem).serves_all
    assert short > 5


def test_ranking_is_the_list_of_all_plans():
    """The first k of the ranking are the first k of all plans written out."""
    compared = 0
    for seed in range(40):
        problem = invented(seed, units=4, states=3, options=2, tightness=0.3)
        plans = every_plan(problem)
        if not plans:
            continue
        ranked = rank(problem, 7)
        assert len(ranked) == min(7, len(plans))
        compared += len(ranked)
        for found, (_, cost, state, options) in zip(ranked, plans, strict=False):
            assert found.expected == pytest.approx(cost, abs=0.005)
            assert (found.state, found.options) == (state, options)
    assert compared > 100


def test_best_plan_of_each_kind_of_state():
    """For every kind of shared state the best plan that begins with one."""
    compared = 0
    for seed in range(30):
        problem = invented(seed, units=3, states=4, options=3, tightness=0.4)
        plans = every_plan(problem)
        if not plans:
            continue
        kind = (0, 1, 1, 2)
        found = best_of_each(problem, kind)
        wanted = {k: [p for p in plans if kind[p[2]] == k] for k in (0, 1, 2)}
        assert set(found) == {k for k, of in wanted.items() if of}
        for k, solution in found.items():
            assert solution.expected == pytest.approx(wanted[k][0][1], abs=0.005)
            assert kind[solution.state] == k
            compared += 1
    assert compared > 30
