"""Plates as owners bring them, read into a motor. Situations are common practice, checked by
arithmetic; plates are inventions."""

from __future__ import annotations

import math
from typing import Any

import pytest
from plates import HP, motor, number, plate, rules

from phasewright.machines.frequency import base_point, centrifugal_power_ratio
from phasewright.machines.motor import Motor
from phasewright.machines.performance import at_torque, breakdown, locked, no_load, rated
from phasewright.quantities.errors import NotComputable
from phasewright.quantities.value import exact
from phasewright.shop.machine import Brake, Load

PLATES: list[dict[str, Any]] = [
    {"power": 2200, "voltage": (230, 400), "current": (8.6, 5.0), "frequency": 50, "speed": 1430,
     "power_factor": 0.82, "efficiency": 0.78, "leads": 6, "year": 1968},
    {"power": 560, "voltage": (220, 380), "current": (2.6, 1.5), "frequency": 50, "speed": 1425},
    {"power": 3 * HP, "voltage": (230, 460), "current": (8.6, 4.3), "frequency": 60,
     "speed": 1740, "code_letter": "K"},
    {"power": 5500, "voltage": 400, "current": 11.3, "frequency": 50, "speed": 1455,
     "starting_current": 6.1, "starting_torque": 2.2, "breakdown_torque": 2.8},
    {"power": 120, "voltage": (230, 400), "current": (0.72, 0.42), "frequency": 50, "speed": 1350},
    {"power": 750, "voltage": (230, 400), "frequency": 50, "speed": 920},
    {"voltage": (230, 400), "current": (8.6, 5.0), "frequency": 50, "speed": 1430},
    {"power": 1500},
    {"shaft_height": 0.090, "shaft_diameter": 0.024},
    {"winding_resistance": 5.0, "no_load_current": 3.2},
]  # fmt: skip


@pytest.mark.parametrize("facts", PLATES)
def test_the_circuit_gives_the_motors_own_figures_back(facts: dict[str, Any]) -> None:
    hertz = float(facts.get("frequency", 50))
    of = motor(plate(**facts), hertz=hertz, region="NEC" if hertz == 60 else "IEC")
    circuit = of.circuit
    assert circuit is not None
    assert of.circuit_link is not None
    assert of.circuit_link.line_voltage_v == circuit.line_voltage_v
    now, start = rated(circuit), locked(circuit)
    assert now.current_a == pytest.approx(number(of.full_load_current_a), rel=1e-3)
    assert now.shaft_power_w == pytest.approx(number(of.power_w), rel=1e-3)
    assert now.speed_rpm == pytest.approx(number(of.speed_rpm), rel=1e-9)
    assert now.shaft_torque_nm == pytest.approx(number(of.rated_nm), rel=1e-3)
    assert start.current_a == pytest.approx(number(of.locked_rotor_current_a), rel=1e-3)
    assert start.airgap_torque_nm == pytest.approx(number(of.locked_nm), rel=1e-3)
    assert breakdown(circuit).airgap_torque_nm == pytest.approx(number(of.breakdown_nm), rel=1e-3)
    assert no_load(circuit).current_a == pytest.approx(number(of.no_load_current_a), rel=1e-3)


@pytest.mark.parametrize("facts", PLATES)
def test_every_figure_has_a_credible_spread_and_every_default_a_path(facts: dict[str, Any]) -> None:
    of = motor(plate(**facts))
    for value in (of.power_w, of.locked_rotor_current_a, of.locked_nm, of.breakdown_nm):
        assert value is not None
        assert value.low <= value.number <= value.high
        assert value.source or value.origin == "plate"
    assert of.locked_nm is not None
    assert of.locked_nm.low < 0.9 * of.locked_nm.number
    for taken in of.assumed:
        assert taken.path.startswith("machines[0]")
        assert taken.value.source
    stamped = {key for key in facts if key != "year"}
    taken_keys = {taken.path.removeprefix("machines[0].motors[0].plate.") for taken in of.assumed}
    assert not (stamped - {"power"}) & taken_keys


def test_rated_torque_is_power_over_speed() -> None:
    of = motor(plate(**PLATES[0]))
    assert number(of.rated_nm) == pytest.approx(2200.0 / (1430.0 * math.pi / 30.0), rel=1e-3)


