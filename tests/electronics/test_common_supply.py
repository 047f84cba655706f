"""Drives and linear loads settled together: laws of the node, and the bridge settled alone."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from phasewright.electronics.common_supply import (
    Branch,
    BridgeThere,
    Common,
    Linear,
    admittance,
    settle_common,
    windings,
)
from phasewright.electronics.rectifier import Bridge, settle_bridge
from phasewright.network.supply import Source
from phasewright.quantities.errors import NotComputable, UsageError

TOWN = Source(230.0, 0.25, 0.15, 50.0)
LINE = complex(0.25, 0.15)
BARE = BridgeThere(880e-6, 2200.0)
SMALL = BridgeThere(300e-6, 750.0)
CHOKED = BridgeThere(600e-6, 1500.0, 5e-3, 0.08)
HEATER = Linear((Branch((1, 2), 26.5),))
CAPACITORS = (Branch((2, 3), 0.05, 0.0, 48e-6), Branch((1, 3), 0.05, 0.0, 63e-6))
IDLER = Linear((*windings(0.9 + 1.5j, 50.0), *CAPACITORS), 350.0 - 150.0j)


def as_alone(source: Source, drive: BridgeThere) -> Bridge:
    return Bridge(
        source, drive.capacitance_f, drive.link_power_w, ac_choke_h=drive.choke_h,
        ac_choke_ohm=drive.choke_ohm,
    )  # fmt: skip


@pytest.mark.parametrize("drive", [BARE, SMALL, CHOKED, BridgeThere(150e-6, 750.0)])
def test_one_drive_is_the_bridge_settled_alone(drive: BridgeThere) -> None:
    """By closed forms between events there, by steps here."""
    found, alone = settle_common(Common(TOWN, (drive,))), settle_bridge(as_alone(TOWN, drive))
    assert found.spectrum.current_a == pytest.approx(alone.current_a, rel=1e-3)
    assert found.peak_a == pytest.approx(alone.peak_a, rel=1e-3)
    assert found.bridges[0].link_mean_v == pytest.approx(alone.link_mean_v, rel=1e-3)
    assert found.bridges[0].link_min_v == pytest.approx(alone.link_min_v, rel=1e-3)
    assert found.spectrum.voltage_thd == pytest.approx(alone.service_voltage_thd, rel=4e-3)
    for n in range(0, 40, 2):
        own, there = found.spectrum.harmonics_a[n], alone.harmonics_a[n]
        assert abs(own - there) < 2e-3 * abs(there) + 5e-4 * abs(alone.harmonics_a[0])


@pytest.mark.parametrize("count", [2, 3, 5])
def test_drives_alike_are_each_one_on_as_many_times_the_impedance(count: int) -> None:
    """The same network cut into equal parts: exact."""
    own = replace(TOWN, resistance_ohm=count * 0.25, reactance_ohm=count * 0.15)
    found, cut = settle_common(Common(TOWN, (BARE,) * count)), settle_bridge(as_alone(own, BARE))
    assert found.spectrum.current_a == pytest.approx(count * cut.current_a, rel=1e-3)
    for each in found.bridges:
        assert each.current_a == pytest.approx(cut.current_a, rel=1e-3)
        assert each.link_min_v == pytest.approx(cut.link_min_v, rel=1e-3)


@given(
    st.sampled_from([(BARE, CHOKED), (SMALL, CHOKED), (BARE, SMALL, CHOKED)]),
    st.sampled_from([(), (HEATER,), (IDLER,), (HEATER, IDLER)]),
)
@settings(deadline=None, max_examples=12)
def test_laws_of_the_node(drives, linear) -> None:
    """Every harmonic of the volts is the drop of the supply's; the supply's amps are those of the
    drives and of the loads' admittances; power is given out as it comes in."""
    found = settle_common(Common(TOWN, drives, linear))
    here = found.spectrum
    assert abs(here.fundamental_v + LINE * here.harmonics_a[0]) == pytest.approx(230.0, rel=1e-4)
    for n in (3, 5, 7, 9):
        volts = -complex(0.25, n * 0.15) * here.harmonics_a[n - 1]
        assert here.harmonics_v[n - 1] == pytest.approx(abs(volts), rel=5e-3)
        drawn = sum(each.harmonics_a[n - 1] for each in found.bridges)
        drawn += volts * sum(admittance(load, 50.0 * n) for load in linear)
        assert abs(here.harmonics_a[n - 1] - drawn) < 5e-3 * abs(here.harmonics_a[0])
    first = sum(each.harmonics_a[0] for each in found.bridges)
    for load in linear:
        own = admittance(load, 50.0)
        if load.taken_va is not None:
            own = load.taken_va.conjugate() / 230.0**2
        first += own * here.fundamental_v
    assert here.harmonics_a[0] == pytest.approx(first, rel=1e-3)
    whole = math.sqrt(sum(abs(each) ** 2 for each in here.harmonics_a))
    assert here.current_a == pytest.approx(whole)
    assert here.current_a * 230.0 >= sum(drive.link_power_w for drive in drives)


