"""Fixed slips against a power-flow program's machine model.

Source: computed reference case: a 1.5-fold per-unit copy (400 ohm iron) and the 3 hp machine
(600 ohm) on 240 V 60 Hz, 0.12 + j0.08 ohm, computed by an open distribution-system simulator
with its induction-machine model at these slips and by phasors; they agree to 1e-7.
"""

from __future__ import annotations

import pytest
from reference_machines import K3HP_IRON, NO_LOAD, SIXTY, network, scaled, uf

from phasewright.running.settle import at_slips


@pytest.mark.parametrize(
    ("bank", "slips", "volts", "amps"),
    [((0, 0), (0.001244, 0.001049), (238.0194, 213.5617, 223.6534), 20.97955),
     ((0, 0), (0.001470, 0.043280), (236.8163, 212.8731, 211.8707), 24.41765),
     ((60, 90), (0.000701, 0.000527), (239.0909, 236.7199, 238.5289), 8.84955),
     ((60, 90), (0.000828, 0.037887), (237.8728, 234.9267, 226.3402), 14.80522)],
)  # fmt: skip
def test_volts_and_supply_current(
    bank: tuple[int, int], slips: tuple[float, float], volts: tuple[float, ...], amps: float
) -> None:
    shop = network(
        SIXTY, uf(0, *bank), ("idler", scaled(K3HP_IRON, 1.5), NO_LOAD),
        ("motor", K3HP_IRON, NO_LOAD),
    )  # fmt: skip
    found = at_slips(shop, slips)
    # slips are printed to six places
    assert found.line_voltages_v == pytest.approx(volts, rel=2e-5)
    assert found.supply_current_a == pytest.approx(amps, rel=2e-4)
