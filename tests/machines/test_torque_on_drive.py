"""A motor on a drive at any speed, against computed reference cases and relations that must hold."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from machines.test_performance import M0K75, M2K2, M4K0

from phasewright.machines.circuit import Cage, Circuit
from phasewright.machines.performance import at_slip, breakdown, rated
from phasewright.machines.shaft_losses import friction_torque_nm
from phasewright.machines.torque_on_drive import (
    Output,
    giving,
    lasting,
    over_fields,
    over_speeds,
    pull_out_nm,
    usual_boost_v,
    within_amps,
)

RATED_A, RATED_NM = 8.027, 14.54
LINE = Output(0.95 * 230.0, boost_v=6.0)
V1 = [  # Hz, volts, pull-out, torque at 1.5 amps, its slip Hz, torque at 1.0 amps: over rated
    (3, 20, 0.67, 0.67, 2.38, 0.67),
    (5, 29, 0.88, 0.88, 3.63, 0.85),
    (10, 52, 1.36, 1.30, 4.27, 0.98),
    (20, 98, 2.06, 1.53, 3.48, 1.02),
    (30, 144, 2.52, 1.60, 3.29, 1.03),
    (40, 190, 2.81, 1.63, 3.19, 1.04),
    (47.5, 218, 2.82, 1.60, 3.27, 1.01),
    (50, 218, 2.59, 1.52, 3.48, 0.98),
    (60, 218, 1.91, 1.26, 4.36, 0.84),
    (70, 218, 1.46, 1.07, 5.29, 0.74),
    (87, 218, 0.99, 0.82, 7.10, 0.59),
    (100, 218, 0.77, 0.69, 8.76, 0.51),
    (120, 218, 0.55, 0.53, 12.05, 0.42),
]
"""Computed cases of the 2.2 kW machine: volts 6 + 230 f/50, at most 218.5; air-gap torques."""


@pytest.mark.parametrize("row", V1, ids=[f"{row[0]} Hz" for row in V1])
def test_torque_limits_over_frequency(row: tuple[float, ...]) -> None:
    hertz, volts, top, short, slip_hz, alone = row
    field = over_fields(M2K2, np.array([hertz]), LINE)

    def gap(most_a: float) -> float:
        """Torque at the limit with that of friction put back: the reference has it in the gap."""
        reached = within_amps(field, most_a)
        speed = 4.0 * np.pi / M2K2.poles * (hertz - reached.slip_hz)
        return float((reached.torque_nm + friction_torque_nm(M2K2, speed))[0]) / RATED_NM

    assert field.line_voltage_v.max() == pytest.approx(volts, abs=0.6)
    assert float(pull_out_nm(field)[0]) / RATED_NM == pytest.approx(top, abs=0.006)
    assert gap(1.5 * RATED_A) == pytest.approx(short, abs=0.012)
    assert float(within_amps(field, 1.5 * RATED_A).slip_hz[0]) == pytest.approx(slip_hz, rel=0.03)
    assert gap(RATED_A) == pytest.approx(alone, abs=0.015)


@pytest.mark.parametrize(
    ("hertz", "alone", "compensated"),
    [(10.0, 235.9, 294.6), (25.0, 696.4, 752.0), (50.0, 1448.1, 1503.9)],
)
def test_speed_holding_at_rated_torque(hertz: float, alone: float, compensated: float) -> None:
    """Computed cases: without slip compensation, and with 1.83 Hz at rated torque; volts enough."""
    for more, rpm in ((0.0, alone), (1.83, compensated)):
        field = over_fields(M2K2, np.array([hertz + more]), Output(1e4, boost_v=6.0))
        slip = float(giving(field, np.array([RATED_NM])).slip_hz[0])
        assert 30.0 * (hertz + more - slip) == pytest.approx(rpm, abs=1.2)


@pytest.mark.parametrize("circuit", [M0K75, M2K2, M4K0], ids=["0.75 kW", "2.2 kW", "4 kW"])
def test_at_the_plates_point_it_is_the_plates_motor(circuit) -> None:  # type: ignore[no-untyped-def]
    """With the plate's volts and hertz the breakdown torque is that of `performance`, and the
    torque for ever is the rated one."""
    field = over_fields(circuit, np.array([50.0]), Output(230.0, boost_v=230.0))
    assert float(pull_out_nm(field)[0]) == pytest.approx(
        breakdown(circuit).airgap_torque_nm, rel=1e-3
    )
    nm = float(lasting(field, circuit, circuit.rated_current_a * 1.01).torque_nm[0])
    assert nm == pytest.approx(rated(circuit).shaft_torque_nm, rel=5e-3)


def test_each_slip_is_that_of_the_circuit() -> None:
    field = over_speeds(M2K2, np.array([12.0]), Output(180.0, boost_v=8.0))
    for k in (3, 60, 140):
        hertz, volts = float(field.field_hz[0, k]), float(field.line_voltage_v[0, k])
        at = at_slip(M2K2, float(field.slip_hz[0, k]) / hertz, volts, hertz)
        assert at.current_a == pytest.approx(float(field.at.current_a[0, k]), rel=1e-9)
        assert at.airgap_torque_nm == pytest.approx(
            float(field.at.airgap_torque_nm[0, k]), rel=1e-9
        )
        assert at.speed_rpm == pytest.approx(12.0 * 30.0, rel=1e-9)


def test_held_flux_is_the_rated_ones_until_the_volts_end() -> None:
    field = over_speeds(M2K2, np.array([0.0, 10.0, 30.0, 60.0]), Output(218.5))
    free = field.line_voltage_v < 218.4
    assert field.at.flux_ratio[free] == pytest.approx(rated(M2K2).flux_ratio, rel=1e-6)
    assert free[0, :120].all()  # beyond, far above any amps, even this wants more
    assert not free[3].any()
    assert (field.at.flux_ratio[3] < 0.95 * rated(M2K2).flux_ratio).all()


SPEEDS = np.linspace(0.0, 100.0, 21)


@pytest.mark.parametrize("circuit", [M0K75, M2K2, M4K0], ids=["0.75 kW", "2.2 kW", "4 kW"])
@pytest.mark.parametrize("boost", [None, "usual"])
def test_more_of_a_limit_never_gives_less(circuit, boost) -> None:  # type: ignore[no-untyped-def]
    boost_v = None if boost is None else usual_boost_v(circuit)
    last = np.zeros((3, len(SPEEDS)))
    for volts in (190.0, 205.0, 218.0, 230.0):
        field = over_speeds(circuit, SPEEDS, Output(volts, boost_v))
        amps = [k * circuit.rated_current_a for k in (1.0, 1.3, 1.6, 2.0)]
        by_amps = np.array([within_amps(field, each).torque_nm for each in amps])
        assert (np.diff(by_amps, axis=0) >= -1e-9).all()
        cooled = lasting(field, circuit, circuit.rated_current_a).torque_nm
        less = lasting(field, circuit, 0.8 * circuit.rated_current_a).torque_nm
        assert (less <= cooled + 1e-9).all()
        now = np.array([pull_out_nm(field), by_amps[1], cooled])
        assert (now >= last * (1.0 - 2e-3)).all()
        last = now


def test_above_the_base_point_breakdown_torque_falls_with_the_square() -> None:
    """Stator resistance neglected (textbook law); with it by less."""
    fields = np.array([60.0, 90.0, 120.0])
    bare = replace(M4K0, stator_resistance_ohm=1e-6)
    one, two, three = pull_out_nm(over_fields(bare, fields, Output(218.5, boost_v=0.0)))
    assert one / two == pytest.approx(1.5**2, rel=0.01)
    assert one / three == pytest.approx(4.0, rel=0.01)
    one, two, three = pull_out_nm(over_fields(M4K0, fields, Output(218.5, boost_v=0.0)))
    assert 1.9 < one / two < 2.25
    assert 3.2 < one / three < 4.0


def test_a_torque_that_is_not_to_be_had_is_no_number() -> None:
    field = over_speeds(M2K2, np.array([48.0, 110.0]), Output(218.5, boost_v=6.0))
    slip = giving(field, np.full(2, 1.2 * RATED_NM)).slip_hz
    assert 1.0 < slip[0] < 4.0
    assert np.isnan(slip[1])


DUBEY = Circuit(
    line_voltage_v=400.0, frequency_hz=50.0, poles=4, stator_resistance_ohm=2.0,
    stator_leakage_ohm=3.5, magnetising_ohm=1e7, saturation=None, core_loss_ohm=1e9,
    cages=(Cage(3.0, 3.5),), friction_w=0.0, stray_w=0.0, inertia_kg_m2=0.01,
    rated_current_a=10.0, rated_speed_rpm=1370.0,
)  # fmt: skip


@pytest.mark.parametrize(
    ("hertz", "most_nm"),
    [(15, 31.18), (20, 37.44), (25, 42.22), (30, 45.94), (35, 48.89), (40, 51.27),
     (45, 53.24), (50, 54.88)],
)  # fmt: skip
def test_breakdown_torque_at_constant_volts_per_hertz(hertz: float, most_nm: float) -> None:
    """Dubey, Fundamentals of Electrical Drives, 6.9 (p. 199): printed torques. At 10 Hz and below
    its highest point would lie beyond standstill."""
    field = over_fields(DUBEY, np.array([float(hertz)]), Output(400.0, boost_v=0.0))
    assert float(pull_out_nm(field)[0]) == pytest.approx(most_nm, rel=2e-3)


@pytest.mark.parametrize(
    ("hertz", "volts"), [(15, 159.2), (20, 193.7), (25, 228.0), (30, 262.3), (45, 365.5)]
)
def test_volts_that_keep_the_breakdown_torque(hertz: float, volts: float) -> None:
    """Dubey, 6.10: the same torque at every frequency for these line volts."""
    fixed = Output(volts, boost_v=1000.0)
    field = over_fields(DUBEY, np.array([float(hertz)]), fixed)
    assert float(pull_out_nm(field)[0]) == pytest.approx(54.88, rel=2e-3)
