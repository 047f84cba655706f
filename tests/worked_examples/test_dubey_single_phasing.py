"""A running motor that lost one line.

Source: G. K. Dubey, Fundamentals of Electrical Drives, 2nd ed. 2004, example 6.1 (440 V, 50 Hz,
6 poles, R1 0.5, X1 1.2, R2' 0.4, X2' 1.2, Xm 50 ohm, slip 0.05): sequence current 24.26 A,
torques 125.61 and 3.299 N m, load 0.0123 w^2. The line current, sqrt(3) times the sequence
current, and what happens at standstill are derived from the same circuit.
"""

from __future__ import annotations

import math

import pytest

from phasewright.machines.circuit import Cage, Circuit
from phasewright.network.supply import Source
from phasewright.running.network import Between, Connected, LoadLaw, Network
from phasewright.running.settle import at_slips

MOTOR = Circuit(
    line_voltage_v=440.0, frequency_hz=50.0, poles=6, stator_resistance_ohm=0.5,
    stator_leakage_ohm=1.2, magnetising_ohm=50.0, saturation=None, core_loss_ohm=1e12,
    cages=(Cage(0.4, 1.2),), friction_w=0.0, stray_w=0.0, inertia_kg_m2=1.0,
    rated_current_a=30.5, rated_speed_rpm=950.0,
)  # fmt: skip
LINES = Network(
    Source(440.0, 0.0, 0.0, 50.0), Between(), (Connected("motor", MOTOR, LoadLaw("none")),)
)


def test_line_current_and_torque_at_the_running_slip() -> None:
    found = at_slips(LINES, (0.05,))
    motor = found.machines[0]
    i1, i2, i3 = motor.line_currents_a
    assert i1 == pytest.approx(math.sqrt(3.0) * 24.264, rel=2e-4)  # derived: 42.03 A
    assert i2 == pytest.approx(i1, rel=1e-9)
    assert i3 == pytest.approx(0.0, abs=1e-9)
    # example 6.1: 125.61 - 3.299 N m
    assert motor.shaft_torque_nm == pytest.approx(125.613 - 3.2994, rel=2e-4)
    load = 0.0123 * (950.0 * math.pi / 30.0) ** 2
    assert motor.shaft_torque_nm > load


def test_volts_of_the_open_line() -> None:
    # derived from the example's circuit: V1 211.06, V2 59.99, VUF 28.42 %, 412.3 and 264.0 V
    found = at_slips(LINES, (0.05,))
    assert found.vuf == pytest.approx(0.2842, abs=5e-5)
    assert sorted(found.line_voltages_v) == pytest.approx([264.0, 412.3, 440.0], abs=0.06)


def test_no_torque_at_standstill() -> None:
    found = at_slips(LINES, (1.0,))
    assert found.machines[0].shaft_torque_nm == pytest.approx(0.0, abs=1e-9)
    assert found.machines[0].line_currents_a[0] == pytest.approx(86.85, rel=2e-4)
