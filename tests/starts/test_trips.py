"""Breakers, fuses and overload relays over currents made by hand, and over real starts."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reference_machines import constant, fan, rated_torque, uf
from starts.courses import idler_start, then_motor
from starts.flat import HALF_S, drawing, steady

from phasewright.quantities.errors import TableEnds, UsageError
from phasewright.starts.overload import Overload, image, overload_trip
from phasewright.starts.trips import Device, seconds_at, supply_trip
from phasewright.starts.waves import waves
from phasewright.tables.trip_bands import breaker_band, fuse_band

RANK = {"holds": 0, "may_trip": 1, "trips": 2}
KINDS = ("B", "C", "D", "gG", "inverse_time")


def device(kind: str, amps: float = 32.0) -> Device:
    return Device("main breaker", kind, amps)


@pytest.mark.parametrize(("multiple", "seconds", "verdict"), [
    (1.0, 30.0, "holds"),
    (2.55, 0.98, "holds"), (2.55, 1.02, "may_trip"),          # not within 1 s at 2.55
    (2.55, 59.9, "may_trip"), (2.55, 60.1, "trips"),          # surely within 60 s
    (4.9, 0.1, "holds"), (5.01, 0.02, "may_trip"),            # C: not below 5
    (9.9, 3.0, "may_trip"), (10.0, 0.09, "may_trip"), (10.0, 0.11, "trips"),  # surely from 10
])  # fmt: skip
def test_a_breaker_at_a_lasting_current(multiple: float, seconds: float, verdict: str) -> None:
    found = supply_trip(steady(32.0 * multiple, seconds), device("C"))
    assert found.verdict == verdict
    assert found.to_be_confirmed
    if verdict == "trips":
        assert found.may_s <= found.surely_s <= seconds
        assert "at the latest" in found.words


@pytest.mark.parametrize(("amps", "seconds", "verdict"), [(75.0, 9.9, "holds"), (75.0, 10.1, "may_trip"), (150.0, 4.9, "may_trip"), (150.0, 5.1, "trips"), (350.0, 0.11, "trips"), (199.0, 0.09, "holds")])  # fmt: skip
def test_a_fuse_at_its_gates(amps: float, seconds: float, verdict: str) -> None:
    """A 32 A gG fuse: 75 A not within 10 s, 150 A surely within 5 s, 200 and 350 A at 0.1 s."""
    assert supply_trip(steady(amps, seconds), device("gG")).verdict == verdict


@pytest.mark.parametrize("kind", KINDS)
@given(
    amps=st.lists(st.floats(0.0, 500.0), min_size=2, max_size=60),
    more=st.floats(1.0, 2.0),
)
@settings(deadline=None, max_examples=30)
def test_more_current_never_trips_later(kind: str, amps: list[float], more: float) -> None:
    less_a = np.array(amps)
    less, greater = (supply_trip(drawing(a), device(kind)) for a in (less_a, more * less_a))
    assert RANK[less.verdict] <= RANK[greater.verdict]
    for name in ("may_s", "surely_s"):
        if getattr(less, name) is not None:
            assert getattr(greater, name) <= getattr(less, name)


@pytest.mark.parametrize("kind", KINDS)
@given(amps=st.lists(st.floats(0.0, 500.0), min_size=2, max_size=60))
@settings(deadline=None, max_examples=30)
def test_a_larger_device_and_a_shorter_run_never_trip_more(kind: str, amps: list[float]) -> None:
    whole = np.array(amps)
    found = supply_trip(drawing(whole), device(kind, 32.0))
    assert RANK[supply_trip(drawing(whole), device(kind, 63.0)).verdict] <= RANK[found.verdict]
    assert RANK[supply_trip(drawing(whole[:-1]), device(kind)).verdict] <= RANK[found.verdict]


@given(
    amps=st.lists(st.floats(0.0, 12.0), min_size=2, max_size=200),
    before=st.floats(0.0, 8.0),
)
@settings(deadline=None, max_examples=40)
def test_a_higher_class_never_trips_before_a_lower_one(amps: list[float], before: float) -> None:
    run = drawing(100.0 * np.array(amps))
    found = [overload_trip(run, 0, Overload(8.0, name, before)) for name in ("10A", "10", "20")]
    assert [RANK[each.verdict] for each in found] == sorted(
        (RANK[each.verdict] for each in found), reverse=True
    )
    for lower, higher in pairwise(found):
        if higher.may_s is not None:
            assert lower.may_s <= higher.may_s


@pytest.mark.parametrize(("name", "least", "most"), [("10A", 2.0, 10.0), ("10", 4.0, 10.0), ("20", 6.0, 20.0)])  # fmt: skip
def test_a_relay_at_7_2_times_its_setting(name: str, least: float, most: float) -> None:
    relay = Overload(10.0, name)
    assert overload_trip(steady(72.0, least - 0.05), 0, relay).verdict == "holds"
    assert overload_trip(steady(72.0, least + 0.05), 0, relay).verdict == "may_trip"
    assert overload_trip(steady(72.0, most + 0.05), 0, relay).verdict == "trips"


def test_a_warm_relay_trips_sooner_and_a_long_overload_is_told() -> None:
    run = steady(60.0, 4.0)
    cold, warm = (overload_trip(run, 0, Overload(10.0, "10", b)) for b in (0.0, 9.5))
    assert RANK[cold.verdict] <= RANK[warm.verdict] == 1
    lasting = overload_trip(steady(13.0, 1.0), 0, Overload(10.0))
    assert lasting.verdict == "holds"
    assert 60.0 < lasting.lasting_may_s < lasting.lasting_surely_s
    assert "last" in lasting.words
    fine = overload_trip(steady(10.0, 1.0), 0, Overload(10.0))
    assert fine.lasting_may_s is fine.lasting_surely_s is None


def test_one_heavy_line_may_trip_a_relay_that_three_surely_do() -> None:
    run = steady(72.0, 11.0)
    lines = run.lines_a.copy()
    lines[:, 0, 1:] = 20.0
    uneven = replace(run, lines_a=lines)
    assert overload_trip(run, 0, Overload(10.0)).verdict == "trips"
    assert overload_trip(uneven, 0, Overload(10.0)).verdict == "may_trip"


def test_a_relay_that_senses_a_lost_phase_acts_on_fewer_amps_where_lines_differ() -> None:
    """Lines within a tenth: no difference. One line lost: 1.05 times the setting is reached at a
    quarter fewer amps. Between them never less the more they differ."""
    run = steady(8.8, 0.5)
    shortest = math.inf
    for third in (1.0, 0.91, 0.6, 0.3, 0.0):
        lines = run.lines_a.copy()
        lines[:, 0, 2] *= third
        uneven = replace(run, lines_a=lines)
        plain = overload_trip(uneven, 0, Overload(10.0, phase_sensitive=False))
        senses = [overload_trip(uneven, 0, Overload(10.0, phase_sensitive=s)) for s in (True, None)]
        assert plain.lasting_may_s is None
        for each in senses:
            assert each.lasting_surely_s is None
            assert (each.lasting_may_s or math.inf) <= shortest
        shortest = senses[0].lasting_may_s or math.inf
        assert math.isinf(shortest) is (third > 0.3)


def test_beyond_the_printed_multiple_it_is_said() -> None:
    found = overload_trip(steady(90.0, 1.0), 0, Overload(10.0))
    assert "no times are printed" in found.words
    twice = overload_trip(steady(144.0, 9.9), 0, Overload(10.0))
    assert (twice.verdict, twice.surely_s) == ("may_trip", None)
    assert twice.may_s < 2.0


def test_the_image_follows_its_equation() -> None:
    """Against the closed form of a step from warm, and Euler's rule in small steps."""
    theta = image(np.full(500, 3.0), HALF_S, 100.0, 1.0)
    assert theta[-1] == pytest.approx(9.0 - 8.0 * math.exp(-5.0 / 100.0))
    wave = 2.0 + np.sin(np.arange(400) / 30.0)
    euler, small = 0.5, 200
    for multiple in wave:
        for _ in range(small):
            euler += HALF_S / small * (multiple**2 - euler) / 60.0
    assert image(wave, HALF_S, 60.0, 0.5)[-1] == pytest.approx(euler, rel=1e-6)


