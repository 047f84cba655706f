"""Coils, speed that falls, heat of a start, starts an hour, volts on capacitors."""

from __future__ import annotations

import json
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reference_machines import M2K2, NO_LOAD, constant, fan, rated_torque, uf
from starts.courses import IDLER, MOTOR, idler_start, then_motor
from starts.flat import drawing, flat

from phasewright.machines.performance import locked, rated
from phasewright.quantities.errors import UsageError
from phasewright.quantities.plain import plain
from phasewright.running.network import Between
from phasewright.starts.capacitor_volts import run_capacitor_volts, start_capacitor_volts
from phasewright.starts.course import Drop
from phasewright.starts.felt import coil, speed_falls
from phasewright.starts.heat import hottest_squares, start_heat
from phasewright.starts.outcome import Outcome, outcome
from phasewright.starts.overload import Overload
from phasewright.starts.starts_an_hour import start_capacitor_on_s, starts_an_hour
from phasewright.starts.trips import Device
from phasewright.starts.verdict import Shopside, verdict
from phasewright.starts.waves import waves

RATED = rated_torque(2200, 1445)
CONVERTER = idler_start(300, run=uf(0, 25, 118))
UP = Outcome(IDLER, True, "runs_up", "", 1490.0, 0.0, 1.0)


def started(load, seconds: float = 4.0, **how):
    return waves(then_motor(CONVERTER, load, seconds=seconds, **how))


def at_volts(shares: list[float], on_line_3: float = 1.0):
    """Half cycles of pair 1-2 at these shares of 230 V, all of line 3 at one; closed at 50 ms."""
    course = idler_start(300)
    late = replace(course, starters=(replace(course.starters[0], closes_s=0.05),))
    run = flat(late, seconds=0.01 * len(shares))
    volts = np.full((len(shares), 3), 230.0 * on_line_3)
    volts[:, 0] = 230.0 * np.array(shares)
    return replace(run, volts_v=volts)


@pytest.mark.parametrize(("at_start", "later", "pulls", "holds"), [
    (0.851, 0.90, "pulls_in", "holds"), (0.849, 0.90, "may_not_pull_in", "holds"),
    (0.90, 0.751, "pulls_in", "holds"), (0.90, 0.749, "pulls_in", "may_drop_out"),
    (0.90, 0.50, "pulls_in", "may_drop_out"), (0.90, 0.39, "pulls_in", "drops_out"),
])  # fmt: skip
def test_a_coil_at_the_limits(at_start: float, later: float, pulls: str, holds: str) -> None:
    """Pulls in from 85 %, holds from 75 %, usual ones let go from 65 to 40 %."""
    felt = coil(at_volts([1.0] * 5 + [at_start] * 2 + [1.0] * 4 + [later] * 2 + [1.0]), 0, 230.0)
    assert (felt.pulls_in, felt.holds) == (pulls, holds)
    assert felt.pull_in_ratio == pytest.approx(min(1.0, at_start))


def test_volts_before_its_own_start_do_not_drop_a_coil_but_one_half_cycle_is_not_a_cycle() -> None:
    felt = coil(at_volts([0.2] * 3 + [1.0] * 6), 0, 230.0)
    assert (felt.pulls_in, felt.holds) == ("pulls_in", "holds")
    low = coil(at_volts([1.0] * 3 + [0.8] * 2 + [1.0] * 5), 0, 230.0)
    assert (low.pulls_in, low.holds) == ("may_not_pull_in", "holds")
    blink = coil(at_volts([1.0] * 8 + [0.6] + [1.0] * 4), 0, 230.0)
    assert blink.least_ratio == pytest.approx(math.sqrt(0.5 * (1.0 + 0.36)))
    assert blink.holds == "holds"


def test_a_coil_on_line_3_sees_the_lower_of_its_pairs() -> None:
    run = at_volts([1.0] * 10, on_line_3=0.8)
    assert coil(run, 0, 230.0).pulls_in == "pulls_in"
    assert coil(run, 0, 230.0, "line 3").pulls_in == "may_not_pull_in"
    volts = run.volts_v.copy()
    volts[:, 1] = 230.0
    for uneven in (volts, volts[:, [0, 2, 1]]):
        felt = coil(replace(run, volts_v=uneven), 0, 230.0, "line 3")
        assert felt.least_ratio == pytest.approx(0.8)
    real = started(fan(RATED, 1445))
    both = [coil(real, 1, 230.0, lines).least_ratio for lines in ("1-2", "line 3")]
    assert both[1] < both[0]


def test_a_running_idler_falls_in_speed_when_a_motor_starts() -> None:
    found = started(fan(RATED, 1445))
    (fall,) = speed_falls(found)
    assert (fall.machine, fall.by) == (IDLER, MOTOR)
    assert 0.0 < fall.fall < 0.2
    assert fall.least_rpm == pytest.approx(found.speed_rad_s[60:, 0].min() * 30.0 / math.pi)
    assert fall.least_rpm == pytest.approx(fall.before_rpm * (1.0 - fall.fall))


