"""Kinds of motors told apart, and plates misread (common practice, no source)."""

from __future__ import annotations

from typing import Any

import pytest
from plates import motor, number, plate, rules

from phasewright.machines.kinds import motor_limits, traits_of
from phasewright.quantities.codes import WAYS, WayName
from phasewright.shop.machine import Brake, Machine
from phasewright.shop.plate import Plate
from phasewright.tables.motor_kinds import MOTOR_TRAITS, motor_kind
from phasewright.tables.published import tables_of

SHOP: dict[str, Any] = {"power": 1500, "voltage": 400, "current": 3.5, "speed": 1430}
PLAIN = Machine(name="Machine", motors=())


def verdict(of: Plate, way: WayName, machine: Machine = PLAIN) -> str:
    refusals, conditions = motor_limits(of, machine, way)
    return "refused" if refusals else "with_conditions" if conditions else "suits"


@pytest.mark.parametrize(
    ("facts", "drive", "rotary", "alone"),
    [
        ({}, "suits", "suits", "suits"),
        ({"phases": 1}, "refused", "refused", "refused"),
        ({"capacitor": True}, "refused", "refused", "refused"),
        ({"capacitor": True, "phases": 3}, "with_conditions", "with_conditions", "with_conditions"),
        ({"kind": "slip_ring"}, "with_conditions", "with_conditions", "refused"),
        ({"kind": "hermetic"}, "refused", "with_conditions", "refused"),
        ({"kind": "submersible"}, "with_conditions", "with_conditions", "refused"),
        ({"kind": "commutator"}, "refused", "refused", "refused"),
        ({"kind": "dc"}, "refused", "refused", "refused"),
        ({"kind": "torque"}, "refused", "with_conditions", "refused"),
        ({"kind": "brake_motor"}, "with_conditions", "with_conditions", "with_conditions"),
        ({"speed": (700, 1430)}, "with_conditions", "with_conditions", "with_conditions"),
    ],
)
def test_what_each_kind_runs_on(facts: dict[str, Any], drive: str, rotary: str, alone: str) -> None:
    of = plate(**(SHOP | facts))
    assert verdict(of, "drive_per_motor") == drive
    assert verdict(of, "rotary_converter") == rotary
    assert verdict(of, "capacitor_run") == alone


def test_every_kind_has_words_a_source_and_known_ways() -> None:
    assert {table.name for table in tables_of("motor_kinds")} == set(MOTOR_TRAITS)
    for name in MOTOR_TRAITS:
        of = motor_kind(name)
        assert of.runs_on.endswith(".")
        assert of.remedy
        assert "common practice" in of.source
        named = [limit.way for limit in of.ways]
        assert len(named) == len(set(named))
        assert set(named) <= set(WAYS)
        assert all(limit.why.endswith(".") for limit in of.ways)
        assert all(limit.verdict in ("refused", "with_conditions") for limit in of.ways)


def test_a_spring_brake_of_the_machine_makes_a_brake_motor() -> None:
    braked = Machine(name="Machine", motors=(), brake=Brake(kind="spring_electric"))
    assert traits_of(plate(**SHOP), braked) == ("brake_motor",)
    assert traits_of(plate(**SHOP), PLAIN) == ()


def test_a_rigged_motor_is_computed_and_told() -> None:
    of = motor(plate(power=2200, voltage=(230, 400), speed=1430, capacitor=True, phases=3))
    assert of.circuit is not None
    assert of.connection == "delta"
    assert "capacitor_to_remove" in rules(of)


def test_a_capacitor_on_a_star_delta_plate_is_asked_about() -> None:
    of = motor(plate(power=2200, voltage=(230, 400), speed=1430, capacitor=True))
    assert not of.three_phase
    assert "perhaps_three_phase" in rules(of)
    pump = motor(plate(power=1100, voltage=230, current=9, speed=1420, capacitor=True))
    assert pump.findings == ()


@pytest.mark.parametrize("kind", ["hermetic", "submersible"])
def test_a_closed_in_motor_is_not_sent_to_a_winder(kind: str) -> None:
    of = motor(plate(**SHOP, kind=kind, frequency=50))
    assert of.link is None
    assert "winder" not in of.link_reasons[-1].words


