"""Balanced running: computed reference cases, the no-load law, two maxima, refusals."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from published_circuits import published

from phasewright.machines.circuit import Cage, Circuit, Saturation
from phasewright.machines.performance import (
    at_power,
    at_slip,
    at_torque,
    breakdown,
    curve,
    locked,
    no_load,
    rated,
)
from phasewright.machines.shaft_losses import stray_torque_per_watt
from phasewright.quantities.errors import NoOperatingPoint, NotComputable

W50 = 100.0 * math.pi


def reference(
    rs: float, ls: float, lm: float, r1: float, l1: float, r2: float, l2: float, rfe: float,
    friction: float, amps: float, rpm: float, saturation: Saturation | None = None,
) -> Circuit:  # fmt: skip
    """A 230 V 50 Hz four-pole machine of the computed reference cases (inductances in mH)."""
    w = W50 * 1e-3
    return Circuit(
        line_voltage_v=230.0, frequency_hz=50.0, poles=4, stator_resistance_ohm=rs,
        stator_leakage_ohm=w * ls, magnetising_ohm=w * lm, saturation=saturation,
        core_loss_ohm=rfe, cages=(Cage(r1, w * l1), Cage(r2, w * l2)), friction_w=friction,
        stray_w=0.0, inertia_kg_m2=0.01, rated_current_a=amps, rated_speed_rpm=rpm,
    )  # fmt: skip


M4K0 = reference(
    0.4869, 2.0943, 58.943, 0.5354, 7.8882, 0.7886, 2.0943, 484.9, 40.0, 13.915, 1455.0
)
M2K2 = reference(
    0.9491, 3.8699, 94.573, 1.2224, 15.0798, 1.5820, 3.8699, 738.5, 26.4, 8.027, 1445.0
)
M0K75 = reference(
    3.2908, 10.6626, 204.827, 4.0537, 36.1610, 5.2012, 10.6626, 1553.6, 12.0, 3.080, 1435.0
)


@pytest.mark.parametrize(
    ("circuit", "torque_nm", "start_a", "start_nm", "top_nm", "idle"),
    [
        (M4K0, 26.25, 6.13, 2.41, 2.95, 0.50),
        (M2K2, 14.54, 5.58, 2.40, 2.87, 0.54),
        (M0K75, 4.99, 4.92, 2.40, 2.83, 0.64),
    ],
)
def test_computed_reference_machines(
    circuit: Circuit, torque_nm: float, start_a: float, start_nm: float, top_nm: float, idle: float
) -> None:
    """Computed reference cases M4k0, M2k2, M0k75: printed to three figures."""
    amps = circuit.rated_current_a
    assert rated(circuit).current_a == pytest.approx(amps, rel=2e-3)
    assert rated(circuit).shaft_torque_nm == pytest.approx(torque_nm, rel=2e-3)
    assert locked(circuit).current_a / amps == pytest.approx(start_a, rel=3e-3)
    assert locked(circuit).airgap_torque_nm / torque_nm == pytest.approx(start_nm, rel=4e-3)
    assert breakdown(circuit).airgap_torque_nm / torque_nm == pytest.approx(top_nm, rel=4e-3)
    assert no_load(circuit).current_a / amps == pytest.approx(idle, abs=0.006)


@pytest.mark.parametrize(
    ("lm", "law", "amps"),
    [
        (58.943, None, 6.92),
        (57.258, Saturation(0.2, 4.0), 7.12),
        (54.59, Saturation(0.45, 6.0), 7.45),
        (50.886, Saturation(0.9, 8.0), 7.98),
    ],
)
def test_no_load_current_of_the_saturating_reference_machine(
    lm: float, law: Saturation | None, amps: float
) -> None:
    """Computed reference machines I4a to I4c: 6.92, 7.12, 7.45, 7.98 A reactive at no load."""
    circuit = replace(M4K0, magnetising_ohm=W50 * 1e-3 * lm, saturation=law)
    now = no_load(circuit)
    reactive = now.reactive_power_var / (math.sqrt(3.0) * 230.0)
    assert reactive == pytest.approx(amps, rel=6e-3)


@pytest.mark.parametrize(
    ("law", "factors"),
    [
        (Saturation(0.20, 4.0), (0.85, 1.19, 1.41, 1.70)),
        (Saturation(0.45, 6.0), (0.77, 1.36, 1.94, 2.84)),
        (Saturation(0.90, 8.0), (0.66, 1.70, 3.08, 5.71)),
    ],
)
def test_no_load_current_at_other_volts(law: Saturation, factors: tuple[float, ...]) -> None:
    """Soft, middle and hard law at 0.9, 1.1, 1.2 and 1.3 of rated volts (computed from the law
    fitted to published no-load curves). Leakage next to nothing, so that flux follows volts."""
    circuit = replace(
        published(400.0, 50.0, 4, 1e-6, 0.002, 2.0, 0.002, 50.0, rated_slip=0.04), saturation=law
    )
    at_rated = no_load(circuit).current_a
    for ratio, factor in zip((0.9, 1.1, 1.2, 1.3), factors, strict=True):
        got = no_load(circuit, 400.0 * ratio).current_a / at_rated
        assert got == pytest.approx(factor, rel=0.012)


def test_flux_at_rated_volts_and_no_load_is_one() -> None:
    circuit = replace(M4K0, saturation=Saturation(0.45, 6.0))
    assert at_slip(circuit, 0.0).flux_ratio == pytest.approx(1.0, abs=3e-3)


def test_equal_volts_per_hertz_means_equal_flux() -> None:
    circuit = replace(
        M4K0, saturation=Saturation(0.45, 6.0), stator_resistance_ohm=1e-9, core_loss_ohm=1e12
    )
    slow, fast = (at_slip(circuit, 0.0, v, f) for v, f in ((115.0, 25.0), (276.0, 60.0)))
    assert slow.flux_ratio == pytest.approx(fast.flux_ratio, rel=1e-6)
    assert slow.current_a == pytest.approx(fast.current_a, rel=1e-6)


def test_breakdown_finds_the_higher_of_two_maxima() -> None:
    """An outer cage of high resistance and an inner one of high leakage give two humps."""
    two = published(400.0, 50.0, 4, 0.02, 0.1, 0.02, 1.0, 80.0, rated_slip=0.01)
    two = replace(two, cages=(Cage(0.005, 1.0), Cage(0.07, 0.02)))
    slips = np.geomspace(1e-4, 1.0, 20001)
    torque = curve(two, slips).airgap_torque_nm
    inside = (torque[1:-1] > torque[:-2]) & (torque[1:-1] > torque[2:])
    assert np.count_nonzero(inside) == 2
    assert breakdown(two).airgap_torque_nm == pytest.approx(float(torque.max()), rel=1e-6)


def test_a_resistive_rotor_has_its_largest_torque_at_standstill() -> None:
    motor = published(400.0, 50.0, 4, 0.5, 1.0, 9.0, 1.0, 60.0, rated_slip=0.2)
    assert breakdown(motor).slip == pytest.approx(1.0)


def test_at_torque_and_at_power_return_what_was_asked_at_the_running_side() -> None:
    top = breakdown(M2K2)
    for torque in (1.0, 10.0, 30.0):
        now = at_torque(M2K2, torque)
        assert now.shaft_torque_nm == pytest.approx(torque, rel=1e-9)
        assert 0.0 < now.slip < top.slip
    assert at_power(M2K2, 2200.0).speed_rpm == pytest.approx(1445.0, abs=0.5)


def test_more_than_the_motor_has_is_refused() -> None:
    with pytest.raises(NoOperatingPoint, match="at most"):
        at_torque(M2K2, 60.0)
    with pytest.raises(NoOperatingPoint):
        at_power(M2K2, 9000.0)


def test_no_volts_no_answer() -> None:
    with pytest.raises(NotComputable):
        at_slip(M2K2, 0.1, 0.0)


def test_stray_torque_is_a_loss_over_speed_and_nothing_at_standstill() -> None:
    knee = 0.8 * 157.0
    speeds = np.array([0.0, 0.5 * knee, knee, 150.0, -150.0])
    per_watt = stray_torque_per_watt(speeds, 157.0)
    assert per_watt[0] == 0.0
    assert per_watt[1] == pytest.approx(0.5 / knee)
    assert per_watt[2] == pytest.approx(1.0 / knee)
    assert per_watt[3] == pytest.approx(1.0 / 150.0)
    assert per_watt[4] == pytest.approx(-1.0 / 150.0)


def test_friction_at_rated_speed_is_the_stated_loss_in_shares_of_square_and_cube() -> None:
    full = rated(M4K0).friction_loss_w
    half = at_slip(M4K0, 1.0 - 0.5 * 0.97).friction_loss_w
    assert full == pytest.approx(40.0, rel=1e-9)
    assert half == pytest.approx(40.0 * (0.4 * 0.25 + 0.6 * 0.125), rel=1e-9)