@pytest.mark.parametrize("inertia", [0.03, 0.1, 0.3])
def test_the_rotor_takes_at_least_what_turns_in_the_end(inertia: float) -> None:
    """At every slip the forward field loses T (w_s - w) in the cage, 1/2 J w_s^2 over a whole
    unloaded start; the backward field of unequal lines only adds to it."""
    found = started(NO_LOAD, 6.0, inertia=inertia)
    heat = start_heat(found, 1, outcome(found, 1))
    up = found.speed_rad_s[60 + round(heat.seconds / 0.01) - 1, 1]
    kinetic = 0.5 * inertia * ((50.0 * math.pi) ** 2 - (50.0 * math.pi - up) ** 2)
    assert kinetic < heat.rotor_j < 4.0 * kinetic


def test_a_longer_start_heats_more_and_a_light_one_is_borne() -> None:
    heats = []
    for inertia in (0.0275, 0.1, 0.4):
        found = started(constant(5.0), 9.0, inertia=inertia)
        heats.append(start_heat(found, 1, outcome(found, 1)))
    assert heats[0].verdict == "bears"
    for less, more in ((heats[0], heats[1]), (heats[1], heats[2])):
        assert less.seconds < more.seconds
        assert less.winding_low_c < more.winding_low_c
        assert less.winding_high_c < more.winding_high_c
        assert (less.stator_j, less.rotor_j) < (more.stator_j, more.rotor_j)
        assert less.stall_ratio < more.stall_ratio


def test_twelve_seconds_of_locked_rotor_current_are_all_it_stands() -> None:
    """By NEMA MG 1, 12.49; its loss at any copper density makes the same ratio."""
    run = drawing(
        np.full(1200, locked(M2K2).current_a), then_motor(CONVERTER, NO_LOAD, circuit=M2K2, at=0.0)
    )
    lines = run.lines_a.copy()
    lines[:, 1] = lines[:, 0]
    run = replace(run, lines_a=lines)
    told = replace(UP, machine=MOTOR, time_s=12.0)
    heat = start_heat(run, 1, told)
    assert heat.stall_ratio == pytest.approx(1.0)
    assert heat.winding_low_c < heat.winding_c < heat.winding_high_c
    assert start_heat(run, 1, told, insulation_class="H").verdict != "too_hot"
    assert start_heat(run, 1, replace(told, time_s=60.0), before_c=220.0).verdict != "bears"
    assert start_heat(run, 1, told, insulation_class="E").verdict == "not_judged"
    assert start_heat(run, 1, replace(told, closed_s=None)) is None


def test_a_stalled_motor_is_not_borne() -> None:
    found = started(constant(5.0 * RATED))
    heat = start_heat(found, 1, outcome(found, 1))
    assert heat.verdict in ("may_not_bear", "too_hot")
    assert starts_an_hour(found, 1, heat, duty=0.5) is None


def test_a_flywheel_beyond_the_standard_start_is_told_though_the_winding_bears_it() -> None:
    """IEC 60034-12 asks 0.46 kg m2 of a 2.2 kW four-pole motor."""
    found = started(NO_LOAD, 12.0, inertia=0.55)
    heat = start_heat(found, 1, outcome(found, 1))
    assert heat.runs_up
    assert heat.winding_high_c < heat.greatest_c
    assert heat.stall_ratio < 1.0 < heat.rotor_ratio
    assert heat.verdict == "may_not_bear"


def test_windings_from_their_lines() -> None:
    """Equal lines: every winding at its share. One line open: in star both others carry the line;
    in delta one winding carries two thirds of it, over 1/sqrt(3) at the plate: 4/3 of the square."""
    run = drawing(np.full(4, 13.915))
    assert hottest_squares(run, 0, delta=True) == pytest.approx(1.0)
    assert hottest_squares(run, 0, delta=False) == pytest.approx(1.0)
    lines = run.lines_a.copy()
    lines[:, 0, 2] = 0.0
    opened = replace(run, lines_a=lines)
    assert hottest_squares(opened, 0, delta=False) == pytest.approx(1.0)
    assert hottest_squares(opened, 0, delta=True) == pytest.approx(4.0 / 3.0)
    assert hottest_squares(opened, 0) == pytest.approx(4.0 / 3.0)


def test_starts_an_hour_follow_heat_and_duty() -> None:
    """The balance of an hour, its relations, and which of both rules."""
    found = started(constant(0.3 * RATED))
    heat = start_heat(found, 1, outcome(found, 1))
    often = [starts_an_hour(found, 1, heat, duty=duty) for duty in (0.2, 0.5, 0.9)]
    assert all(each.windings_low <= each.windings_high for each in often)
    point = rated(M2K2)
    allowed = point.stator_loss_w + point.rotor_loss_w
    working = (found.stator_w[-4:, 1] + found.rotor_w[-4:, 1]).mean()
    each = often[1]
    used = each.windings_high * (heat.stator_j + heat.rotor_j) + 1800.0 * working
    assert used == pytest.approx(3600.0 * allowed * (0.5 + 0.5 * 0.5))
    heavier = replace(heat, rotor_j=2.0 * heat.rotor_j)
    assert starts_an_hour(found, 1, heavier, duty=0.5).windings_low < each.windings_low
    ruled = starts_an_hour(found, 1, heat, duty=0.2, capacitor_on_s=3.0)
    assert (ruled.ruled_by, ruled.allowed) == ("start_capacitor", pytest.approx(20.0))
    assert starts_an_hour(found, 1, heat, duty=0.2, capacitor_on_s=4.0).allowed == 0.0
    assert often[0].ruled_by == "windings"
    with pytest.raises(UsageError):
        starts_an_hour(found, 1, heat, duty=1.2)


