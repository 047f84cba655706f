"""Switching a bridge on at rest: a computed reference, energy, and what must hold."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from phasewright.electronics.inrush import inrush, least_off_s
from phasewright.electronics.rectifier import Bridge
from phasewright.network.supply import Source
from phasewright.quantities.errors import NotComputable, UsageError

TOWN = Source(230.0, 0.25, 0.15, 50.0)
BRIDGE = Bridge(TOWN, 1000e-6, 1.0)
PEAK_V = math.sqrt(2.0) * 230.0


# discharged 1000 uF switched at the voltage's peak; figures of another program (own steps of Euler)
@pytest.mark.parametrize(("ohm", "peak_a"), [(0.0, 355.0), (25.0, 12.7), (50.0, 6.4)])
def test_peak_with_and_without_a_charging_resistor(ohm: float, peak_a: float) -> None:
    assert inrush(BRIDGE, ohm).peak_a == pytest.approx(peak_a, rel=0.008)


@given(st.floats(25.0, 200.0), st.floats(400e-6, 2e-3))
@settings(deadline=None, max_examples=25)
def test_the_resistor_takes_what_the_link_takes(ohm: float, link_f: float) -> None:
    """Charging from a source through a resistor loses at most what a step of the full volts would
    (C V v - C v^2/2 of a link left at v), and not much less where it takes many cycles."""
    found = inrush(replace(BRIDGE, capacitance_f=link_f), ohm)
    full = 0.9 * (PEAK_V - 1.8)
    most = link_f * (PEAK_V * full - 0.5 * full * full)
    assert 0.3 * link_f * full * full < found.energy_j < most * 1.02
    assert found.peak_a < PEAK_V / ohm
    assert found.peak_a > 0.9 * (PEAK_V - 1.8) / (ohm + 0.27) - 2.0 * TOWN.reactance_ohm


def test_more_ohms_less_peak_and_a_longer_charge() -> None:
    runs = [inrush(BRIDGE, ohm) for ohm in (0.0, 5.0, 25.0, 50.0, 100.0)]
    peaks, times = [run.peak_a for run in runs], [run.charge_s for run in runs]
    assert peaks == sorted(peaks, reverse=True)
    assert times == sorted(times)


def test_a_choke_or_a_soft_supply_bounds_it_and_a_held_link_too() -> None:
    bare = inrush(BRIDGE, 0.0).peak_a
    assert inrush(replace(BRIDGE, ac_choke_h=3e-3), 0.0).peak_a < 0.5 * bare
    assert inrush(replace(BRIDGE, source=replace(TOWN, resistance_ohm=0.8)), 0.0).peak_a < bare
    held = [inrush(BRIDGE, 0.0, held_v=volts).peak_a for volts in (0.0, 100.0, 200.0, 300.0)]
    assert held == sorted(held, reverse=True)
    assert inrush(BRIDGE, 0.0, held_v=400.0).peak_a == 0.0


def test_how_often_the_resistor_bears_it() -> None:
    assert least_off_s(45.0, 5.0) == 9.0
    with pytest.raises(UsageError):
        least_off_s(45.0, 0.0)


def test_what_is_no_resistor_is_wrong_use() -> None:
    for wrong in (-1.0, math.nan, math.inf):
        with pytest.raises(UsageError):
            inrush(BRIDGE, wrong)
        with pytest.raises(UsageError):
            inrush(BRIDGE, 10.0, held_v=wrong)
    nothing = replace(TOWN, resistance_ohm=0.0, reactance_ohm=0.0)
    with pytest.raises(NotComputable):
        inrush(replace(BRIDGE, source=nothing, diode_resistance_ohm=0.0), 0.0)


def test_without_inductance_the_resistance_bounds_the_peak() -> None:
    """Switched on at the top of the wave onto an empty link: volts over ohms, diodes counted."""
    found = inrush(replace(BRIDGE, source=replace(TOWN, reactance_ohm=0.0)), 0.0)
    most = (math.sqrt(2.0) * 230.0 - 1.8) / 0.27
    assert 0.9 * most < found.peak_a <= most
