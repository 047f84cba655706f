"""An electronic three-phase source for a whole shop.

Relations between what it gives and takes (theory of circuits: three-phase power is root three
times line volts, line amps and power factor); its efficiency, standby and short-time current are
from memory and common practice, no source.
"""

import math

import pytest

from phasewright.files.shop_file import read_text
from phasewright.job.study import study
from phasewright.machines.performance import at_torque, locked, rated
from phasewright.plan.arrays import choice_of
from phasewright.plan.facts import facts_of
from phasewright.plan.terms import terms_of
from phasewright.ways.electronic_serve import serve
from phasewright.ways.electronic_source import ElectronicSource, plain_input_a
from phasewright.ways.way import Draw

SHOP = """
phasewright: 1
shop: An invented shed
region: IEC
supply: {{kind: {kind}, voltage: {volts}, frequency: 50 Hz, service_rating: {service}{more}}}
{owned}
machines:
  - name: Lathe
    have: owned
    hours_per_year: 200
    runs_with: [Saw]
    motors:
      - name: main
        plate: {{power: 2.2 kW, voltage: {plate}, current: {amps}, frequency: 50 Hz, speed: 1420 rpm}}
        load: {{kind: spindle}}
  - name: Saw
    have: owned
    hours_per_year: 100
    motors:
      - name: main
        plate: {{power: 1.5 kW, voltage: 230/400 V, frequency: 50 Hz, speed: 2860 rpm}}
        load: {{kind: saw}}
"""


def facts(kind="single_phase", volts="230 V", service="80 A", more="", plate="230/400 V",
          amps="8.6/5.0 A", owned=""):  # fmt: skip
    text = SHOP.format(
        kind=kind, volts=volts, service=service, more=more, plate=plate, amps=amps, owned=owned
    )
    return facts_of(read_text(text))


def judged(of, unit=0):
    return next(j for j in of.judgements[unit] if j.way == "electronic_converter")


def sources(of):
    return [one for one in of.shared if one.name == "electronic source"]


def source(watts):
    return ElectronicSource(facts().site.source, watts)


def test_power_taken_is_power_given_and_the_losses():
    for watts in (2200.0, 7500.0, 22000.0):
        of = source(watts)
        full = of.output_a * math.sqrt(3) * of.line_voltage_v
        assert of.takes(Draw()).power_w == pytest.approx(80.0)
        assert full / of.takes(Draw(full)).power_w == pytest.approx(0.94)
        shares = [0.1, 0.3, 0.6, 1.0]
        given = [share * full / of.takes(Draw(share * full)).power_w for share in shares]
        assert given == sorted(given)


def test_its_input_is_a_sine_in_phase_and_a_plain_rectifier_draws_more():
    of = judged(facts())
    at = of.figures
    amps = at.input_current_a
    whole = amps.expected.number * 230.0 * at.input_power_factor.number
    assert at.input_power_w.number == pytest.approx(whole, rel=1e-9)
    assert 0.99 < at.input_power_factor.number < 1.0
    assert amps.low < amps.expected.number < 0.85 * amps.high
    assert any(reason.code == "front_end" for reason in of.reasons)


def test_a_plain_rectifier_draws_no_less_than_its_watts_over_volts():
    supply = facts().site.source
    for watts in (500.0, 1500.0, 3000.0):
        assert plain_input_a(supply, 4000.0, watts) > watts / supply.voltage_v


def test_motors_get_three_equal_lines_so_all_of_their_plate_is_usable():
    of = facts()
    large = serve(of.units[0].task, of.site, source(15000.0))
    assert large.figures.usable_power_w.number == pytest.approx(2200.0, rel=0.02)
    circuit = of.units[0].motor.circuit_at(large.link)
    start = locked(circuit, 230.0, 50.0).shaft_torque_nm / rated(circuit).shaft_torque_nm
    assert large.figures.starting_torque_ratio.number == pytest.approx(start, rel=1e-9)


def test_its_efficiency_is_from_the_supply_to_the_shaft():
    """Thus of source and motor together, below that of either alone."""
    of = facts()
    served = serve(of.units[0].task, of.site, source(15000.0))
    circuit = of.units[0].motor.circuit_at(served.link)
    _, highest, _ = amps_of(of, 0)
    told = served.figures
    assert told.efficiency.number * told.input_power_w.number == pytest.approx(
        highest.shaft_power_w, rel=1e-9
    )
    assert told.efficiency.number < min(0.94, rated(circuit).efficiency)


def amps_of(of, unit):
    """(at standstill, at its highest load, at its usual one) of a motor's own circuit at 230 V."""
    motor = of.units[unit].motor
    link, _ = motor.link_at(230.0, 50.0)
    circuit = motor.circuit_at(link)
    load, nm = motor.load.running_torque, rated(circuit).shaft_torque_nm
    highest = load.number if load.sure else min(1.0, load.high)
    return (
        locked(circuit, 230.0, 50.0), at_torque(circuit, highest * nm, 230.0, 50.0),
        at_torque(circuit, load.number * nm, 230.0, 50.0),
    )  # fmt: skip


def test_a_start_straight_on_fits_its_short_time_current_or_a_ramp_is_asked_for():
    of = facts()
    seen = set()
    for one in sources(of):
        for unit in (0, 1):
            start, highest, _ = amps_of(of, unit)
            gives = one.rating * 1.5 / (math.sqrt(3) * 230.0)
            served = one.serves(unit)
            plate = of.units[unit].motor.full_load_current_a.number
            asks = max(plate, highest.current_a)
            assert (served is not None) == (asks <= gives), (one.rating, unit)
            if served is None:
                continue
            asked = {each.code for each in served.conditions}
            ramp = "start_by_ramp" in asked
            assert ramp == (start.current_a > 1.75 * gives)
            assert ("short_time_current" in asked) == (1.5 * gives < start.current_a and not ramp)
            seen.add(ramp)
    assert True in seen


