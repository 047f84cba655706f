"""Scaling with volts and frequency: Hubert, Electric Machines, examples 5.4 to 5.9 (pp. 185-194),
and McPherson, Electric Machines, example 4.6 (p. 75).

The examples scale a given motor; here a circuit is scaled and must follow the same ratios. Where
an example neglects resistance or magnetising current, so does the circuit given to it.
"""

from __future__ import annotations

import pytest
from published_circuits import published

from phasewright.machines.circuit import Circuit
from phasewright.machines.performance import at_torque, breakdown, locked, rated


def stiff(rated_slip: float, hertz: float = 60.0, poles: int = 4) -> Circuit:
    """No stator resistance, hardly any magnetising current: what the rules of scaling assume."""
    return published(460.0, hertz, poles, 1e-9, 0.02, 0.3, 0.02, 1e7, rated_slip=rated_slip)


def test_5_4_ten_percent_less_volts_nineteen_percent_less_torque() -> None:
    motor = published(460.0, 60.0, 4, 0.1, 0.3, 0.09, 0.3, 12.0, rated_slip=0.0222)
    ratio = locked(motor, 0.9 * 460.0).airgap_torque_nm / locked(motor).airgap_torque_nm
    assert 1.0 - ratio == pytest.approx(0.190, abs=1e-9)
    assert 149.2 * (1.0 - ratio) == pytest.approx(28.35, rel=1e-3)
    assert 149.2 * 1.40 * ratio == pytest.approx(169.20, rel=1e-3)


def test_5_6_slip_at_less_volts_and_frequency() -> None:
    """230 V six poles 1175 rpm; 0.90 of the volts, 0.94 of the frequency: 1100.73 rpm.

    The rule s2 = s1 (V1/V2)^2 (f2/f1) holds for small slips: the circuit agrees within 0.3 rpm.
    """
    motor = stiff(1.0 - 1175.0 / 1200.0, poles=6)
    torque = rated(motor).airgap_torque_nm
    lower = at_torque(motor, torque, 0.90 * 460.0, 0.94 * 60.0)
    assert lower.speed_rpm == pytest.approx(1100.73, abs=0.3)
    assert 20.0 * lower.speed_rpm / 1175.0 == pytest.approx(18.736, rel=5e-4)


def test_5_7_locked_current_goes_with_volts_per_hertz() -> None:
    motor = published(230.0, 60.0, 4, 1e-6, 0.5, 1e-4, 0.5, 1e7, rated_slip=0.02)
    ratio = locked(motor, 220.0, 50.0).current_a / locked(motor).current_a
    assert 151.0 * ratio == pytest.approx(173.32, rel=1e-4)


def test_5_8_locked_torque_goes_with_volts_per_hertz_squared() -> None:
    """240 V 60 Hz to 230 V 58 Hz: 270.10 to 265.47 lb ft.

    At fixed synchronous speed the rule leaves out the frequency in 3 I^2 R / ws; compared here
    is the rotor's I^2 per volt-hertz, the part the example scales.
    """
    motor = published(240.0, 60.0, 4, 1e-6, 0.5, 1e-4, 0.5, 1e7, rated_slip=0.02)
    before, after = locked(motor), locked(motor, 230.0, 58.0)
    ratio = (after.current_a / before.current_a) ** 2
    assert ratio == pytest.approx(0.98283, rel=1e-4)
    assert 270.10 * ratio == pytest.approx(265.47, rel=1e-4)


def test_5_9_sixty_to_fifty_hertz_at_equal_torque() -> None:
    """The book: 1770 rpm becomes 1470.16 rpm. At exactly equal volts per hertz the drop below
    synchronous speed stays: 1470.0 rpm, so 0.2 rpm is the tolerance."""
    motor = stiff(1.0 - 1770.0 / 1800.0)
    torque = rated(motor).airgap_torque_nm
    slower = at_torque(motor, torque, 460.0 * 50.0 / 60.0, 50.0)
    assert 1500.0 - slower.speed_rpm == pytest.approx(1800.0 - 1770.0, rel=2e-3)
    assert slower.speed_rpm == pytest.approx(1470.16, abs=0.2)


def test_mcpherson_4_6_ninety_percent_of_the_volts() -> None:
    """Slip x 1.2346, current x 1.1111, copper loss x 1.2346 at equal torque; 3 % slip."""
    motor = published(460.0, 60.0, 4, 1e-9, 0.01, 0.5, 0.01, 1e7, rated_slip=0.03)
    before = rated(motor)
    after = at_torque(motor, before.airgap_torque_nm, 0.9 * 460.0)
    assert after.slip / before.slip == pytest.approx(1.2346, rel=2e-4)
    assert after.current_a / before.current_a == pytest.approx(1.1111, rel=2e-4)
    assert after.rotor_loss_w / before.rotor_loss_w == pytest.approx(1.2346, rel=2e-4)
    assert after.speed_rpm == pytest.approx(1733.3, abs=0.1)


def test_breakdown_torque_goes_with_the_square_of_volts_per_hertz() -> None:
    motor = stiff(0.02)
    ratio = breakdown(motor, 414.0).airgap_torque_nm / breakdown(motor).airgap_torque_nm
    assert ratio == pytest.approx(0.81, rel=1e-6)
