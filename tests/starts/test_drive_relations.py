"""What must hold of every motor on a drive, whatever the motor."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reference_machines import K15, L2A, M0K75, M2K2, constant, fan
from starts.drive_courses import (
    INVERTER,
    J_2K2,
    LINK,
    NEVER_TRIPS,
    RATED_2K2_A,
    RATED_2K2_NM,
    RESISTOR,
    field_rad_s,
    first_below,
    on_drive,
    rpm,
)  # fmt: skip

from phasewright.machines.performance import at_torque
from phasewright.quantities.errors import NoOperatingPoint, UsageError
from phasewright.starts.drive_course import Injection, Inverter, Stop
from phasewright.starts.drive_outcome import (
    coasting_s,
    resistor_for,
    run_up,
    shortest_run_up,
    shortest_stop,
    stop_by_injection,
    stop_with,
)  # fmt: skip
from phasewright.starts.drive_waves import DriveWaves, drive_waves

LIMITED = replace(INVERTER, limit_a=1.5 * RATED_2K2_A, magnetises_s=0.3)
WITH_RESISTOR = replace(LINK, resistor=RESISTOR)
STOPS = {
    "ramp": Stop(0.0, 3.0),
    "ramp, then direct current": Stop(0.0, 3.0, Injection(8.0, 1.0, 40.0, 0.1)),
    "direct current": Stop(0.0, None, Injection(8.0, 5.0, waits_s=0.3)),
    "off": Stop(0.0),
}


def motor_misses_j(found: DriveWaves) -> float:
    """Input less all losses, load and what is stored more at the end, of the motor [J]."""
    of = found.energies
    spent = of.stator + of.rotor + of.iron + of.load + of.friction
    return of.input - of.freed - spent - of.field_change - of.shaft_change


def link_misses_j(found: DriveWaves) -> float:
    """What the rectifier and the motor gave the link less what went out of it and stayed [J]."""
    of = found.energies
    return of.rectifier + of.freed - of.input - of.resistor - of.drive_loss - of.link_change


def turned_over_j(found: DriveWaves) -> float:
    """Energy that changed its form, to measure misses by [J]."""
    of = found.energies
    return of.stator + of.rotor + of.iron + abs(of.load) + of.friction + abs(of.shaft_change)


@given(
    times=st.floats(1.0, 40.0),
    share=st.floats(0.0, 0.8),
    how=st.sampled_from(sorted(STOPS)),
    machine=st.sampled_from([M2K2, L2A]),
    braked=st.booleans(),
)
@settings(max_examples=40, deadline=None)
def test_energy_of_a_stop_closes_to_a_thousandth(times, share, how, machine, braked):
    """Shaft, link, resistor, copper, iron, load and the drive's own loss."""
    found = drive_waves(
        on_drive(
            times * J_2K2, constant(share * RATED_2K2_NM), circuit=machine, inverter=LIMITED,
            link=WITH_RESISTOR if braked else LINK, seconds=4.0, running=True, stop=STOPS[how],
        )
    )  # fmt: skip
    whole = turned_over_j(found)
    assert abs(motor_misses_j(found)) < 1e-3 * whole
    assert abs(link_misses_j(found)) < 1e-6 * whole
    assert found.energies.resistor == 0.0 or braked


@given(times=st.floats(2.0, 40.0), share=st.floats(0.0, 0.5), ramp=st.floats(0.5, 2.0))
@settings(max_examples=25, deadline=None)
def test_energy_of_a_run_up_closes_to_a_thousandth(times, share, ramp):
    course = on_drive(
        times * J_2K2, constant(share * RATED_2K2_NM), circuit=L2A, ramp=ramp, inverter=LIMITED
    )
    found = drive_waves(course)
    assert abs(motor_misses_j(found)) < 1e-3 * turned_over_j(found)
    assert abs(link_misses_j(found)) < 1e-6 * turned_over_j(found)


