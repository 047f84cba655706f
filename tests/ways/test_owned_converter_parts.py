"""What an owner already has for a rotary converter: idlers, capacitors, relays, resistors."""

from __future__ import annotations

from dataclasses import replace

import pytest

from phasewright.files.shop_file import read_text
from phasewright.network.impedance import supply_impedance
from phasewright.plan.facts import facts_of
from phasewright.quantities.value import exact
from phasewright.shop.model import OwnedPart
from phasewright.ways.converter_design import design
from phasewright.ways.converter_here import shared
from phasewright.ways.converter_parts import least_volts, ways_to_have
from phasewright.ways.converter_serve import starts_too_hard
from phasewright.ways.idlers import Idler, circuit_of, idlers_of, owned_idlers, pair_for
from phasewright.ways.shared_source import Work
from phasewright.ways.shelf import leg_of
from phasewright.ways.site_of import site_of

SHOP = """
phasewright: 1
shop: An invented shop with things on the shelf
region: IEC
supply: {{kind: single_phase, voltage: 230 V, frequency: 50 Hz, service_rating: 63 A,
         loop_impedance: {ohm} ohm}}
machines:
  - name: Mill
    hours_per_year: 300
    motors:
      - name: main
        plate: {{power: 2.2 kW, voltage: 230/400 V, frequency: 50 Hz, speed: 1430 rpm}}
        load: {{kind: spindle}}
{parts}"""


def shop(*parts, ohm=0.3):
    rows = "".join(f"  - {{{part}}}\n" for part in parts)
    rows = f"owned_parts:\n{rows}" if parts else ""
    return read_text(SHOP.format(parts=rows, ohm=ohm))


def site(*parts, ohm=0.3):
    of = shop(*parts, ohm=ohm)
    return site_of(of, supply_impedance(of.supply, of.region))


def self_built(here, *powers, poles=4):
    of = design(here.source, tuple(Idler(power, poles) for power in powers), ())
    return of, [had for had in ways_to_have(here, of) if had.owned_item is not None]


def test_an_idler_of_both_volts_is_used_and_costs_nothing():
    here = site("kind: idler_motor, power: 4 kW, voltage: 230/400 V, leads: 6")
    (had,) = self_built(here, 4000.0)[1]
    motor = had.items[0]
    assert (motor.kind, motor.amount) == ("idler_motor", 0.0)
    assert "you own" in had.words


@pytest.mark.parametrize(("volts", "leads"), [("400 V", 3), ("400/690 V", 6), ("230/400 V", 3)])
def test_an_idler_that_cannot_be_linked_for_the_supply_is_refused_with_its_reason(volts, leads):
    part = f"kind: idler_motor, power: 4 kW, voltage: {volts}, leads: {leads}"
    here = site(part)
    found, told = owned_idlers(here)
    assert found == ()
    (reason,) = told
    assert reason.code == "owned_idler_volts"
    assert "4 kW" in reason.words
    assert not self_built(here, 4000.0)[1]
    judged = facts_of(shop(part)).judgements[0]
    rotary = next(each for each in judged if each.way == "rotary_converter")
    assert reason in rotary.reasons


def test_an_idler_without_volts_is_used_and_the_plate_is_asked_for():
    found, told = owned_idlers(site("kind: idler_motor, power: 4 kW"))
    assert len(found) == 1
    assert [each.code for each in told] == ["owned_idler_volts_not_known"]


def test_poles_come_from_the_speed_and_age_from_the_year():
    part = "kind: idler_motor, power: 3 kW, voltage: 230/400 V, speed: 955 rpm, year: 1962"
    ((one,), _) = owned_idlers(site(part))
    assert one.idler == Idler(3000.0, 6, 1962)
    here = site(part)
    assert circuit_of(here.source, one.idler).synchronous_speed_rpm == pytest.approx(1000.0)
    _, told = owned_idlers(site("kind: idler_motor, power: 3 kW, speed: 1700 rpm"))
    assert "owned_idler_speed" in {each.code for each in told}


