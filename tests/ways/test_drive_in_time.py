"""Ramps of a drive as figures, and a wished stop judged by running it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from reference_machines import L2A, M0K75, constant
from stories.judged import codes, judged, words
from stories.moved import shop_of, tree_of

from phasewright.machines.performance import rated
from phasewright.quantities.errors import TableEnds
from phasewright.running.network import LoadLaw
from phasewright.starts.course import FOREVER
from phasewright.starts.drive_course import Stop
from phasewright.starts.drive_outcome import run_up, stop_with
from phasewright.tables.drives import overload_share, overvoltage
from phasewright.ways.drive_in_time import (
    FINE_ENOUGH,
    OnThisDrive,
    braked,
    course_of,
    mains_of,
    ramp_down,
    ramp_up,
    resistor_within,
)


def wishing(seconds: int):
    """The wide bandsaw's shop, its stop wished within so many seconds."""
    tree = tree_of("wide_bandsaw")
    tree["machines"][0]["motors"][0].setdefault("wants", {})["stop_within"] = f"{seconds} s"
    return shop_of(tree)


ON = OnThisDrive("motor", L2A, 0.1, constant(7.0), 7.0, 10.5, 2200.0, 230.0)


def test_the_ramp_up_keeps_within_the_drives_amps_and_a_shorter_one_does_not():
    """The runs are of a finer step than the search's, without holding."""
    found, course = ramp_up(ON), course_of(ON)
    limit = overload_share() * ON.drive_a
    free = replace(course.inverter, limit_a=FOREVER)

    def peak(ramp_s: float) -> float:
        fine = replace(course, inverter=free, ramp_up_s=ramp_s, seconds=9.0, step_s=1e-4)
        return run_up(fine).peak_run_a

    assert peak(1.02 * found.ramp_s) <= limit
    assert peak(found.ramp_s / FINE_ENOUGH / 1.02) > limit


def test_the_ramp_down_keeps_the_link_low_and_a_shorter_one_does_not():
    found, course = ramp_down(ON), course_of(ON)
    machine = replace(course.starter.machine, load=LoadLaw("none"))
    alone = replace(
        course, starter=replace(course.starter, machine=machine, breakaway_nm=0.0), seconds=30.0,
        step_s=1e-4, link=replace(course.link, holds_at_v=FOREVER),
    )  # fmt: skip
    holds = overvoltage(230.0).holds_v
    assert stop_with(alone, Stop(0.0, 1.02 * found.ramp_s)).peak_link_v <= holds
    assert stop_with(alone, Stop(0.0, found.ramp_s / FINE_ENOUGH / 1.02)).peak_link_v > holds


@pytest.mark.parametrize("machine", [L2A, M0K75])
def test_a_heavier_shaft_wants_longer_ramps_and_a_resistor_shortens_the_stop(machine):
    small = replace(ON, circuit=machine, load=constant(0.4 * rated(machine).shaft_torque_nm),
                    breakaway_nm=0.0, drive_a=1.2 * machine.rated_current_a)  # fmt: skip
    last_up = last_down = 0.0
    for times in (5.0, 15.0, 50.0):
        on = replace(small, inertia_kg_m2=times * machine.inertia_kg_m2)
        up, down, quick = ramp_up(on), ramp_down(on), braked(on)
        assert up.ramp_s > last_up
        assert down.ramp_s > last_down
        assert quick.seconds < down.seconds
        last_up, last_down = up.ramp_s, down.ramp_s


def test_a_resistor_for_a_quicker_stop_has_fewer_ohms():
    heavy = replace(ON, inertia_kg_m2=0.5)
    ohms = [resistor_within(heavy, seconds).ohm for seconds in (12.0, 8.0, 5.0)]
    assert ohms[0] > ohms[1] > ohms[2] > 0.0


def test_no_class_of_drives_is_taken_for_volts_beyond_the_table():
    assert overvoltage(277.0).trip_v == 800.0
    assert overvoltage(240.0).trip_v == 400.0
    assert mains_of(L2A, 240.0) == 240.0
    assert mains_of(L2A.relinked(400.0), 230.0) == 400.0
    with pytest.raises(TableEnds, match="600 V"):
        overvoltage(600.0)


def test_a_wished_stop_goes_from_out_of_reach_over_a_resistor_to_the_ramp():
    """By the seconds that are wished; nothing else changes."""
    ladder = ["stop_out_of_reach", "stop_by_resistor", "stop_by_ramp"]
    seen = []
    for seconds in (1, 5, 20, 30, 60, 120, 240, 600):
        of = judged(wishing(seconds), "Bandsaw/main", "drive_per_motor")
        (step,) = codes((*of.conditions, *of.reasons)) & set(ladder)
        seen.append(ladder.index(step))
        if step == "stop_by_resistor":
            assert "ohm" in words(of.conditions)
    assert seen == sorted(seen)
    assert set(seen) == {0, 1, 2}


def test_a_way_tells_its_ramps_with_their_spread():
    figures = judged("bench_lathe", "Lathe/main", "drive_per_motor").figures
    for ramp in (figures.ramp_up_s, figures.ramp_down_s):
        assert 0.05 <= ramp.low <= ramp.number <= ramp.high
        assert ramp.unit == "s"
    assert figures.ramp_up_s.low < figures.ramp_up_s.number < figures.ramp_up_s.high
