"""The motor of Fitzgerald, example 6.2, on a single-phase supply with capacitors.

Source of the motor: A. E. Fitzgerald, C. Kingsley, S. D. Umans, Electric Machinery, 6th ed. 2003,
example 6.2 (220 V, 60 Hz, 6 poles, R1 0.294, X1 0.503, R2 0.144, X2 0.209, Xm 13.25 ohm,
rotational loss 403 W). The unbalanced values are derived from the two-sequence solution by an
independent program.
"""

from __future__ import annotations

import math

import pytest

from phasewright.machines.circuit import Cage, Circuit
from phasewright.machines.performance import at_slip
from phasewright.network.balance import (
    balancing_capacitances,
    line_susceptances,
    single_capacitance,
)  # fmt: skip
from phasewright.network.supply import Source
from phasewright.running.network import Between, Connected, LoadLaw, Network
from phasewright.running.settle import at_slips

MOTOR = Circuit(
    line_voltage_v=220.0, frequency_hz=60.0, poles=6, stator_resistance_ohm=0.294,
    stator_leakage_ohm=0.503, magnetising_ohm=13.25, saturation=None, core_loss_ohm=1e12,
    cages=(Cage(0.144, 0.209),), friction_w=0.0, stray_w=0.0, inertia_kg_m2=1.0,
    rated_current_a=18.8, rated_speed_rpm=1176.0,
)  # fmt: skip
W = 2.0 * math.pi * 60.0


def lines(c23_uf: float, c31_uf: float, *names: str) -> Network:
    machines = tuple(Connected(name, MOTOR, LoadLaw("none")) for name in names)
    source = Source(220.0, 0.0, 0.0, 60.0)
    return Network(source, Between(0.0, c23_uf * 1e-6, c31_uf * 1e-6), machines)


@pytest.mark.parametrize(
    ("c31", "vuf", "volts", "amps", "supply", "watts", "torque"),
    [(0, 0.11788, (220, 201.02, 179.33), (29.48, 29.48, 0.0), 29.48, 5288.6, 37.046),
     (100, 0.07789, (220, 213.73, 192.76), (23.58, 27.51, 7.27), 27.51, 5586.9, 40.799),
     (200, 0.05788, (220, 229.80, 207.85), (16.71, 27.87, 15.67), 27.87, 6089.5, 45.130),
     (300, 0.08162, (220, 249.81, 224.74), (8.82, 31.68, 25.42), 31.68, 6881.4, 50.092)],
)  # fmt: skip
def test_one_capacitor_at_rated_slip(
    c31: float, vuf: float, volts: tuple[float, ...], amps: tuple[float, ...],
    supply: float, watts: float, torque: float,
) -> None:  # fmt: skip
    found = at_slips(lines(0, c31, "motor"), (0.02,))
    assert found.vuf == pytest.approx(vuf, abs=1.1e-5)
    assert found.line_voltages_v == pytest.approx(volts, abs=0.006)
    assert found.machines[0].line_currents_a == pytest.approx(amps, abs=0.006)
    assert found.supply_current_a == pytest.approx(supply, abs=0.006)
    assert found.supply_power_w == pytest.approx(watts, abs=0.06)
    assert found.machines[0].shaft_torque_nm == pytest.approx(torque, rel=1e-4)


@pytest.mark.parametrize(
    ("c31", "torque"), [(250, 3.38), (500, 8.40), (1000, 26.28), (1500, 56.19), (2125, 79.72)]
)
def test_stall_torque_against_capacitance(c31: float, torque: float) -> None:
    found = at_slips(lines(0, c31, "motor"), (1.0,))
    assert found.machines[0].shaft_torque_nm == pytest.approx(torque, abs=0.006)


@pytest.mark.parametrize(
    ("c23", "c31", "slip", "vuf", "watts", "supply"),
    [(0, 0, 0.001509, 0.05834, 573.0, 15.26), (0, 60, None, 0.03202, 508.4, 10.86),
     (60, 60, None, 0.00921, 481.2, 6.36)],
)  # fmt: skip
def test_the_motor_as_an_idler(
    c23: float, c31: float, slip: float | None, vuf: float, watts: float, supply: float
) -> None:
    shop = lines(c23, c31, "idler")
    held = _slip_of_power(shop, 403.0)
    if slip is not None:
        assert held == pytest.approx(slip, abs=6e-7)
    found = at_slips(shop, (held,))
    assert found.vuf == pytest.approx(vuf, abs=1.1e-5)
    assert found.supply_power_w == pytest.approx(watts, abs=0.06)
    assert found.supply_current_a == pytest.approx(supply, abs=0.006)