def test_an_old_six_pole_idler_asks_for_other_capacitors_than_a_new_four_pole_one():
    """More poles, more magnetising current: a larger bank balances it."""
    here = site()
    four, six = (design(here.source, (Idler(3000.0, poles),), ()) for poles in (4, 6))
    assert six.converter.run_f.c31 > four.converter.run_f.c31


def test_it_is_not_weighed_where_an_electrician_wires():
    here = replace(site("kind: idler_motor, power: 4 kW"), wiring_by_owner=False)
    found, told = owned_idlers(here)
    assert not found
    assert [each.code for each in told] == ["owned_idler_not_built"]


def test_an_owned_idler_is_tried_whatever_its_size():
    facts = facts_of(shop("kind: idler_motor, power: 7.5 kW, voltage: 230/400 V"))
    hads = [had for one in facts.shared if one.rating == 7500.0 for had in one.hads]
    assert any(had.owned_item is not None for had in hads)


# capacitors


def run_cans(had):
    return [each for each in had.items if each.kind.startswith("run_capacitor")]


def test_owned_cans_are_used_one_by_one_where_their_volts_are_enough():
    here = site("kind: run_capacitor, capacitance: 30 uF, voltage: 450 V, count: 3")
    of = design(here.source, (Idler(4000.0),), ())
    had = next(had for had in ways_to_have(here, of) if had.origin == "self_built")
    owned = [each for each in run_cans(had) if each.price.origin == "owned"]
    assert 1 <= len(owned) <= 3
    assert all(each.rating == pytest.approx(30e-6) for each in owned)
    whole = sum(each.rating * each.quantity for each in run_cans(had))
    run = of.converter.run_f
    assert whole == pytest.approx(run.c23 + run.c31, rel=0.02)


def test_volts_are_judged_by_the_line_that_stands_highest_idling():
    """1.1 times the highest line volts at idle (common practice)."""
    here = site()
    of = design(here.source, (Idler(4000.0),), ())
    needed = 1.1 * max(of.idle.line_voltages_v)
    assert least_volts(of) == pytest.approx(needed)

    def owned_with(volts):
        part = OwnedPart(
            kind="run_capacitor", capacitance=exact(30e-6, "F", "stated", "test"), count=4,
            voltage=() if volts is None else (exact(volts, "V", "stated", "test"),),
        )  # fmt: skip
        hads = ways_to_have(replace(here, owned=(part,)), of)
        had = next(had for had in hads if had.origin == "self_built")
        return [each for each in run_cans(had) if each.price.origin == "owned"]

    assert owned_with(needed + 0.1)
    assert not owned_with(needed - 0.1)
    assert not owned_with(None)


def test_cans_left_on_the_shelf_are_told():
    part = "kind: run_capacitor, capacitance: 30 uF, voltage: 250 V, count: 3"
    facts = facts_of(shop(part))
    told = [
        finding
        for one in facts.shared
        if one.way == "rotary_converter"
        for finding in one.findings
        if finding.rule == "capacitor.owned_volts"
    ]
    assert told
    assert all(each.severity == "info" and "250 V" in each.words for each in told)


def test_a_leg_of_owned_cans_comes_near_the_tuned_one():
    tuned = (50e-6, 16e-6)
    for shelf in ([30e-6, 30e-6], [33e-6], [66e-6], [100e-6], [10e-6] * 8, []):
        leg = leg_of(tuned, shelf)
        assert sum(leg.owned_f) + sum(leg.bought_f) == pytest.approx(66e-6, rel=0.0201)
        assert len(leg.bought_f) <= 2
    assert leg_of(tuned, [66e-6]).bought_f == ()
    assert leg_of(tuned, [100e-6]).owned_f == ()


def test_owned_start_capacitor_relay_and_contactor_are_taken():
    here = site(
        "kind: start_capacitor, capacitance: 250 uF, voltage: 330 V",
        "kind: contactor, current: 25 A",
        "kind: overload_relay, current: 12/18 A",
        "kind: drop_out_relay",
    )
    of = design(here.source, (Idler(4000.0),), ())
    had = next(had for had in ways_to_have(here, of) if had.origin == "self_built")
    owned = {each.kind for each in had.items if each.price.origin == "owned"}
    assert {"contactor", "drop_out_relay"} <= owned
    amps = of.converter.idler.rated_current_a
    assert ("overload_relay" in owned) == (12.0 <= amps <= 18.0)
    start = of.converter.start_f
    assert ("start_capacitor" in owned) == (0.98 * start <= 250e-6 <= 1.25 * start)


