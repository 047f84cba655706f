"""What became of machines in real runs: up, how fast, and every way of failing."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from reference_machines import M2K2, M4K0, NO_LOAD, TOWN, constant, fan, rated_torque, uf
from starts.courses import IDLER, J_IDLER, MOTOR, idler_start, passes, then_motor
from starts.flat import flat

from phasewright.running.network import Connected, LoadLaw
from phasewright.starts.course import WHEN_SETTLED, Course, LoadStep, Starter
from phasewright.starts.outcome import asked_nm, breakdown_rad_s, outcome, outcomes
from phasewright.starts.seen import deepest_dip, events, seconds_above
from phasewright.starts.waves import waves

RATED = rated_torque(2200, 1445)
CONVERTER = idler_start(300, run=uf(0, 25, 118))


def started(load: LoadLaw, seconds: float = 4.0, **how):
    return waves(then_motor(CONVERTER, load, seconds=seconds, **how), every=1)


@pytest.mark.parametrize("load", [NO_LOAD, fan(RATED, 1445), constant(0.5 * RATED)])
def test_what_starts_is_up_when_its_record_says_so(load: LoadLaw) -> None:
    """Against the record's own passing of 95 % of the speed it ends at, within a cycle."""
    found = started(load)
    told = outcome(found, 1)
    end = found.speed_rad_s[-4:, 1].mean()
    share = 0.95 * end / (50.0 * math.pi)
    assert told.runs_up
    assert told.code == "runs_up"
    assert told.time_s == pytest.approx(passes(found, share, 1) - 0.6, abs=0.02)
    assert told.end_speed_rpm == pytest.approx(end * 30.0 / math.pi)
    assert outcome(found, 0).runs_up


@pytest.mark.parametrize("inertia", [0.0275, 0.05])
def test_ten_times_the_inertia_takes_about_ten_times_as_long(inertia: float) -> None:
    light, heavy = (
        outcome(started(NO_LOAD, 8.0, inertia=each), 1) for each in (inertia, 10.0 * inertia)
    )
    assert heavy.time_s == pytest.approx(10.0 * light.time_s, rel=0.15)


def test_four_times_the_torque_stalls_at_a_named_speed() -> None:
    """A fan of rated torque runs up; of four times that it hangs below its breakdown speed, where
    what it is asked balances what the run's mean torque gives."""
    load = fan(4.0 * RATED, 1445)
    found = started(load, 6.0)
    told = outcome(found, 1)
    assert outcome(started(fan(RATED, 1445)), 1).runs_up
    assert (told.runs_up, told.code) == (False, "stalls")
    assert 0.03 * 1500 < told.end_speed_rpm < breakdown_rad_s(M2K2, 50.0) * 30.0 / math.pi
    torque = found.record[-800:, 7 + 5 + 3].mean()
    assert told.asked_nm == pytest.approx(torque, rel=0.02)
    assert f"{told.end_speed_rpm:.0f} rpm" in told.words


def test_what_asks_more_than_it_gives_at_rest_does_not_turn() -> None:
    told = outcome(started(constant(5.0 * RATED)), 1)
    assert (told.runs_up, told.code) == (False, "stands_still")
    assert told.asked_nm == pytest.approx(5.0 * RATED, rel=0.01)
    stuck = then_motor(CONVERTER, NO_LOAD, seconds=3.0)
    motor = replace(stuck.starters[1], breakaway_nm=60.0)
    told = outcome(waves(replace(stuck, starters=(stuck.starters[0], motor))), 1)
    assert (told.code, told.asked_nm) == ("stands_still", 60.0)


def test_a_run_that_ends_too_soon_says_so() -> None:
    told = outcome(started(NO_LOAD, 1.0, inertia=0.5), 1)
    assert (told.runs_up, told.code) == (None, "not_settled")
    assert told.time_s is None
    told = outcome(started(NO_LOAD, 0.62), 1)
    assert (told.runs_up, told.code) == (None, "not_settled")
    slow = outcome(started(NO_LOAD, 1.6, inertia=20.0), 1)
    assert (slow.runs_up, slow.code) == (None, "not_settled")


