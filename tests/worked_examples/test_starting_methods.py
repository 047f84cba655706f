"""Starting on less than full volts, and breakdown of a large drive: textbook examples.

Nagrath and Kothari, Electric Machines, 9.12 (Ist/Ifl 6, full-load slip 0.05). Hubert, Electric
Machines, 5.18 (125 hp, mid code letter H, 65 % tap) and 5.19 (60 hp star start). Dubey,
Fundamentals of Electrical Drives, 2nd ed., 6.7 (p. 176). McPherson, 4.8 (10 hp, 6.3 kVA/hp).
"""

from __future__ import annotations

import math

import pytest
from published_circuits import published

from phasewright.machines.performance import at_slip, breakdown, locked

# a circuit without stator resistance and magnetising current whose starting current is six
# times that at a slip of 0.05: (20^2 + X^2)/(1 + X^2) = 36
X = math.sqrt(364.0 / 35.0)
NAGRATH = published(400.0, 50.0, 4, 1e-12, X / 2.0, 1.0, X / 2.0, 1e9, rated_slip=0.05)


def per_unit(volts: float, *, star: bool = False) -> tuple[float, float]:
    """Line current and torque at standstill over those at full load."""
    full = at_slip(NAGRATH, 0.05)
    motor = NAGRATH.relinked(400.0 * math.sqrt(3.0)) if star else NAGRATH
    start = locked(motor, volts)
    return (
        start.current_a / full.current_a,
        start.airgap_torque_nm / full.airgap_torque_nm,
    )


def test_nagrath_9_12_direct() -> None:
    amps, torque = per_unit(400.0)
    assert amps == pytest.approx(6.0, rel=1e-6)
    assert torque == pytest.approx(1.8, rel=1e-6)


def test_nagrath_9_12_stator_resistance_to_twice_full_load_current() -> None:
    amps, torque = per_unit(400.0 / 3.0)
    assert amps == pytest.approx(2.0, rel=1e-6)
    assert torque == pytest.approx(0.2, rel=1e-6)


def test_nagrath_9_12_autotransformer_with_a_third_tap() -> None:
    motor_amps, torque = per_unit(400.0 / 3.0)
    assert motor_amps / 3.0 == pytest.approx(0.667, abs=5e-4)
    assert torque == pytest.approx(0.2, rel=1e-6)


def test_nagrath_9_12_star_delta() -> None:
    amps, torque = per_unit(400.0, star=True)
    assert amps == pytest.approx(2.0, rel=1e-6)
    assert torque == pytest.approx(0.6, rel=1e-6)


def test_nagrath_9_12_tap_for_full_load_torque() -> None:
    _, torque = per_unit(400.0 * 0.745)
    assert torque == pytest.approx(1.0, rel=2e-3)


def test_hubert_5_18_on_a_65_percent_tap() -> None:
    """6.7 kVA/hp of 125 hp at 460 V: 1051.2 A; motor 683 A, line 443.95 A, 719.2 to 303.9 lb ft."""
    ohm = 460.0 / (math.sqrt(3.0) * 1051.2)
    motor = published(460.0, 60.0, 4, 1e-9, 0.4 * ohm, 0.3 * ohm, 0.55 * ohm, 1e9, rated_slip=0.01)
    full, less = locked(motor), locked(motor, 0.65 * 460.0)
    amps = 1051.2 * less.current_a / full.current_a
    assert amps == pytest.approx(683.0, rel=1e-3)
    assert 0.65 * amps == pytest.approx(443.95, rel=1e-3)
    ratio = less.airgap_torque_nm / full.airgap_torque_nm
    assert 719.2 * ratio == pytest.approx(303.9, rel=1e-3)


def test_hubert_5_19_star_start() -> None:
    """0.547 ohm a phase on 460 V: 485.5 A in star, 1456.6 A in the lines of the delta."""
    motor = published(
        460.0, 60.0, 4, 1e-9, 0.35, 0.2, math.sqrt(0.547**2 - 0.2**2) - 0.35, 1e9,
        rated_slip=0.02, delta=True,
    )  # fmt: skip
    delta, star = locked(motor), locked(motor.relinked(460.0 * math.sqrt(3.0)), 460.0)
    assert delta.current_a == pytest.approx(1456.6, rel=1e-3)
    assert star.current_a == pytest.approx(485.5, rel=1e-3)
    assert star.airgap_torque_nm / delta.airgap_torque_nm == pytest.approx(1.0 / 3.0, rel=1e-9)


def test_dubey_6_7_breakdown() -> None:
    """2200 V 50 Hz six poles, 0.075 + j0.5 and 0.12 + j0.5 ohm: slip 0.11966, 21 441 N m."""
    motor = published(2200.0, 50.0, 6, 0.075, 0.5, 0.12, 0.5, 1e9, rated_slip=0.02)
    top = breakdown(motor)
    assert top.slip == pytest.approx(0.11966, rel=1e-3)
    assert top.airgap_torque_nm == pytest.approx(21_441.0, rel=5e-4)


def test_mcpherson_4_8_starting_current_of_a_code_letter() -> None:
    """10 hp, 230 V, 6.3 kVA/hp: 158.14 A; a circuit of that impedance draws it."""
    ohm = 230.0**2 / 63_000.0
    motor = published(230.0, 60.0, 4, 0.3 * ohm, 0.4 * ohm, 0.3 * ohm, 0.4 * ohm, 1e9,
                      rated_slip=0.03)  # fmt: skip
    assert locked(motor).current_a == pytest.approx(158.14, rel=1e-4)
