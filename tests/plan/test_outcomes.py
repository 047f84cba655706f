"""What wins where, on the examples: outcomes, not inputs (common practice, no source).

One small machine and no plans: a drive. Three machines with five motors used one at a time and
more to come: a converter, a mix or shared equipment, and it says why. Close calls say so.
"""

from __future__ import annotations

import pytest
from plan.example_choices import EXAMPLES, choice_of_example, facts_of_example, study_of_example
from plan.test_turning import BUSY

from phasewright.electronics.drive import motor_efficiency_on_drive
from phasewright.files.shop_file import read_text
from phasewright.machines.performance import at_torque, rated
from phasewright.plan.answer import answer
from phasewright.tables.drives import drive_efficiency
from phasewright.ways.conditions import typical_ratio


def best(study):
    return next(plan for plan in study.plans if plan.id == study.answer.plan)


def ways(plan):
    return {motor.way for motor in plan.motors}


def number(of):
    return getattr(of, "number", of)


def test_one_small_machine_gets_a_drive():
    plan = best(study_of_example("pottery"))
    assert ways(plan) == {"drive_per_motor"}
    assert plan.feasible


def test_a_barn_of_machines_used_one_at_a_time_gets_a_converter_a_mix_or_something_shared():
    study = study_of_example("cider-barn")
    plan = best(study)
    assert plan.feasible
    assert len(plan.motors) == 5
    assert ways(plan) != {"drive_per_motor"}
    assert ways(plan) & {"rotary_converter", "shared_drive", "electronic_converter"}
    others = [each for each in study.plans if each.feasible and ways(each) == {"drive_per_motor"}]
    assert others, "drives throughout are listed to compare with"
    assert number(others[0].lifetime_cost.expected) > number(plan.lifetime_cost.expected)
    said = " ".join(reason.words for reason in study.answer.reasons).lower()
    assert "drive" in said
    assert len(said) > 60


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_close_call_says_so(name):
    """A plan with other ways within a tenth of the whole cost is named, a farther one is not."""
    says_close(study_of_example(name))


def says_close(study):
    kinds = {}
    for plan in study.plans:
        if plan.feasible:
            kind = tuple((motor.motor, motor.way) for motor in plan.motors)
            kinds.setdefault(kind, number(plan.lifetime_cost.expected))
    own = tuple((motor.motor, motor.way) for motor in best(study).motors)
    first = kinds.pop(own)
    close = any(cost - first <= 0.10 * abs(first) for cost in kinds.values())
    assert ("It is close" in study.answer.headline) == close, (first, kinds)
    assert any(reason.code == "close" for reason in study.answer.reasons) == close


def test_in_between_they_are_close_and_it_says_so():
    """Three machines with four small motors: shared and private within a quarter of each other;
    that a gap below a tenth is called close is tried on every shop.

    With energy at 0.25 a kWh the self-built converter is ahead by 338 of 1287 (a quarter and a
    little): 1118 against 466 to buy, 98 against 66 of energy a year. At 0.40 the idler's loss
    costs 0.6 times 32, thus 19 a year more, or about 160 over ten years, which halves its lead.
    """
    text = BUSY.replace("tariff: {energy: 0.25}", "tariff: {energy: 0.40}")
    assert text != BUSY
    study = answer(read_text(text), quick=True)
    shared = [plan for plan in study.plans if plan.feasible and "rotary_converter" in ways(plan)]
    private = [plan for plan in study.plans if plan.feasible and plan not in shared]
    one = min(number(plan.lifetime_cost.expected) for plan in shared)
    other = min(number(plan.lifetime_cost.expected) for plan in private)
    assert abs(one - other) <= 0.25 * min(one, other)
    says_close(study)


def test_a_loaded_converter_is_about_90_per_cent_efficient():
    """Motors that load their converter well: between a half and its whole idler power."""
    found = []
    for name in EXAMPLES:
        facts = facts_of_example(name)
        for on in (one for one in facts.shared if one.way == "rotary_converter"):
            for unit, of in enumerate(facts.units):
                served = on.serves(unit)
                share = of.motor.power_w.number / on.rating
                if served is not None and 0.5 <= share <= 1.0:
                    found.append(served.figures.efficiency_loaded.number)
    assert len(found) >= 5
    assert 0.86 <= min(found) <= max(found) <= 0.95, sorted(found)


@pytest.mark.parametrize("name", EXAMPLES)
def test_idling_is_pure_loss_and_is_priced(name):
    """Every plan with a converter or source that idles pays for the idle kilowatt-hours."""
    study, choice = study_of_example(name), choice_of_example(name)
    priced = 0
    for plan in study.plans:
        idle = number(plan.idle_energy_per_year_kwh)
        idles = ("rotary_converter", "electronic_converter")
        assert (idle > 0.0) == any(each.way in idles for each in plan.equipment)
        if idle > 0.0:
            priced += 1
            assert number(plan.energy_per_year) >= idle * choice.terms.energy.number
    assert priced


def test_a_drive_above_two_kilowatts_loses_less_than_a_twentieth():
    """What the motor takes at its usual torque over what the drive draws, choke and bridge too.

    The drive by itself gives 95 % and more; its bridge and the choke before it take up to
    1.5 % more, which is shown here as the sum it is.
    """
    seen = 0
    for name in EXAMPLES:
        facts = facts_of_example(name)
        for unit, judgements in zip(facts.units, facts.judgements, strict=True):
            power, load = unit.motor.power_w, unit.motor.load
            drive = next(j for j in judgements if j.way == "drive_per_motor")
            if power.number < 2000.0 or not drive.offers:
                continue
            circuit = unit.motor.circuit_at(drive.link)
            torque = typical_ratio(load) * rated(circuit).shaft_torque_nm
            point = at_torque(circuit, torque)
            own = motor_efficiency_on_drive(point.shaft_power_w / point.input_power_w).number
            taken = point.shaft_power_w / own
            drawn = drive.offers[0].service.typical.power_w
            drive_alone = drive_efficiency(drive.figures.drive_rating_w.number).number
            assert drive_alone >= 0.95
            assert drive_alone - 0.015 <= taken / drawn < 1.0, (unit.id, taken, drawn)
            seen += 1
    assert seen >= 3
