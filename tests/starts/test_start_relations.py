"""What must hold of every run in time, whatever the machines."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reference_machines import FARM, I4A, L2A, M2K2, M4K0, NO_LOAD, TOWN, constant, fan, uf
from starts.courses import IDLER, J_IDLER, MOTOR, cycles, idler_start, passes, then_motor

from phasewright.network.supply import Source
from phasewright.quantities.errors import UsageError
from phasewright.running.network import Between, Connected, Network
from phasewright.running.rows import friction_coefficients
from phasewright.running.settle import settle
from phasewright.starts.course import Course, Starter, StartResistor
from phasewright.starts.layout import HEAD, PER_MACHINE, SERVICE, SUPPLY, V12, V23, V31
from phasewright.starts.waves import Waves, waves

T22 = 14.54


def network_of(course: Course) -> Network:
    return Network(
        course.source, course.capacitance_f, tuple(each.machine for each in course.starters)
    )


SETTLED = {
    "idler": idler_start(0, speed=156.0, seconds=4.0),
    "motor": then_motor(idler_start(0, speed=156.0), constant(T22), at=0.0, seconds=8.0),
    "saturating": then_motor(
        idler_start(0, speed=156.0, circuit=I4A), fan(T22, 1445), circuit=L2A, at=0.0, seconds=8.0
    ),
    "weak supply": then_motor(
        idler_start(0, speed=156.0, source=FARM, run=uf(0, 25, 118)), constant(10.0), at=0.0,
        seconds=8.0,
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", SETTLED)
def test_a_heavy_shaft_ends_at_the_settled_point(case: str) -> None:
    """Fifty times the inertia, begun near the settled speeds: no ripple, the phasor's point."""
    course = SETTLED[case]
    point = settle(network_of(course))
    starters = tuple(
        replace(
            each, inertia_kg_m2=50 * each.inertia_kg_m2, speed_rad_s=of.speed_rpm * math.pi / 30
        )
        for each, of in zip(course.starters, point.machines, strict=True)
    )
    found = waves(replace(course, starters=starters, steps_per_cycle=200))
    assert cycles(found, found.volts_v)[-1] == pytest.approx(point.line_voltages_v, rel=3.5e-3)
    assert cycles(found, found.supply_a)[-1] == pytest.approx(point.supply_current_a, rel=3.5e-3)


@pytest.mark.parametrize("case", SETTLED)
def test_with_its_own_inertia_speed_and_volts_are_near_the_settled_ones(case: str) -> None:
    """Speed and line volts within half a per cent; the rest is the ripple of the light shaft."""
    course = SETTLED[case]
    point = settle(network_of(course))
    found = waves(replace(course, steps_per_cycle=200))
    speeds = found.speed_rad_s[-2:].mean(axis=0) * 30 / math.pi
    assert speeds == pytest.approx([each.speed_rpm for each in point.machines], rel=5e-3)
    assert cycles(found, found.volts_v)[-1] == pytest.approx(point.line_voltages_v, rel=5e-3)


def supplied_j(found: Waves) -> float:
    """Energy taken from lines 1 and 2 [J], by the record."""
    step = found.record[1, 0] - found.record[0, 0]
    return float((found.record[:, V12] * found.record[:, SUPPLY]).sum() * step)


def spent_j(found: Waves) -> tuple[float, float]:
    """(losses and load, what is stored at the end) [J], by the record."""
    course, record = found.course, found.record
    step = record[1, 0] - record[0, 0]
    losses = float((found.stator_w + found.rotor_w).sum() * (found.time_s[1] - found.time_s[0]))
    v1, v3 = record[:, V12], record[:, V31] + record[:, V12]
    space = (2 / 3 * v1 - v3 / 3) - 1j * v3 / math.sqrt(3)
    stored = 0.0
    for k, starter in enumerate(course.starters):
        circuit, load = starter.machine.circuit, starter.machine.load
        speed = record[:, HEAD + PER_MACHINE * k + 4]
        on = record[:, 0] > starter.closes_s
        losses += float((1.5 * abs(space[on]) ** 2).sum() * step / circuit.core_loss_ohm)
        a1, a2 = friction_coefficients(circuit)
        torque = a1 * speed + a2 * speed * abs(speed)
        if load.kind == "constant":
            torque = torque + load.torque_nm * np.clip(speed, -1, 1)
        losses += float((torque * speed).sum() * step)
        stored += 0.5 * starter.inertia_kg_m2 * (speed[-1] ** 2 - starter.speed_rad_s**2)
        w = 2 * math.pi * course.source.frequency_hz
        flux = np.abs(space[-4 * course.steps_per_cycle :]).mean() / w
        stored += 0.75 * flux**2 * w / (circuit.magnetising_ohm + circuit.stator_leakage_ohm)
    c = course.capacitance_f
    volts = record[-1, [V12, V23, V31]] ** 2
    return losses, stored + 0.5 * float(np.array([c.c12, c.c23, c.c31]) @ volts)


@pytest.mark.parametrize("load", [NO_LOAD, constant(10.0)])
def test_energy_balance(load) -> None:
    """What the supply gave is what was lost, what the load took and what is stored, to 0.1 %."""
    course = then_motor(idler_start(0, speed=40.0), load, seconds=3.0)
    found = waves(replace(course, steps_per_cycle=800), every=1)
    spent, stored = spent_j(found)
    assert spent + stored == pytest.approx(supplied_j(found), rel=1e-3)


