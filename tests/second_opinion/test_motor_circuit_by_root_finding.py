"""The balanced motor once more, independently: nodal equations and scipy's bracketed root finder.

Written from the circuit diagram, sharing no code with the program: series stator branch,
magnetising branch as a chord inductance found by bisection on the air-gap flux, two cages, iron
at the terminals, friction and stray loss off the shaft.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import pytest
from scipy.optimize import brentq, minimize_scalar

from phasewright.machines.circuit import Circuit
from phasewright.machines.performance import at_power, at_slip, breakdown
from phasewright.machines.standard import standard_motor


@dataclass
class Point:
    current_a: float
    input_w: float
    gap_nm: float
    shaft_nm: float
    flux: float


def solve(c: Circuit, slip: float, volts: float, hertz: float) -> Point:
    law = c.saturation
    assert law is not None
    w, w0 = 2.0 * math.pi * hertz, 2.0 * math.pi * c.frequency_hz
    phase = volts / math.sqrt(3.0)
    l_rated = c.magnetising_ohm / w0
    l_stator = c.stator_leakage_ohm / w0
    zs = complex(c.stator_resistance_ohm, w * l_stator)
    rotor = sum(slip / complex(k.resistance_ohm, slip * w * k.leakage_ohm / w0) for k in c.cages)
    nominal = (
        math.sqrt(2.0) * c.line_voltage_v / math.sqrt(3.0) * l_rated / (l_rated + l_stator) / w0
    )

    def gap(flux: float) -> complex:
        u = flux / nominal
        chord = l_rated * (1.0 + law.k) / (1.0 + law.k * u**law.s)
        node = 1.0 / zs + rotor + 1.0 / (1j * w * chord)
        return phase / zs / node

    def miss(flux: float) -> float:
        return math.sqrt(2.0) * abs(gap(flux)) / w - flux

    flux = brentq(miss, 1e-6 * nominal, 5.0 * nominal, xtol=1e-14, rtol=1e-14)
    e = gap(flux)
    stator = (phase - e) / zs
    line = stator + phase / c.core_loss_ohm
    speed = 2.0 * w / c.poles * (1.0 - slip)
    crossing = 3.0 * abs(e) ** 2 * rotor.real
    full = c.rated_speed_rpm * math.pi / 30.0
    friction = c.friction_w * (0.4 * speed / full**2 + 0.6 * speed * abs(speed) / full**3)
    knee = 0.8 * 2.0 * w / c.poles
    per_watt = 1.0 / speed if abs(speed) > knee else speed / knee**2
    stray = c.stray_w * (abs(stator) / c.rated_current_a) ** 2 * per_watt
    torque = crossing * c.poles / (2.0 * w)
    return Point(
        abs(line), 3.0 * phase * line.real, torque, torque - friction - stray, flux / nominal
    )


MOTORS = [
    standard_motor(watts, volts, hertz, poles)
    for watts, volts, hertz, poles in (
        (370.0, 230.0, 50.0, 4), (2200.0, 230.0, 50.0, 4), (5500.0, 460.0, 60.0, 2),
        (11000.0, 400.0, 50.0, 6),
    )
]  # fmt: skip


@pytest.mark.parametrize("motor", MOTORS)
@pytest.mark.parametrize("slip", [-0.05, 0.003, 0.04, 0.2, 0.8])
@pytest.mark.parametrize(("volts", "hertz"), [(1.0, 1.0), (1.12, 1.0), (0.6, 0.5), (0.8, 1.2)])
def test_currents_and_torques(motor: Circuit, slip: float, volts: float, hertz: float) -> None:
    v, f = volts * motor.line_voltage_v, hertz * motor.frequency_hz
    want, got = solve(motor, slip, v, f), at_slip(motor, slip, v, f)
    assert got.current_a == pytest.approx(want.current_a, rel=1e-9)
    assert got.input_power_w == pytest.approx(want.input_w, rel=1e-9)
    assert got.airgap_torque_nm == pytest.approx(want.gap_nm, rel=1e-9)
    assert got.shaft_torque_nm == pytest.approx(want.shaft_nm, rel=1e-9)
    assert got.flux_ratio == pytest.approx(want.flux, rel=1e-9)


@pytest.mark.parametrize("motor", MOTORS)
def test_breakdown_against_a_bounded_search(motor: Circuit) -> None:
    v, f = motor.line_voltage_v, motor.frequency_hz
    found = minimize_scalar(
        lambda x: -solve(motor, math.exp(x), v, f).gap_nm,
        bounds=(math.log(0.02), math.log(0.9)), method="bounded", options={"xatol": 1e-9},
    )  # fmt: skip
    assert breakdown(motor).airgap_torque_nm >= -found.fun * (1.0 - 1e-9)
    assert breakdown(motor).airgap_torque_nm == pytest.approx(-found.fun, rel=1e-4)


@pytest.mark.parametrize("motor", MOTORS)
def test_the_running_point_against_a_root(motor: Circuit) -> None:
    v, f = motor.line_voltage_v, motor.frequency_hz
    watts = 0.6 * at_slip(motor, motor.rated_slip).shaft_power_w
    synchronous = 4.0 * math.pi * f / motor.poles
    slip = brentq(
        lambda s: solve(motor, s, v, f).shaft_nm * synchronous * (1.0 - s) - watts,
        1e-5, motor.rated_slip, xtol=1e-13,
    )  # fmt: skip
    assert at_power(motor, watts).slip == pytest.approx(slip, rel=1e-6)
