"""A network balanced in closed form must leave the motor as on three equal phases.

Two programs written apart meet here: the three-line network (both sequences, saturation by
harmonic balance) and the balanced motor. They share the circuit's data only.
"""

from __future__ import annotations

import math

import pytest

from phasewright.machines.circuit import Circuit
from phasewright.machines.performance import at_slip
from phasewright.machines.standard import standard_motor
from phasewright.network.balance import balancing_capacitances
from phasewright.network.supply import Source
from phasewright.running.network import Between, Connected, LoadLaw, Network
from phasewright.running.settle import at_slips

MOTORS = [
    standard_motor(750.0, 230.0, 50.0),
    standard_motor(4000.0, 230.0, 50.0),
    standard_motor(7500.0, 230.0, 60.0, 2),
]


@pytest.mark.parametrize("motor", MOTORS)
@pytest.mark.parametrize("volts", [0.95, 1.0, 1.08])
@pytest.mark.parametrize("load", [0.0, 0.2, 1.0])
def test_same_torque_current_and_losses(motor: Circuit, volts: float, load: float) -> None:
    v, f = volts * motor.line_voltage_v, motor.frequency_hz
    slip = max(1e-4, load * motor.rated_slip)
    want = at_slip(motor, slip, v, f)
    capacitors = balancing_capacitances(want.input_power_w, want.reactive_power_var, v, f)
    network = Network(
        source=Source(v, 1e-9, 1e-9, f),
        capacitance_f=Between(0.0, capacitors.c23_f, capacitors.c31_f),
        machines=(Connected("motor", motor, LoadLaw("none")),),
    )
    settled = at_slips(network, (slip,))
    got = settled.machines[0]
    assert settled.vuf < 1e-6
    assert got.shaft_torque_nm == pytest.approx(want.shaft_torque_nm, rel=1e-5, abs=1e-6)
    assert got.input_power_w == pytest.approx(want.input_power_w, rel=1e-5)
    for amps in got.line_currents_a:
        assert amps == pytest.approx(want.current_a, rel=1e-5)
    for amps in got.winding_currents_a:
        assert amps == pytest.approx(want.current_a / math.sqrt(3.0), rel=1e-5)
    assert got.stator_loss_w == pytest.approx(want.stator_loss_w, rel=1e-5)
    assert got.rotor_loss_w == pytest.approx(want.rotor_loss_w, rel=1e-5)
    assert got.core_loss_w == pytest.approx(want.core_loss_w, rel=1e-5)
    assert got.friction_loss_w == pytest.approx(want.friction_loss_w, rel=1e-9)
    assert got.stray_loss_w == pytest.approx(want.stray_loss_w, rel=1e-5)
    assert got.flux_ratio == pytest.approx(want.flux_ratio, rel=1e-5)