def test_a_press_motor_is_told_by_its_slip() -> None:
    facts: dict[str, Any] = {"power": 2200, "voltage": (230, 400), "frequency": 50}
    assert "high_slip" in rules(motor(plate(**facts, speed=1350)))
    assert "high_slip" not in rules(motor(plate(**facts, speed=1420)))
    tiny = motor(plate(power=120, voltage=(230, 400), frequency=50, speed=1350))
    assert "high_slip" not in rules(tiny)


@pytest.mark.parametrize(
    ("facts", "hint"),
    [
        ({"voltage": 230}, "1.73 times higher voltage"),
        ({"current": 4.3, "voltage": 230}, "double voltage"),
        ({"power": 3000}, "horsepower written as kilowatts"),
        ({"power": 5000 * 0.693}, "kVA"),
        ({"power": 2730, "power_factor": 0.79}, "electrical input"),
    ],
)
def test_a_misread_plate_is_explained(facts: dict[str, Any], hint: str) -> None:
    """2.2 kW, 400 V, 5.0 A is a usual motor (power factor times efficiency 0.64)."""
    good: dict[str, Any] = {
        "power": 2200, "voltage": 400, "current": 5.0, "speed": 1430, "frequency": 50,
    }  # fmt: skip
    asked = {"power_and_amps_disagree", "plate_perhaps_misread"}
    assert not rules(motor(plate(**good))) & asked
    of = motor(plate(**(good | facts)))
    words = " ".join(f.words for f in of.findings if f.rule in asked)
    assert hint in words


@pytest.mark.parametrize("volts", [120, 127, 133, 277])
def test_volts_to_earth_are_no_plate(volts: int) -> None:
    assert "volts_to_earth" in rules(motor(plate(power=1500, voltage=volts, speed=1430)))


@pytest.mark.parametrize("volts", [200, 208, 220, 230, 240, 380, 400, 415, 460, 480, 575])
def test_volts_between_lines_are_not_asked_about(volts: int) -> None:
    assert "volts_to_earth" not in rules(motor(plate(power=1500, voltage=volts, speed=1430)))


def test_a_power_that_may_be_a_temperature_rise() -> None:
    assert "power_perhaps_rise" in rules(motor(plate(power=40, voltage=(230, 400), speed=1400)))
    assert "power_perhaps_rise" in rules(motor(plate(power=40_000, voltage=400, speed=1470)))
    assert "power_perhaps_rise" not in rules(motor(plate(power=2200, voltage=400, speed=1430)))


def test_volts_and_amps_alone_may_be_the_machines_plate() -> None:
    assert "whose_plate" in rules(motor(plate(voltage=400, current=12.0)))
    assert "whose_plate" not in rules(motor(plate(voltage=400, current=12.0, speed=1430)))


@pytest.mark.parametrize(
    ("facts", "rule"),
    [
        ({"voltage": (230, 400), "current": (8.6, 5.0)}, "starter_and_volts"),
        ({"voltage": 400, "current": 5.0, "leads": 3}, "starter_and_leads"),
        ({"voltage": 400, "current": 5.0, "connection": "Y", "leads": 6}, "starter_and_star"),
    ],
)
def test_a_star_delta_starter_the_plate_denies(facts: dict[str, Any], rule: str) -> None:
    of = plate(power=2200, speed=1430, frequency=50, **facts)
    assert rule in rules(motor(of, starter="star_delta"))
    assert rule not in rules(motor(of, starter="direct"))


def test_a_star_delta_starter_refuses_230_volts_for_a_400_volt_plate() -> None:
    facts = plate(power=5500, voltage=400, current=11.3, speed=1455, frequency=50)
    of = motor(facts, starter="star_delta")
    assert of.connection == "none"
    at_400 = motor(facts, starter="star_delta", volts=400.0)
    assert at_400.connection == "delta"
    assert at_400.circuit == of.circuit


@pytest.mark.parametrize(
    ("power", "speed", "poles"), [(90_000, 1480, 4), (3000, 570, 10), (20, 1350, 4)]
)
def test_motors_beyond_the_tables_are_recognised(power: float, speed: float, poles: int) -> None:
    of = motor(plate(power=power, voltage=(230, 400), current=(9.0, 5.2), frequency=50,
                     speed=speed))  # fmt: skip
    assert of.circuit is None
    assert of.reasons[0].code == "beyond_the_tables"
    assert of.poles == poles
    assert of.connection == "delta"
    assert number(of.full_load_current_a) == 9.0
    assert number(of.power_w) == power