def test_a_small_british_lathe() -> None:
    """0.75 hp, 220/250 V delta 2.6 A: delta, 2.6 A counts (not 1.5), four poles."""
    of = motor(
        plate(power=560, voltage=(220, 250, 380, 440), current=(2.6, 2.6, 1.5, 1.5), frequency=50,
              speed=1425),
        volts=240.0,
    )  # fmt: skip
    assert of.connection == "delta"
    assert of.link is not None
    assert of.link.full_load_current_a == 2.6
    assert of.poles == 4
    assert of.synchronous_speed_rpm == 1500.0
    assert of.link_reasons[-1].code == "volts_fit"


@pytest.mark.parametrize("volts", [(220, 380), (230, 400), (240, 415)])
def test_a_gear_head_lathe_with_a_low_voltage_on_the_plate(volts: tuple[int, int]) -> None:
    of = motor(plate(power=5600, voltage=volts, frequency=50, speed=1450), volts=240.0)
    assert of.connection == "delta"


def test_the_same_lathe_with_380_volts_only() -> None:
    of = motor(
        plate(power=5600, voltage=380, frequency=50, speed=1450, connection="Y"), volts=240.0
    )
    assert of.connection == "none"
    assert of.link is None
    assert "star point" in of.link_reasons[-1].words
    assert of.circuit is not None
    assert of.circuit.line_voltage_v == 380.0


def test_current_of_a_large_lathe_at_415_volts() -> None:
    """5 hp at 415 V draws 7 to 8 A (a circulating answer says 14 to 18)."""
    of = motor(plate(power=3700, voltage=415, frequency=50, speed=1430), volts=240.0)
    assert 7.0 < number(of.full_load_current_a) < 8.5


def test_a_mill_whose_low_voltage_current_counts() -> None:
    of = motor(
        plate(power=2200, voltage=(220, 440), current=(8.9, 4.5), frequency=60, speed=1730),
        volts=230.0, hertz=60.0, region="NEC",
    )  # fmt: skip
    assert of.connection == "low_voltage"
    assert of.link is not None
    assert of.link.full_load_current_a == 8.9


def test_a_four_terminal_sharpener_gets_no_connection() -> None:
    of = motor(plate(power=370, voltage=(220, 415), leads=4, frequency=50, speed=1400))
    assert of.connection == "none"
    assert of.circuit is None
    assert "three equal values" in of.reasons[0].words
    assert "connection_unknown" in rules(of)


def test_a_fifty_hertz_motor_in_a_sixty_hertz_country() -> None:
    """5 hp 190/380 V 980 rpm: six poles, base point 190 V 50 Hz or 228 V 60 Hz, 16-17 A."""
    of = motor(
        plate(power=5 * HP, voltage=(190, 380), frequency=50, speed=980),
        volts=230.0, hertz=60.0, region="NEC",
    )  # fmt: skip
    assert of.poles == 6
    assert of.link is not None
    assert of.link.line_voltage_v == 190.0
    assert of.link.full_load_current_a is not None
    assert 14.5 < of.link.full_load_current_a < 20.0
    base = base_point(190.0, 50.0, 6, 230.0)
    assert base.frequency_hz == pytest.approx(60.53, abs=0.01)
    assert base_point(190.0, 50.0, 6, 228.0).synchronous_speed_rpm == pytest.approx(1200.0)
    assert base.power_ratio == pytest.approx(1.21, abs=0.01)
    assert centrifugal_power_ratio(1.2) == pytest.approx(1.728)


def test_single_phase_motors_are_not_for_converters_nor_drives() -> None:
    of = motor(plate(power=1100, voltage=230, current=9, frequency=50, speed=1420, capacitor=True))
    assert of.phases == 1
    assert not of.three_phase
    assert of.circuit is None
    assert of.reasons[0].code == "single_phase_motor"
    assert "three phases" in of.reasons[0].words
    with pytest.raises(NotComputable, match="no circuit"):
        of.circuit_at(of.links[0] if of.links else None)  # type: ignore[arg-type]


