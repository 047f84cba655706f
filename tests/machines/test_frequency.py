"""Another frequency, and where a drive reaches full volts."""

from __future__ import annotations

import pytest
from reference_machines import M2K2

from phasewright.machines.frequency import (
    base_point,
    breakdown_ratio_above_base,
    centrifugal_power_ratio,
    flux_ratio,
)
from phasewright.machines.performance import breakdown


def test_flux_goes_with_volts_per_hertz() -> None:
    assert flux_ratio(230.0, 50.0, 230.0, 60.0) == pytest.approx(1.2)
    assert flux_ratio(240.0, 50.0, 220.0, 50.0) == pytest.approx(1.0909, abs=1e-4)
    assert flux_ratio(230.0, 60.0, 190.0, 50.0) == pytest.approx(1.0088, abs=1e-4)


def test_base_points() -> None:
    assert base_point(400.0, 50.0, 4, 230.0).frequency_hz == pytest.approx(28.75)
    assert base_point(230.0, 50.0, 4, 230.0).synchronous_speed_rpm == pytest.approx(1500.0)
    assert base_point(460.0, 60.0, 4, 230.0).power_ratio == pytest.approx(0.5)


def test_pumps_and_fans_at_six_fifths_of_the_speed() -> None:
    assert centrifugal_power_ratio(60.0 / 50.0) == pytest.approx(1.73, abs=0.005)


@pytest.mark.parametrize("hertz", [60.0, 75.0, 100.0])
def test_the_rule_above_base_is_near_the_circuit(hertz: float) -> None:
    """Stator resistance holds torque down below base more than above: within 20 % at twice the base."""
    exact = breakdown(M2K2, 230.0, hertz).airgap_torque_nm / breakdown(M2K2).airgap_torque_nm
    assert breakdown_ratio_above_base(hertz, 50.0) == pytest.approx(exact, rel=0.20)
    assert breakdown_ratio_above_base(40.0, 50.0) == 1.0
