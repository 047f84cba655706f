"""The best expected cost bends one way only in a machine's chance and in the price of energy.

Every plan's cost is a straight line in either, so the best of them all is concave: halfway between two
values it costs at least the mean of both. (A relation that must hold; no source.)
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from plan.random_shops import random_shop

from phasewright.plan.arrays import choice_of
from phasewright.plan.search import solve
from phasewright.quantities.value import exact

SEEDS = range(0, 200)
TOL = 1e-6


def worth(plan, problem):
    """Expected cost with the penalty of every motor left without power: what is made least."""
    return plan.expected + problem.penalty * (plan.unserved_now + plan.unserved_later)


def best(choice, terms=None, units=None):
    facts = choice.facts if units is None else replace(choice.facts, units=units)
    again = choice_of(facts, terms or choice.terms, choice)
    plan = solve(again.problem)
    assert plan.proven
    return worth(plan, again.problem)


def test_concave_in_the_price_of_energy_and_rising_with_it():
    bent = 0
    for seed in SEEDS:
        choice = random_shop(seed)
        costs = []
        for price in (0.0, 0.3, 0.6, 0.9, 1.2):
            energy = exact(price, "1/kWh", "stated", "drawn")
            costs.append(best(choice, replace(choice.terms, energy=energy)))
        for low, middle, high in zip(costs, costs[1:], costs[2:], strict=False):
            assert low <= middle + TOL, seed
            assert middle <= high + TOL, seed
            assert middle >= 0.5 * (low + high) - TOL, seed
            bent += middle > 0.5 * (low + high) + 0.01
    assert bent > 5


def with_chance(choice, machine, chance):
    return tuple(
        replace(unit, chance=chance) if unit.machine == machine else unit
        for unit in choice.facts.units
    )


def test_concave_in_the_chance_of_a_machine():
    compared = bent = 0
    for seed in SEEDS:
        choice = random_shop(seed)
        coming = sorted({unit.machine for unit in choice.facts.units if 0.0 < unit.chance < 1.0})
        for machine in coming[:1]:
            if choice.futures.reduced:
                continue
            low, middle, high = (
                best(choice, units=with_chance(choice, machine, chance))
                for chance in (0.1, 0.5, 0.9)
            )
            assert middle >= 0.5 * (low + high) - TOL, seed
            compared += 1
            bent += middle > 0.5 * (low + high) + 0.01
    assert compared > 20
    assert bent > 1


@pytest.mark.parametrize("year", [0.0, 1.0, 2.5])
def test_a_likelier_machine_never_makes_the_shop_cheaper(year):
    """One machine may come, none else: whatever is done then, it has to be powered as well."""
    compared = 0
    for seed in SEEDS:
        choice = random_shop(seed)
        coming = sorted({unit.machine for unit in choice.facts.units if 0.0 < unit.chance < 1.0})
        if not coming:
            continue
        units = tuple(
            replace(unit, chance=0.5, year=year)
            if unit.machine == coming[0]
            else replace(unit, chance=1.0, year=0.0)
            for unit in choice.facts.units
        )
        of = replace(choice, facts=replace(choice.facts, units=units))
        costs = [best(of, units=with_chance(of, coming[0], chance)) for chance in (0.1, 0.5, 0.9)]
        for less, more in pairwise(costs):
            assert less <= more + TOL, seed
        compared += 1
    assert compared > 5