def test_a_two_speed_mill_motor() -> None:
    """1.5/2.2 kW, 1420/2840 rpm, 400 V D/YY: not relinked; on 230 V flux ends at 28.8 Hz and a
    third of the breakdown torque is left at 50 Hz."""
    of = motor(
        plate(power=(1500, 2200), voltage=400, speed=(1420, 2840), frequency=50, leads=6,
              connection="D/YY")
    )  # fmt: skip
    assert of.connection == "none"
    assert number(of.power_w) == 2200.0
    assert of.poles == 2
    assert "two_speed" in rules(of)
    assert base_point(400.0, 50.0, 2, 230.0).frequency_hz == pytest.approx(28.75)
    assert of.circuit is not None
    left = breakdown(of.circuit, 230.0).airgap_torque_nm / number(of.breakdown_nm)
    assert left == pytest.approx(0.33, abs=0.02)


def test_plate_order_of_the_two_speeds_does_not_matter() -> None:
    one = motor(plate(power=(1500, 2200), voltage=400, speed=(1420, 2840), frequency=50))
    two = motor(plate(power=(2200, 1500), voltage=400, speed=(2840, 1420), frequency=50))
    assert one.circuit == two.circuit


@pytest.mark.parametrize(
    ("facts", "rule"),
    [
        ({"power": 40, "current": (8.6, 5.0)}, "power_and_amps_disagree"),
        ({"current": (5.0, 2.9)}, "power_and_amps_disagree"),
        ({"current": (5.0, 8.6)}, "amps_in_wrong_order"),
        ({"current": (8.6, 4.0)}, "amps_ratio"),
        ({"speed": 1500}, "speed_not_credible"),
        ({"speed": 1515}, "speed_not_credible"),
        ({"speed": 1725}, "speed_of_other_frequency"),
        ({"power_factor": 0.95, "efficiency": 0.95}, "plate_power_mismatch"),
        ({"power_factor": 0.70, "speed": 1350}, "slip_and_efficiency"),
        ({"leads": 4}, "connection_unknown"),
        ({"leads": 3}, "connection_unknown"),
        ({"kind": "slip_ring"}, "slip_ring"),
        ({"kind": "submersible", "voltage": 400, "current": 5.0}, "closed_in_motor"),
        ({"kind": "brake_motor"}, "brake_coil"),
    ],
)
def test_a_plate_that_contradicts_itself_is_questioned(facts: dict[str, Any], rule: str) -> None:
    good = {"power": 2200, "voltage": (230, 400), "current": (8.6, 5.0), "frequency": 50,
            "speed": 1430, "leads": 6}  # fmt: skip
    assert rules(motor(plate(**good))) == set()
    of = motor(plate(**(good | facts)))
    assert rule in rules(of)
    finding = next(f for f in of.findings if f.rule == rule)
    assert finding.remedy is not None
    assert finding.remedy.path is not None
    assert finding.words.endswith(".")


@pytest.mark.parametrize(
    ("power", "amps", "hint"),
    [
        (40_000, (8.6, 5.0), "temperature rise"),
        (2200, (5.0, 2.9), "higher voltage"),
        (40, (8.6, 5.0), "temperature rise"),
        (2200, (60.0, 34.6), "whole machine"),
    ],
)
def test_power_and_amps_that_deny_each_other(
    power: float, amps: tuple[float, float], hint: str
) -> None:
    of = motor(plate(power=power, voltage=(230, 400), current=amps, frequency=50, speed=1430))
    finding = next(f for f in of.findings if f.rule == "power_and_amps_disagree")
    assert hint in finding.words
    assert finding.severity == "condition"
    assert of.link is not None
    assert of.link.full_load_current_a == amps[0]  # the stamped one stays to be seen


def test_one_current_for_two_voltages_is_asked_about() -> None:
    of = motor(plate(power=2200, voltage=(230, 400), current=5.0, frequency=50, speed=1430))
    finding = next(f for f in of.findings if f.rule == "one_current_two_volts")
    assert "at 400 V" in finding.words
    alone = motor(plate(voltage=(230, 400), current=5.0, frequency=50, speed=1430))
    assert number(alone.power_w) == pytest.approx(2200.0, rel=0.2)