@pytest.mark.parametrize("machine", [M2K2, L2A, M0K75, K15])
@pytest.mark.parametrize("hertz", [15.0, 45.0])
def test_a_run_that_begins_running_stays_there(machine, hertz):
    """And is where the steady circuit has its point: same speed and amps."""
    torque = 5.0 if machine is M0K75 else 8.0
    torque = 0.6 * torque
    base = Inverter(machine.line_voltage_v, machine.frequency_hz, 1e6, rated_nm=10.0)
    found = drive_waves(
        on_drive(
            0.05, constant(torque), circuit=machine, inverter=base, hertz=hertz, seconds=1.0,
            running=True, step_s=4e-4,
        ),
        every=1,
    )  # fmt: skip
    assert np.ptp(found.speed_rad_s) < 1e-6 * found.end_rad_s
    assert np.ptp(found.line_a) < 1e-6 * found.line_a[0]
    volts = machine.line_voltage_v * hertz / machine.frequency_hz
    point = at_torque(machine, torque, volts, hertz)
    assert rpm(found.end_rad_s) == pytest.approx(point.speed_rpm, rel=1e-6)
    assert found.line_a[-1] == pytest.approx(point.current_a, rel=1e-5)


def test_halving_the_step_divides_the_error_by_four():
    course = on_drive(load=fan(RATED_2K2_NM, 1445), circuit=L2A, ramp=0.8, seconds=0.8)

    def speeds(step_s: float) -> np.ndarray:
        found = drive_waves(replace(course, step_s=step_s), every=round(4e-3 / step_s))
        return found.speed_rad_s

    best = speeds(1.25e-5)
    errors = [abs(speeds(step) - best).max() for step in (4e-4, 2e-4, 1e-4)]
    assert errors[0] / errors[1] == pytest.approx(4.0, rel=0.1)
    assert errors[1] / errors[2] == pytest.approx(4.0, rel=0.1)


@given(
    times=st.floats(1.0, 30.0),
    more=st.floats(1.2, 4.0),
    share=st.floats(0.0, 0.6),
    how=st.sampled_from(["ramp", "direct current", "off"]),
    braked=st.booleans(),
)
@settings(max_examples=40, deadline=None)
def test_more_inertia_never_stops_sooner(times, more, share, how, braked):
    """Within the last step of the speed's ripple about the ramp."""
    link = WITH_RESISTOR if braked else LINK
    stop = STOPS[how] if how != "ramp" else Stop(0.0, 8.0)
    light, heavy = (
        stop_with(
            on_drive(
                inertia, constant(share * RATED_2K2_NM), inverter=LIMITED, link=link, seconds=30.0
            ),
            stop,
        ).seconds
        for inertia in (times * J_2K2, times * more * J_2K2)
    )
    assert heavy is None or (light is not None and heavy > light - 0.02)


@pytest.mark.parametrize("share", [0.5, 1.0, 1.5])
@pytest.mark.parametrize("hertz", [50.0, 25.0, 10.0, 5.0, 2.0])
def test_torque_of_direct_current_against_speed_is_that_of_the_closed_form(share, hertz):
    """T = 3/2 p I^2 Re Zp0 / (p w), 1/Zp0 = 1/(j wr Lm) + sum 1/(R + j wr L), wr = p w: the circuit
    at a standing field; on a shaft so heavy that it keeps its speed while the currents settle."""
    amps = share * RATED_2K2_A
    course = on_drive(1e5, hertz=hertz, running=True, seconds=3.0,
                      stop=Stop(0.0, None, Injection(amps, 1e6)))  # fmt: skip
    found = drive_waves(course, every=1)
    w0, p = 2.0 * math.pi * M2K2.frequency_hz, M2K2.poles / 2
    wr = p * found.speed_rad_s[-1]
    gap = 1.0 / (1j * wr * M2K2.magnetising_ohm / w0)
    gap += sum(1.0 / (cage.resistance_ohm + 1j * wr * cage.leakage_ohm / w0) for cage in M2K2.cages)
    torque = 1.5 * p * 2.0 * amps**2 * (1.0 / gap).real / wr
    assert -found.torque_nm[-1] == pytest.approx(torque, rel=1e-5)


def test_direct_current_does_not_hold_a_shaft_at_rest():
    """The braking torque goes to nothing with the speed, and the outcome says so."""
    course = on_drive(5 * J_2K2, inverter=LIMITED, link=LINK, seconds=20.0)
    found = stop_by_injection(course, Injection(8.0, 20.0, waits_s=0.5))
    assert {reason.code for reason in found.reasons} == {"stops_by_injection", "does_not_hold"}
    waves = drive_waves(
        replace(course, running=True, stop=Stop(0.0, None, Injection(8.0, 20.0))), every=1
    )
    late = waves.time_s > 6.0
    assert abs(waves.torque_nm[late]).max() < 0.01 * RATED_2K2_NM


