"""Relations that hold for the plans of random shops, whatever the figures."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from plan.random_shops import random_shop

from phasewright.plan.arrays import choice_of
from phasewright.plan.search import solve
from phasewright.quantities.value import exact

SEEDS = range(0, 120)


def order(plan, choice):
    """Fewest motors without power first, then money: what the search promises."""
    coming = choice.futures
    without = len(choice.options) - 1
    left = sum(a == without for a in plan.options) + sum(
        float(chance) * sum(a == without for a in later.options)
        for chance, later, epoch in zip(
            coming.probability, choice.later_in(plan), coming.epoch, strict=True
        )
        if coming.epoch_years[epoch] is not None
    )
    return left, plan.expected


def no_worse(one, other):
    """Whether the order `one` is no worse than `other`, to a thousandth of a cent."""
    if one[0] < other[0] - 1e-9:
        return True
    return one[0] < other[0] + 1e-9 and one[1] <= other[1] + 1e-5


def changed(choice, **facts):
    return choice_of(replace(choice.facts, **facts), choice.terms)


def test_a_way_less_is_never_cheaper():
    better = 0
    for seed in SEEDS:
        choice = random_shop(seed)
        best = order(solve(choice.problem), choice)
        for way in {option.way for option in choice.options if option.way}:
            allowed = np.array([[option.way != way for option in choice.options]]
                               * len(choice.facts.units))  # fmt: skip
            less = order(solve(choice.problem, allowed=allowed), choice)
            assert no_worse(best, less), (seed, way)
            better += not no_worse(less, best)
    assert better > 30


def test_a_converter_less_is_never_cheaper():
    better = 0
    for seed in SEEDS:
        choice = random_shop(seed)
        best = order(solve(choice.problem), choice)
        none = np.arange(len(choice.states)) == 0
        less = order(solve(choice.problem, states=none), choice)
        assert no_worse(best, less), seed
        better += not no_worse(less, best)
    assert better > 10


@pytest.mark.parametrize("kind", ["drive_per_motor", "isolator"])
def test_cheaper_things_never_make_the_best_plan_dearer(kind):
    better = 0
    for seed in SEEDS:
        choice = random_shop(seed)
        judged = tuple(
            tuple(
                replace(judgement, offers=tuple(
                    replace(offer, items=tuple(cheaper(item, kind) for item in offer.items))
                    for offer in judgement.offers
                ))
                for judgement in judgements
            )
            for judgements in choice.facts.judgements
        )  # fmt: skip
        other = changed(choice, judgements=judged)
        was, now = order(solve(choice.problem), choice), order(solve(other.problem), other)
        assert no_worse(now, was), seed
        better += not no_worse(was, now)
    assert better > 5


def cheaper(item, kind):
    if item.kind != kind:
        return item
    return replace(item, price=replace(item.price, amount=0.7 * item.price.amount))


def _quoted(on, price):
    """The same shared thing, bought new at another price."""
    had = on.hads[0]
    whole, *rest = had.items
    dear = replace(whole, price=replace(whole.price, amount=price))
    return replace(on, hads=(replace(had, items=(dear, *rest)), *on.hads[1:]))


def test_a_cheaper_quote_for_a_converter_never_makes_the_best_plan_dearer():
    """Quotes of the owner for the first converter, falling."""
    better = tried = 0
    for seed in SEEDS:
        choice = random_shop(seed)
        bought = [k for k, on in enumerate(choice.facts.shared) if on.hads[0].items]
        if not bought:
            continue
        tried += 1
        orders = []
        for price in (3000.0, 900.0, 250.0, 1.0):
            shared = list(choice.facts.shared)
            shared[bought[0]] = _quoted(shared[bought[0]], price)
            other = changed(choice, shared=tuple(shared))
            orders.append(order(solve(other.problem), other))
        for dear, cheap in pairwise(orders):
            assert no_worse(cheap, dear), (seed, orders)
        better += not no_worse(orders[0], orders[-1])
    assert tried > 60
    assert better > 10


def test_more_room_at_the_service_never_makes_the_best_plan_worse():
    better = 0
    for seed in SEEDS:
        choice = random_shop(seed)
        orders = []
        for amps in (10.0, 16.0, 25.0, 63.0):
            limit = replace(choice.facts.site.limit, current_a=exact(amps, "A", "stated", "drawn"))
            other = changed(choice, site=replace(choice.facts.site, limit=limit))
            orders.append(order(solve(other.problem), other))
        for tight, wide in pairwise(orders):
            assert no_worse(wide, tight), (seed, orders)
        better += not no_worse(orders[0], orders[-1])
    assert better > 10


def test_cheaper_energy_never_makes_the_best_plan_dearer():
    for seed in SEEDS:
        choice = random_shop(seed)
        orders = []
        for price in (0.8, 0.3, 0.0):
            terms = replace(choice.terms, energy=exact(price, "1/kWh", "stated", "drawn"))
            other = choice_of(choice.facts, terms, choice)
            orders.append(order(solve(other.problem), other))
        for dear, cheap in pairwise(orders):
            assert no_worse(cheap, dear), (seed, orders)


def test_the_order_of_the_units_changes_no_cost():
    for seed in SEEDS:
        choice = random_shop(seed)
        back = list(range(len(choice.facts.units)))[::-1]
        place = {old: new for new, old in enumerate(back)}
        facts = choice.facts
        other = changed(
            choice,
            units=tuple(facts.units[k] for k in back),
            judgements=tuple(facts.judgements[k] for k in back),
            shared=tuple(replace(on, served=tuple(on.served[k] for k in back))
                         for on in facts.shared),
            groups=tuple(frozenset(place[k] for k in group) for group in facts.groups),
        )  # fmt: skip
        one, two = order(solve(choice.problem), choice), order(solve(other.problem), other)
        assert one == pytest.approx(two, abs=1e-6), seed
