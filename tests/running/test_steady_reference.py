"""Settled points of the linear network against computed reference cases.

Source: computed reference cases R01 to R22 (phasor), each computed by three independent
methods: phasors, transient integration and a general circuit simulator.
R01 and R08 have the exact capacitors of the closed form; R15 has 5 uF across 2-3.
Columns: V12 V23 V31, supply A, speed of the named machine, currents of the last motor.
"""

from __future__ import annotations

import pytest
from reference_machines import (
    K3HP_IRON,
    M0K75,
    M1K5,
    M2K2,
    M4K0,
    NO_LOAD,
    SIXTY,
    TOWN,
    constant,
    fan,
    network,
    rated_torque,
    scaled,
    uf,
)  # fmt: skip

from phasewright.running.network import Network
from phasewright.running.settle import settle

IDLER = ("idler", M4K0, NO_LOAD)
T22 = rated_torque(2200, 1445)
T075 = rated_torque(750, 1435)
K15 = ("idler", scaled(K3HP_IRON, 1.5), NO_LOAD)

CASES = {
    "R01": (network(TOWN, uf(0, 47.5, 63), IDLER),
            (229.16, 229.16, 229.16), 4.094, 1499.58, (6.914, 6.912, 6.912), 0.00001),
    "R02": (network(TOWN, uf(0, 60, 60), IDLER),
            (229.26, 231.71, 228.16), 3.444, 1499.57, (6.070, 7.280, 7.515), 0.00914),
    "R03": (network(TOWN, uf(0, 30, 90), IDLER),
            (229.26, 232.58, 236.86), 3.389, 1499.57, (8.130, 5.194, 8.063), 0.01891),
    "R06": (network(TOWN, uf(0, 60, 60), IDLER, ("motor", M2K2, constant(T22))),
            (224.96, 211.97, 200.24), 17.614, 1432.93, (10.228, 10.596, 5.352), 0.06749),
    "R08": (network(TOWN, uf(0, 36.1, 143.5), IDLER, ("motor", M2K2, constant(0.5 * T22))),
            (227.34, 227.31, 227.14), 9.335, 1473.26, (5.429, 5.463, 5.417), 0.00055),
    "R09": (network(TOWN, uf(0, 5, 190), IDLER, ("motor", M2K2, fan(T22, 1445))),
            (225.99, 226.97, 225.11), 13.793, 1442.90, (7.934, 8.321, 8.017), 0.00475),
    "R12": (network(TOWN, uf(0, 25, 118), IDLER, ("motor", M2K2, constant(T22)),
                    ("other", M1K5, NO_LOAD)),
            (224.42, 210.50, 209.45), 20.083, 1498.98, (3.232, 4.313, 1.911), 0.04548),
    "R15": (network(TOWN, uf(0, 5, 80), ("motor", M2K2, constant(0.6 * T22))),
            (227.99, 233.60, 220.39), 7.169, 1467.55, (4.816, 7.519, 5.730), 0.03362),
    "R17": (network(SIXTY, uf(0, 60, 90), K15),
            (239.87, 255.37, 249.60), 1.355, 1798.86, (7.141, 6.788, 12.601), 0.03631),
    "R19": (network(SIXTY, uf(0, 60, 130), K15, ("motor", K3HP_IRON, constant(6.0))),
            (238.80, 243.11, 239.78), 8.331, 1768.09, (5.174, 6.397, 6.648), 0.01085),
    "R22": (network(TOWN, uf(0, 45, 80), IDLER, ("motor", M0K75, constant(T075))),
            (227.77, 223.04, 220.29), 8.189, 1430.54, (3.237, 3.331, 2.786), 0.01958),
}  # fmt: skip


@pytest.mark.parametrize("case", CASES)
def test_linear_reference_case(case: str) -> None:
    shop, volts, supply, rpm, currents, vuf = CASES[case]
    assert isinstance(shop, Network)
    found = settle(shop)
    last = found.machines[-1]
    assert found.line_voltages_v == pytest.approx(volts, rel=1e-3)
    assert found.supply_current_a == pytest.approx(supply, rel=1e-3)
    assert last.speed_rpm == pytest.approx(rpm, rel=1e-4)
    largest = max(last.line_currents_a)
    assert last.line_currents_a == pytest.approx(currents, abs=1e-3 * largest)
    assert found.vuf == pytest.approx(vuf, abs=2e-5)