def test_a_code_letter_without_an_upper_end_is_told_and_not_used() -> None:
    facts = {"power": 2200, "voltage": (230, 460), "current": (8.6, 4.3), "frequency": 60,
             "speed": 1730}  # fmt: skip
    of = motor(plate(**facts, code_letter="V"), hertz=60.0, region="NEC")
    assert "code_letter_without_end" in rules(of)
    plain = motor(plate(**facts), hertz=60.0, region="NEC")
    assert of.circuit == plain.circuit


def test_two_frequencies_stamped_as_two_speeds_are_one_motor() -> None:
    facts = {"power": 2200, "voltage": (230, 400), "current": (8.6, 5.0)}
    fifty = motor(plate(**facts, frequency=50, speed=(1430, 1720)))
    sixty = motor(plate(**facts, frequency=60, speed=(1430, 1720)), hertz=60.0)
    assert (number(fifty.speed_rpm), fifty.poles) == (1430.0, 4)
    assert (number(sixty.speed_rpm), sixty.poles) == (1720.0, 4)
    assert "two_speed" not in rules(fifty)


def test_a_sixty_hertz_speed_makes_a_sixty_hertz_motor() -> None:
    of = motor(plate(power=2200, voltage=(230, 460), speed=1725))
    assert number(of.frequency_hz) == 60.0
    assert of.poles == 4


@pytest.mark.parametrize(
    ("speed", "hertz", "poles"),
    [(2850, 50, 2), (1430, 50, 4), (950, 50, 6), (700, 50, 8), (3450, 60, 2), (1725, 60, 4),
     (1140, 60, 6), (860, 60, 8)],
)  # fmt: skip
def test_poles_from_speed(speed: int, hertz: int, poles: int) -> None:
    of = motor(plate(power=1500, voltage=(230, 400), speed=speed, frequency=hertz))
    assert of.poles == poles


@pytest.mark.parametrize("kind", ["dc", "commutator", "torque"])
def test_motors_without_a_circuit_say_why(kind: str) -> None:
    of = motor(plate(power=1500, voltage=230, current=7, speed=1430, kind=kind))
    assert of.circuit is None
    assert of.reasons


def test_a_motor_beyond_the_tables_says_so() -> None:
    of = motor(plate(power=90_000, voltage=400, current=160, frequency=50, speed=1480))
    assert of.circuit is None
    assert "kW" in of.reasons[0].words


def test_ten_poles_are_beyond_the_tables() -> None:
    of = motor(plate(power=3000, voltage=400, current=9, frequency=50, speed=570))
    assert of.circuit is None
    assert of.reasons


def test_power_from_amps_has_the_spread_of_what_was_taken() -> None:
    of = motor(plate(voltage=(230, 400), current=(8.6, 5.0), frequency=50, speed=1430))
    assert of.power_w is not None
    assert 1700.0 < of.power_w.number < 2500.0
    assert of.power_w.low < 0.93 * of.power_w.number
    assert of.power_w.high > 1.07 * of.power_w.number
    assert of.power_w.formula


def test_a_motor_without_a_plate_is_wide_but_answered() -> None:
    of = motor(plate(shaft_height=0.112, shaft_diameter=0.028))
    assert of.power_w is not None
    assert of.power_w.low < 4000.0 < of.power_w.high
    assert of.power_w.high / of.power_w.low > 2.0
    ohms = motor(plate(winding_resistance=7.1 * 2.2**-1.18))
    assert number(ohms.power_w) == pytest.approx(2200.0, rel=1e-6)
    both = motor(plate(shaft_height=0.112, winding_resistance=38.8))
    assert "frame_and_winding_differ" in rules(both)


def test_the_starting_row_moves_the_motor() -> None:
    base = {"power": 2200, "voltage": (230, 400), "current": (8.6, 5.0), "frequency": 50,
            "speed": 1430}  # fmt: skip
    weak = motor(plate(**base, starting_current=4.5))
    strong = motor(plate(**base, starting_current=6.5))
    assert number(weak.locked_rotor_current_a) < number(strong.locked_rotor_current_a)
    assert number(weak.locked_rotor_current_a) == pytest.approx(4.5 * 8.6, rel=0.06)
    h = motor(plate(**base, code_letter="H"))
    f = motor(plate(**base, code_letter="F"))
    assert number(f.locked_rotor_current_a) < number(h.locked_rotor_current_a)
    idle = motor(plate(**base, no_load_current=4.0))
    free = motor(plate(**base, no_load_current=5.6))
    assert number(idle.no_load_current_a) < number(free.no_load_current_a)