def test_a_start_resistor_of_the_owners_must_keep_the_dip():
    soft = site(ohm=1.2)
    of = design(soft.source, (Idler(5500.0),), ())
    assert of.start.resistor_ohm > 0.0

    def owned_with(ohm):
        part = OwnedPart(kind="start_resistor", resistance=exact(ohm, "ohm", "stated", "test"))
        hads = ways_to_have(replace(soft, owned=(part,)), of)
        had = next(had for had in hads if had.origin == "self_built")
        (resistor,) = [each for each in had.items if each.kind == "start_resistor"]
        return resistor.price.origin == "owned"

    assert owned_with(of.start.resistor_ohm)
    assert not owned_with(0.02 * of.start.resistor_ohm)


# several idlers


def test_two_owned_idlers_are_tried_alone_and_together():
    here = site("kind: idler_motor, power: 2.2 kW, voltage: 230/400 V, count: 2")
    tried = idlers_of(here)
    small = Idler(2200.0)
    assert (small,) in tried
    assert (small, small) in tried
    of, (had,) = self_built(here, 2200.0, 2200.0)
    motors = [each for each in had.items if each.kind == "idler_motor"]
    assert [each.amount for each in motors] == [0.0, 0.0]
    contactors = [each for each in had.items if each.kind == "contactor"]
    assert len(contactors) == 2
    assert of.converter.idler_power_w == 4400.0


TOGETHER = """
phasewright: 1
shop: An invented row of saws
region: IEC
supply: {kind: single_phase, voltage: 230 V, frequency: 50 Hz, service_rating: 63 A,
         loop_impedance: 0.4 ohm}
machines:
"""


def saws(count):
    rows = TOGETHER
    names = [f"Saw {k}" for k in range(count)]
    for name in names:
        rows += f"""
  - name: {name}
    hours_per_year: 100
    runs_with: [{", ".join(other for other in names if other != name)}]
    motors:
      - name: main
        plate: {{power: 0.55 kW, voltage: 230/400 V, frequency: 50 Hz, speed: 1400 rpm}}
        load: {{kind: spindle, torque: 0.9}}
"""
    return facts_of(read_text(rows))


def test_two_idlers_are_bought_where_the_start_of_one_is_too_hard():
    facts = saws(4)
    work = Work(tuple(unit.task for unit in facts.units), facts.groups)
    one = design(facts.site.source, (Idler(2200.0),), ())
    pair = design(facts.site.source, (Idler(1100.0), Idler(1100.0)), ())
    assert pair.start.supply_a < one.start.supply_a
    between = 0.5 * (pair.start.supply_a + one.start.supply_a)
    weak = replace(facts.site, surge_a=between)
    assert starts_too_hard(weak, one)
    assert not starts_too_hard(weak, pair)
    built = [of for of in shared(weak, work) if len(of.design.idlers) == 2]
    assert built
    for of in built:
        (had,) = of.hads
        assert had.origin == "self_built"
        assert "in 2 idlers" in had.words
    usual = [of for of in shared(facts.site, work) if len(of.design.idlers) == 2]
    assert not usual
    hired = replace(weak, wiring_by_owner=False)
    assert not [of for of in shared(hired, work) if len(of.design.idlers) == 2]


def test_no_pair_of_idlers_is_taken_for_what_is_no_single_one_of_the_market():
    here = site()
    assert pair_for(here, (Idler(1100.0),)) is None
    assert pair_for(here, (Idler(3000.0, 6),)) is None
    assert pair_for(here, (Idler(3000.0), Idler(3000.0))) is None
    assert pair_for(here, (Idler(7500.0),)) == (Idler(4000.0), Idler(4000.0))