def test_a_machine_whose_contactor_never_closes() -> None:
    told = outcome(started(NO_LOAD, 1.0, at=5.0), 1)
    assert (told.runs_up, told.code) == (False, "never_closed")
    waits = then_motor(idler_start(300, inertia=5.0), NO_LOAD, at=WHEN_SETTLED, seconds=0.5)
    assert outcome(waves(waits), 1).code == "never_closed"


def test_a_machine_that_another_pulls_down_names_it() -> None:
    """A motor that ran falls below its breakdown speed when a much larger one cannot start."""
    course = then_motor(CONVERTER, constant(1.1 * RATED), seconds=6.0)
    big = Starter(Connected("press", M4K0, constant(200.0)), 0.1, closes_s=2.0)
    found = waves(replace(course, starters=(*course.starters, big)))
    told = outcomes(found)
    assert told[1].code == "pulled_down"
    assert told[1].runs_up is False
    assert "press" in told[1].words
    assert told[2].code == "stands_still"
    assert outcome(waves(course), 1).runs_up


def test_a_load_step_can_pull_a_machine_down() -> None:
    course = then_motor(CONVERTER, constant(0.5 * RATED), seconds=5.0)
    course = replace(course, load_steps=(LoadStep(MOTOR, 2.0, 10.0),))
    told = outcome(waves(course), 1)
    assert told.code == "pulled_down"


def test_an_idler_pushed_the_wrong_way_runs_backwards() -> None:
    pushed = Course(
        TOWN, uf(0, 47.5, 63), (Starter(Connected(IDLER, M4K0, NO_LOAD), J_IDLER, speed_rad_s=-140.0),), 2.0,
    )  # fmt: skip
    told = outcome(waves(pushed), 0)
    assert (told.runs_up, told.code) == (False, "runs_backwards")
    right = replace(pushed.starters[0], speed_rad_s=155.0)
    assert outcome(waves(replace(pushed, starters=(right,))), 0).code == "keeps_running"


def test_what_stands_against_follows_the_load_steps_before() -> None:
    course = then_motor(CONVERTER, constant(RATED), seconds=4.0)
    course = replace(course, load_steps=(LoadStep(MOTOR, 0.2, 5.0), LoadStep(MOTOR, 9.0, 0.1)))
    told = outcome(waves(course), 1)
    assert told.code == "stands_still"
    assert told.asked_nm == pytest.approx(5.0 * RATED, rel=0.01)


def rising(from_share: float, to_share: float, settled_s: float | None = None):
    """Two seconds in which the idler's speed rises from one share of synchronous to another."""
    made = flat(seconds=2.0)
    speeds = np.linspace(from_share, to_share, 200)[:, None] * 50.0 * math.pi
    return replace(made, speed_rad_s=speeds, settled_s=settled_s)


def test_what_counts_as_settled() -> None:
    told = outcome(rising(0.2, 0.96), 0)
    assert (told.runs_up, told.code) == (True, "runs_up")
    assert "not quite settled" in told.words
    assert outcome(rising(0.2, 0.5), 0).code == "not_settled"
    assert outcome(rising(0.5, 0.2), 0).code == "not_settled"
    assert outcome(rising(0.2, 0.5, settled_s=1.9), 0).code == "stalls"
    assert outcome(rising(0.5, 0.5), 0).code == "stalls"


def test_switched_off_before_it_could_run_up_nothing_is_known() -> None:
    course = then_motor(CONVERTER, NO_LOAD, seconds=8.0)
    off = replace(course.starters[1], opens_s=0.65)
    found = waves(replace(course, starters=(course.starters[0], off)))
    told = outcome(replace(found, settled_s=7.0), 1)
    assert (told.runs_up, told.code) == (None, "switched_off")