def test_heat_of_a_stop_by_direct_current():
    """Without load and friction all the shaft held ends in the rotor; the winding takes
    3 R I^2 t beside."""
    bare = replace(M2K2, friction_w=0.0)
    found = drive_waves(
        on_drive(
            20 * J_2K2, circuit=bare, running=True, seconds=40.0, ends="rest",
            stop=Stop(0.0, None, Injection(8.0, 100.0, waits_s=1.0)),
        )
    )  # fmt: skip
    assert found.injected_s == pytest.approx(1.0)
    assert found.energies.rotor == pytest.approx(-found.energies.shaft_change, rel=0.01)
    seconds = found.end_s - found.injected_s
    winding = 3.0 * M2K2.stator_resistance_ohm * 8.0**2 * seconds
    assert found.energies.stator == pytest.approx(winding, rel=0.03)


def test_a_resistor_takes_peak_watts_by_its_ohms_and_energy_by_the_inertia():
    course = on_drive(20 * J_2K2, inverter=LIMITED, link=WITH_RESISTOR, seconds=20.0)
    wide = replace(WITH_RESISTOR, resistor=replace(RESISTOR, ohm=2 * RESISTOR.ohm))
    one = stop_with(course, Stop(0.0, 4.0))
    half = stop_with(replace(course, link=wide), Stop(0.0, 4.0))
    assert one.resistor_peak_w / half.resistor_peak_w == pytest.approx(2.0, rel=0.03)
    assert half.resistor_j == pytest.approx(one.resistor_j, rel=0.01)
    heavier = replace(course, starter=replace(course.starter, inertia_kg_m2=40 * J_2K2))
    twice = stop_with(heavier, Stop(0.0, 8.0))
    assert twice.resistor_j / one.resistor_j == pytest.approx(2.0, rel=0.05)
    assert twice.resistor_mean_w == pytest.approx(one.resistor_mean_w, rel=0.05)


@given(times=st.floats(5.0, 60.0), ramp=st.floats(0.3, 4.0))
@settings(max_examples=25, deadline=None)
def test_the_resistor_that_is_sized_keeps_the_link_below_its_trip(times, ramp):
    course = on_drive(times * J_2K2, inverter=LIMITED, link=LINK, seconds=60.0)
    brake = resistor_for(course, ramp, 385.0, 375.0)
    found = stop_with(replace(course, link=replace(LINK, resistor=brake)), Stop(0.0, ramp))
    assert not found.trips
    assert found.seconds is not None
    assert found.peak_link_v < 1.02 * 385.0


def test_a_quick_ramp_of_a_heavy_shaft_trips_and_a_resistor_or_a_long_ramp_does_not():
    course = on_drive(30 * J_2K2, inverter=LIMITED, link=LINK, seconds=60.0)
    trips = stop_with(course, Stop(0.0, 1.0))
    assert trips.trips
    assert trips.seconds is None
    assert trips.reasons[0].code == "link_trips"
    slow = shortest_stop(course)
    assert slow is not None
    assert slow.peak_link_v < LINK.trip_v
    braked = stop_with(replace(course, link=WITH_RESISTOR), Stop(0.0, 1.0))
    assert braked.seconds < 0.2 * slow.seconds
    assert braked.reasons[0].code == "stops_by_resistor"


def test_an_unheld_ramp_trips_where_a_held_one_stretches():
    course = on_drive(5 * J_2K2, inverter=LIMITED, link=LINK, seconds=30.0)
    unheld = replace(course, link=replace(LINK, holds_at_v=1e6))
    assert stop_with(unheld, Stop(0.0, 2.2)).trips
    held = stop_with(course, Stop(0.0, 2.2))
    assert not held.trips
    assert held.seconds > 2.2


def test_the_limit_holds_a_run_up_that_is_set_too_quick():
    """Within the ease about the limit once the field is there, and about as quick as the shortest
    ramp that needs no holding, which goes by its worst place."""
    course = on_drive(30 * J_2K2, inverter=LIMITED, link=LINK, seconds=30.0)
    held, unheld = run_up(replace(course, ramp_up_s=1.0)), shortest_run_up(course)
    assert held.peak_run_a < 1.1 * LIMITED.limit_a
    assert held.run_up_s == pytest.approx(unheld.seconds, rel=0.25)
    free = run_up(replace(course, ramp_up_s=1.0, inverter=replace(LIMITED, limit_a=1e6)))
    assert free.peak_run_a > 1.5 * LIMITED.limit_a