def test_order_is_no_matter() -> None:
    one = settle_common(Common(TOWN, (BARE, CHOKED), (HEATER, IDLER)))
    other = settle_common(Common(TOWN, (CHOKED, BARE), (IDLER, HEATER)))
    assert one.spectrum.harmonics_a == pytest.approx(other.spectrum.harmonics_a, abs=1e-4)


def test_drives_beside_flatten_the_volts_for_each() -> None:
    together = settle_common(Common(TOWN, (BARE, SMALL, CHOKED)))
    for drive, there in zip((BARE, SMALL, CHOKED), together.bridges, strict=True):
        alone = settle_bridge(as_alone(TOWN, drive))
        assert there.link_mean_v < alone.link_mean_v
        # behind a choke the flattened volts charge for longer: there the peak may grow
        assert there.peak_a < alone.peak_a or drive.choke_h > 0.0


def test_a_heater_takes_distortion_off_and_a_capacitor_can_bring_more() -> None:
    alone = settle_common(Common(TOWN, (CHOKED,))).spectrum
    small = settle_common(Common(TOWN, (SMALL,))).spectrum
    heated = settle_common(Common(TOWN, (SMALL,), (HEATER,))).spectrum
    # 600 microfarad and 0.48 mH (0.15 ohm) resonate at the sixth: the fifth grows
    bank = Linear((Branch((1, 2), 0.02, 0.0, 600e-6),))
    banked = settle_common(Common(TOWN, (CHOKED,), (bank,))).spectrum
    assert heated.voltage_thd < small.voltage_thd
    assert heated.current_a > small.current_a
    assert abs(banked.harmonics_a[4]) > 1.3 * abs(alone.harmonics_a[4])


def test_only_linear_loads_make_no_distortion() -> None:
    """Phasors by hand: the heater and the idler's watts and vars behind the supply."""
    found = settle_common(Common(TOWN, (), (HEATER, IDLER))).spectrum
    whole = 1.0 / 26.5 + (350.0 + 150.0j) / 230.0**2
    volts = 230.0 / (1.0 + LINE * whole)
    assert found.fundamental_v == pytest.approx(abs(volts), rel=1e-4)
    assert found.harmonics_a[0] == pytest.approx(whole * abs(volts), rel=1e-3)
    assert found.voltage_thd < 1e-4
    assert found.thd < 1e-4


def test_what_is_given_as_amps_is_added_with_its_angles() -> None:
    alone = settle_common(Common(TOWN, (CHOKED,))).spectrum
    third = (0j, 0j, cmath.rect(2.0, 0.5))
    more = settle_common(Common(TOWN, (CHOKED,), (), (third,)))
    drawn = sum(each.harmonics_a[2] for each in more.bridges) + third[2]
    assert more.spectrum.harmonics_a[2] == pytest.approx(drawn, rel=1e-3)
    assert abs(more.spectrum.harmonics_a[2]) > abs(alone.harmonics_a[2])


@pytest.mark.parametrize(
    "common",
    [
        Common(TOWN, (replace(BARE, capacitance_f=0.0),)),
        Common(TOWN, (replace(BARE, link_power_w=math.nan),)),
        Common(TOWN, (replace(BARE, choke_h=-1.0),)),
        Common(TOWN, (BARE,), (Linear((Branch((1, 2), 0.0),)),)),
    ],
)
def test_what_is_no_part_is_refused(common: Common) -> None:
    with pytest.raises(UsageError):
        settle_common(common)


def test_no_impedance_and_too_much_power_are_refused() -> None:
    with pytest.raises(NotComputable, match="without any impedance"):
        settle_common(Common(replace(TOWN, resistance_ohm=0.0, reactance_ohm=0.0), (BARE,)))
    with pytest.raises(NotComputable, match="cannot give"):
        settle_common(Common(replace(TOWN, resistance_ohm=10.0), (BARE, BARE)))