def test_switched_off_and_let_go() -> None:
    course = then_motor(CONVERTER, constant(0.5 * RATED), seconds=3.0)
    off = replace(course.starters[1], opens_s=2.0)
    told = outcome(waves(replace(course, starters=(course.starters[0], off))), 1)
    assert (told.runs_up, told.code) == (True, "switched_off")
    weak = replace(course.starters[1], releases_below_v=225.0)
    found = waves(replace(course, starters=(course.starters[0], weak)))
    assert found.released_s[1] is not None
    told = outcome(found, 1)
    assert (told.runs_up, told.code) == (False, "let_go")
    assert "machine_let_go" in {event.what for event in events(found)}


def test_what_is_asked_is_what_the_run_asked() -> None:
    """At a settled speed the mean torque of the run is what load and friction ask there."""
    for load in (constant(0.7 * RATED), fan(RATED, 1445), LoadLaw("viscous", RATED, 151.0)):
        found = started(load, 5.0)
        speed = found.speed_rad_s[-4:, 1].mean()
        asked = asked_nm(found.course.starters[1], TOWN, speed)
        assert asked == pytest.approx(found.record[-800:, 7 + 5 + 3].mean(), rel=0.002)


def test_a_run_that_waits_and_stops_by_itself_is_judged_the_same() -> None:
    load = fan(RATED, 1445)
    course = then_motor(CONVERTER, load, at=WHEN_SETTLED, seconds=8.0)
    stops = waves(replace(course, stops_when_settled=True))
    told, longer = outcome(stops, 1), outcome(waves(course), 1)
    assert (told.code, longer.code) == ("runs_up", "runs_up")
    assert told.time_s == pytest.approx(longer.time_s, rel=1e-3)  # of a speed it ends near
    assert told.closed_s == stops.closed_s[1]
    heavy = then_motor(CONVERTER, constant(5.0 * RATED), at=WHEN_SETTLED, seconds=8.0)
    stuck = waves(replace(heavy, stops_when_settled=True))
    assert outcome(stuck, 1).code == "stands_still"


def test_dips_of_events() -> None:
    """The reference table's least cycle volts of an idler's start (210.8 of 230) bound the fall:
    a half cycle is at least as deep as its cycle; a stiffer supply dips less."""
    found = waves(idler_start(300, seconds=1.0))
    first = events(found)[0]
    assert (first.what, first.machine) == ("machine_on", IDLER)
    assert 1.0 - 210.8 / 230.0 <= first.dip < 1.2 * (1.0 - 210.8 / 230.0)
    assert first.dip_12 == pytest.approx(first.dip)
    assert first.dip_23 is first.dip_31 is None
    assert deepest_dip(found) == first.dip
    stiff = replace(TOWN, resistance_ohm=0.125, reactance_ohm=0.075)
    assert deepest_dip(waves(idler_start(300, source=stiff))) < first.dip


def test_a_start_is_seen_by_its_own_event_alone() -> None:
    found = started(fan(RATED, 1445))
    by = {(event.what, event.machine): event for event in events(found)}
    motor = by["machine_on", MOTOR]
    assert motor.at_s == pytest.approx(0.6)
    assert motor.dip_31 > motor.dip_12 > 0.0
    before, after = found.service_v[59], found.service_v[60:].min()
    assert motor.dip == pytest.approx(1.0 - after / before)
    assert motor.supply_peak_a == found.supply_peak_a[60:].max()


def test_seconds_above_a_level_fall_with_it() -> None:
    found = started(fan(RATED, 1445))
    spans = [seconds_above(found, level) for level in (0.0, 20.0, 40.0, 1e4)]
    assert spans == sorted(spans, reverse=True)
    assert spans[0] == pytest.approx(4.0)
    assert spans[-1] == 0.0