def test_no_load_current_measured_in_star_is_brought_to_the_delta() -> None:
    base = {"power": 2200, "voltage": (230, 400), "current": (8.6, 5.0), "frequency": 50,
            "speed": 1430}  # fmt: skip
    delta = motor(plate(**base, no_load_current=4.8))
    star = motor(plate(**base, no_load_current=4.8 / math.sqrt(3.0)))
    assert number(star.no_load_current_a) == pytest.approx(number(delta.no_load_current_a))


def test_the_load_is_the_owners_numbers_first() -> None:
    facts = plate(power=2200, voltage=(230, 400), speed=1430)
    own = Load(kind="crusher", torque=0.9, inertia=exact(0.15, "kg m2", "stated"), duty=0.6)
    mine = motor(facts, load=own, starts_per_hour=7.0, hours_per_year=120.0).load
    usual = motor(facts, load=Load(kind="crusher")).load
    assert mine is not None
    assert usual is not None
    assert (mine.running_torque.number, mine.duty.number) == (0.9, 0.6)
    assert mine.inertia_kg_m2.number == 0.15
    assert mine.starts_per_hour.number == 7.0
    assert number(mine.hours_per_year) == 120.0
    assert usual.running_torque.low < usual.running_torque.number < usual.running_torque.high
    rotor = number(motor(facts).inertia_kg_m2)
    assert usual.inertia_kg_m2.number == pytest.approx(rotor * usual.kind.inertia_ratio.number)
    assert usual.hours_per_year is None
    paths = {taken.path for taken in motor(facts, load=own).assumed}
    assert "machines[0].motors[0].load.torque" not in paths
    assert "machines[0].starts_per_hour" in paths


def test_a_spring_brake_is_asked_about() -> None:
    facts = plate(power=2200, voltage=(230, 400), speed=1430)
    assert "brake_coil" in rules(motor(facts, brake=Brake(kind="spring_electric")))
    assert "brake_coil" not in rules(motor(facts))


def relinked(of: Motor) -> tuple[float, float]:
    low, high = of.links
    return of.current_at(low), of.current_at(high)


def test_currents_of_both_links_stand_as_the_inverse_of_the_volts() -> None:
    of = motor(plate(power=2200, voltage=(230, 400), current=(8.6, 5.0), speed=1430))
    low, high = relinked(of)
    assert low == pytest.approx(8.6)
    assert high == pytest.approx(8.6 * 230.0 / 400.0)
    assert of.link_at(400.0, 50.0)[0] == of.links[1]


def test_half_the_torque_is_at_hand_on_a_running_motor() -> None:
    of = motor(plate(power=2200, voltage=(230, 400), current=(8.6, 5.0), speed=1430))
    assert of.circuit is not None
    half = at_torque(of.circuit, 0.5 * number(of.rated_nm))
    assert 1430.0 < half.speed_rpm < 1500.0


def test_soft_and_hard_iron_bracket_the_idle_current() -> None:
    of = motor(plate(power=2200, voltage=(230, 400), current=(8.6, 5.0), speed=1430))
    assert of.circuit_soft is not None
    assert of.circuit_hard is not None
    soft, hard = (no_load(c, 253.0).current_a for c in (of.circuit_soft, of.circuit_hard))
    assert of.circuit is not None
    assert soft < no_load(of.circuit, 253.0).current_a < hard


def test_a_three_phase_motor_somebody_rigged_with_a_capacitor_is_still_one() -> None:
    stamped = plate(
        power=1100, voltage=(230, 400), current=(4.6, 2.65), frequency=50, speed=1420, phases=3,
        capacitor=True,
    )  # fmt: skip
    of = motor(stamped)
    assert stamped.rigged
    assert of.three_phase
    assert of.circuit is not None
    assert not plate(power=1100, voltage=230, current=9, capacitor=True).rigged
