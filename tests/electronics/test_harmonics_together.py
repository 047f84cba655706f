"""Harmonic currents added with their angles; loads beside them. Relations that must hold."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from phasewright.electronics.harmonics import Beside, at_the_service
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


@given(st.floats(2.0, 200.0), st.floats(0.0, 100.0))
@settings(deadline=None, max_examples=50)
def test_a_load_beside_keeps_the_laws_of_the_node(resistance: float, reactance: float) -> None:
    """The source's volts are those at the service and the drop; every harmonic divides."""
    load = 1.0 / complex(resistance, reactance)
    square = TOWN.voltage_v**2
    beside = Beside(load.real * square, -load.imag * square, resistance, reactance)
    found = at_the_service(TOWN, [BARE.harmonics_a], [beside])
    line = complex(TOWN.resistance_ohm, TOWN.reactance_ohm)
    assert abs(found.fundamental_v + line * found.harmonics_a[0]) == pytest.approx(230.0)
    for n in (3, 5, 7, 39):
        own = complex(resistance, n * reactance)
        volts = -complex(TOWN.resistance_ohm, n * TOWN.reactance_ohm) * found.harmonics_a[n - 1]
        assert found.harmonics_a[n - 1] == pytest.approx(BARE.harmonics_a[n - 1] + volts / own)
        assert found.harmonics_v[n - 1] == pytest.approx(abs(volts))


def test_a_heater_beside_takes_distortion_off_the_supply() -> None:
    alone = at_the_service(TOWN, [BARE.harmonics_a])
    heated = at_the_service(TOWN, [BARE.harmonics_a], [Beside(2000.0, 0.0, 26.45, 0.0)])
    assert heated.voltage_thd < alone.voltage_thd
    assert heated.thd < alone.thd
    assert heated.current_a > alone.current_a


def test_only_linear_loads_make_no_distortion() -> None:
    found = at_the_service(TOWN, [], [Beside(2000.0, 0.0, 26.45, 0.0)])
    assert found.voltage_thd == 0.0
    assert found.thd == 0.0
    assert cmath.phase(found.harmonics_a[0]) == pytest.approx(0.0)


def test_more_than_the_supply_carries_is_refused() -> None:
    soft = replace(TOWN, resistance_ohm=10.0)
    with pytest.raises(NotComputable, match="cannot carry"):
        at_the_service(soft, [BARE.harmonics_a] * 4)