def test_a_load_beyond_the_drive_does_not_run_up_and_it_says_so():
    course = on_drive(load=constant(3 * RATED_2K2_NM), inverter=LIMITED, link=LINK)
    found = shortest_run_up(course)
    assert found.ramp_s is None
    assert found.reason.code == "cannot_run_up"


def test_coasting_is_the_integral_of_what_brakes():
    """Constant load: seconds = J (w0 - w1)/T but for friction; the same by running it."""
    course = on_drive(10 * J_2K2, constant(6.0), link=LINK, seconds=10.0)
    by_run = stop_with(course, Stop(0.0)).seconds
    assert coasting_s(course) == pytest.approx(by_run, rel=0.01)
    bare = replace(M2K2, friction_w=0.0)
    alone = on_drive(10 * J_2K2, constant(6.0), circuit=bare, link=LINK)
    begin = drive_waves(replace(alone, running=True, seconds=1e-4)).end_rad_s
    expected = 10 * J_2K2 * (begin - 0.03 * field_rad_s(alone)) / 6.0
    assert coasting_s(alone) == pytest.approx(expected, rel=1e-9)
    assert coasting_s(on_drive(circuit=bare, link=LINK)) is None


def test_the_field_of_a_motor_switched_off_dies_by_the_rotor():
    """Open stator: flux falls with (Lm + L1)/R1 where there is one cage, its energy twice as fast;
    no current in the lines, and what the stator's leakage held went into the link."""
    one = replace(M2K2, cages=M2K2.cages[:1], friction_w=0.0)
    course = on_drive(100.0, circuit=one, running=True, stop=Stop(0.0))
    runs = [drive_waves(replace(course, seconds=t), every=1) for t in (0.1, 0.2, 0.3)]
    first, second, third = (found.energies.field_change for found in runs)
    w = 2 * math.pi * one.frequency_hz
    lag = (one.magnetising_ohm + one.cages[0].leakage_ohm) / w / one.cages[0].resistance_ohm
    assert (first - second) / (second - third) == pytest.approx(math.exp(0.2 / lag), rel=5e-3)
    assert np.all(runs[0].line_a == 0.0)
    assert runs[0].energies.freed > 0.0


@pytest.mark.parametrize(
    "change",
    [
        {"hertz": 0.0}, {"ramp_up_s": 0.0}, {"step_s": 3e-3},
        {"link": replace(LINK, trip_v=300.0)},
        {"link": replace(LINK, resistor=replace(RESISTOR, on_v=300.0))},
        {"stop": Stop(0.0, 0.0)},
        {"inverter": replace(INVERTER, base_v=0.0)},
    ],
)  # fmt: skip
def test_what_cannot_be_run_is_refused_in_words(change):
    with pytest.raises(UsageError, match="motor:"):
        drive_waves(replace(on_drive(), **change))


def test_a_motor_that_cannot_run_to_begin_with_is_refused():
    with pytest.raises(NoOperatingPoint, match="cannot carry its load"):
        drive_waves(on_drive(load=constant(60.0), running=True))


def test_a_run_repeats_to_the_last_bit():
    course = on_drive(load=constant(5.0), inverter=LIMITED, circuit=L2A)
    one, other = drive_waves(course, every=7), drive_waves(course, every=7)
    assert np.array_equal(one.speed_rad_s, other.speed_rad_s)
    assert one.energies == other.energies


def test_a_stop_after_a_run_up_is_the_stop_from_running():
    """One run of both against the two apart."""
    course = on_drive(10 * J_2K2, constant(5.0), link=NEVER_TRIPS, seconds=6.0)
    both = drive_waves(replace(course, stop=Stop(3.0, 1.0)), every=1)
    apart = drive_waves(replace(course, running=True, stop=Stop(0.0, 1.0)), every=1)
    assert first_below(replace_time(both, 3.0), 20.0) == pytest.approx(
        first_below(apart, 20.0), abs=1e-3
    )


def replace_time(found: DriveWaves, begin_s: float) -> DriveWaves:
    late = found.time_s > begin_s
    return replace(found, time_s=found.time_s[late] - begin_s, speed_rad_s=found.speed_rad_s[late])