def test_by_a_ramp_it_starts_with_no_more_than_its_highest_load_takes():
    figures = judged(facts()).figures
    assert any(each.code == "start_by_ramp" for each in judged(facts()).conditions)
    assert figures.starting_current_a.number <= figures.input_current_a.expected.number


def test_beside_others_one_may_start_by_a_ramp_and_the_rest_straight_on():
    """Amps of one starting while the other works, phasors added here."""
    of = facts(service="200 A")
    (start0, high0, use0), (start1, high1, use1) = amps_of(of, 0), amps_of(of, 1)

    def amps(one, other):
        watts = one.input_power_w + other.input_power_w
        return math.hypot(watts, one.reactive_power_var + other.reactive_power_var) / (
            math.sqrt(3) * 230.0
        )

    both = tuple(of.units[k].task for k in (0, 1))
    seen = set()
    for watts in (2200.0, 4000.0, 5500.0, 7500.0, 11000.0, 15000.0):
        one = ElectronicSource(of.site.source, watts)
        gives = watts * 1.5 / (math.sqrt(3) * 230.0)
        hard = sum(each > 1.75 * gives for each in (amps(start0, use1), amps(start1, use0)))
        deep = [one.start_dip(Draw(start.input_power_w))[1] > 0.15 for start in (start0, start1)]
        assert not any(deep)
        steady = max(amps(high0, use1), amps(use0, high1)) <= gives
        assert one(both).stands == (steady and hard <= 1), watts
        seen.add(one(both).stands)
    assert seen == {True, False}


def test_more_motors_on_it_take_more_and_never_mend_a_refusal():
    of = facts()
    one, two = of.units[0].task, of.units[1].task
    for each in sources(of):
        both, alone = each.turning((one, two)), each.turning((one,))
        assert both.draw.power_w > alone.draw.power_w
        assert both.stands <= alone.stands


def test_it_needs_a_supply_of_its_class():
    of = judged(facts(volts="120 V", plate="230/400 V"))
    assert of.reasons[0].code == "no_source_at_these_volts"
    assert not sources(facts(volts="120 V"))


def test_a_motor_for_400_volts_alone_is_refused_with_its_volts():
    of = facts(plate="400/690 V", amps="5.0/2.9 A")
    assert judged(of).reasons[0].code == "volts_too_low"
    assert not any(one.serves(0) for one in sources(of))


def test_a_service_without_room_refuses_it_and_a_tight_one_wants_a_sine():
    assert judged(facts(service="8 A")).reasons[0].code == "supply_too_small"
    of = judged(facts())
    between = 0.5 * (of.figures.input_current_a.expected.number + of.figures.input_current_a.high)
    tight = judged(facts(service=f"{between:.1f} A"))
    assert tight.verdict == "with_conditions"
    assert any(each.code == "sinusoidal_input" for each in tight.conditions)


def test_a_supply_with_little_surge_asks_for_a_ramp():
    """The supply gives 8.7 A for ever and 18.8 A for a while; a start straight on takes more."""
    surge = ", surge: {rating: 4.324 kVA, seconds: 5}"
    of = facts(kind="inverter", service="20 A", more=surge)
    assert of.site.surge_a == pytest.approx(18.8)
    start, _, _ = amps_of(of, 0)
    one = ElectronicSource(of.site.source, 15000.0, of.site.surge_a)
    assert start.current_a < one.short_time_a
    assert start.input_power_w / 230.0 > 18.8
    served = serve(of.units[0].task, of.site, one)
    assert any(each.code == "start_by_ramp" for each in served.conditions)
    assert served.figures.starting_current_a.number < 18.8


def test_an_owned_one_costs_nothing_to_buy():
    owned = "owned_parts:\n" + "".join(
        f"  - {{kind: electronic_converter, power: {kw} kW}}\n" for kw in (4, 22)
    )
    of = {one.rating: one for one in sources(facts(owned=owned))}
    assert [had.origin for had in of[4000.0].hads] == ["new", "owned"]
    new, mine = (sum(item.amount for item in had.items) for had in of[4000.0].hads)
    assert new == pytest.approx(900.0 + 330.0 * 4.0)  # illustrative, invented
    assert mine == 0.0
    assert [had.origin for had in of[22000.0].hads] == ["owned"]  # larger than asked, but there


def test_it_stands_in_plans_with_its_standby_its_words_and_its_cautions():
    shop = read_text(SHOP.format(
        kind="single_phase", volts="230 V", service="80 A", more="", plate="230/400 V",
        amps="8.6/5.0 A", owned="quotes:\n" + "".join(
            f"  - {{kind: electronic_converter, power: {kw} kW, price: 10}}\n"
            for kw in (2.2, 4, 5.5, 7.5, 11)
        ),
    ))  # fmt: skip
    of = study(shop)
    best = of.plans[0]
    assert best.id.startswith("electronic_converter")
    assert "electronic three-phase source" in best.title
    assert {each.way for each in best.equipment} == {"electronic_converter"}
    choice = choice_of(facts_of(shop), terms_of(shop))
    hours = max(unit.idle_hours_per_year for unit in choice.facts.units)
    assert best.idle_energy_per_year_kwh.number == pytest.approx(0.080 * hours)
    cautions = {each.code for each in of.answer.cautions}
    assert {"source_charge", "licensed_work", "moving_machines"} <= cautions
    assert "generated_line_live" not in cautions
    (case,) = best.cases
    assert case.unbalance.vuf.number == 0.0
    assert [volts.number for volts in case.line_voltages_v] == [230.0] * 3
