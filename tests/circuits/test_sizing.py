"""One circuit sized: what must hold whatever it feeds, and published examples."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from phasewright.circuits.cables import Laid, ampacity, between_lines, drop_ratio, ohm_per_m, sizes
from phasewright.circuits.devices import Start, band_of, holds, magnetic_a, smallest, surely_trips_s
from phasewright.circuits.earth_fault import let_through_a2s
from phasewright.circuits.fault_source import Limit
from phasewright.circuits.installation import Device
from phasewright.circuits.need import Need, Origin
from phasewright.circuits.sizing import passes, sized
from phasewright.quantities.errors import TableEnds
from phasewright.tables.circuits import adiabatic_m2

TOWN = Origin(complex(0.3, 0.2), complex(0.3, 0.2), 230.0)
WALL = Laid("IEC", 2, "C")


def need(amps=12.0, length=15.0, laid=WALL, starts=(), **more):
    return Need(amps, 230.0, length, laid, TOWN, 0.05, starts=starts, **more)


NEEDS = st.builds(
    need,
    amps=st.floats(0.5, 60.0),
    length=st.floats(1.0, 60.0),
    laid=st.builds(
        Laid, st.just("IEC"), st.sampled_from([2, 3]), st.sampled_from(["B2", "C", "A2"]),
        st.sampled_from([None, 25.0, 35.0, 45.0]), st.sampled_from([1, 2, 4]),
    ),
    starts=st.one_of(
        st.just(()),
        st.builds(lambda a, s: (Start(a, s, 1.8 * a),), st.floats(1.0, 150.0), st.floats(0.02, 6.0)),
    ),
)  # fmt: skip


def or_none(of):
    try:
        return sized(of)
    except TableEnds:
        return None


@settings(max_examples=60, deadline=None)
@given(NEEDS)
def test_what_is_chosen_passes_and_the_next_thinner_does_not(of):
    found = or_none(of)
    assume(found is not None)
    assert passes(of, found.size, found.device)
    assert found.carries.number >= of.design_a
    assert found.drop <= of.most_drop * (1 + 1e-9)
    sold = sizes(of.laid.region)
    place = sold.index(found.size)
    assert place == 0 or not passes(of, sold[place - 1], found.device)


@settings(max_examples=60, deadline=None)
@given(NEEDS, st.floats(1.0, 3.0))
def test_longer_is_never_thinner_and_never_faults_more(of, factor):
    short, long = or_none(of), or_none(replace(of, length_m=factor * of.length_m))
    assume(short is not None and long is not None)
    assert long.size.area_m2 >= short.size.area_m2
    if long.size == short.size:
        assert long.fault_at_end_a <= short.fault_at_end_a
        assert long.earth_fault_a <= short.earth_fault_a


@settings(max_examples=60, deadline=None)
@given(NEEDS, st.floats(1.0, 2.0))
def test_more_load_is_never_thinner_and_its_device_never_smaller(of, factor):
    less, more = or_none(of), or_none(replace(of, design_a=factor * of.design_a))
    assume(less is not None and more is not None)
    assert more.size.area_m2 >= less.size.area_m2
    assert more.device.rating_a >= less.device.rating_a


@settings(max_examples=40, deadline=None)
@given(NEEDS, st.sampled_from([(None, 35.0), (25.0, 45.0), (35.0, 50.0)]), st.sampled_from([2, 6]))
def test_hotter_or_bunched_is_never_thinner(of, airs, bunch):
    cool = or_none(replace(of, laid=replace(of.laid, ambient_c=airs[0], grouped=1)))
    hot = or_none(replace(of, laid=replace(of.laid, ambient_c=airs[1], grouped=1)))
    tied = or_none(replace(of, laid=replace(of.laid, ambient_c=airs[0], grouped=bunch)))
    assume(cool is not None and hot is not None and tied is not None)
    assert hot.size.area_m2 >= cool.size.area_m2
    assert tied.size.area_m2 >= cool.size.area_m2


@settings(max_examples=60, deadline=None)
@given(
    st.floats(0.5, 60.0), st.floats(1.0, 160.0), st.floats(0.02, 8.0),
    st.sampled_from(["IEC", "NEC"]),
)  # fmt: skip
def test_the_device_holds_its_start_and_no_smaller_rating_would(amps, start_a, seconds, region):
    start = Start(start_a, seconds, 1.8 * start_a)
    try:
        chosen = smallest(region, amps, math.inf, (start,))
    except TableEnds:
        assume(False)
    assume(chosen.holds)
    assert holds(chosen.band, start)
    if region == "IEC":
        for rating in (6.0, 10.0, 13.0, 16.0, 20.0, 25.0, 32.0, 40.0, 50.0, 63.0):
            if amps <= rating < chosen.device.rating_a:
                for curve in "BCD":
                    assert not holds(band_of(Device("breaker", rating, curve)), start)


def test_feeder_resistance_is_straight_in_length():
    one = sized(need(amps=10.0, length=10.0))
    two = sized(need(amps=10.0, length=20.0))
    assert one.size == two.size
    assert two.drop == pytest.approx(2.0 * one.drop)
    assert two.own_earth_ohm == pytest.approx(2.0 * one.own_earth_ohm)


def test_voltage_drop_by_a_national_table():
    """BS 7671 appendix 4 (from memory): 2.5 mm2 two-core 18 mV/A/m, 10 mm2 three-core 3.8."""
    for mm2, loaded, millivolts in ((2.5, 2, 18.0), (10.0, 3, 3.8), (4.0, 2, 11.0)):
        size = next(of for of in sizes("IEC") if of.name == f"{mm2:g} mm2")
        ohm = ohm_per_m(size.area_m2, 70.0)
        volts = drop_ratio(1.0, 1.0, ohm, loaded, 1.0)
        assert 1000.0 * volts == pytest.approx(millivolts, rel=0.03)


def test_a_worked_ampacity():
    """IEC 60364-5-52: 6 mm2 clipped direct, 46 A two loaded and 41 A three (seen twice)."""
    size = next(of for of in sizes("IEC") if of.name == "6 mm2")
    assert ampacity(size, Laid("IEC", 2, "C")).number == 46.0
    assert ampacity(size, Laid("IEC", 3, "C")).number == 41.0
    assert ampacity(size, Laid("IEC", 3, "C", 40.0)).number == pytest.approx(41.0 * 0.87)
    assert ampacity(size, Laid("IEC", 3, "C", None, 4)).number == pytest.approx(41.0 * 0.65)
    eight = next(of for of in sizes("NEC") if of.name == "8 AWG")
    assert ampacity(eight, Laid("NEC", 3)).number == 50.0


def test_adiabatic_by_hand():
    """IEC 60364-5-54: 1 kA for 0.1 s in PVC copper, k = 115: 2.75 mm2."""
    assert adiabatic_m2(1000.0**2 * 0.1) == pytest.approx(2.75e-6, rel=2e-3)
    assert let_through_a2s(Device("breaker", 16.0, "B"), 1000.0) == pytest.approx(1e6 * 0.01)
    assert let_through_a2s(Device("breaker", 16.0, "B"), 5000.0) == 35000.0  # energy limited
    assert let_through_a2s(Device("breaker", 16.0, "D"), 5000.0) == pytest.approx(250000.0)
    assert let_through_a2s(Device("breaker", 20.0), 100.0) is None
    slow = Device("breaker", 20.0, "B")  # 30 A may flow in it for most of an hour: an overload
    assert surely_trips_s(slow, 30.0) > 600.0
    assert let_through_a2s(slow, 30.0) is None


@settings(max_examples=60, deadline=None)
@given(NEEDS, st.floats(0.2, 400.0), st.floats(-20.0, 55.0), st.floats(0.0, 20.0), st.booleans())
def test_behind_a_source_of_few_amps_a_hotter_place_is_never_thinner(of, most, air, more, follows):
    """And it bears for ever the breaker's amps or all that the source gives, where the breaker
    takes the source's most for an overload (IEC 60364-4-43, 433.1 and 436; from memory)."""
    little = replace(
        of, origin=replace(TOWN, limit=Limit(0.8 * most, 0.9 * most, most)), follows_device=follows
    )
    cool, hot = (
        or_none(replace(little, laid=replace(of.laid, ambient_c=degrees)))
        for degrees in (air, air + more)
    )
    assume(cool is not None and hot is not None)
    assert hot.size.area_m2 >= cool.size.area_m2
    for found in (cool, hot):
        amps = found.fault_at_origin_a
        if surely_trips_s(found.device, amps) > 5.0:
            assert found.carries.number >= min(found.device.rating_a, amps) * (1.0 - 1e-6)


def test_loops_by_the_formula_of_the_tables():
    """Zs at which a B16 surely acts: 0.95 x 230/80 = 2.73 ohm; just inside it opens in 0.1 s."""
    device = Device("breaker", 16.0, "B")
    assert magnetic_a(device) == 80.0
    assert surely_trips_s(device, 230.0 / 2.6) == 0.1
    assert surely_trips_s(device, 79.0) > 1.0


def test_two_lines_and_three():
    assert between_lines(2) == 2.0
    assert between_lines(3) == pytest.approx(math.sqrt(3.0))


def test_a_relay_at_the_motor_frees_the_conductor_from_the_breaker_but_not_from_its_own_amps():
    starts = (Start(100.0, 6.0, 180.0),)
    bare = sized(need(amps=18.0, starts=starts))
    guarded = sized(need(amps=18.0, starts=starts, relay_protects=True))
    assert bare.device == guarded.device
    assert guarded.size.area_m2 < bare.size.area_m2
    assert guarded.carries.number >= 18.0


def test_nothing_large_enough_is_said():
    with pytest.raises(TableEnds, match=r"conductor|breaker"):
        sized(need(amps=400.0))
    with pytest.raises(TableEnds):
        sized(need(amps=60.0, length=900.0))
