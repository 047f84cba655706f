"""Inertia from a wheel's size and from a run-up: textbook mechanics and relations that hold."""

import math

import pytest
from plates import motor, plate

from phasewright.files.shop_file import read_text
from phasewright.machines.inertia import (
    at_motor_shaft,
    ring_inertia_kg_m2,
    run_up_inertia,
    wheel_inertia,
)
from phasewright.quantities.errors import ShopFileError
from phasewright.quantities.value import exact, spread
from phasewright.shop.machine import Load, Wheel

MILL = plate(power=2200, voltage=(230, 400), current=(8.7, 5.0), frequency=50, speed=1420, leads=6)
ROTOR = spread(0.007, 0.004, 0.012, "kg m2", "assumed")


def metres(number):
    return exact(number, "m", "measured")


def wheel(**facts):
    return Wheel(**{"diameter": metres(0.6), "width": metres(0.05), "material": "iron", **facts})


def test_a_disc_is_half_its_mass_times_the_radius_squared():
    """m R^2 / 2 and the thin rim's m R^2: any textbook of mechanics."""
    mass = 7200 * math.pi * 0.3**2 * 0.05
    assert ring_inertia_kg_m2(0.6, 0.05, 7200) == pytest.approx(mass * 0.3**2 / 2)


def test_a_thin_rim_is_its_mass_times_the_radius_squared():
    mass = 7200 * math.pi * (0.3**2 - 0.2999**2) * 0.05
    assert ring_inertia_kg_m2(0.6, 0.05, 7200, 0.0001) == pytest.approx(mass * 0.3**2, rel=1e-3)


def test_a_rim_as_thick_as_the_radius_is_the_disc_and_a_thicker_one_is_none():
    assert ring_inertia_kg_m2(0.6, 0.05, 7200, 0.3) == pytest.approx(
        ring_inertia_kg_m2(0.6, 0.05, 7200)
    )
    with pytest.raises(ValueError, match="thicker"):
        ring_inertia_kg_m2(0.6, 0.05, 7200, 0.31)


def test_geared_down_the_energy_of_motion_stays():
    felt = at_motor_shaft(3.0, 500, 1500)
    assert felt * 1500**2 == pytest.approx(3.0 * 500**2)


def test_two_wheels_are_twice_one_and_a_rim_less_than_the_disc():
    one = wheel_inertia(wheel(), 1420)
    two = wheel_inertia(wheel(count=2), 1420)
    spoked = wheel_inertia(wheel(rim=metres(0.03)), 1420)
    assert two.number == pytest.approx(2 * one.number)
    assert spoked.number < one.number
    assert one.low < one.number < one.high
    assert spoked.low < spoked.number < spoked.high


def test_a_run_up_leads_back_to_the_inertia_it_came_from():
    """A motor that speeds up with a steady 1.6 times its rated torque of 14.8 N m."""
    load = 0.5
    speed = 1420 * math.pi / 30
    seconds = (load + ROTOR.number) * speed / (1.6 * 14.8)
    found = run_up_inertia(seconds, 14.8, 1420, ROTOR)
    assert found.number == pytest.approx(load)
    assert found.low < load < found.high


def test_a_run_up_quicker_than_the_rotor_alone_tells_nothing():
    assert run_up_inertia(0.01, 14.8, 1420, ROTOR) is None


def test_the_load_takes_what_the_owner_measured_and_assumes_nothing_then():
    of = wheel(speed=exact(600.0, "rpm", "measured"))
    turned = motor(MILL, load=Load(kind="flywheel", wheel=of))
    assert turned.load.inertia_kg_m2 == wheel_inertia(of, 1420)
    assert "inertia of the load" not in {fact.field for fact in turned.assumed}
    timed = motor(MILL, load=Load(kind="flywheel", run_up=exact(6.0, "s", "measured")))
    assert timed.load.inertia_kg_m2.number == pytest.approx(
        run_up_inertia(6.0, timed.rated_nm.number, 1420, timed.inertia_kg_m2).number
    )


def test_a_run_up_that_cannot_be_is_told_and_the_usual_inertia_stands():
    timed = motor(MILL, load=Load(kind="flywheel", run_up=exact(0.02, "s", "measured")))
    plain = motor(MILL, load=Load(kind="flywheel"))
    assert timed.load.inertia_kg_m2 == plain.load.inertia_kg_m2
    assert any("run-up of 0.02 s is too short" in fact.field for fact in timed.assumed)


SHOP = """\
phasewright: 1
shop: S
region: IEC
supply: {{kind: single_phase, voltage: 230 V, frequency: 50 Hz}}
machines:
  - name: Saw
    starter: {starter}
    motors:
      - name: wheels
        plate: {{power: 2.2 kW}}
        load: {{kind: flywheel, {facts}}}
"""
DISC = "wheel: {diameter: 60 cm, width: 50 mm, material: iron, rim: 40 mm, speed: 600 rpm}"


def test_the_shop_file_takes_either():
    read = read_text(SHOP.format(starter="direct", facts=DISC)).machines[0].motors[0].load
    assert read.wheel.diameter.number == 0.6
    assert read.wheel.material == "iron"
    read = read_text(SHOP.format(starter="direct", facts="run_up: 6 s")).machines[0].motors[0].load
    assert read.run_up.number == 6.0


@pytest.mark.parametrize(
    ("starter", "facts", "words"),
    [
        ("direct", "inertia: 1 kg m2, run_up: 6 s", "run_up beside inertia"),
        ("direct", f"{DISC}, run_up: 6 s", "run_up beside wheel"),
        ("star_delta", "run_up: 6 s", "a run-up timed with starter: star_delta"),
        ("direct", DISC.replace("40 mm", "400 mm"), "400 mm is more than the wheel's radius"),
        ("direct", DISC.replace("iron", "cheese"), "one of iron, steel"),
    ],
)
def test_what_cannot_be_is_a_mistake(starter, facts, words):
    with pytest.raises(ShopFileError) as told:
        read_text(SHOP.format(starter=starter, facts=facts))
    assert words in str(told.value)
    assert len(told.value.mistakes) == 1
