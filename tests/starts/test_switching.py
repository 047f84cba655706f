"""What waits, lets go, steps and travels with a machine in a run in time."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from reference_machines import M2K2, NO_LOAD, TOWN, constant, uf
from starts.courses import IDLER, J_MOTOR, MOTOR, cycles, idler_start, then_motor

from phasewright.quantities.errors import UsageError
from phasewright.running.network import Between, Connected, Network
from phasewright.running.settle import settle
from phasewright.starts.course import (
    WHEN_SETTLED,
    Course,
    LoadStep,
    Starter,
    StartResistor,
)
from phasewright.starts.waves import as_run, waves


def in_turn(torque_nm: float = 10.0, *, resistor: StartResistor | None = None) -> Course:
    """The idler by its start capacitor, then a motor, each as soon as all has settled."""
    course = then_motor(
        idler_start(300, resistor=resistor, steps=100), constant(torque_nm), at=WHEN_SETTLED,
        seconds=8.0,
    )  # fmt: skip
    return replace(course, stops_when_settled=True)


def test_a_waiting_machine_closes_once_all_has_settled() -> None:
    found = waves(in_turn())
    closed = found.closed_s[1]
    assert closed is not None
    assert found.settled_s is not None
    assert found.dropped_s is not None
    assert found.dropped_s < closed < found.settled_s < 8.0
    before = found.time_s < closed
    idler = found.speed_rad_s[before, 0]
    assert idler[-1] == pytest.approx(idler[-10], rel=1e-3)
    assert (found.line_a[before, 1] == 0.0).all()
    assert found.time_s[-1] < found.settled_s + 0.02


def test_the_settled_end_is_the_settled_point() -> None:
    """A run that says it has settled ends where the phasor solution is."""
    found = waves(in_turn())
    course = found.course
    point = settle(
        Network(course.source, course.capacitance_f, tuple(s.machine for s in course.starters))
    )
    ends = found.speed_rad_s[-2:].mean(axis=0) * 30 / math.pi
    assert ends == pytest.approx([each.speed_rpm for each in point.machines], rel=5e-3)
    assert found.volts_v[-1] == pytest.approx(point.line_voltages_v, rel=1e-2)


def test_a_run_written_with_its_instants_repeats_to_the_last_digit() -> None:
    found = waves(in_turn(resistor=StartResistor(2.0, WHEN_SETTLED)), every=2)
    again = waves(as_run(found), every=2)
    assert np.array_equal(found.record, again.record)
    assert again.closed_s == found.closed_s
    assert again.bypassed_s == found.bypassed_s


def test_the_bypass_comes_before_the_machine_that_waits() -> None:
    found = waves(in_turn(resistor=StartResistor(2.0, WHEN_SETTLED)))
    assert found.bypassed_s is not None
    assert found.closed_s[1] is not None
    assert found.bypassed_s < found.closed_s[1]


@pytest.mark.parametrize("share", [0.25, 0.5])
def test_a_point_on_the_wave_is_met(share: float) -> None:
    course = in_turn()
    late = replace(course.starters[1], point_on_wave=share)
    closed = waves(replace(course, starters=(course.starters[0], late))).closed_s[1]
    assert closed is not None
    steps = course.steps_per_cycle // 2
    assert (closed * 100.0) % 1.0 == pytest.approx(share, abs=1.01 / steps)


def test_what_never_settles_says_so() -> None:
    """A heavy shaft is still running up when the time is over: nothing was settled, and the
    machine that waited was never switched on."""
    course = in_turn()
    heavy = replace(course.starters[0], inertia_kg_m2=200.0)
    found = waves(replace(course, starters=(heavy, course.starters[1]), seconds=2.0))
    assert found.settled_s is None
    assert found.closed_s[1] is None
    assert len(found.time_s) == 200


def test_load_steps_come_in_their_order() -> None:
    """Half the load turns faster than all of it, none faster still."""
    base = then_motor(idler_start(0, speed=156.0), constant(10.0), at=0.0, seconds=3.0)
    steps = (LoadStep(MOTOR, 2.0, 0.0), LoadStep(MOTOR, 1.0, 0.5))
    found = waves(replace(base, load_steps=steps))
    full, half, none = (found.speed_rad_s[at, 1] for at in (98, 198, 298))
    assert full < half < none
    half_load = then_motor(idler_start(0, speed=156.0), constant(5.0), at=0.0, seconds=2.0)
    assert half == pytest.approx(waves(half_load).speed_rad_s[-1, 1], rel=1e-3)


def test_a_load_step_of_nobody_is_refused() -> None:
    with pytest.raises(UsageError, match="nobody"):
        waves(replace(idler_start(300), load_steps=(LoadStep("nobody", 0.1, 2.0),)))


def test_undervoltage_release_lets_go_for_good() -> None:
    """The supply is away for 0.4 s: the contactor with a release stays open, the other closes
    the motor onto the returned lines again."""
    lost = replace(
        then_motor(idler_start(0, speed=156.0), NO_LOAD, at=0.0, seconds=3.0),
        lost_s=1.0, returns_s=1.4,
    )  # fmt: skip
    released = replace(
        lost, starters=tuple(replace(each, releases_below_v=120.0) for each in lost.starters)
    )
    held, let_go = waves(lost), waves(released)
    assert held.released_s == (None, None)
    assert all(at is not None and 1.0 < at < 1.4 for at in let_go.released_s)
    assert held.line_a[-1].min() > 0.5
    assert (let_go.line_a[-1] == 0.0).all()


def test_a_short_dip_does_not_release() -> None:
    """Half a cycle away is less than the lag of a coil."""
    course = then_motor(idler_start(0, speed=156.0), NO_LOAD, at=0.0, seconds=1.5)
    course = replace(
        course, lost_s=1.0, returns_s=1.012,
        starters=tuple(replace(each, releases_below_v=100.0) for each in course.starters),
    )  # fmt: skip
    assert waves(course).released_s == (None, None)


def travelling(tied: Between) -> Starter:
    return Starter(
        Connected(MOTOR, M2K2, constant(8.0)), J_MOTOR, closes_s=0.6, travelling_f=tied
    )  # fmt: skip


def test_capacitors_that_come_with_a_motor_settle_as_if_they_were_in_the_bank() -> None:
    base = idler_start(0, speed=156.0, run=uf(0, 20, 40), seconds=3.0)
    tied = uf(0, 5, 60)
    found = waves(replace(base, starters=(*base.starters, travelling(tied))))
    bank = Between(0.0, 25e-6, 100e-6)
    point = settle(Network(TOWN, bank, (base.starters[0].machine, travelling(tied).machine)))
    assert cycles(found, found.volts_v)[-1] == pytest.approx(point.line_voltages_v, rel=5e-3)
    without = waves(replace(base, seconds=0.6))
    assert np.array_equal(found.volts_v[:59], without.volts_v[:59])


def test_a_motor_switched_off_with_its_capacitors_brakes_itself() -> None:
    """Its capacitors go on exciting it: the energy lost in its windings and iron slows it more
    than friction alone does, and the others do not feel it."""
    base = then_motor(idler_start(0, speed=156.0), NO_LOAD, at=0.0, seconds=2.5)
    motor = replace(base.starters[1], opens_s=1.5, travelling_f=uf(60, 60, 60))
    bare = replace(base.starters[1], opens_s=1.5)
    excited = waves(replace(base, starters=(base.starters[0], motor)))
    coasting = waves(replace(base, starters=(base.starters[0], bare)))
    assert excited.speed_rad_s[-1, 1] < coasting.speed_rad_s[-1, 1] - 1.0
    assert excited.volts_v[-1] == pytest.approx(coasting.volts_v[-1], rel=1e-3)
    assert excited.closed_s[1] == 0.0
    assert excited.course.starters[0].machine.name == IDLER
