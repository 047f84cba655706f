"""Motors straight on a three-phase supply: nothing converted, currents of the balanced circuit.

Three-phase power is root three times line volts, line amps and power factor (theory of circuits).
"""

import cmath
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from phasewright.files.shop_file import read_text
from phasewright.job.study import study
from phasewright.plan.facts import facts_of
from phasewright.ways.way import Draw

SHOP = """
phasewright: 1
shop: An invented hall
region: IEC
supply: {{kind: {kind}, voltage: 400 V, frequency: 50 Hz, service_rating: {service}{more}}}
machines:
  - name: Lathe
    have: owned
    hours_per_year: 200
    runs_with: [Saw]
    {starter}
    motors:
      - name: main
        plate: {{power: 2.2 kW, voltage: {volts}, current: {amps}, frequency: 50 Hz, speed: 1420 rpm}}
        load: {{kind: spindle}}
  - name: Saw
    have: owned
    hours_per_year: 100
    motors:
      - name: main
        plate: {{power: 4 kW, voltage: 400/690 V, frequency: 50 Hz, speed: 2860 rpm}}
        load: {{kind: saw}}
"""


def shop(kind="three_phase", service="32 A", more="", starter="starter: direct",
         volts="230/400 V", amps="8.6/5.0 A"):  # fmt: skip
    return read_text(
        SHOP.format(kind=kind, service=service, more=more, starter=starter, volts=volts, amps=amps)
    )


def direct(of, unit=0):
    return next(each for each in facts_of(of).judgements[unit] if each.way == "direct")


def test_it_runs_as_it_is_with_the_current_of_its_power():
    of = direct(shop())
    assert of.verdict in ("suits", "with_conditions")
    at = of.figures
    amps = at.input_power_w.number / (math.sqrt(3) * 400 * at.input_power_factor.number)
    assert at.input_current_a.expected.number == pytest.approx(amps, rel=1e-9)
    assert 2.0 < at.input_current_a.low <= at.input_current_a.high <= 5.3
    assert at.starting_current_a.number > 4 * 5.0 * (1 - at.voltage_dip_ratio.number)
    assert {part.kind for part in of.offers[0].items} == {"overload_relay"}


def test_a_starter_that_is_not_told_is_bought():
    of = direct(shop(starter="users: owner"))
    assert {part.kind for part in of.offers[0].items} == {"overload_relay", "contactor"}


def test_star_delta_starts_with_a_third():
    """Line current and torque of a winding in star are a third of those in delta."""
    dual = {"volts": "400/690 V", "amps": "5.0/2.9 A"}
    straight, star = direct(shop(**dual)), direct(shop(**dual, starter="starter: star_delta"))
    a, b = straight.figures.starting_current_a.number, star.figures.starting_current_a.number
    dip_a, dip_b = straight.figures.voltage_dip_ratio.number, star.figures.voltage_dip_ratio.number
    assert b / (1 - dip_b) == pytest.approx(a / (1 - dip_a) / 3, rel=1e-9)
    assert star.figures.starting_torque_ratio.number / (1 - dip_b) ** 2 == pytest.approx(
        straight.figures.starting_torque_ratio.number / (1 - dip_a) ** 2 / 3, rel=1e-9
    )
    assert dip_b < dip_a


def test_on_two_lines_of_the_same_volts_it_is_refused():
    assert direct(shop(kind="single_phase")).verdict == "refused"


def test_the_wrong_volts_are_refused():
    assert direct(shop(volts="230 V", amps="8.6 A")).verdict == "refused"


def test_the_plan_uses_the_three_lines_and_bounds_each_by_its_fuse():
    plan = study(shop()).to_dict()["plans"][0]
    assert plan["feasible"]
    assert {motor["way"] for motor in plan["motors"]} == {"direct"}
    relays = [part for buy in plan["buys"] for part in buy["parts"]]
    assert plan["purchase"] == pytest.approx(sum(part["price"] for part in relays))
    assert {part["kind"] for part in relays} == {"overload_relay", "contactor"}
    both = max(case["supply_current_a"] for case in plan["cases"])
    assert 6.0 < both < 14.0
    power = max(case["supply_power_w"] for case in plan["cases"])
    assert both >= power / (math.sqrt(3) * 400)


def test_a_contract_counts_root_three():
    """9 kVA are 13 A in each of three lines at 400 V, 22.5 A between two."""
    three = facts_of(shop(more=", contracted_power: 9 kVA")).site
    two = facts_of(shop(kind="single_phase", more=", contracted_power: 9 kVA")).site
    assert three.limit.current_a.number == pytest.approx(9000 / (math.sqrt(3) * 400))
    assert two.limit.current_a.number == pytest.approx(9000 / 400)
    assert three.apparent_va(three.limit.current_a.number) == pytest.approx(9000)


watts = st.floats(0, 2e4)


@settings(deadline=None, max_examples=60)
@given(watts, watts, watts, watts)
def test_the_fullest_line_is_that_of_the_phasors(p, q, balanced_w, balanced_var):
    """Line currents from phase voltages 120 degrees apart, summed as phasors line by line."""
    volts = 400.0
    phase = [cmath.rect(volts / math.sqrt(3), -2 * math.pi * k / 3) for k in range(3)]
    even = [(complex(balanced_w, balanced_var) / 3 / v).conjugate() for v in phase]
    between = (complex(p, q) / (phase[0] - phase[1])).conjugate()
    lines = [even[0] + between, even[1] - between, even[2]]
    draw = Draw(p + balanced_w, q + balanced_var, 0.0, balanced_w, balanced_var)
    assert draw.current_a(volts) == pytest.approx(max(map(abs, lines)), rel=1e-9, abs=1e-9)


def test_a_single_phase_pump_hangs_on_one_line_and_the_neutral():
    """5 A at 230 V in one line: between two lines of 400 V the same watts would be 2.9 A."""
    text = """
phasewright: 1
shop: An invented hall
region: IEC
supply: {kind: three_phase, voltage: 400 V, frequency: 50 Hz, service_rating: 32 A}
machines:
  - name: Pump
    have: owned
    hours_per_year: 50
    motors:
      - name: main
        plate: {power: 0.75 kW, voltage: 230 V, current: 5 A, frequency: 50 Hz, speed: 2850 rpm,
                phases: 1}
        load: {kind: pump}
"""
    of = direct(read_text(text))
    assert of.verdict == "with_conditions"
    assert {each.code for each in of.conditions} == {"between_line_and_neutral"}
    assert of.offers[0].service.demand.current_a(400.0) == pytest.approx(5.0, rel=0.01)
