"""Published parameter sets without worked results, and figures derived from them.

Modelica Standard Library, default cage machine (100 V a phase, 50 Hz; nominal point 100 A,
161.4 N m, 1440.45 rpm, efficiency 92.7 %, power factor 0.875). LBNL Buildings library, generic
motors (no-load currents derived from the listed inductances). Krause, Wasynczuk, Sudhoff,
Analysis of Electric Machinery, 3 hp machine (from memory; derived at 1710 rpm).
"""

from __future__ import annotations

import math

import pytest
from published_circuits import published

from phasewright.machines.performance import at_slip, no_load, rated


def test_modelica_default_machine() -> None:
    xm = 3.0 * math.sqrt(1.0 - 0.0667)
    machine = published(
        100.0 * math.sqrt(3.0), 50.0, 4, 0.03, 3.0 - xm, 0.04, 3.0 - xm, xm,
        rated_slip=1.0 - 1440.45 / 1500.0,
    )  # fmt: skip
    now = rated(machine)
    assert now.current_a == pytest.approx(100.0, rel=1e-3)
    assert now.airgap_torque_nm == pytest.approx(161.4, rel=1e-3)
    assert now.power_factor == pytest.approx(0.875, abs=1e-3)
    assert now.shaft_power_w == pytest.approx(24_346.0, rel=1e-3)
    assert now.efficiency == pytest.approx(0.927, abs=1e-3)


@pytest.mark.parametrize(
    ("volts", "hertz", "rs", "rr", "ls", "lm", "amps"),
    [
        (460.0, 60.0, 1.115, 1.083, 0.209674, 0.2037, 3.36),
        (460.0, 60.0, 0.6837, 0.451, 0.152752, 0.1486, 4.61),
        (460.0, 60.0, 0.2761, 0.1645, 0.078331, 0.07614, 8.99),
        (400.0, 50.0, 0.7384, 0.7402, 0.127145, 0.1241, 5.78),
        (400.0, 50.0, 0.2147, 0.2205, 0.065181, 0.06419, 11.28),
    ],
)
def test_generic_motors_no_load_current(
    volts: float, hertz: float, rs: float, rr: float, ls: float, lm: float, amps: float
) -> None:
    w = 2.0 * math.pi * hertz
    leak = w * (ls - lm)
    machine = published(volts, hertz, 4, rs, leak, rr, leak, w * lm, rated_slip=0.02)
    assert no_load(machine).current_a == pytest.approx(amps, rel=2e-3)


def test_krause_three_horsepower_machine_at_its_listed_speed() -> None:
    machine = published(
        220.0, 60.0, 4, 0.435, 0.754, 0.816, 0.754, 26.13, rated_slip=1.0 - 1710.0 / 1800.0
    )
    now = at_slip(machine, 0.05)
    assert now.airgap_torque_nm == pytest.approx(14.0, rel=5e-3)
    assert now.current_a == pytest.approx(8.84, rel=2e-3)
