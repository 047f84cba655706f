"""What stops a motor on its drive: energy, closed forms, and relations that must hold."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from reference_machines import L2A, constant
from ways.stops import case, figures, shaft_j, story

from phasewright.machines.performance import rated
from phasewright.running.network import LoadLaw
from phasewright.tables.drives import overvoltage
from phasewright.ways.drive_in_time import OnThisDrive, turning_inertia, with_resistor
from phasewright.ways.stop_means import by_direct_current, by_resistor, coasting

ON = OnThisDrive("motor", L2A, 0.1, constant(7.0), 7.0, 10.5, 2200.0, 230.0)


@pytest.mark.parametrize("seconds", [25.0, 40.0, 80.0])
def test_the_resistor_takes_what_the_shaft_held_less_what_the_motor_lost(seconds):
    """0.5 J w2 goes to the resistor, winding, rotor and iron; ohms by its peak and its volts."""
    _, on, _ = case()
    brake, stop = with_resistor(on, seconds)
    assert 0.0 < stop.resistor_j + stop.rotor_j + stop.stator_j <= shaft_j(on) * 1.01
    assert stop.resistor_j > 0.4 * shaft_j(on)
    assert brake.ohm * stop.resistor_peak_w == pytest.approx(overvoltage(230.0).resistor_on_v**2,
                                                             rel=0.1)  # fmt: skip
    assert not stop.trips
    assert stop.seconds <= seconds


def test_a_quicker_stop_asks_for_fewer_ohms_more_peak_watts_and_no_smaller_part():
    task, on, _ = case()
    found = [by_resistor(on, task.motor, seconds).figures for seconds in (80.0, 50.0, 25.0)]
    ohms, peaks, watts, duties = (
        [getattr(each, name).number for each in found] for name in ("ohm", "peak_w", "w", "duty")
    )
    assert ohms == sorted(ohms, reverse=True)
    assert peaks == sorted(peaks)
    assert watts == sorted(watts)
    assert duties == sorted(duties, reverse=True)
    for each in found:
        assert each.ohm.number * each.peak_w.number == pytest.approx(385.0**2)
        assert each.w.number <= each.peak_w.number


def test_more_stops_an_hour_ask_for_a_larger_resistor_that_works_more_of_the_time():
    found = [
        figures(story(machine=1, starts_per_hour=often), "Slow stop/main").brake_resistor
        for often in (1, 30, 100)
    ]
    duties = [each.duty.number for each in found]
    assert duties == pytest.approx([duties[0] * often for often in (1, 30, 100)])
    assert found[0].w.number <= found[1].w.number < found[2].w.number
    # of heat alone: never less than the mean over the hour
    mean_w = found[2].duty.number * shaft_j(case()[1]) / 25.0
    assert found[2].w.number > 0.4 * mean_w


@pytest.mark.parametrize("times", [2.0, 4.0])
def test_more_inertia_never_stops_sooner_by_any_means(times):
    task, on, _ = case()
    load, inertia = task.motor.load, turning_inertia(task.motor)
    light = replace(on, inertia_kg_m2=0.1, breakaway_nm=0.0)
    heavy = replace(light, inertia_kg_m2=0.1 * times)
    assert coasting(heavy, load, inertia).number == pytest.approx(
        times * coasting(light, load, inertia).number, rel=1e-6
    )
    one, two = (by_direct_current(each, inertia) for each in (light, heavy))
    assert two.time_s.number > one.time_s.number
    assert two.rotor_j.number > one.rotor_j.number


def test_a_stop_by_direct_current_leaves_what_the_shaft_held_in_the_rotor():
    """Dubey 6.7: the rotor takes up 0.5 J w2; friction takes a little of it."""
    found = by_direct_current(replace(ON, breakaway_nm=0.0), turning_inertia(case()[0].motor))
    assert found.rotor_j.number == pytest.approx(shaft_j(ON), rel=0.12)
    assert found.rotor_j.number < shaft_j(ON)
    assert found.heat_j.number > found.rotor_j.number
    assert found.current_a.number == L2A.rated_current_a
    torques = [each.torque_nm for each in found.torque]
    assert torques[0] < 0.15 * rated(L2A).shaft_torque_nm  # at speed it hardly brakes
    assert max(torques) > 3.0 * torques[0]
    assert [each.speed_rpm for each in found.torque] == sorted(
        (each.speed_rpm for each in found.torque), reverse=True
    )


def test_coasting_by_a_constant_drag_is_inertia_times_speed_over_it():
    """From rated speed to 3 % of the field's, friction of the motor left out."""
    bare = replace(L2A, friction_w=1e-9)
    on = replace(ON, circuit=bare, load=LoadLaw("constant", 2.0, 150.0), breakaway_nm=0.0)
    of = coasting(on, case()[0].motor.load, turning_inertia(case()[0].motor))
    field = 4.0 * math.pi * L2A.frequency_hz / L2A.poles
    assert of.number == pytest.approx(0.1 * 0.97 * field / 2.0, rel=0.05)
    assert of.low < of.number < of.high
