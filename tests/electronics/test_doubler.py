"""A doubler: relations to a bridge, its energy, what it refuses."""

from __future__ import annotations

from dataclasses import replace

import pytest

from phasewright.electronics.common_supply import BridgeThere, Common, settle_common
from phasewright.electronics.inrush import inrush
from phasewright.electronics.rectifier import Bridge, settle_bridge
from phasewright.network.supply import Source
from phasewright.quantities.errors import UsageError

OUTLET = Source(120.0, 0.15, 0.10, 60.0)
DOUBLER = Bridge(OUTLET, 1500e-6, 900.0, doubler=True)


def test_its_link_is_twice_that_of_a_bridge_with_the_same_pulses() -> None:
    """Without drops: each capacitor takes in each half wave the charge that one of the same size
    behind a bridge takes, so the pulses are the same and the link is the sum of two of its own."""
    ideal = replace(DOUBLER, diode_drop_v=0.0, diode_resistance_ohm=0.0)
    both, one = settle_bridge(ideal), settle_bridge(replace(ideal, doubler=False))
    assert both.link_mean_v / one.link_mean_v == pytest.approx(2.0, rel=0.005)
    assert both.current_a == pytest.approx(one.current_a, rel=0.005)
    assert both.harmonics_a[1] == pytest.approx(0j, abs=1e-6)


def test_power_goes_through_it() -> None:
    state = settle_bridge(DOUBLER)
    assert state.link_power_w == pytest.approx(900.0, rel=1e-4)
    assert 900.0 < state.input_power_w < 1.05 * 900.0
    assert state.current_a * 120.0 > state.input_power_w
    whole = sum(abs(each) ** 2 for each in state.harmonics_a)
    assert state.current_a**2 == pytest.approx(whole, rel=1e-3)


@pytest.mark.parametrize("farad", [600e-6, 1500e-6, 4000e-6])
def test_more_choke_lowers_crest_and_distortion(farad: float) -> None:
    chokes = [
        settle_bridge(replace(DOUBLER, capacitance_f=farad, ac_choke_h=henry))
        for henry in (0.0, 0.5e-3, 1e-3, 2e-3)
    ]
    assert [each.crest for each in chokes] == sorted((c.crest for c in chokes), reverse=True)
    assert [each.thd for each in chokes] == sorted((c.thd for c in chokes), reverse=True)


def test_switching_on_charges_two() -> None:
    both, one = inrush(DOUBLER, 25.0), inrush(replace(DOUBLER, doubler=False), 25.0)
    # each capacitor takes C V^2 / 2 through the resistor, the bridge's one as much once
    assert both.energy_j == pytest.approx(2.0 * one.energy_j, rel=0.15)
    assert both.peak_a == pytest.approx(one.peak_a, rel=0.02)
    assert both.charge_s > one.charge_s


@pytest.mark.parametrize(
    "wrong",
    [
        replace(DOUBLER, dc_choke_h=1e-3),
        replace(DOUBLER, link_power_w=None, load_resistance_ohm=50.0),
    ],
)
def test_what_it_has_not_is_refused(wrong: Bridge) -> None:
    with pytest.raises(UsageError, match="doubler"):
        settle_bridge(wrong)


def test_beside_others_a_doubler_stands_as_a_bridge_with_the_same_pulses() -> None:
    """One of its two capacitors, one diode's drop: rms, distortion and harmonics of the doubler."""
    alone = settle_bridge(DOUBLER)
    there = BridgeThere(1500e-6, 900.0, diode_drop_v=0.45, diode_resistance_ohm=0.005)
    found = settle_common(Common(OUTLET, (there,))).spectrum
    assert found.current_a == pytest.approx(alone.current_a, rel=0.005)
    assert found.voltage_thd == pytest.approx(alone.service_voltage_thd, rel=0.01)
    for n in (0, 2, 4, 6):
        assert abs(found.harmonics_a[n]) == pytest.approx(abs(alone.harmonics_a[n]), rel=0.01)
