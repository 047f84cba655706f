"""A drive that steps up, or a transformer before it: relations that must hold, and the trade's rules.

Sources beside each check. Every shop and figure here is invented.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from judgements import codes, offer_named

from phasewright.electronics.rectifier import Bridge, settle_bridge
from phasewright.files.shop_file import read_text
from phasewright.machines.circuit import Circuit
from phasewright.machines.standard import standard_motor
from phasewright.network.supply import Source
from phasewright.plan.facts import facts_of
from phasewright.quantities.errors import TableEnds
from phasewright.tables.drives import choke_resistance_ohm
from phasewright.tables.sizes import DRIVE_400_OUTPUT_A, STEP_UP_DRIVE_OUTPUT_A
from phasewright.tables.stepping_up import (
    boost_efficiency,
    secondary_volts,
    transformer,
    transformer_for,
    transformer_margin,
)
from phasewright.ways.chokes import usual
from phasewright.ways.doubling import doubled_duty
from phasewright.ways.drive_duty import duty_of
from phasewright.ways.stepping_up import boosted_duty, transformed_duty, transformer_of
from phasewright.ways.way import Judgement

SOURCE = Source(230.0, 0.30, 0.20, 50.0)
INSIDE, BEFORE = "a drive that steps up inside", "a step-up transformer before a drive"

SHOP = """\
phasewright: 1
shop: High volts
region: {region}
supply: {{kind: single_phase, voltage: {supply}, frequency: {hertz}, service_rating: {service}}}
machines:
  - name: Machine
    motors:
      - name: motor
        plate: {plate}
        load: {{kind: {kind}}}
"""


def judged(
    plate: str, way: str = "step_up_drive", *, region: str = "IEC", supply: str = "230 V",
    hertz: str = "50 Hz", service: str = "63 A", kind: str = "spindle",
) -> Judgement:  # fmt: skip
    text = SHOP.format(
        region=region, supply=supply, hertz=hertz, service=service, plate=plate, kind=kind
    )
    facts = facts_of(read_text(text))
    return next(each for each in facts.judgements[0] if each.way == way)


def plate(volts: float, amps: float, power: float = 2.2, extra: str = "") -> str:
    return (
        f"{{power: {power} kW, voltage: {volts} V, current: {amps} A, frequency: 50 Hz, "
        f"speed: 1425 rpm, power_factor: 0.80, leads: 3, connection: Y{extra}}}"
    )


def motor(power_w: float = 2200.0) -> Circuit:
    return standard_motor(power_w, 400.0, 50.0, 4, 1990)


# the drive that raises the volts inside


def test_a_boosted_drive_takes_what_a_plain_one_takes_and_the_loss_of_its_stage():
    plain = duty_of(SOURCE, motor(), 2200.0, typical=0.5, demand=1.0, choke=None, room_a=40.0)
    boosted = boosted_duty(SOURCE, motor(), 2200.0, typical=0.5, demand=1.0, room_a=40.0)
    stage = boost_efficiency()
    assert boosted.input_power_w.number == pytest.approx(
        plain.input_power_w.number / stage.number, rel=0.01
    )
    assert boosted.input_current_a.number > plain.input_current_a.number
    assert boosted.efficiency.number < plain.efficiency.number


@given(st.floats(0.1, 0.6), st.floats(0.05, 0.4), st.floats(600.0, 2500.0))
@settings(deadline=None, max_examples=12)
def test_scaling_impedance_and_capacitor_scales_the_current(resistance, reactance, power_w):
    """k times the power on Z and kC draws k times what the power draws on kZ and C: the relation
    that the boost stage's loss is carried through the bridge by (linear network, constant drops)."""
    k = 1.0 / boost_efficiency().number
    c = 400e-9 * power_w
    true = settle_bridge(
        Bridge(
            Source(230.0, resistance, reactance, 50.0), k * c, k * power_w, diode_resistance_ohm=0.0
        )
    )
    behind = settle_bridge(
        Bridge(
            Source(230.0, k * resistance, k * reactance, 50.0), c, power_w, diode_resistance_ohm=0.0
        )
    )
    assert true.current_a == pytest.approx(k * behind.current_a, rel=1e-3)


