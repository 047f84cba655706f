"""Hambley, Electrical Engineering, examples 17.1 and 17.2 (p. 774): a delta motor.

Inputs and starting values as in the book; the running output is recomputed (a circulating
re-coding of the example takes the stator current for the rotor current).
"""

from __future__ import annotations

import math

import pytest
from published_circuits import published

from phasewright.machines.performance import locked, rated

MOTOR = published(440.0, 60.0, 4, 1.2, 2.0, 0.6, 0.8, 50.0, rated_slip=0.03, delta=True)


def test_example_17_1_running() -> None:
    now = rated(MOTOR)
    shaft_w = now.shaft_power_w - 900.0
    assert now.current_a == pytest.approx(37.58, rel=5e-4)
    assert now.power_factor == pytest.approx(0.8863, rel=5e-4)
    assert shaft_w == pytest.approx(22_077.0, rel=5e-4)
    assert shaft_w / (now.speed_rpm * math.pi / 30.0) == pytest.approx(120.75, rel=5e-4)
    assert shaft_w / now.input_power_w == pytest.approx(0.8698, rel=5e-4)


def test_example_17_1_winding_current_of_the_delta() -> None:
    now = rated(MOTOR)
    assert now.winding_current_a(delta=True) == pytest.approx(37.58 / math.sqrt(3.0), rel=5e-4)
    assert now.winding_current_a(delta=False) == now.current_a


def test_example_17_2_starting() -> None:
    start = locked(MOTOR)
    assert start.current_a == pytest.approx(229.99, rel=5e-4)
    assert start.power_factor == pytest.approx(0.5375, rel=5e-4)
    assert start.airgap_torque_nm == pytest.approx(163.08, rel=5e-4)