def test_kirchhoff_at_the_supply() -> None:
    """Supply current is the sum of capacitors and machines at line 1, row by row."""
    found = waves(
        replace(then_motor(idler_start(0, speed=150.0), constant(5.0)), steps_per_cycle=1600),
        every=1,
    )
    record, c = found.record, found.course.capacitance_f
    step = record[1, 0] - record[0, 0]
    rate = (record[2:] - record[:-2]) / (2 * step)
    out = c.c12 * rate[:, V12] - c.c31 * rate[:, V31]
    for k in range(2):
        out = out + record[1:-1, HEAD + PER_MACHINE * k]
    quiet = abs(record[1:-1, 0] - 0.6) > 0.01
    quiet[: int(0.05 / step)] = False
    miss = abs(out - record[1:-1, SUPPLY])[quiet]
    assert miss.max() < 0.01 * abs(record[:, SUPPLY]).max()


def test_halving_the_step_divides_the_error_by_four() -> None:
    course = then_motor(idler_start(0, speed=30.0), constant(8.0), seconds=1.4)

    def speeds(steps: int) -> np.ndarray:
        found = waves(replace(course, steps_per_cycle=steps), every=steps // 2)
        return found.record[:, [HEAD + 4, HEAD + PER_MACHINE + 4]]

    best = speeds(3200)
    errors = [float(abs(speeds(steps) - best).max()) for steps in (100, 200, 400)]
    for coarse, fine in pairwise(errors):
        assert coarse / fine == pytest.approx(4.0, rel=0.15)


def test_ten_times_the_inertia_takes_about_ten_times_as_long() -> None:
    """Exactly so but for what the electrical transient at the beginning costs."""
    light = waves(idler_start(300, inertia=10 * J_IDLER, seconds=3.0), every=1)
    heavy = waves(idler_start(300, inertia=100 * J_IDLER, seconds=16.0), every=4)
    assert passes(heavy, 0.8) / passes(light, 0.8) == pytest.approx(10.0, rel=0.1)


def test_four_times_the_torque_stalls() -> None:
    course = then_motor(idler_start(0, speed=157.0), constant(T22), seconds=4.0)
    runs, stalls = waves(course), waves(
        then_motor(idler_start(0, speed=157.0), constant(4 * T22), seconds=4.0)
    )  # fmt: skip
    synchronous = 50 * math.pi
    assert runs.speed_rad_s[-1, 1] > 0.9 * synchronous
    assert abs(stalls.speed_rad_s[-1, 1]) < 0.2 * synchronous


def test_wired_the_other_way_round_a_motor_turns_backwards_and_nothing_else_changes() -> None:
    """On balanced lines; here the lines are a little uneven, so volts differ a little."""
    course = then_motor(idler_start(0, speed=157.0, run=uf(0, 47.5, 63)), NO_LOAD, seconds=2.0)
    turned = replace(
        course,
        starters=(
            course.starters[0],
            replace(course.starters[1], machine=replace(course.starters[1].machine, reversed=True)),
        ),
    )
    one, other = waves(course), waves(turned)
    assert one.speed_rad_s[-1, 1] > 150
    assert abs(other.speed_rad_s[-1, 0] - one.speed_rad_s[-1, 0]) < 1.0


@pytest.mark.parametrize(
    "course",
    [
        idler_start(300, run=Between(), seconds=0.6),  # no capacitor at all
        idler_start(0, run=uf(0, 3000, 3000), seconds=0.6),  # far too large
        idler_start(300, source=Source(230.0, 0.0, 0.0, 50.0), run=uf(40, 60, 60), seconds=0.6),
        idler_start(0, speed=157.08, seconds=0.6),  # already at speed
        idler_start(0, run=uf(0, 200, 200), source=Source(230.0, 0.05, 6.0, 50.0), seconds=0.6),
        idler_start(300, resistor=StartResistor(30.0, 0.3), seconds=0.6),
    ],
)
def test_strange_networks_stay_finite(course: Course) -> None:
    found = waves(course)
    for array in (found.volts_v, found.supply_a, found.line_a, found.speed_rad_s):
        assert np.isfinite(array).all()
    assert found.volts_v.max() < 50 * 230.0
    assert bool(found.told) == (course.source.resistance_ohm + course.source.reactance_ohm == 0.0)


def test_a_shaft_without_inertia_is_refused_in_words() -> None:
    with pytest.raises(UsageError, match="inertia"):
        waves(idler_start(300, inertia=0.0))


@given(
    c23=st.floats(0, 150),
    c31=st.floats(0, 200),
    ohm=st.floats(0.02, 2.0),
    share=st.floats(0.0, 1.0),
    torque=st.floats(0.0, 30.0),
)
@settings(max_examples=30, deadline=None)
def test_any_network_runs_and_is_repeatable(c23, c31, ohm, share, torque) -> None:
    course = then_motor(
        idler_start(0, run=uf(0, c23, c31), source=Source(230.0, ohm, 0.6 * ohm, 50.0),
                    speed=157.0 * share),
        constant(torque), at=0.1, seconds=0.4,
    )  # fmt: skip
    one, other = waves(course), waves(course)
    assert np.isfinite(one.volts_v).all()
    assert np.array_equal(one.speed_rad_s, other.speed_rad_s)
    assert (one.service_v <= 1.2 * 230.0 * max(1.0, one.volts_v.max() / 230.0)).all()


def test_service_and_lines_are_the_same_without_a_resistor() -> None:
    found = waves(idler_start(300), every=1)
    assert np.array_equal(found.record[:, SERVICE], found.record[:, V12])


def test_names_are_those_of_the_course() -> None:
    course = Course(TOWN, Between(), (Starter(Connected(IDLER, M4K0, NO_LOAD), 0.01),) * 2, 0.1)
    with pytest.raises(UsageError, match="name of its own"):
        waves(course)
    assert MOTOR != IDLER
    assert M2K2.poles == M4K0.poles