def test_a_pause_leaves_a_late_edge_nothing_and_an_early_one_all() -> None:
    """Two bursts of 40 s at 2.55: surely tripped only where they are one of 80 s."""
    burst, pause = np.full(4000, 2.55 * 32.0), np.full(100, 10.0)
    apart = supply_trip(drawing(np.concatenate([burst, pause, burst])), device("C"))
    at_once = supply_trip(drawing(np.concatenate([burst, burst])), device("C"))
    assert (apart.verdict, at_once.verdict) == ("may_trip", "trips")
    assert apart.may_s == at_once.may_s


def test_the_crest_of_an_offset_current_may_trip_a_magnetic_release() -> None:
    run = steady(100.0, 0.05)
    crest = run.supply_peak_a.copy()
    crest[0] = 1.01 * math.sqrt(2.0) * 5.0 * 32.0
    found = supply_trip(replace(run, supply_peak_a=crest), device("C"))
    assert supply_trip(run, device("C")).verdict == "holds"
    assert (found.verdict, found.may_s) == ("may_trip", pytest.approx(HALF_S))


@given(st.floats(0.0, 80.0), st.floats(10.0, 400.0))
@settings(deadline=None, max_examples=40)
def test_what_else_hangs_behind_it_never_helps(other_a: float, amps: float) -> None:
    run = steady(amps, 0.3)
    alone, beside = (supply_trip(run, device("C"), other_a=a) for a in (0.0, other_a))
    assert RANK[alone.verdict] <= RANK[beside.verdict]


