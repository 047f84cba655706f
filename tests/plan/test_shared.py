"""Whatever a shop may share: every kind is weighed, none is known by name, none harms another."""

from __future__ import annotations

from dataclasses import replace

import pytest
from plan.example_choices import choice_of_example
from plan.random_shops import random_shop
from plan.test_plan_relations import no_worse, order

from phasewright.files.shop_file import read_text
from phasewright.job.study import study
from phasewright.plan.arrays import choice_of
from phasewright.plan.facts import facts_of
from phasewright.plan.search import solve
from phasewright.plan.terms import terms_of

SHOP = """
phasewright: 1
shop: An invented pair of rooms
region: IEC
supply: {kind: single_phase, voltage: 230 V, frequency: 50 Hz, service_rating: 63 A}
machines:
  - name: Lathe
    runs_with: [Saw]
    hours_per_year: 300
    idle_hours_per_year: 100
    motors:
      - name: main
        plate: {power: 1.5 kW, voltage: 230/400 V, frequency: 50 Hz, speed: 1420 rpm}
        load: {kind: spindle}
  - name: Saw
    hours_per_year: 100
    motors:
      - name: main
        plate: {power: 1.1 kW, voltage: 230/400 V, frequency: 50 Hz, speed: 2850 rpm}
        load: {kind: saw}
"""


@pytest.fixture(scope="module")
def choice():
    facts = facts_of(read_text(SHOP))
    return choice_of(facts, terms_of(facts.shop))


def test_every_kind_that_may_be_shared_is_a_state(choice):
    kinds = {state.kind for state in choice.states}
    assert kinds == {"none", "rotary_converter", "electronic_converter", "utility_service"}


def test_the_best_plan_of_every_kind_is_listed():
    plans = study(read_text(SHOP)).plans
    kinds = {plan.id.split("-")[0] for plan in plans}
    assert kinds == {"none", "rotary_converter", "electronic_converter", "utility_service"}


@pytest.mark.parametrize("seed", range(40))
def test_one_more_thing_to_share_never_makes_the_best_plan_worse(seed):
    whole = random_shop(seed)
    best = order(solve(whole.problem), whole)
    for one in range(len(whole.facts.shared)):
        left = tuple(each for k, each in enumerate(whole.facts.shared) if k != one)
        less = choice_of(replace(whole.facts, shared=left), whole.terms)
        assert no_worse(best, order(solve(less.problem), less)), (seed, one)


def test_random_shops_hold_every_kind():
    """So that the brute force over random shops meets each of them."""
    kinds = {one.way for seed in range(200) for one in random_shop(seed).facts.shared}
    assert kinds == {
        "shared_drive", "rotary_converter", "electronic_converter", "utility_service",
    }  # fmt: skip


def test_a_motor_hangs_on_a_thing_of_its_own_way_only(choice):
    for k, state in enumerate(choice.states):
        for column, option in enumerate(choice.options):
            if option.shared and option.way != state.way:
                assert not choice.admission(k, ((0, column),))
                assert choice.ledger.service(0, option, state) is None


def test_a_shared_thing_that_idles_for_nothing_has_one_state_for_all_habits(choice):
    habits = {unit.idle_hours_per_year for unit in choice.facts.units}
    assert len(habits) > 1
    states = [state for state in choice.states if state.way == "utility_service"]
    assert len(states) == 1
    assert states[0].idle_hours == max(habits)


@pytest.mark.parametrize("name", ["cider-barn", "furniture-shop"])
def test_in_every_state_more_that_turns_never_mends_a_refusal(name):
    """Every pair of motors on a shared thing against each of the two alone."""
    of = choice_of_example(name)
    refused = admitted = 0
    for k, state in enumerate(of.states):
        column = next((c for c, o in enumerate(of.options) if o.shared and o.way == state.way), -1)
        if column < 0:
            continue
        units = [u for u in range(len(of.facts.units)) if of.facts.shared[state.shared].serves(u)]
        for u in units:
            for v in (v for v in units if v > u):
                both = of.admission(k, ((u, column), (v, column)))
                alone = all(of.admission(k, ((each, column),)) for each in (u, v))
                assert both <= alone
                refused, admitted = refused + (not both), admitted + both
    assert admitted
