"""Dubey, Fundamentals of Electrical Drives, 2nd ed. (2004), example 6.1 (p. 147), balanced part.

The book puts the magnetising reactance across the terminals (30.5 A); the exact circuit gives
29.20 A, power factor 0.9137, 181.97 N m (recomputed).
"""

from __future__ import annotations

import pytest
from published_circuits import published

from phasewright.machines.performance import rated

MOTOR = published(440.0, 50.0, 6, 0.5, 1.2, 0.4, 1.2, 50.0, rated_slip=0.05)


def test_example_6_1_balanced() -> None:
    now = rated(MOTOR)
    assert now.current_a == pytest.approx(29.20, rel=2e-4)
    assert now.power_factor == pytest.approx(0.9137, rel=2e-4)
    assert now.airgap_torque_nm == pytest.approx(181.97, rel=1e-4)
