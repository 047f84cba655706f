"""A source of three lines in time, against the motor's own circuit on three equal lines (another
module, closed form), balances of energy and amps, and relations that must hold."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from reference_machines import I4A, L2A, M2K2, NO_LOAD, constant, fan, uf
from starts.courses import J_MOTOR, MOTOR

from phasewright.machines.performance import at_slip, locked
from phasewright.network.supply import Source
from phasewright.quantities.errors import NotComputable, UsageError
from phasewright.running.network import Between, Connected
from phasewright.running.rows import friction_coefficients
from phasewright.starts.at_end import network_at_end
from phasewright.starts.brief import brief
from phasewright.starts.course import Course, LoadStep, Starter, StartResistor
from phasewright.starts.layout import HEAD, SUPPLY, V12, V23, V31
from phasewright.starts.outcome import outcome
from phasewright.starts.waves import waves

STIFF = Source(230.0, 0.04, 0.04, 50.0)
SOFT = Source(230.0, 0.4, 1.2, 50.0)


def course(source=STIFF, load=NO_LOAD, circuit=L2A, seconds=1.5, steps=200, **more) -> Course:
    starter = Starter(
        Connected(MOTOR, circuit, load), more.pop("inertia", J_MOTOR),
        breakaway_nm=more.pop("breakaway", 0.0), speed_rad_s=more.pop("speed", 0.0),
    )  # fmt: skip
    return Course(
        source=source, capacitance_f=Between(), starters=(starter,), seconds=seconds,
        three_lines=True, steps_per_cycle=steps, **more,
    )  # fmt: skip


@pytest.mark.parametrize("circuit", [L2A, M2K2, I4A], ids=["two cages", "linear", "larger"])
@pytest.mark.parametrize("source", [STIFF, SOFT], ids=["stiff", "soft"])
def test_it_settles_where_the_motors_own_circuit_does(circuit, source):
    found = waves(course(source, constant(10.0), circuit, seconds=3.0))
    volts, speed = found.volts_v[-1], float(found.speed_rad_s[-1, 0])
    assert np.ptp(volts) < 1e-4 * volts.mean()
    point = at_slip(circuit, 1.0 - speed / (math.pi * 50.0), float(volts.mean()), 50.0)
    assert found.source_lines_a[-1] == pytest.approx([point.current_a] * 3, rel=1e-4)
    assert found.lines_a[-1, 0] == pytest.approx([point.current_a] * 3, rel=1e-4)
    assert found.source_w[-1] == pytest.approx(point.input_power_w, rel=1e-4)
    # behind half of the loop's impedance in each line
    phi = math.acos(point.power_factor)
    line = 0.5 * complex(source.resistance_ohm, source.reactance_ohm)
    ahead = volts.mean() / math.sqrt(3.0) + line * point.current_a * complex(
        math.cos(phi), -math.sin(phi)
    )
    assert abs(ahead) * math.sqrt(3.0) == pytest.approx(source.voltage_v, rel=1e-4)


def test_held_at_standstill_it_draws_the_circuits_starting_amps():
    """With ten thousand times the inertia it does not turn; the offset dies away."""
    found = waves(course(circuit=M2K2, inertia=1e4 * J_MOTOR, seconds=2.0))
    held = locked(M2K2, float(found.volts_v[-1].mean()), 50.0)
    assert found.source_lines_a[-1] == pytest.approx([held.current_a] * 3, rel=1e-3)


def test_energy_from_the_source_goes_to_windings_iron_shaft_and_load():
    of = course(SOFT, fan(14.5, 1445), breakaway=3.0, seconds=1.5, steps=400)
    found = waves(of, every=1)
    record, z = found.record, L2A
    h = 0.02 / 400
    at = HEAD
    i1, i3 = record[:, at], record[:, at + 2]
    speed, torque = record[:, at + 4], record[:, at + 3]
    v = record[:, V12] * i1 - record[:, V23] * i3
    half_s = 0.01
    given = float((v * h).sum())
    assert float(found.source_w.sum() * half_s) == pytest.approx(given, rel=1e-3)
    iron = float(
        ((record[:, V12] ** 2 + record[:, V23] ** 2 + record[:, V31] ** 2) / 3.0).sum()
        * h
        / z.core_loss_ohm
    )
    heat = float((found.stator_w[:, 0].sum() + found.rotor_w[:, 0].sum()) * half_s)
    shaft = float((torque * speed).sum() * h)
    a1, a2 = friction_coefficients(z)
    asked = 14.5 * (speed / (1445 * math.pi / 30)) ** 2
    asked += np.maximum(3.0 - asked, 0.0) * np.clip(speed, -1, 1) * np.maximum(0, 1 - 0.1 * speed)
    load = float(((asked + a1 * speed + a2 * speed * abs(speed)) * speed).sum() * h)
    kinetic = 0.5 * J_MOTOR * speed[-1] ** 2
    assert shaft == pytest.approx(load + kinetic, rel=2e-3)
    # what stays in the fields is less than a thousandth of it
    assert given == pytest.approx(iron + heat + shaft, rel=3e-3)


def test_currents_of_three_lines_leave_nothing_over_and_line_1_is_the_supplys():
    found = waves(course(SOFT, constant(8.0)), every=1)
    own = found.record[:, HEAD : HEAD + 3]
    assert abs(own.sum(axis=1)).max() < 1e-9
    # a saturating main flux is predicted for the step and solved anew after it
    assert found.record[:, SUPPLY] == pytest.approx(own[:, 0], abs=1e-5 * found.supply_peak_a.max())
    assert found.supply_a == pytest.approx(found.source_lines_a.max(axis=1))
    assert found.service_v == pytest.approx(found.volts_v.min(axis=1))


def test_a_point_on_the_wave_moves_first_peaks_only():
    ends = []
    for degrees in (0.0, 40.0, 130.0):
        found = waves(course(SOFT, constant(8.0), phase_rad=math.radians(degrees)))
        ends.append((found.speed_rad_s[-1, 0], found.source_lines_a[-1, 0]))
    assert np.ptp([each[0] for each in ends]) < 1e-3
    assert np.ptp([each[1] for each in ends]) < 1e-3


def test_a_softer_source_never_starts_it_quicker_and_dips_more():
    times, dips, peaks = [], [], []
    for share in (0.2, 0.5, 1.0, 2.0, 4.0):
        source = Source(230.0, 0.3 * share, 0.6 * share, 50.0)
        told = brief(
            waves(course(source, fan(14.0, 1445), seconds=10.0, stops_when_settled=True)), 0
        )
        times.append(told.seconds)
        dips.append(told.dip_ratio)
        peaks.append(told.peak_a)
    assert times == sorted(times)
    assert dips == sorted(dips)
    assert peaks == sorted(peaks, reverse=True)
    assert times[0] < times[-1]


def test_more_torque_than_it_has_leaves_it_standing_and_ten_times_the_inertia_takes_ten_times():
    weak = waves(course(SOFT, constant(5.0), breakaway=90.0, seconds=3.0, stops_when_settled=True))
    assert outcome(weak, 0).code == "stands_still"
    light, heavy = (
        brief(waves(course(STIFF, seconds=20.0, inertia=J_MOTOR * k, stops_when_settled=True)), 0)
        for k in (10.0, 100.0)
    )
    assert heavy.seconds == pytest.approx(10.0 * light.seconds, rel=0.1)


def test_two_motors_share_it_and_a_load_step_slows_one():
    two = course(SOFT, constant(6.0), seconds=2.0)
    other = Starter(Connected("other", M2K2, constant(4.0)), 0.02, closes_s=0.8)
    found = waves(
        replace(two, starters=(*two.starters, other), load_steps=(LoadStep(MOTOR, 1.5, 1.5),))
    )
    halves = found.time_s
    before, dipped = found.service_v[halves < 0.8][-1], found.service_v[halves > 0.8].min()
    assert dipped < before
    assert found.speed_rad_s[-1, 0] < found.speed_rad_s[halves < 1.5][-1, 0]
    both = found.lines_a[-1].sum(axis=0)
    assert (found.source_lines_a[-1] <= both + 1e-6).all()


def test_a_motor_wired_the_other_way_turns_the_other_way():
    one = course(STIFF)
    (starter,) = one.starters
    turned = replace(starter, machine=replace(starter.machine, reversed=True))
    forward, back = waves(one), waves(replace(one, starters=(turned,)))
    assert back.speed_rad_s[-1, 0] == pytest.approx(-forward.speed_rad_s[-1, 0], rel=1e-6)
    assert forward.speed_rad_s[-1, 0] > 0.0


def test_what_is_not_followed_on_three_lines_is_refused_and_a_source_of_two_has_no_such_columns():
    with pytest.raises(UsageError, match="three lines"):
        waves(replace(course(), resistor=StartResistor(1.0, 0.2)))
    with pytest.raises(UsageError, match="three lines"):
        waves(replace(course(), lost_s=0.2))
    with pytest.raises(NotComputable, match="three"):
        network_at_end(course())
    two = waves(replace(course(seconds=0.1), three_lines=False, capacitance_f=uf(0, 0, 60)))
    assert two.source_w.size == two.source_lines_a.size == 0
