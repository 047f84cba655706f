"""What must hold of any best plan, whatever the shop."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from plan.invented_problems import Capacity, invented

from phasewright.plan.problem import Problem
from phasewright.plan.search import cost, rank, solve
from phasewright.quantities.errors import NotComputable, UsageError

TOL = 1e-6
seeds = st.integers(0, 10_000)
few = settings(deadline=None, max_examples=40)


def best(problem, **asked):
    """The expected cost of the best plan, infinite where there is none."""
    try:
        return solve(problem, **asked).expected
    except NotComputable:
        return np.inf


def usual(seed, **more):
    """A problem of five units, some to come."""
    return invented(seed, **{"units": 5, "states": 4, "options": 4, "tightness": 0.3} | more)


@given(seed=seeds, which=seeds, cut=st.floats(0.0, 500.0))
@few
def test_a_cheaper_quote_never_makes_the_plan_dearer(seed, which, cut):
    """One cost of the first stage, one of the second, one state: each made cheaper."""
    problem = usual(seed)
    before = best(problem)
    draw = np.random.default_rng(which)
    for name in ("hold", "first", "later", "move"):
        array = getattr(problem, name).copy()
        array[tuple(draw.integers(0, n) for n in array.shape)] -= cut
        cheaper = replace(problem, **{name: array})
        assert best(cheaper) <= before + TOL
    assert best(replace(problem, hold=problem.hold - cut)) == pytest.approx(before - cut)


@given(seed=seeds, unit=st.integers(0, 4), option=st.integers(0, 3))
@few
def test_an_option_more_never_raises_the_best_cost(seed, unit, option):
    """With one option or one state barred the best plan is never cheaper."""
    problem = usual(seed)
    allowed = np.ones(problem.unserved.shape, dtype=bool)
    allowed[unit, option] = False
    states = np.arange(problem.states) != option
    whole = best(problem)
    assert whole <= best(problem, allowed=allowed) + TOL
    assert whole <= best(problem, states=states) + TOL
    assert whole == pytest.approx(min(best(problem, fixed_state=s) for s in range(4)))


@given(seed=seeds)
@few
def test_what_is_barred_is_not_chosen(seed):
    """Barred options and states appear neither today nor later; a fixed state is kept today."""
    problem = usual(seed)
    allowed = np.random.default_rng(seed).random(problem.unserved.shape) < 0.7
    states = np.array([True, False, True, True])
    try:
        found = solve(problem, allowed=allowed, states=states)
    except NotComputable:
        assume(False)
    rows = [found.options, *(later.options for later in found.later)]
    assert all(allowed[u, a] for row in rows for u, a in enumerate(row) if a >= 0)
    assert 1 not in {found.state, *(later.state for later in found.later)}


@given(seed=seeds, data=st.data())
@few
def test_order_of_units_changes_nothing(seed, data):
    """The units shuffled: same cost, and every unit has the option it had."""
    problem = usual(seed)
    order = data.draw(st.permutations(range(5)))
    place = {old: new for new, old in enumerate(order)}

    def ask(state, running):
        back = sorted((order[u], a) for u, a in running)
        return problem.admit(state, tuple(back))

    mixed = replace(
        problem,
        first=problem.first[:, :, order],
        later=problem.later[:, :, order],
        present=problem.present[:, order],
        now=problem.now[order],
        groups=tuple(frozenset(place[u] for u in group) for group in problem.groups),
        unserved=problem.unserved[order],
        admit=ask,
    )
    if np.isinf(best(problem)):
        assert np.isinf(best(mixed))
        return
    one, two = solve(problem), solve(mixed)
    assert one.expected == pytest.approx(two.expected)
    assert one.state == two.state
    assert one.options == tuple(two.options[place[u]] for u in range(5))


def chance_of_last(problem, chance):
    """The same problem with the last unit the only one to come, at a chance; None: never heard of."""
    u = problem.now.size
    now = np.arange(u) < u - 1
    common = {
        "now": now,
        "second": np.array([False, True, True]),
        "present": np.array([now, np.ones(u, dtype=bool)]),
        "probability": np.array([1 - chance, chance]),
        "epoch": np.array([0, 1]),
    }
    return replace(problem, **common)


@given(seed=seeds)
@few
def test_chances_near_nothing_and_near_one_reach_the_limits(seed):
    """Chance 1e-9 costs what absence costs, 1 - 1e-9 what a sure arrival costs."""
    problem = usual(seed, missing=0.0, tightness=0.0)
    some = chance_of_last(problem, 0.5)
    never = replace(
        some, present=some.present[:1], probability=np.ones(1), epoch=np.zeros(1, dtype=int)
    )
    sure = replace(
        some, present=some.present[1:], probability=np.ones(1), epoch=np.ones(1, dtype=int)
    )
    assert best(chance_of_last(problem, 1e-9)) == pytest.approx(best(never), abs=1e-3)
    assert best(chance_of_last(problem, 1 - 1e-9)) == pytest.approx(best(sure), abs=1e-3)
    assert best(some) >= 0.5 * (best(never) + best(sure)) - TOL  # foresight never costs


@given(seed=seeds)
@few
def test_costs_reported_are_the_costs_of_the_choices_reported(seed):
    """The plan priced again from the arrays; its mean is the expected cost; all is admissible."""
    problem = usual(seed)
    try:
        found = solve(problem)
    except NotComputable:
        assume(False)
    again = [
        cost(problem, found.state, found.options, f, later) for f, later in enumerate(found.later)
    ]
    assert found.per_future == pytest.approx(again)
    assert found.expected == pytest.approx(float(problem.probability @ again))
    stages = [(found.state, found.options), *((x.state, x.options) for x in found.later)]
    for state, options in stages:
        for group in [*problem.groups, *({u} for u in range(5))]:
            running = tuple((u, options[u]) for u in sorted(group) if options[u] >= 0)
            assert not running or problem.admit(state, running)


@given(seed=seeds)
@few
def test_no_question_is_asked_twice(seed):
    """Each (state, what turns) reaches `admit` once."""
    problem = usual(seed)
    asked = []

    def ask(state, running):
        asked.append((state, running))
        assert list(running) == sorted(running)
        return problem.admit(state, running)

    best(replace(problem, admit=ask))
    assert asked
    assert len(asked) == len(set(asked))


@pytest.mark.parametrize("seed", [0, 3])
def test_a_search_cut_short_says_so(seed):
    """With few steps a plan is not proven; the bound lies below the best, the plan not below it."""
    problem = invented(seed, units=7, states=6, options=5, tightness=0.9, unserved=True)
    problem = replace(problem, groups=(frozenset(range(7)),))
    whole = solve(problem)
    assert whole.proven
    assert whole.serves_all
    assert whole.bound == pytest.approx(whole.expected)
    cut = [attempt(problem, steps) for steps in (500, 5_000, 20_000, 80_000, 160_000)]
    found = [plan for plan in cut if plan is not None]
    assert any(not plan.proven for plan in found)
    for plan in found:
        assert plan.bound <= whole.expected + TOL
        if plan.serves_all:
            assert plan.expected >= whole.expected - TOL
        if plan.proven:
            assert plan.expected == pytest.approx(whole.expected)


def attempt(problem, steps):
    """The plan found in so many steps, None where it is told that none was found."""
    try:
        return solve(problem, most_steps=steps)
    except NotComputable as told:
        if "none was ruled out" not in str(told):
            raise
        return None


def test_ranking_is_in_order_and_without_twins():
    """Costs rise and no plan of today appears twice."""
    problem = usual(11, tightness=0.0, missing=0.0)
    problem = replace(problem, now=np.ones(5, dtype=bool), present=problem.present | True)
    found = rank(problem, 25)
    assert len(found) == 25
    costs = [solution.expected for solution in found]
    assert costs == sorted(costs)
    assert len({(s.state, s.options) for s in found}) == 25


def by_hand(**other):
    """One unit, two options, one state to share, one machine that surely comes. All by hand."""
    return Problem(
        **{
            "hold": np.array([[0.0, 100.0]]),
            "move": np.array([[[0.0, 150.0], [0.0, 0.0]]]),
            "first": np.array([[[[80.0, np.inf], [0, 0]], [[80.0, 10.0], [0, 0]]]]),
            "later": np.array(
                [
                    [
                        [[[0, np.inf]] * 3, [[90, np.inf]] * 3],
                        [[[0, 5], [60, 5], [0, 0]], [[90, 10]] * 3],
                    ]
                ],
                dtype=float,
            ),
            "second": np.array([True]),
            "probability": np.ones(1),
            "epoch": np.zeros(1, dtype=np.int64),
            "present": np.ones((1, 2), dtype=bool),
            "now": np.array([True, False]),
            "groups": (),
            "admit": lambda state, running: True,
        }
        | other
    )


def test_a_sum_done_by_hand():
    """Shared now 100 + 10 + 5 + 10 = 125; apart 80 + 0 + 90 = 170; later 80 + 150 + 0 + 10 = 240."""
    found = solve(by_hand())
    assert found.expected == 125
    assert (found.state, found.options) == (1, (1, -1))
    assert found.later[0].options == (1, 1)


def test_two_that_may_not_share_by_hand():
    """Both on the shared source refused: 100 + 80 + 0 + 10 = 190, 100 + 10 + 5 + 90 = 205, 170."""
    together = by_hand(
        groups=(frozenset({0, 1}),),
        admit=lambda state, running: {a for _, a in running} != {1} or len(running) == 1,
    )
    assert solve(together).expected == 170


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"hold": np.zeros((1, 3))}, "hold has shape"),
        ({"hold": np.array([[0.0, np.nan]])}, "not a number"),
        ({"probability": np.array([0.5])}, "sum to one"),
        ({"present": np.array([[False, True]])}, "must be there in every future"),
        ({"second": np.array([False])}, "no second stage"),
    ],
)
def test_arrays_that_do_not_fit(wrong, words):
    """Each is refused with what is wrong."""
    with pytest.raises(UsageError, match=words):
        by_hand(**wrong)


def test_costs_that_drown_the_penalty():
    """Costs so large that a unit without power would no longer come first are refused."""
    with pytest.raises(NotComputable, match="too large to be ranked"):
        by_hand(hold=np.array([[0.0, 2e9]]))


def test_no_plan_at_all():
    """Every option of the unit infinite: said in words."""
    with pytest.raises(NotComputable, match="no plan is admissible"):
        solve(by_hand(first=np.full((1, 2, 2, 2), np.inf)))


def test_capacity_of_the_invented_problems_is_monotone():
    """The premise of all above: adding to a refused set never makes it pass."""
    problem = usual(5, tightness=1.0)
    assert isinstance(problem.admit, Capacity)
    draw = np.random.default_rng(0)
    refused = 0
    for _ in range(300):
        options = draw.integers(0, 4, 5)
        size = int(draw.integers(1, 5))
        small = tuple((u, int(options[u])) for u in range(size))
        state = int(draw.integers(0, 4))
        if not problem.admit(state, small):
            refused += 1
            assert not problem.admit(state, (*small, (size, int(options[size]))))
    assert refused > 20
