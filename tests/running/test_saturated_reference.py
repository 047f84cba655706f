"""Settled points with a saturating main flux against computed reference cases.

Source: computed reference cases S01 to S14 and the idle sweep of the 4 kW idler, each computed
by three independent methods (phasors with harmonic balance, transient integration, a general
circuit simulator).
"""

from __future__ import annotations

import pytest
from reference_machines import (
    FARM,
    I4A,
    I4B,
    I4C,
    K15,
    L2A,
    M4K0,
    NO_LOAD,
    SIXTY,
    TOWN,
    constant,
    network,
    rated_torque,
    uf,
)  # fmt: skip

from phasewright.running.network import Network
from phasewright.running.settle import settle

IDLER = ("idler", I4A, NO_LOAD)
T22 = rated_torque(2200, 1445)

CASES = {
    "S01": (network(TOWN, uf(0, 60, 60), IDLER),
            (229.13, 229.58, 227.11), 4.202, (1499.57,), ((6.762, 7.866, 7.447),), 0.0066),
    "S03": (network(TOWN, uf(0, 120, 120), IDLER),
            (230.02, 262.39, 240.33), 4.085, (1499.23,), ((6.360, 10.553, 16.872),), 0.0793),
    "S05": (network(TOWN, uf(0, 25, 118), IDLER),
            (229.25, 235.84, 242.56), 3.191, (1499.53,), ((9.928, 4.757, 10.115),), 0.0326),
    "S12": (network(SIXTY, uf(0, 30, 200), ("idler", K15, NO_LOAD)),
            (239.82, 267.19, 274.31), 3.063, (1797.94,), ((17.628, 5.361, 22.647),), 0.0796),
    "S14": (network(FARM, uf(0, 25, 118), IDLER, ("motor", L2A, constant(14.54))),
            (216.10, 209.16, 201.96), 15.671, (1499.40, 1431.51),
            ((5.371, 9.349, 4.946), (9.212, 9.442, 6.502)), 0.0391),
}  # fmt: skip


@pytest.mark.parametrize("case", CASES)
def test_saturated_reference_case(case: str) -> None:
    shop, volts, supply, speeds, currents, vuf = CASES[case]
    assert isinstance(shop, Network)
    found = settle(shop)
    assert found.line_voltages_v == pytest.approx(volts, rel=1e-3)
    assert found.supply_current_a == pytest.approx(supply, rel=1e-3)
    assert found.vuf == pytest.approx(vuf, abs=1e-4)
    for machine, rpm, amps in zip(found.machines, speeds, currents, strict=True):
        assert machine.speed_rpm == pytest.approx(rpm, rel=1e-4)
        assert machine.line_currents_a == pytest.approx(amps, abs=1e-3 * max(amps))


SWEEP = {
    (40, 40): ((220.3, 222.9), (219.8, 222.6, 6.51, 8.53, 77), (219.2, 222.3), (220.6, 223.1)),
    (80, 80): ((242.2, 232.7), (240.0, 231.6, 2.00, 10.36, 99), (237.1, 230.3), (243.8, 233.4)),
    (120, 120): ((267.6, 242.5), (262.4, 240.3, 4.09, 16.87, 212), (256.3, 237.7), (270.9, 243.9)),
    (150, 150): ((288.6, 249.3), (280.5, 246.3, 8.31, 22.39, 380), (271.3, 242.7), (293.8, 251.2)),
    (200, 200): ((326.1, 257.8), (312.3, 254.0, 16.18, 32.71, 880), (297.1, 249.3), (334.4, 259.9)),
    (25, 150): ((249.0, 253.1), (244.8, 250.9, 1.86, 13.02, 149), (239.9, 248.2), (251.7, 254.6)),
}  # fmt: skip


@pytest.mark.parametrize("capacitors", SWEEP)
def test_idle_sweep_of_soft_middle_hard_and_linear_iron(capacitors: tuple[int, int]) -> None:
    soft, middle, hard, linear = SWEEP[capacitors]
    bank = uf(0, *capacitors)
    for machine, volts in ((I4C, soft), (I4A, middle[:2]), (I4B, hard), (M4K0, linear)):
        found = settle(network(TOWN, bank, ("idler", machine, NO_LOAD)))
        assert found.line_voltages_v[1:] == pytest.approx(volts, rel=1e-3)
    found = settle(network(TOWN, bank, IDLER))
    assert found.supply_current_a == pytest.approx(middle[2], rel=5e-3)
    assert max(found.machines[0].line_currents_a) == pytest.approx(middle[3], rel=2e-3)
    assert found.machines[0].stator_loss_w == pytest.approx(middle[4], rel=6e-3)