def test_a_doubler_takes_what_a_bridge_of_the_same_capacitor_takes():
    """Second opinion: a doubler with two capacitors of C, stepped through time, against the
    bridge with one of C at the same power (the claim of `ways.stepping_up`)."""
    power_w, capacitance, steps = 2000.0, 1000e-6, 20000
    source = Source(230.0, 0.40, 0.25, 50.0)
    inductance = source.reactance_ohm / (2.0 * math.pi * 50.0)
    dt = 0.02 / steps
    upper = lower = 310.0
    current, squares = 0.0, 0.0
    periods = 40
    for _ in range(periods):
        squares = 0.0
        for n in range(steps):
            volts = math.sqrt(2.0) * 230.0 * math.sin(2.0 * math.pi * n / steps)
            # one diode a half wave: upper charges on the positive one, lower on the negative
            if current > 0.0 or (current == 0.0 and volts > upper + 0.9):
                slope = volts - upper - 0.9 - source.resistance_ohm * current
                current = max(0.0, current + slope / inductance * dt)
            elif current < 0.0 or volts < -lower - 0.9:
                slope = volts + lower + 0.9 - source.resistance_ohm * current
                current = min(0.0, current + slope / inductance * dt)
            drawn = power_w / (upper + lower)
            upper += (max(0.0, current) - drawn) / capacitance * dt
            lower += (max(0.0, -current) - drawn) / capacitance * dt
            squares += current * current
    doubler_a = math.sqrt(squares / steps)
    bridge = settle_bridge(Bridge(source, capacitance, power_w))
    assert doubler_a == pytest.approx(bridge.current_a, rel=0.02)


def test_a_doubled_link_takes_and_ripples_as_two_capacitors_stepped_through_time():
    """Second opinion: a doubler on 120 V with two capacitors of four times those of an ordinary
    drive, stepped through time, against `ways.doubling` (amps, mean and lowest volts of the link)."""
    source, of = Source(120.0, 0.20, 0.10, 60.0), standard_motor(550.0, 230.0, 60.0, 4, 1990)
    duty = doubled_duty(source, of, 750.0, typical=0.5, demand=1.0, room_a=40.0)
    assert duty.side is not None
    assert duty.side.link_v is not None
    power_w, each_f = duty.side.link.power_w.number, 2.0 * duty.side.link.capacitance_f.number
    inductance = source.reactance_ohm / (2.0 * math.pi * 60.0) + duty.side.link.ac_choke_h.number
    resistance = source.resistance_ohm + choke_resistance_ohm(duty.side.link.ac_choke_h.number)
    steps = 20000
    dt = 1.0 / 60.0 / steps
    upper = lower = 165.0
    current, squares, link = 0.0, 0.0, []
    for _ in range(40):
        squares, link = 0.0, []
        for n in range(steps):
            volts = math.sqrt(2.0) * 120.0 * math.sin(2.0 * math.pi * n / steps)
            if current > 0.0 or (current == 0.0 and volts > upper + 0.9):
                slope = volts - upper - 0.9 - resistance * current
                current = max(0.0, current + slope / inductance * dt)
            elif current < 0.0 or volts < -lower - 0.9:
                slope = volts + lower + 0.9 - resistance * current
                current = min(0.0, current + slope / inductance * dt)
            drawn = power_w / (upper + lower)
            upper += (max(0.0, current) - drawn) / each_f * dt
            lower += (max(0.0, -current) - drawn) / each_f * dt
            squares += current * current
            link.append(upper + lower)
    told = duty.side.link_v
    assert duty.input_current_a.number == pytest.approx(math.sqrt(squares / steps), rel=0.01)
    assert told.mean.number == pytest.approx(sum(link) / steps, rel=0.01)
    assert told.lowest.number == pytest.approx(min(link), rel=0.01)
    assert told.ripple.number == pytest.approx(max(link) - min(link), rel=0.05)


def test_at_half_the_volts_the_same_watts_take_twice_the_amps_and_a_little_more():
    of = standard_motor(550.0, 230.0, 60.0, 4, 1990)
    low = doubled_duty(Source(120.0, 0.2, 0.1, 60.0), of, 750.0,
                       typical=0.5, demand=1.0, room_a=40.0)  # fmt: skip
    high = duty_of(Source(240.0, 0.8, 0.4, 60.0), of, 750.0,
                   typical=0.5, demand=1.0, choke=low.choke, room_a=20.0)  # fmt: skip
    # one diode's drop at half the volts weighs as much as two at the whole
    assert low.input_current_a.number == pytest.approx(2.0 * high.input_current_a.number, rel=0.02)
    assert low.input_power_w.number == pytest.approx(high.input_power_w.number, rel=0.01)
    assert low.demand.current_a(120.0) == pytest.approx(low.input_current_a.number, rel=0.03)


def test_the_lowest_current_is_that_of_a_sine():
    duty = boosted_duty(SOURCE, motor(), 2200.0, typical=0.5, demand=1.0, room_a=40.0)
    least = duty.input_power_w.low / 230.0
    assert least < duty.input_current_a.low < 1.05 * least


