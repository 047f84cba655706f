"""Relations between a shop and a shop that differs in one thing, over arbitrary shops."""

from __future__ import annotations

import copy
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from invariants.shops import shop_of, shops
from invariants.test_any_shop import same, some

from phasewright.network.supply import Source
from phasewright.plan.answer import answer
from phasewright.plan.arrays import Choice, choice_of
from phasewright.plan.currents import running_sets
from phasewright.plan.facts import Facts, facts_of
from phasewright.plan.listed import listed_plans
from phasewright.plan.terms import terms_of
from phasewright.quantities.errors import NoOperatingPoint
from phasewright.running.converter import on_converter
from phasewright.running.network import Between, Network
from phasewright.running.settle import locked, settle
from phasewright.ways.conditions import typical_ratio
from phasewright.ways.on_two_lines import Linked, linked
from phasewright.ways.shared_source import Shared
from phasewright.ways.turning_on_converter import at_most


def facts_in(tree: dict[str, Any]) -> Facts:
    return facts_of(shop_of(tree))


def choice_in(tree: dict[str, Any]) -> Choice:
    shop = shop_of(tree)
    return choice_of(facts_of(shop), terms_of(shop))


def rotary(facts: Facts) -> list[Shared]:
    return [one for one in facts.shared if one.way == "rotary_converter"]


def hung(facts: Facts) -> list[tuple[Any, int, Linked]]:
    """(converter, unit, motor) of everything that may hang on a converter here."""
    found = []
    for on in rotary(facts):
        for unit, of in enumerate(facts.units):
            motor = linked(of.motor)
            if on.serves(unit) is not None and isinstance(motor, Linked):
                found.append((on.turning.converter, unit, motor))
    return found


@some(10)
@given(tree=shops(2, 2))
def test_power_in_is_power_out_and_losses_in_every_case_of_every_plan(tree: Any) -> None:
    choice = choice_in(tree)
    source = choice.facts.site.source
    for listed in listed_plans(choice):
        for running in running_sets(choice, listed.plan):
            shared = tuple(u for u, option in running if choice.options[option].shared)
            if not shared:
                continue
            turning = choice.admission.turning(listed.plan.state, shared)
            assert turning is not None
            assert choice.admission.draw(listed.plan.state, running).power_w >= (
                turning.draw.power_w - 1e-6
            )
            on = choice.facts.shared[choice.states[listed.plan.state].shared]
            if on.way != "rotary_converter":
                continue
            motors = [linked(choice.facts.units[unit].motor) for unit in shared]
            network = on_converter(source, on.turning.converter, at_most(motors))
            again = settle(network)
            assert again.supply_power_w == pytest.approx(turning.draw.power_w, rel=1e-9)
            shaft = sum(machine.shaft_power_w for machine in again.machines)
            lost = sum(machine.loss_w for machine in again.machines)
            assert again.supply_power_w == pytest.approx(shaft + lost + again.resistive_loads_w)
            for machine in again.machines:
                largest = max(machine.line_currents_a)
                rest = sum(machine.line_currents_a) - largest
                assert largest <= rest * (1 + 1e-9) + 1e-12


@some(10)
@given(tree=shops(2, 2))
def test_more_load_on_the_same_things_never_takes_less_power(tree: Any) -> None:
    facts = facts_in(tree)
    for judgements in facts.judgements:
        for judgement in judgements:
            for offer in judgement.offers:
                rising(offer.service)
    for on in facts.shared:
        for unit in range(len(facts.units)):
            served = on.serves(unit)
            if served is not None:
                rising(served.service)
    for converter, _, motor in hung(facts)[:4]:
        powers = []
        for torque in (0.0, 0.2, 0.4, 0.6):
            try:
                point = settle(
                    on_converter(facts.site.source, converter, (motor.connected(torque),))
                )
            except NoOperatingPoint:
                break
            powers.append(point.supply_power_w)
        assert powers == sorted(powers)


