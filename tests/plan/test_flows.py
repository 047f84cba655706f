"""Dated payments of every listed plan: they add up to the cost the search found, kind by kind."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from plan.example_choices import EXAMPLES, choice_of_example, example, facts_of_example
from plan.random_shops import random_shop

from phasewright.plan.arrays import choice_of
from phasewright.plan.built import buys_of
from phasewright.plan.facts import facts_anew
from phasewright.plan.flows import entries_in, lifetime_cost, outcomes_of, years_of
from phasewright.plan.listed import listed_plans
from phasewright.plan.sums import purchase
from phasewright.plan.terms import terms_of
from phasewright.plan.worlds import USUAL

SEEDS = range(0, 200, 4)


def every_listed():
    """(choice, plan) of random shops and of the examples."""
    for seed in SEEDS:
        choice = random_shop(seed)
        for listed in listed_plans(choice):
            yield choice, listed.plan
    for name in EXAMPLES:
        choice = choice_of_example(name)
        for listed in listed_plans(choice):
            yield choice, listed.plan


def test_worth_of_the_payments_is_the_cost_the_search_found():
    compared = 0
    for choice, plan in every_listed():
        chances = choice.futures.probability
        worth = [
            choice.ledger.worth(entries_in(choice, plan, future)) for future in range(chances.size)
        ]
        for number, cost in enumerate(plan.per_future):
            of = [future for future, seen in enumerate(choice.seen) if seen == number]
            mean = sum(chances[f] * worth[f] for f in of) / sum(chances[f] for f in of)
            assert mean == pytest.approx(cost, abs=1e-6)
            compared += 1
        assert plan.expected == pytest.approx(float(chances @ worth), abs=1e-6)
    assert compared > 200


def test_the_years_hold_every_payment_by_kind():
    for choice, plan in every_listed():
        years = years_of(choice, outcomes_of(choice, plan))
        assert [row.year for row in years] == list(range(math.ceil(choice.terms.years) + 1))
        wanted = dict.fromkeys(("buys", "energy", "upkeep", "labour"), 0.0)
        for future, chance in enumerate(choice.futures.probability):
            for entry in entries_in(choice, plan, future):
                wanted[entry.kind] += chance * entry.payment.amount
        for kind, amount in wanted.items():
            assert sum(getattr(row, kind) for row in years) == pytest.approx(amount, abs=1e-6)


def test_years_without_discount_add_up_to_the_expected_cost():
    compared = 0
    for choice, plan in every_listed():
        if choice.terms.rate:
            continue
        rows = years_of(choice, outcomes_of(choice, plan))
        whole = sum(row.buys + row.energy + row.upkeep + row.labour for row in rows)
        assert whole == pytest.approx(plan.expected, abs=1e-6)
        compared += 1
    assert compared > 20


def test_nothing_is_paid_before_today_or_after_the_plan():
    for choice, plan in every_listed():
        for future in range(choice.futures.probability.size):
            for entry in entries_in(choice, plan, future):
                assert 0.0 <= entry.payment.year <= choice.terms.years + 1e-9


@pytest.mark.parametrize("name", EXAMPLES)
def test_purchase_is_what_is_bought_today(name):
    """By the lines of the bill and by the dated payments of year 0 that are certain."""
    choice = choice_of_example(name)
    for listed in listed_plans(choice):
        buys = buys_of(choice, listed.plan)
        today = [buy for buy in buys if buy.year == 0]
        told = purchase(choice, listed.plan, buys)
        assert told.number == pytest.approx(sum(buy.price for buy in today))
        assert told.number == pytest.approx(sum(part.price for buy in today for part in buy.parts))
        for future, world in enumerate(choice.futures.worlds):
            if world.prices != USUAL:
                continue
            paid = sum(
                entry.payment.amount
                for entry in entries_in(choice, listed.plan, future)
                if entry.kind == "buys" and entry.payment.year == 0.0
            )
            assert paid == pytest.approx(told.number, abs=1e-6)


def test_the_range_of_the_cost_holds_the_cost():
    for seed in SEEDS:
        choice = random_shop(seed)
        for listed in listed_plans(choice):
            cost = lifetime_cost(outcomes_of(choice, listed.plan))
            assert cost.low - 1e-6 <= listed.plan.expected <= cost.high + 1e-6


def test_what_an_uncertain_machine_will_want_is_not_bought_today():
    """Even where it may come at once: only a machine that is there is bought for today."""
    shop = example("cider-barn")
    machines = tuple(
        replace(machine, year=0.0) if machine.have == "planned" else machine
        for machine in shop.machines
    )
    choice = choice_of(facts_of_example("cider-barn"), terms_of(shop))
    facts = facts_anew(choice.facts, replace(shop, machines=machines))
    choice = choice_of(facts, terms_of(shop))
    coming = {unit.id for unit in facts.units if not unit.now}
    assert coming
    named = 0
    for listed in listed_plans(choice):
        for buy in buys_of(choice, listed.plan):
            if not coming.isdisjoint(buy.serves):
                assert buy.year >= 1
                named += 1
    assert named
