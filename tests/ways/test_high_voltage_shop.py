"""A shop whose motors want 400 V on a 230 V supply: no plan before, one now, never a dearer one.

Every figure is invented.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from phasewright.files.shop_file import read_text
from phasewright.plan.arrays import choice_of
from phasewright.plan.facts import Facts, facts_of
from phasewright.plan.problem import Solution
from phasewright.plan.search import solve
from phasewright.plan.terms import terms_of
from phasewright.quantities.codes import WayName
from phasewright.quantities.finding import Reason
from phasewright.shop.model import Shop
from phasewright.ways.way import refused

HIGH = """\
phasewright: 1
shop: Two machines from a three-phase town
region: IEC
supply: {kind: single_phase, voltage: 230 V, frequency: 50 Hz, service_rating: 63 A}
machines:
  - name: Lathe
    hours_per_year: 150
    motors:
      - name: spindle
        plate: {power: 3 kW, voltage: 380 V, current: 7.0 A, frequency: 50 Hz, speed: 1420 rpm,
                leads: 3, connection: Y, year: 1958}
        load: {kind: spindle}
  - name: Mill
    hours_per_year: 120
    starter: two_speed_switch
    motors:
      - name: spindle
        plate: {power: 1.5/2.2 kW, voltage: 400 V, current: 3.9/4.9 A, frequency: 50 Hz,
                speed: 1420/2840 rpm, leads: 6, connection: D/YY}
        load: {kind: spindle}
"""


def shop() -> Shop:
    return read_text(HIGH)


def best(facts: Facts, barred: set[WayName]) -> Solution:
    """The best plan where some ways are refused to every motor."""
    judgements = tuple(
        tuple(
            refused(each.way, Reason("barred", "Left out by this test."))
            if each.way in barred else each
            for each in of_unit
        )
        for of_unit in facts.judgements
    )  # fmt: skip
    shared = tuple(one for one in facts.shared if one.way not in barred)
    left = replace(facts, judgements=judgements, shared=shared)
    return solve(choice_of(left, terms_of(facts.shop)).problem)


@pytest.fixture(scope="module")
def facts() -> Facts:
    return facts_of(shop())


def test_stepping_up_or_swapping_each_serve_the_shop(facts):
    without = best(facts, {"step_up_drive", "motor_swap", "shared_drive", "electronic_converter",
                           "utility_service"})  # fmt: skip
    assert not without.serves_all
    assert best(facts, {"motor_swap"}).serves_all
    assert best(facts, {"step_up_drive"}).serves_all


def test_one_more_way_never_makes_the_best_plan_dearer(facts):
    both = best(facts, set()).expected
    assert both <= best(facts, {"motor_swap"}).expected + 1e-9
    assert both <= best(facts, {"step_up_drive"}).expected + 1e-9


def test_a_transformer_left_on_costs_its_idle_hours(facts):
    """Energy of the idle habit: the transformer's watts times the idle hours, by hand."""
    text = HIGH.replace("hours_per_year: 150", "hours_per_year: 150\n    idle_hours_per_year: 200")
    idle = facts_of(read_text(text))
    found = []
    for each in (facts, idle):
        terms = terms_of(each.shop)
        choice = choice_of(each, terms)
        state = choice.states[0]
        option = next(o for o in choice.options if o.way == "step_up_drive" and o.offer == 1)
        found.append(choice.ledger.unit_kwh(0, option, state))
    habit = facts.units[0].idle_hours_per_year
    offer = next(j for j in facts.judgements[0] if j.way == "step_up_drive").offers[1]
    assert offer.idle_power_w > 50.0
    assert found[1] - found[0] == pytest.approx(offer.idle_power_w * (200.0 - habit) / 1000.0)
