"""Fitzgerald, Kingsley, Umans, Electric Machinery, 6th ed. (2003), examples 6.2, 6.3 and 6.5.

Inputs and results as the book has them; 6.2 and 6.3 recomputed by an independent per-phase
solver. The book subtracts a fixed rotational loss from the air-gap power, as done here.
"""

from __future__ import annotations

import math

import pytest
from published_circuits import published

from phasewright.machines.from_tests import Reading, parameters_from_tests
from phasewright.machines.performance import breakdown, locked, rated

ROTATIONAL_W = 403.0
MOTOR = published(220.0, 60.0, 6, 0.294, 0.503, 0.144, 0.209, 13.25, rated_slip=0.02)


def test_example_6_2_running_at_two_percent_slip() -> None:
    now = rated(MOTOR)
    speed = now.speed_rpm * math.pi / 30.0
    shaft_w = now.shaft_power_w - ROTATIONAL_W
    assert now.speed_rpm == pytest.approx(1176.0, rel=1e-9)
    assert now.current_a == pytest.approx(18.778, rel=5e-4)
    assert now.power_factor == pytest.approx(0.8456, rel=5e-4)
    assert shaft_w == pytest.approx(5221.6, rel=5e-4)
    assert shaft_w / speed == pytest.approx(42.400, rel=5e-4)
    assert shaft_w / now.input_power_w == pytest.approx(0.8630, rel=5e-4)


def test_example_6_3_breakdown_and_start() -> None:
    top = breakdown(MOTOR)
    start = locked(MOTOR)
    assert top.airgap_torque_nm == pytest.approx(174.56, rel=1e-3)
    assert top.speed_rpm == pytest.approx(969.8, rel=1e-3)
    assert start.airgap_torque_nm == pytest.approx(77.62, rel=1e-3)
    rotor_a = math.sqrt(start.rotor_loss_w / (3.0 * 0.144))
    assert rotor_a == pytest.approx(150.26, rel=1e-3)


def test_example_6_5_parameters_from_two_tests() -> None:
    found = parameters_from_tests(
        no_load=Reading(219.0, 5.70, 380.0, 60.0),
        locked=Reading(26.5, 18.57, 675.0, 15.0),
        stator_resistance_ohm=0.262,
        stator_share=0.3,
    )
    assert found.rotational_w == pytest.approx(354.46, rel=1e-3)
    assert found.stator_leakage_ohm == pytest.approx(0.6329, rel=2e-3)
    assert found.rotor_leakage_ohm == pytest.approx(1.4754, rel=2e-3)
    assert found.magnetising_ohm == pytest.approx(21.204, rel=2e-3)
    assert found.rotor_resistance_ohm == pytest.approx(0.4467, rel=2e-3)
