"""Motors that are more than plain cage motors, judged by every way that computes one.

What each kind can run on: common practice, no source. Two-speed windings: rated torque up to the
end of full flux and rated power from there on (motor theory).
"""

import pytest

from phasewright.files.shop_file import read_text
from phasewright.network.impedance import supply_impedance
from phasewright.plan.facts import motors_of
from phasewright.plan.units import units_of
from phasewright.ways.catalogue import CATALOGUE
from phasewright.ways.site_of import site_of

SHOP = """
phasewright: 1
shop: An invented shop
region: IEC
supply: {{kind: single_phase, voltage: {volts} V, frequency: 50 Hz, service_rating: 80 A}}
machines:
  - name: M
    have: owned
    hours_per_year: 100
    {machine}
    motors:
      - {{name: main, plate: {{frequency: 50 Hz, {plate}}}, load: {{kind: spindle}}}}
"""
COMPUTED = ("drive_per_motor", "rotary_converter", "static_converter", "capacitor_run")
PLAIN = "power: 0.75 kW, voltage: 230/400 V, speed: 1420 rpm"
CONSTANT_TORQUE = "power: 1.5/2.2 kW, voltage: 230 V, speed: 1420/2840 rpm, connection: D/YY"
CONSTANT_POWER = "power: 2.0/2.2 kW, voltage: 230 V, speed: 1420/2840 rpm, connection: YY/D"


def judged(plate, way, machine="", volts=230):
    of = read_text(SHOP.format(plate=plate, machine=machine, volts=volts))
    site = site_of(of, supply_impedance(of.supply, of.region))
    (unit,) = units_of(of, {motor.id: motor for motor in motors_of(of)})
    return next(each for each in CATALOGUE if way == each.NAME).judge(unit.task, site)


def codes(reasons):
    return {reason.code for reason in reasons}


@pytest.mark.parametrize(
    ("kind", "drive", "rotary", "lone"),
    [
        ("slip_ring", "with_conditions", "with_conditions", "refused"),
        ("hermetic", "refused", "with_conditions", "refused"),
        ("submersible", "with_conditions", "with_conditions", "refused"),
        ("torque", "refused", "refused", "refused"),
        ("dc", "refused", "refused", "refused"),
        ("commutator", "refused", "refused", "refused"),
    ],
)
def test_a_kind_of_motor_is_told_by_its_own_name_in_every_way(kind, drive, rotary, lone):
    for way, verdict in zip(COMPUTED, (drive, rotary, lone, lone), strict=True):
        of = judged(f"{PLAIN}, kind: {kind}", way)
        assert of.verdict == verdict, way
        told = of.reasons if verdict == "refused" else of.conditions
        assert f"motor_kind_{kind}" in codes(told), way


@pytest.mark.parametrize("way", COMPUTED)
def test_a_plain_motor_hears_nothing_of_kinds(way):
    of = judged(PLAIN, way)
    assert not any(code.startswith("motor_kind") for code in codes(of.reasons + of.conditions))


@pytest.mark.parametrize("way", [*COMPUTED, "step_up_drive"])
def test_a_capacitor_motor_runs_directly_and_on_nothing_else(way):
    plate = "power: 1.1 kW, voltage: 230 V, current: 7 A, speed: 1420 rpm, capacitor: true"
    of = judged(f"{plate}, phases: 1", way)
    assert of.verdict == "refused"
    assert "motor_kind_capacitor" in codes(of.reasons)


@pytest.mark.parametrize("way", COMPUTED)
def test_a_brake_coil_is_asked_for_once_and_not_where_it_has_its_own_two_lines(way):
    spring = "brake: {{kind: spring_electric, coil: 180 V{fed}}}"
    told = judged(PLAIN, way, spring.format(fed=""))
    said = [each for each in told.conditions + told.reasons if "Feed the brake coil" in each.words]
    if told.verdict != "refused":
        assert len(said) == 1
        assert "180 V" in said[0].words
    fed = judged(PLAIN, way, spring.format(fed=", fed_from: two lines"))
    assert not any("Feed the brake coil" in each.words for each in fed.conditions + fed.reasons)


@pytest.mark.parametrize(
    ("plate", "poles", "power_w"), [(CONSTANT_TORQUE, 2, 2200.0), (CONSTANT_POWER, 4, 2000.0)]
)
def test_a_drive_feeds_the_winding_that_loses_least(plate, poles, power_w):
    """Torque left at the other speed, from rated torque, full flux and rated power alone.

    D/YY: 10.1 N m low, 7.4 N m high; the low winding at 100 Hz keeps half of 10.1 (68 % of 7.4),
    the high one at 25 Hz all of 7.4 (73 % of 10.1): the high one. YY/D: 13.4 and 7.4 N m; the low
    one keeps 6.7 (91 %), the high one 7.4 (55 %): the low one.
    """
    of = judged(plate, "drive_per_motor")
    assert of.verdict == "with_conditions"
    assert {"motor_kind_two_speed", "drive_winding"} <= codes(of.conditions)
    assert of.figures.usable_power_w.number == pytest.approx(power_w, rel=1e-6)
    assert of.figures.base_frequency_hz.number == pytest.approx(50.0, rel=1e-3)
    name = "high" if poles == 2 else "low"
    assert f"wired for good to the {name} speed" in " ".join(each.words for each in of.conditions)


def test_a_drive_that_steps_up_feeds_the_winding_that_loses_least():
    of = judged(CONSTANT_POWER.replace("230 V", "400 V"), "step_up_drive")
    assert "drive_winding" in codes(of.conditions)
    assert of.figures.usable_power_w.number == pytest.approx(2000.0, rel=1e-6)