@pytest.mark.parametrize(
    ("c23", "c31", "vuf", "supply", "amps", "torque"),
    [(0, 0, 0.08134, 41.62, (27.31, 23.49, 6.66), 39.00),
     (60, 150, 0.04599, 32.99, (21.31, 23.60, 11.39), 42.67)],
)  # fmt: skip
def test_idler_with_an_equal_motor(
    c23: float, c31: float, vuf: float, supply: float, amps: tuple[float, ...], torque: float
) -> None:
    shop = lines(c23, c31, "idler", "motor")
    low, high = 0.0005, 0.01
    for _ in range(60):
        middle = 0.5 * (low + high)
        idler = at_slips(shop, (middle, 0.02)).machines[0]
        low, high = (middle, high) if idler.shaft_power_w < 403.0 else (low, middle)
    found = at_slips(shop, (low, 0.02))
    assert found.vuf == pytest.approx(vuf, abs=1.1e-5)
    assert found.supply_current_a == pytest.approx(supply, abs=0.006)
    assert found.machines[1].line_currents_a == pytest.approx(amps, abs=0.006)
    assert found.machines[1].shaft_torque_nm == pytest.approx(torque, abs=0.006)


def test_one_capacitor_is_exact_at_a_power_factor_of_one_half() -> None:
    # slip 0.00630446: 10.5859 A, 127.637 uF, 2016.89 W, 2328.91 var, torque 15.263 N m
    capacitance = single_capacitance(2016.89, 220.0, 60.0)
    assert 1e6 * capacitance == pytest.approx(127.637, abs=0.001)
    found = at_slips(lines(0, 127.637, "motor"), (0.00630446,))
    motor = found.machines[0]
    assert found.vuf < 2e-5
    assert motor.line_currents_a == pytest.approx((10.5859,) * 3, abs=2e-3)
    assert motor.input_power_w == pytest.approx(2016.89, rel=1e-4)
    assert motor.shaft_torque_nm == pytest.approx(15.263, abs=6e-4)
    in_capacitor = found.capacitor_currents_a[2]
    assert in_capacitor == pytest.approx(10.5859, abs=2e-3)
    assert in_capacitor * 220.0 == pytest.approx(2328.91, rel=1e-4)
    assert in_capacitor * 220.0 / motor.input_power_w == pytest.approx(2 / math.sqrt(3), rel=1e-4)
    assert found.power_factor == pytest.approx(math.sqrt(3) / 2, rel=1e-4)


@pytest.mark.parametrize(
    ("slip", "lag_deg", "c31_uf", "c23_uf", "inductor_mh"),
    [(0.004, 69.381, 105.26, 22.20, None), (0.010, 48.439, 163.64, None, 203.5),
     (0.020, 32.267, 261.23, None, 57.84), (0.030, 26.254, 357.96, None, 35.31)],
)  # fmt: skip
def test_two_elements_balance_any_angle(
    slip: float, lag_deg: float, c31_uf: float, c23_uf: float | None, inductor_mh: float | None
) -> None:
    point = at_slip(MOTOR, slip)
    lag = math.atan2(point.reactive_power_var, point.input_power_w)
    assert math.degrees(lag) == pytest.approx(lag_deg, abs=6e-4)
    found = balancing_capacitances(point.input_power_w, point.reactive_power_var, 220.0, 60.0)
    assert 1e6 * found.c31_f == pytest.approx(c31_uf, abs=0.006)
    b31, b23 = line_susceptances(point.current_a, lag, 220.0)
    assert b31 == pytest.approx(W * found.c31_f, rel=1e-9)
    assert b23 == pytest.approx(W * found.c23_f, rel=1e-9, abs=1e-12)
    if inductor_mh is not None:
        assert found.inductance_23_h is not None
        assert 1e3 * found.inductance_23_h == pytest.approx(inductor_mh, rel=2e-4)
    if c23_uf is not None:
        assert 1e6 * found.c23_f == pytest.approx(c23_uf, abs=0.006)
    # a negative capacitance is that inductor at this frequency: balance is exact
    balanced = at_slips(lines(1e6 * found.c23_f, 1e6 * found.c31_f, "motor"), (slip,))
    assert balanced.vuf < 1e-9


def _slip_of_power(shop: Network, watts: float) -> float:
    """Slip at which the only machine gives this shaft power."""
    low, high = 1e-5, 0.01
    for _ in range(60):
        middle = 0.5 * (low + high)
        given = at_slips(shop, (middle,)).machines[0].shaft_power_w
        low, high = (middle, high) if given < watts else (low, middle)
    return low