def test_other_amps_are_added_in_full_where_it_may_and_at_right_angles_where_it_surely_trips() -> (
    None
):
    """A C32: 60 and 21.6 A make 2.55 times together; 256 and 192 A make ten times across."""
    run = steady(60.0, 1.02)
    assert supply_trip(run, device("C")).verdict == "holds"
    assert supply_trip(run, device("C"), other_a=21.7).verdict == "may_trip"
    assert supply_trip(run, device("C"), other_a=21.4).verdict == "holds"
    run = steady(256.0, 0.11)
    assert supply_trip(run, device("C"), other_a=192.1).verdict == "trips"
    assert supply_trip(run, device("C"), other_a=191.0).verdict == "may_trip"


def test_what_is_not_printed_is_not_judged() -> None:
    found = supply_trip(steady(500.0, 1.0), device("gG", 10.0))
    assert found.verdict == "not_judged"
    assert found.may_s is found.surely_s is None
    assert "not judged" in found.words
    with pytest.raises(TableEnds):
        overload_trip(steady(10.0, 0.1), 0, Overload(10.0, "5"))
    with pytest.raises(UsageError):
        overload_trip(steady(10.0, 0.1), 0, Overload(0.0))
    with pytest.raises(UsageError):
        supply_trip(steady(10.0, 0.1), device("K"))


@pytest.mark.parametrize("band", [breaker_band("B", 20.0), fuse_band(40.0)])
def test_an_edge_over_an_array_is_the_edge(band) -> None:
    amps = np.geomspace(1.0, 3000.0, 400)
    for edge in (band.early, band.late):
        assert seconds_at(edge, amps) == pytest.approx([edge.seconds(a) for a in amps])


@pytest.mark.parametrize("load", [fan(rated_torque(2200, 1445), 1445), constant(8.0)])
def test_ten_times_the_inertia_never_trips_less(load) -> None:
    idler = idler_start(300, run=uf(0, 25, 118))
    light, heavy = (
        waves(then_motor(idler, load, inertia=inertia, seconds=9.0)) for inertia in (0.0275, 0.275)
    )
    for kind, amps in (("B", 16.0), ("C", 16.0), ("C", 25.0), ("gG", 16.0), ("inverse_time", 20.0)):
        found = [supply_trip(run, device(kind, amps)) for run in (light, heavy)]
        assert RANK[found[0].verdict] <= RANK[found[1].verdict]
    relays = [overload_trip(run, 1, Overload(8.0)) for run in (light, heavy)]
    assert RANK[relays[0].verdict] <= RANK[relays[1].verdict]
    assert RANK[supply_trip(heavy, device("C", 16.0)).verdict] >= 1
