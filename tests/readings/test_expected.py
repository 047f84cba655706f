"""The readings of whole shops: they are the plan's own figures, in order, each within its bounds."""

import math
from functools import cache
from pathlib import Path

import pytest

from phasewright.files.shop_file import read, read_text
from phasewright.job.study import study

pytestmark = pytest.mark.whole
EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
SHOPS = sorted(path.name for path in EXAMPLES.glob("*.shop.yaml"))
THREE_LEADS = """
phasewright: 1
shop: Invented yard
region: IEC
supply: {kind: single_phase, earthed: line_2, voltage: 230 V, frequency: 50 Hz, service_rating: 60 A}
machines:
  - name: Saw
    motors:
      - name: main
        plate: {power: 1.1 kW, voltage: 230 V, current: 4.7 A, frequency: 50 Hz, speed: 1420 rpm,
                leads: 3, winding_resistance: 4.4 ohm}
        load: {kind: saw}
"""


@cache
def whole(name):
    return study(read(EXAMPLES / name), quick=True)


def chosen(of):
    return next(plan for plan in of.plans if plan.id == of.answer.plan)


@pytest.mark.parametrize("name", SHOPS)
def test_every_reading_lies_within_its_bounds_and_in_the_order_of_the_work(name):
    found = chosen(whole(name)).readings_expected
    assert found
    assert [each.step for each in found] == sorted(each.step for each in found)
    assert found[0].code == "earth_continuity"
    for each in found:
        assert each.low <= each.value.number <= each.high
        assert each.unit == each.value.unit
        assert each.between
        assert each.state
        assert each.words_if_not


@pytest.mark.parametrize("name", SHOPS)
def test_the_plans_that_are_not_the_answer_have_none(name):
    of = whole(name)
    assert all(each.readings_expected is None for each in of.plans if each is not chosen(of))


def test_on_a_converter_they_are_the_figures_of_the_plan():
    plan = chosen(whole("cider-barn.shop.yaml"))
    hung = [each for each in plan.motors if each.way == "rotary_converter"]
    assert len(hung) >= 2
    for motor in hung:
        volts, amps = motor.figures.line_voltages_v, motor.figures.line_currents_a
        assert numbers(plan, "line_volts", "converter", 7) == pytest.approx(volts.idle, rel=1e-6)
        assert numbers(plan, "line_volts", motor.motor, 12) == pytest.approx(volts.loaded, rel=1e-6)
        assert numbers(plan, "line_amps", motor.motor, 12) == pytest.approx(amps.motor, rel=1e-6)
        free = numbers(plan, "supply_amps", motor.motor, 10)
        assert free[0] < numbers(plan, "supply_amps", motor.motor, 12)[0]


def numbers(plan, code, subject, step):
    return tuple(
        each.value.number
        for each in plan.readings_expected
        if (each.code, each.subject, each.step) == (code, subject, step)
    )


def test_a_bank_is_discharged_by_the_law_of_its_resistor():
    plan = chosen(whole("cider-barn.shop.yaml"))
    left = [each for each in plan.readings_expected if each.code == "capacitor_discharge"]
    assert left
    for each in left:
        circuit = next(one for one in plan.circuits if one.id == each.subject)
        seconds = circuit.discharge_ohm.number * circuit.capacitance_f.number
        volts = math.sqrt(2.0) * circuit.voltage_v.number * math.exp(-60.0 / seconds)
        assert each.value.number == pytest.approx(volts, rel=1e-6)
        assert each.limit


def test_ohms_that_were_measured_between_two_leads_come_back():
    plan = chosen(study(read_text(THREE_LEADS), quick=True))
    (ohms,) = [each for each in plan.readings_expected if each.code == "winding_ohms"]
    assert ohms.low < 4.4 < ohms.high
    assert ohms.value.number == pytest.approx(4.4, rel=0.1)
