"""Stray loss: a watt at the rated point is a watt; a start is not stalled by it."""

import math

import numpy as np
import pytest

from phasewright.machines.performance import curve, rated
from phasewright.machines.shaft_losses import STRAY_KNEE, stray_torque_per_watt
from phasewright.machines.standard import standard_motor
from phasewright.running.kernel import stray_shape


@pytest.mark.parametrize("power_w", [250.0, 2200.0, 15000.0])
def test_stray_loss_leaves_the_start_its_torque(power_w):
    circuit = standard_motor(power_w, 230.0, 50.0)
    low = curve(circuit, np.linspace(1.0, 0.5, 26))
    assert np.all(low.shaft_torque_nm > 0.8 * low.airgap_torque_nm)
    point = rated(circuit)
    times = (point.stator_current_a / circuit.rated_current_a) ** 2
    assert point.stray_loss_w == pytest.approx(circuit.stray_w * times, rel=1e-9)


def test_the_kernel_takes_the_same_torque_and_its_slope_is_one():
    synchronous = 50.0 * math.pi
    for share in (-0.95, -0.3, 0.0, 0.1, 0.5, STRAY_KNEE - 1e-3, STRAY_KNEE + 1e-3, 0.97):
        speed = share * synchronous
        torque, slope = stray_shape(speed, synchronous)
        alone = stray_torque_per_watt(np.array([speed, speed - 1e-4, speed + 1e-4]), synchronous)
        assert torque == pytest.approx(alone[0], rel=1e-12)
        assert slope == pytest.approx((alone[2] - alone[1]) / 2e-4, rel=1e-5)