# the transformer before a drive


def test_a_transformer_adds_its_loss_and_smooths_the_current():
    of = transformer_of(SOURCE, motor(), 5500.0, 1.0, three_phase_type=False)
    behind = transformed_duty(
        SOURCE, of, motor(), 5500.0, typical=0.5, demand=1.0, room_a=60.0, secondary_v=400.0,
        three_phase_type=False,
    )  # fmt: skip
    bare = duty_of(SOURCE, motor(), 5500.0, typical=0.5, demand=1.0, choke=usual(), room_a=60.0)
    lost = behind.input_power_w.number - bare.input_power_w.number
    assert of.idle_power_w().number < lost < 0.10 * of.rating_va
    assert behind.unloaded.power_w > bare.unloaded.power_w + of.idle_power_w().number - 1.0
    assert behind.efficiency.number < bare.efficiency.number


@given(st.floats(300.0, 20e3))
@settings(deadline=None, max_examples=40)
def test_a_transformer_has_its_margin(passing_va):
    """1.25 to 1.5 times what passes (common practice, no source)."""
    of = transformer_for(passing_va)
    margin = transformer_margin()
    assert of.rating_va >= margin.number * passing_va * (1.0 - 1e-9)
    assert (margin.low, margin.high) == (1.25, 1.5)


def test_inrush_and_idle_loss_of_a_5_kva_transformer():
    """10 to 20 times rated current; 1 to 2 % for ever (common practice, no source)."""
    of = transformer(5000.0)
    rated_a = 5000.0 / 230.0
    assert of.inrush_a(230.0).low == pytest.approx(10.0 * rated_a)
    assert of.inrush_a(230.0).high == pytest.approx(20.0 * rated_a)
    assert (of.idle_power_w().low, of.idle_power_w().high) == pytest.approx((50.0, 100.0))


def test_no_transformer_beyond_the_table():
    with pytest.raises(TableEnds):
        transformer_for(40e3)
    with pytest.raises(TableEnds):
        secondary_volts("IEC", 690.0)


# whole judgements


def test_a_star_only_motor_gets_both_variants():
    found = judged(plate(400, 4.9))
    assert found.verdict == "with_conditions"
    assert [offer.words for offer in found.offers] == [INSIDE, BEFORE]
    inside, before = (found.figures_of(offer) for offer in found.offers)
    for figures in (inside, before):
        assert figures.base_frequency_hz.number == pytest.approx(50.0)
        assert figures.usable_power_w.number == pytest.approx(2200.0, rel=1e-3)
        assert figures.drive_rating_a.number >= 4.9
    assert before.idle_power_w.number > inside.idle_power_w.number + 20.0
    assert before.price.number > inside.price.number
    assert {"secondary_centre_earthed", "own_residual_current_device", "inrush"} <= codes(found)


def test_the_drive_behind_the_transformer_gives_half_of_its_amps():
    """A drive made for three-phase input gives half on one phase (common practice, no source)."""
    found = judged(plate(400, 4.9))
    figures = found.figures_of(offer_named(found, BEFORE))
    assert figures.drive_rating_a.number * 2.0 in DRIVE_400_OUTPUT_A


def test_380_volts_reach_full_flux_above_the_plates_hertz():
    """A 380 V winding on 400 V: 52.6 Hz (volts per hertz)."""
    found = judged(plate(380, 7.0, 3.0))
    assert found.figures.base_frequency_hz.number == pytest.approx(50.0 * 400.0 / 380.0)


def test_a_motor_for_the_low_voltage_needs_no_stepping_up():
    dual = (
        "{power: 2.2 kW, voltage: 230/400 V, current: 8.5/4.9 A, frequency: 50 Hz, "
        "speed: 1425 rpm, leads: 6}"
    )
    found = judged(dual)
    assert found.verdict == "refused"
    assert codes(found) == {"low_voltage_link"}


def test_a_motor_larger_than_any_step_up_drive_is_left_to_the_transformer():
    found = judged(plate(400, 11.0, 5.5), service="100 A")
    assert max(STEP_UP_DRIVE_OUTPUT_A) < 11.0
    assert [offer.words for offer in found.offers] == [BEFORE]
    assert "no_drive_fits" in codes(found)


def test_an_outlet_of_15_amperes_does_not_carry_it():
    """A 400 V lathe of 3.7 kW draws 22 to 31 A: refused on 15 A, told what it could give."""
    found = judged(plate(400, 7.6, 3.7), service="15 A")
    assert found.verdict == "refused"
    assert "supply_too_small" in codes(found)
    assert "could give about" in " ".join(reason.words for reason in found.reasons)
    current = found.figures.input_current_a
    assert current.high > 22.0
    assert current.low < 31.0


