"""A measured load curve: 18.5 kW, 400 V delta, 50 Hz, four poles.

Modelica Standard Library, example IMC_withLosses; Haumer, Kral, Kapeller, Baeuml, Gragger, "The
AdvancedMachines Library: Loss Models for Electric Machines", 7th International Modelica
Conference 2009. Parameters per phase at 20 degrees, operating at 90 degrees.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from published_circuits import published

from phasewright.machines.circuit import Circuit
from phasewright.machines.performance import at_power, no_load, rated

COPPER_PER_K = 0.00393
ALUMINIUM_PER_K = 0.0040
HOT_R1 = 0.56 * (1.0 + COPPER_PER_K * 70.0)
HOT_R2 = 0.42 * (1.0 + ALUMINIUM_PER_K * 70.0)
# mechanical watts, line amps, rpm, power factor, efficiency: measured
CURVE = (
    (9372.0, 18.78, 1482.0, 0.797, 0.9028),
    (11010.0, 21.07, 1479.0, 0.831, 0.9064),
    (12930.0, 23.92, 1475.0, 0.857, 0.9088),
    (14950.0, 27.05, 1471.0, 0.875, 0.9089),
    (18500.0, 32.85, 1462.0, 0.896, 0.9044),
    (20180.0, 35.92, 1458.0, 0.902, 0.9008),
)


def motor() -> Circuit:
    bare = published(
        400.0, 50.0, 4, HOT_R1, 1.52, HOT_R2, 2.31, 66.4, rated_slip=0.025, delta=True,
        iron_ohm=387.9**2 / 410.0, stray_w=102.22, rated_current_a=32.85,
    )  # fmt: skip
    return replace(bare, friction_w=180.0)


@pytest.mark.parametrize(("watts", "amps", "rpm", "pf", "efficiency"), CURVE)
def test_half_load_and_above(
    watts: float, amps: float, rpm: float, pf: float, efficiency: float
) -> None:
    now = at_power(motor(), watts)
    assert now.current_a == pytest.approx(amps, rel=0.03)
    assert now.speed_rpm == pytest.approx(rpm, abs=2.0)
    assert now.power_factor == pytest.approx(pf, abs=0.02)
    assert now.efficiency == pytest.approx(efficiency, abs=0.01)


def test_no_load_current_of_an_unsaturated_circuit_is_at_most_a_tenth_low() -> None:
    assert 0.90 * 11.0 <= no_load(motor()).current_a <= 11.0


def test_losses_at_the_rated_point() -> None:
    """Printed losses: stator 770.13, core 410.00, rotor 481.60, stray 102.22, friction 180 W."""
    now = at_power(motor(), 18500.0)
    # the square of a current that may be 3 % off
    assert now.stator_loss_w == pytest.approx(770.13, rel=0.06)
    assert now.rotor_loss_w == pytest.approx(481.60, rel=0.03)
    assert now.stray_loss_w == pytest.approx(102.22, rel=0.04)
    assert now.friction_loss_w == pytest.approx(180.0, rel=0.01)
    # at the terminals the iron sees 400 V instead of 387.9 V
    assert now.core_loss_w == pytest.approx(410.0 * (400.0 / 387.9) ** 2, rel=1e-6)
    assert rated(motor()).loss_w == pytest.approx(20_443.95 - 18_500.0, rel=0.03)