def test_how_long_the_start_capacitor_is_on() -> None:
    found = waves(idler_start(300))
    assert start_capacitor_on_s(found) == found.dropped_s
    assert start_capacitor_on_s(waves(idler_start(0))) is None
    stays = waves(idler_start(300, drop=Drop("never"), seconds=0.5))
    assert start_capacitor_on_s(stays) == pytest.approx(0.5)


def test_volts_on_capacitors() -> None:
    found = waves(idler_start(300))
    pairs = run_capacitor_volts(found, 450.0)
    assert [each.between for each in pairs] == ["2-3", "3-1"]
    assert {each.verdict for each in pairs} == {"within"}
    greatest = max(each.greatest_v for each in pairs)
    tight = run_capacitor_volts(found, greatest / 1.05)
    assert "for_a_while" in {each.verdict for each in tight}
    assert "over" in {each.verdict for each in run_capacitor_volts(found, greatest / 1.2)}
    start = start_capacitor_volts(found, 330.0)
    assert start.greatest_v == found.start_peak_v.max()
    assert (
        start_capacitor_volts(found, start.greatest_v / math.sqrt(2.0) * 1.01).verdict == "within"
    )
    assert start_capacitor_volts(found, start.greatest_v / math.sqrt(2.0) * 0.99).verdict == "over"
    assert start_capacitor_volts(waves(idler_start(0)), 330.0) is None
    course = then_motor(idler_start(300), NO_LOAD, seconds=1.0)
    tied = replace(course.starters[1], travelling_f=Between(20e-6))
    both = waves(replace(course, starters=(course.starters[0], tied)))
    assert [each.between for each in run_capacitor_volts(both, 450.0)] == ["1-2", "2-3", "3-1"]


SIDE = Shopside(
    nominal_v=230.0,
    devices=(Device("main breaker", "C", 32.0), Device("service fuse", "gG", 63.0)),
    other_a=6.0,
    overloads={MOTOR: Overload(8.0), IDLER: Overload(13.9)},
    run_capacitor_v=450.0,
    start_capacitor_v=330.0,
    duty=0.3,
)


@pytest.mark.parametrize("load", [fan(0.6 * RATED, 1445), constant(5.0 * RATED)])
def test_the_whole_verdict_can_be_written_and_is_its_parts(load) -> None:
    found = started(load)
    whole = verdict(found, 1, SIDE)
    written = json.loads(json.dumps(plain(whole)))
    assert written["runs_up"] is whole.runs_up is outcome(found, 1).runs_up
    assert [each["device"] for each in written["trips"]][:2] == ["main breaker", "service fuse"]
    assert {each["machine"] for each in written["coils"]} == {IDLER, MOTOR}
    assert written["dip"] == pytest.approx(max(each.dip for each in whole.events))
    assert written["supply_peak_a"] == pytest.approx(found.supply_peak_a.max())
    assert len(whole.words) == 3
    assert whole.words[0] == outcome(found, 1).words


def test_words_tell_what_trips_and_that_it_wants_confirming() -> None:
    found = started(fan(0.6 * RATED, 1445))
    assert "nothing trips" in verdict(found, 1, SIDE).words[2]
    small = replace(SIDE, devices=(Device("outlet breaker", "B", 10.0),))
    told = verdict(found, 1, small).words[2]
    assert "outlet breaker" in told
    assert "to be confirmed" in told
    assert "hardly" not in verdict(found, 1, SIDE).words[1]
    bare = verdict(found, 1, Shopside(230.0))
    assert bare.trips == ()
    assert bare.starts_an_hour is None
    assert "no breaker, fuse or relay was named" in bare.words[2]
    hung = replace(SIDE, coils_on_line_3=frozenset({MOTOR}))
    assert "line 3" in verdict(found, 1, hung).words[2]


@given(st.lists(st.floats(0.0, 1.2), min_size=8, max_size=20))
@settings(deadline=None, max_examples=30)
def test_lower_volts_never_help_a_coil(shares: list[float]) -> None:
    order = {"holds": 0, "may_drop_out": 1, "drops_out": 2}
    more, less = (coil(at_volts([share * s for s in shares]), 0, 230.0) for share in (1.0, 0.9))
    assert order[more.holds] <= order[less.holds]
    assert (less.pulls_in == "pulls_in") <= (more.pulls_in == "pulls_in")
