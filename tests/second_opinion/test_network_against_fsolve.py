"""The compiled network against the same equations stamped otherwise and solved by scipy."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray
from plain_network import solve
from reference_machines import (
    FARM,
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
from scipy.optimize import fsolve

from phasewright.running import outcome
from phasewright.running.network import Between, Connected, LoadLaw, Network
from phasewright.running.settle import settle, settle_many

T22 = rated_torque(2200, 1445)
IDLER = ("idler", M4K0, NO_LOAD)
STRAY = replace(M2K2, stray_w=25.0)
TURNED = Network(
    TOWN, uf(0, 118, 25),
    (Connected("idler", M4K0, NO_LOAD, reversed=True),
     Connected("motor", M2K2, constant(T22), reversed=True)),
)  # fmt: skip
CASES = (
    network(TOWN, uf(0, 60, 60), IDLER),
    network(FARM, uf(30, 25, 118), IDLER, ("motor", STRAY, constant(T22))),
    network(TOWN, uf(0, 0, 0), IDLER, ("motor", M2K2, LoadLaw("viscous", T22, 151.0))),
    network(SIXTY, uf(0, 60, 130), ("idler", scaled(K3HP_IRON, 1.5), NO_LOAD),
            ("motor", K3HP_IRON, fan(9.0, 1710))),
    network(TOWN, uf(0, 60, 160), IDLER, ("a", M2K2, constant(10.0)), ("b", M1K5, NO_LOAD),
            ("c", M0K75, fan(4.0, 1435))),
    replace(network(TOWN, uf(0, 40, 80), IDLER, ("motor", M1K5, constant(5.0))),
            conductance_s=Between(1e-3, 2e-3, 1.5e-3)),
    network(SIXTY, uf(0, 40, 80), IDLER),  # a 50 Hz machine on 60 Hz
    TURNED,
)  # fmt: skip


@pytest.mark.parametrize("shop", CASES)
def test_slips_and_volts(shop: Network) -> None:
    slips, volts = solve(shop, 0.01)
    found = settle(shop)
    v1, _, v3 = volts
    assert found.line_voltages_v == pytest.approx((abs(v1), abs(v3), abs(v3 - v1)), rel=1e-7)
    assert [m.slip for m in found.machines] == pytest.approx(list(slips), rel=1e-6, abs=1e-9)


def equations(shop: Network) -> Callable[[NDArray[np.float64]], NDArray[np.float64]]:
    """Net torques of constant-torque machines as a function of their slips, in numpy."""
    w = 2 * np.pi * shop.source.frequency_hz
    z = [machine.circuit for machine in shop.machines]
    stator = np.array([complex(c.stator_resistance_ohm, c.stator_leakage_ohm) for c in z])
    main = np.array([1j * c.magnetising_ohm for c in z])
    ohm = np.array([[cage.resistance_ohm for cage in c.cages] for c in z])
    leak = np.array([[cage.leakage_ohm for cage in c.cages] for c in z])
    iron = np.array([1 / c.core_loss_ohm for c in z])
    synchronous = np.array([2 * w / c.poles for c in z])
    rated = np.array([c.rated_speed_rpm for c in z]) * np.pi / 30
    friction = np.array([c.friction_w for c in z])
    load = np.array([machine.load.torque_nm for machine in shop.machines])
    c = shop.capacitance_f
    y12, y23, y31 = (1j * w * farad for farad in (c.c12, c.c23, c.c31))
    ys = 1 / complex(shop.source.resistance_ohm, shop.source.reactance_ohm)
    a = np.exp(2j * np.pi / 3)

    def gap(slip: NDArray[np.float64]) -> NDArray[np.complex128]:
        cages = slip[:, None] / (ohm + 1j * slip[:, None] * leak)
        return 1 / (1 / main + cages.sum(axis=1))

    def net(slips: NDArray[np.float64]) -> NDArray[np.float64]:
        gap_a, gap_b = gap(slips), gap(2 - slips)
        y_a, y_b = 1 / (stator + gap_a), 1 / (stator + gap_b)
        sum_a, sum_b = (y_a + iron).sum(), (y_b + iron).sum()
        own = (sum_a + sum_b) / 3
        matrix = np.array(
            [
                [ys + y12 + y31 + own, -y31 + (sum_a / a + sum_b * a) / 3],
                [-y31 + (sum_a * a + sum_b / a) / 3, y23 + y31 + own],
            ]
        )
        v1, v3 = np.linalg.solve(matrix, np.array([shop.source.voltage_v * ys, 0]))
        i_a, i_b = y_a * (v1 + v3 / a) / 3, y_b * (v1 + v3 * a) / 3
        torque = np.abs(i_a) ** 2 * gap_a.real - np.abs(i_b) ** 2 * gap_b.real
        speed = (1 - slips) * synchronous
        drag = friction * (0.4 * speed / rated**2 + 0.6 * speed**2 / rated**3)
        return 3 * torque / synchronous - drag - load

    return net


def test_at_least_a_hundred_times_as_fast_as_fsolve() -> None:
    """Both timed here, on the same equations, one after the other."""
    shop = network(TOWN, uf(0, 60, 60), IDLER, ("motor", M2K2, constant(T22)))
    rng = np.random.default_rng(20261125)
    banks = np.zeros((4000, 3))
    banks[:, 1:] = rng.uniform(20e-6, 150e-6, (4000, 2))
    settle_many(shop, banks[:10])
    ours, theirs, checked = [], [], []
    for _ in range(5):
        begun = time.perf_counter()
        sweep = settle_many(shop, banks)
        ours.append((time.perf_counter() - begun) / len(banks))
        assert bool(sweep.settled.all())
        begun = time.perf_counter()
        for bank in banks[:40]:
            net = equations(replace(shop, capacitance_f=Between(*map(float, bank))))
            slips, _, solved, words = fsolve(net, np.full(2, 0.02), full_output=True)
            assert solved == 1, words
            checked.append(slips)
        theirs.append((time.perf_counter() - begun) / 40)
    assert checked[0] == pytest.approx(list(sweep.machines[0, :, outcome.SLIP]), rel=1e-5)
    assert min(theirs) / min(ours) >= 100.0, (min(theirs), min(ours))
