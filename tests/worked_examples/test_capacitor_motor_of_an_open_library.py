"""A delta motor on two lines that runs up and settles at its nominal speed.

Source: Modelica Standard Library, example IMC_Steinmetz: default cage machine (100 V a phase,
50 Hz, 2 pole pairs, Rs 0.03, Rr 0.04, Xs = Xr = 3.0 ohm, stray factor 0.0667) in delta on 100 V,
run capacitor 3500 uF, five times as much more for the start, quadratic load of 107.6 N m at
1462.5 rpm; it settles at nominal speed. The figures beside the speed were computed from the
library's data by an independent two-sequence solver.
"""

from __future__ import annotations

import math

import pytest

from phasewright.machines.circuit import Cage, Circuit
from phasewright.network.supply import Source
from phasewright.running.network import Between, Connected, LoadLaw, Network
from phasewright.running.settle import at_slips, settle

MAIN = 3.0 * math.sqrt(1.0 - 0.0667)
LEAKAGE = 3.0 - MAIN
# delta phases divided by three: the star equivalent at the same line voltage
MOTOR = Circuit(
    line_voltage_v=100.0, frequency_hz=50.0, poles=4, stator_resistance_ohm=0.03 / 3,
    stator_leakage_ohm=LEAKAGE / 3, magnetising_ohm=MAIN / 3, saturation=None,
    core_loss_ohm=1e12, cages=(Cage(0.04 / 3, LEAKAGE / 3),), friction_w=0.0, stray_w=0.0,
    inertia_kg_m2=0.29, rated_current_a=100.0 * math.sqrt(3.0), rated_speed_rpm=1440.45,
)  # fmt: skip
LOAD = LoadLaw("fan", 2.0 / 3.0 * 161.4, 1462.5 * math.pi / 30.0)
SOURCE = Source(100.0, 0.0, 0.0, 50.0)


def test_settles_at_the_nominal_speed() -> None:
    shop = Network(SOURCE, Between(0.0, 0.0, 3500e-6), (Connected("motor", MOTOR, LOAD),))
    found = settle(shop)
    motor = found.machines[0]
    assert motor.speed_rpm == pytest.approx(1462.5, abs=1.5)  # the library's text
    assert motor.speed_rpm == pytest.approx(1462.80, abs=0.02)
    assert motor.shaft_torque_nm == pytest.approx(107.644, abs=0.01)
    assert found.vuf == pytest.approx(0.06667, abs=2e-5)
    assert found.line_voltages_v == pytest.approx((100.0, 107.83, 96.54), abs=0.02)
    assert sorted(motor.line_currents_a) == pytest.approx([102.76, 106.15, 177.30], abs=0.05)
    assert sorted(motor.winding_currents_a) == pytest.approx([36.84, 89.89, 91.20], abs=0.05)
    assert max(motor.winding_currents_a) <= 100.0  # rated
    assert found.supply_current_a == pytest.approx(177.30, abs=0.05)
    assert found.supply_power_w == pytest.approx(17563.0, rel=2e-4)
    assert found.power_factor == pytest.approx(0.9906, abs=1e-4)


def test_standstill_with_all_capacitors() -> None:
    shop = Network(SOURCE, Between(0.0, 0.0, 6 * 3500e-6), (Connected("motor", MOTOR, LOAD),))
    found = at_slips(shop, (1.0,))
    torque = found.machines[0].shaft_torque_nm
    assert torque == pytest.approx(124.66, abs=0.02)
    assert torque / 161.4 == pytest.approx(0.772, abs=1e-3)
    assert max(found.line_voltages_v[1:]) == pytest.approx(123.6, abs=0.06)
