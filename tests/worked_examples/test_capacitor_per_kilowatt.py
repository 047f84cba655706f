"""The one-capacitor rule in microfarads per kilowatt of electrical input.

Source: a motor maker's published answer on three-phase motors on single-phase supplies
(C = 2 P/(sqrt(3) w V^2), which it traces to the withdrawn DIN 48501 and its 70 uF per kW at
230 V 50 Hz); the other two supplies by the same formula.
"""

from __future__ import annotations

import pytest

from phasewright.network.balance import single_capacitance


@pytest.mark.parametrize(
    ("volts", "hertz", "per_kw"), [(230, 50, 69.481), (230, 60, 57.901), (240, 60, 53.176)]
)
def test_microfarads_per_kilowatt(volts: float, hertz: float, per_kw: float) -> None:
    assert 1e6 * single_capacitance(1000.0, volts, hertz) == pytest.approx(per_kw, abs=1e-3)
    assert 1e6 * single_capacitance(1000.0, 230, 50) == pytest.approx(70.0, rel=0.01)