def test_a_two_speed_winding_keeps_its_switch_only_interlocked():
    two = (
        "{power: 1.5/2.2 kW, voltage: 400 V, current: 3.9/4.9 A, frequency: 50 Hz, "
        "speed: 1420/2840 rpm, leads: 6, connection: D/YY}"
    )
    found = judged(two)
    assert found.offers
    assert "two_speed_winding" in codes(found)


def test_460_volts_ask_for_the_transformer_and_no_autotransformer():
    """NFPA 70 (NEC) 210.9: no branch circuit from an autotransformer in a garage shop."""
    nec = (
        "{power: 3 hp, voltage: 460 V, current: 4.8 A, frequency: 60 Hz, speed: 1750 rpm, "
        "leads: 3, connection: Y}"
    )
    found = judged(nec, region="NEC", supply="240 V", hertz="60 Hz", service="100 A")
    assert [offer.words for offer in found.offers] == [BEFORE]
    assert found.figures.base_frequency_hz.number == pytest.approx(60.0 * 480.0 / 460.0)
    words = next(r.words for r in found.conditions if r.code == "no_autotransformer")
    assert "210.9" in words


def test_an_old_winding_gets_a_short_lead():
    assert "old_winding" in codes(judged(plate(400, 4.9, extra=", year: 1958")))
    assert "old_winding" not in codes(judged(plate(400, 4.9, extra=", year: 2001")))


def test_a_quoted_price_replaces_the_curve():
    text = SHOP.format(
        region="IEC", supply="230 V", hertz="50 Hz", service="63 A", plate=plate(400, 4.9),
        kind="spindle",
    )  # fmt: skip
    quoted = text + "quotes:\n  - {kind: step_up_drive, power: 2.2 kW, price: 411}\n"
    facts = facts_of(read_text(quoted))
    found = next(each for each in facts.judgements[0] if each.way == "step_up_drive")
    items = offer_named(found, INSIDE).items
    assert next(item.amount for item in items if item.kind == "step_up_drive") == 411.0


def test_a_stiffer_supply_moves_nothing_but_the_input():
    weak = boosted_duty(SOURCE, motor(), 2200.0, typical=0.5, demand=1.0, room_a=40.0)
    stiff = boosted_duty(
        replace(SOURCE, resistance_ohm=0.1, reactance_ohm=0.1), motor(), 2200.0,
        typical=0.5, demand=1.0, room_a=40.0,
    )  # fmt: skip
    assert stiff.output_current_a.number == weak.output_current_a.number
    assert stiff.input_current_a.number != weak.input_current_a.number


OWNED = "the transformer you own before a drive"


def with_owned(part: str) -> Judgement:
    text = SHOP.format(
        region="IEC", supply="230 V", hertz="50 Hz", service="63 A", plate=plate(400, 4.9),
        kind="spindle",
    )  # fmt: skip
    facts = facts_of(read_text(text + f"owned_parts:\n  - {{kind: transformer, {part}}}\n"))
    return next(each for each in facts.judgements[0] if each.way == "step_up_drive")


def test_an_owned_isolating_transformer_costs_nothing_and_is_had_once():
    found = with_owned("rating: 8 kVA, voltage: 230/400 V, isolating: true")
    owned, new = offer_named(found, OWNED), offer_named(found, BEFORE)
    assert owned.owned_item == 0
    saved = next(item.amount for item in new.items if item.kind == "isolating_transformer")
    assert saved > 0.0
    owned_price, new_price = (found.figures_of(offer).price.number for offer in (owned, new))
    breakers = [
        next(item.amount for item in offer.items if item.kind == "breaker_two_pole")
        for offer in (owned, new)
    ]
    assert new_price - owned_price == pytest.approx(saved + breakers[1] - breakers[0])


@pytest.mark.parametrize(
    "part",
    [
        "rating: 8 kVA, voltage: 230/400 V, isolating: false",
        "rating: 8 kVA, voltage: 230/400 V",
        "rating: 2 kVA, voltage: 230/400 V, isolating: true",
        "rating: 8 kVA, voltage: 110/230 V, isolating: true",
    ],
)
def test_an_owned_transformer_that_does_not_fit_is_left_alone(part):
    assert OWNED not in [offer.words for offer in with_owned(part).offers]


def test_an_owned_transformer_beyond_the_tables_is_told():
    found = with_owned("rating: 63 kVA, voltage: 230/400 V, isolating: true")
    assert "owned_transformer_not_judged" in codes(found)
