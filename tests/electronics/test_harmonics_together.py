"""Harmonic currents added with their angles; relations that must hold."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from phasewright.electronics.harmonics import at_the_service
from phasewright.electronics.rectifier import Bridge, settle_bridge
from phasewright.network.supply import Source
from phasewright.quantities.errors import NotComputable

TOWN = Source(230.0, 0.25, 0.15, 50.0)
BARE = settle_bridge(Bridge(TOWN, 880e-6, 2200.0))
CHOKED = settle_bridge(Bridge(TOWN, 600e-6, 1500.0, ac_choke_h=5e-3))


def distortion_a(harmonics_a) -> float:
    return math.sqrt(sum(abs(each) ** 2 for each in harmonics_a[1:]))


def test_one_drive_alone_is_its_own_state() -> None:
    found = at_the_service(TOWN, [BARE.harmonics_a])
    assert found.harmonics_a == pytest.approx(BARE.harmonics_a)
    assert found.current_a == pytest.approx(BARE.current_a, rel=1e-4)
    assert found.thd == pytest.approx(BARE.thd, rel=1e-3)
    assert found.voltage_thd == pytest.approx(BARE.service_voltage_thd, rel=1e-6)
    assert found.fundamental_v == pytest.approx(BARE.service_voltage_v, rel=2e-3)


def test_angles_make_the_sum_less_than_as_if_in_phase() -> None:
    """A choke turns the fifth and seventh: part of them cancels (as docs/calculations tell)."""
    both = at_the_service(TOWN, [BARE.harmonics_a, CHOKED.harmonics_a])
    apart = distortion_a(BARE.harmonics_a) + distortion_a(CHOKED.harmonics_a)
    assert distortion_a(both.harmonics_a) < 0.97 * apart
    for n in range(40):
        assert abs(both.harmonics_a[n]) <= (
            abs(BARE.harmonics_a[n]) + abs(CHOKED.harmonics_a[n]) + 1e-12
        )


def test_order_is_no_matter_and_two_alike_are_twice_one() -> None:
    one = at_the_service(TOWN, [BARE.harmonics_a, CHOKED.harmonics_a])
    other = at_the_service(TOWN, [CHOKED.harmonics_a, BARE.harmonics_a])
    assert one.harmonics_a == pytest.approx(other.harmonics_a)
    twice = at_the_service(TOWN, [BARE.harmonics_a] * 2)
    assert distortion_a(twice.harmonics_a) == pytest.approx(2.0 * distortion_a(BARE.harmonics_a))


def test_the_source_is_the_volts_and_the_drop() -> None:
    found = at_the_service(TOWN, [BARE.harmonics_a, CHOKED.harmonics_a])
    line = complex(TOWN.resistance_ohm, TOWN.reactance_ohm)
    assert abs(found.fundamental_v + line * found.harmonics_a[0]) == pytest.approx(230.0)


def test_more_than_the_supply_carries_is_refused() -> None:
    soft = replace(TOWN, resistance_ohm=10.0)
    with pytest.raises(NotComputable, match="cannot carry"):
        at_the_service(soft, [BARE.harmonics_a] * 4)
