"""A converter that is not brought up the right way, against the settled network and by symmetry."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from reference_machines import FARM, M4K0, TOWN, uf

from phasewright.files.shop_file import read_text
from phasewright.machines.performance import rated
from phasewright.plan.facts import facts_of
from phasewright.running.converter import Converter, on_converter
from phasewright.running.points import operating_points
from phasewright.starts.layout import V12, V23, V31
from phasewright.starts.waves import waves
from phasewright.ways.converter_start import idler_standstill, own_course, start_of
from phasewright.ways.on_two_lines import linked
from phasewright.ways.wrong_direction import _turned_back, backwards, not_turned

BARE = Converter(4000.0, M4K0, uf(0, 0, 0), start_f=300e-6)
TUNED = replace(BARE, run_f=uf(0, 47.5, 63))
CASES = [(TOWN, BARE), (TOWN, TUNED), (FARM, TUNED)]
SHOP = """
phasewright: 1
shop: An invented saw and its pump
region: IEC
supply: {kind: single_phase, voltage: 230 V, frequency: 50 Hz, loop_impedance: 0.3 ohm}
machines:
  - name: Saw
    motors:
      - name: blade
        plate: {power: 2.2 kW, voltage: 230/400 V, frequency: 50 Hz, speed: 1430 rpm}
        load: {kind: saw}
  - name: Pump
    motors:
      - name: wheel
        plate: {power: 1.1 kW, voltage: 230/400 V, frequency: 50 Hz, speed: 1420 rpm}
        load: {kind: pump}
"""


def start(source, converter):
    return start_of(source, converter)[1]


@pytest.fixture(scope="module")
def motors():
    return tuple(linked(unit.task.motor) for unit in facts_of(read_text(SHOP)).units)


@pytest.mark.parametrize(("source", "converter"), CASES)
def test_backwards_it_ends_at_the_settled_network_s_backward_point(source, converter) -> None:
    """The steady solver finds an unloaded idler's point backwards by a scan of slips."""
    back = backwards(source, converter, start(source, converter), ())
    points = [
        [machine.speed_rpm for machine in point.settled.machines]
        for point in operating_points(on_converter(source, converter, ()))
    ]
    ours = next(speeds for speeds in points if all(speed < 0.0 for speed in speeds))
    assert back.stays
    assert back.speeds_rpm == pytest.approx(ours, rel=5e-3)


def test_without_capacitors_neither_way_is_the_right_one() -> None:
    """Two lines and a bare idler are their own mirror image."""
    back = backwards(TOWN, BARE, start(TOWN, BARE), ())
    forwards = waves(own_course(TOWN, replace(BARE, start_f=0.0), 0.0, pony=True))
    rpm = float(forwards.speed_rad_s[-4:, 0].mean()) * 30.0 / math.pi
    assert back.speeds_rpm[0] == pytest.approx(-rpm, rel=1e-3)
    v12, v23, v31 = forwards.volts_v[-2:].mean(axis=0)
    assert back.volts_v == pytest.approx((v12, v31, v23), rel=5e-3)


def sequence(volts: np.ndarray) -> float:
    """Positive over negative sequence of three line voltages, rows over whole cycles."""
    turns = np.exp(-2j * np.pi * np.arange(len(volts)) / (len(volts) / 4))
    a, phasors = np.exp(2j * np.pi / 3), turns @ volts
    return float(abs(phasors @ np.array([1, a, a * a])) / abs(phasors @ np.array([1, a * a, a])))


@pytest.mark.parametrize(("source", "converter"), CASES[1:])
def test_a_phase_sequence_relay_sees_it(source, converter) -> None:
    """By the waves of four cycles at the end: the order of the three volts is the other one."""
    own = own_course(source, replace(converter, start_f=0.0), 0.0, pony=True)
    right, wrong = (
        sequence(waves(course, every=1).record[-4 * own.steps_per_cycle :, [V12, V23, V31]])
        for course in (own, _turned_back(own))
    )
    assert right > 5.0
    assert wrong < 0.2


def test_every_motor_follows_backwards(motors) -> None:
    back = backwards(TOWN, TUNED, start(TOWN, TUNED), motors)
    assert {each.machine for each in back.motors} == {"Saw/blade", "Pump/wheel"}
    for each, motor in zip(back.motors, motors, strict=True):
        assert each.end_speed_rpm < -0.9 * motor.circuit.synchronous_speed_rpm


def test_a_motor_on_two_lines_alone_has_no_torque_at_rest() -> None:
    """The textbook's single-phase motor: two opposite fields, nothing to begin with."""
    found = not_turned(TOWN, BARE, start(TOWN, BARE))
    assert found.idler.code == "stands_still"
    assert abs(found.idler.end_speed_rpm) < 1.0


@pytest.mark.parametrize("converter", [BARE, replace(TUNED, run_f=uf(0, 20, 30))])
def test_its_amps_are_those_of_the_network_at_standstill(converter) -> None:
    found = not_turned(TOWN, converter, start(TOWN, converter))
    held = idler_standstill(TOWN, converter, 0.0)
    assert found.supply_a == pytest.approx(held.supply_current_a, rel=0.02)
    assert found.idler_a == pytest.approx(max(held.machines[0].line_currents_a), rel=0.02)


def test_it_turns_by_its_run_capacitors_where_they_give_torque_enough() -> None:
    """It breaks away against a tenth of rated torque: by the settled network at standstill, whose
    mean torque the beat of the real one helps somewhat."""
    nm = 0.1 * rated(M4K0).shaft_torque_nm
    turned = set()
    for c31 in (0, 20, 120, 240):
        converter = replace(BARE, run_f=uf(0, 0, c31))
        torque = idler_standstill(TOWN, converter, 0.0).machines[0].shaft_torque_nm
        turns = bool(not_turned(TOWN, converter, start(TOWN, converter)).idler.runs_up)
        turned.add(turns)
        if torque > nm:
            assert turns
        elif torque < 0.5 * nm:
            assert not turns
    assert turned == {True, False}


def test_two_idlers_both_end_up_backwards() -> None:
    pair = replace(TUNED, beside=(M4K0,), run_f=uf(0, 95, 126))
    back = backwards(TOWN, pair, start(TOWN, pair), ())
    assert back.stays
    assert max(back.speeds_rpm) < -1490.0


def test_the_heat_of_a_stalled_idler() -> None:
    """A softer supply gives it less current and more time; it is soonest too hot from warm."""
    hot = [not_turned(source, BARE, start(source, BARE)).too_hot_s for source in (TOWN, FARM)]
    for low, usual, high in hot:
        assert 0.0 < low < usual < high < math.inf
    assert all(later > sooner for sooner, later in zip(*hot, strict=True))


def test_where_it_runs_up_no_heat_is_told() -> None:
    converter = replace(BARE, run_f=uf(0, 0, 240))
    found = not_turned(TOWN, converter, start(TOWN, converter))
    assert found.idler.runs_up
    assert found.too_hot_s is None