def rising(service: Any) -> None:
    assert service.unloaded.power_w <= service.typical.power_w * (1 + 1e-9)
    assert service.typical.power_w <= service.demand.power_w * (1 + 1e-9)


@some(10)
@given(tree=shops(2, 2), share=st.floats(0.1, 0.9))
def test_a_stiffer_supply_never_worsens_a_start_or_a_dip(tree: Any, share: float) -> None:
    facts = facts_in(tree)
    source = facts.site.source
    stiff = replace(
        source,
        resistance_ohm=share * source.resistance_ohm,
        reactance_ohm=share * source.reactance_ohm,
    )
    for converter, _, motor in hung(facts)[:6]:
        soft_start, soft_dip = standstill(source, converter, motor)
        torque, dip = standstill(stiff, converter, motor)
        assert torque >= soft_start * (1 - 1e-6)
        assert dip <= soft_dip + 1e-9


def standstill(source: Source, converter: Any, motor: Linked) -> tuple[float, float]:
    """(torque at standstill, dip) of a motor on a running converter."""
    network = on_converter(source, converter, (motor.connected(typical_ratio(motor.load)),))
    held = locked(network, motor.motor.id)
    mine = next(each for each in held.machines if each.name == motor.motor.id)
    return mine.shaft_torque_nm, 1.0 - held.line_voltages_v[0] / source.voltage_v


@some(8)
@given(tree=shops(2, 2))
def test_exchanging_lines_one_and_two_changes_nothing(tree: Any) -> None:
    """With the capacitors' roles and the rotation exchanged too."""
    facts = facts_in(tree)
    for converter, _, motor in hung(facts)[:4]:
        network = on_converter(
            facts.site.source, converter, (motor.connected(typical_ratio(motor.load)),)
        )
        run = network.capacitance_f
        mirror = Network(
            network.source, Between(run.c12, run.c31, run.c23),
            tuple(replace(machine, reversed=True) for machine in network.machines),
        )  # fmt: skip
        one, two = settle(network), settle(mirror)
        v12, v23, v31 = one.line_voltages_v
        assert two.line_voltages_v == pytest.approx((v12, v31, v23), rel=1e-7)
        assert two.supply_power_w == pytest.approx(one.supply_power_w, rel=1e-7)


def without(tree: dict[str, Any], name: str) -> dict[str, Any]:
    """The same shop as if this machine had never been thought of."""
    out = copy.deepcopy(tree)
    out["machines"] = [machine for machine in out["machines"] if machine["name"] != name]
    for machine in out["machines"]:
        machine["runs_with"] = [other for other in machine.get("runs_with", []) if other != name]
    return out


def study(tree: dict[str, Any]) -> dict[str, Any]:
    return answer(shop_of(tree), quick=True).to_dict()


@some(6)
@given(tree=shops(3, 2))
def test_a_machine_that_never_comes_is_no_machine(tree: Any) -> None:
    name = "Never"
    more = copy.deepcopy(tree)
    extra = copy.deepcopy(tree["machines"][0])
    extra.update({"name": name, "have": "planned", "chance": 0.0, "year": 1,
                  "runs_with": [tree["machines"][0]["name"]]})  # fmt: skip
    more["machines"].append(extra)
    one, two = study(more), study(without(more, name))
    assert one["plans"] == two["plans"]
    assert one["answer"] == two["answer"]
    assert one["supply"] == two["supply"]
    motors = [motor for motor in one["motors"] if not motor["id"].startswith("Never/")]
    assert motors == two["motors"]


@some(6)
@given(tree=shops(3, 2))
def test_a_machine_sure_to_come_today_is_owned(tree: Any) -> None:
    sure = copy.deepcopy(tree)
    sure["machines"][0] |= {"have": "planned", "chance": 1.0, "year": 0}
    one, two = study(sure), study(tree)
    same(one["plans"], two["plans"])
    same(one["answer"], two["answer"])
    same(one["motors"], two["motors"])
