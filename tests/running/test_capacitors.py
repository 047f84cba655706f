"""The choice of run capacitors over a workday, against the closed form and brute force."""

from __future__ import annotations

import numpy as np
import pytest
from reference_machines import (
    I4A,
    L2A,
    M2K2,
    M4K0,
    NO_LOAD,
    TOWN,
    constant,
    network,
    rated_torque,
    scaled,
    uf,
)  # fmt: skip

from phasewright.network.balance import balancing_capacitances
from phasewright.network.supply import Source
from phasewright.running.capacitors import Case, _Judge, choose, judged
from phasewright.running.network import Between, Network
from phasewright.running.settle import settle, settle_many

T22 = rated_torque(2200, 1445)
STOCK = tuple(1e-6 * value for value in (5, 10, 20, 30, 40, 50))
IDLE = network(TOWN, uf(0, 0, 0), ("idler", M4K0, NO_LOAD))
HALF = network(TOWN, uf(0, 0, 0), ("idler", M4K0, NO_LOAD), ("motor", M2K2, constant(T22 / 2)))
FULL = network(TOWN, uf(0, 0, 0), ("idler", M4K0, NO_LOAD), ("motor", M2K2, constant(T22)))


@pytest.mark.parametrize(
    ("case", "c23", "c31", "vuf"), [(IDLE, 47.5, 63.0, 0.0), (HALF, 35.1, 144.6, 0.0)]
)
def test_one_case_meets_the_computed_optimum(
    case: Network, c23: float, c31: float, vuf: float
) -> None:
    # source: computed reference table of exact balance (230 V 50 Hz, 0.25 + j0.15 ohm)
    found = choose((Case("only", case),), STOCK, highest_ratio=9.0).continuous
    assert 1e6 * found.capacitance_f.c23 == pytest.approx(c23, abs=0.3)
    assert 1e6 * found.capacitance_f.c31 == pytest.approx(c31, abs=0.3)
    assert found.worst_vuf == pytest.approx(vuf, abs=2e-4)


def test_on_a_stiff_supply_the_optimum_is_the_closed_form() -> None:
    stiff = Source(230.0, 0.0, 0.0, 50.0)
    shop = network(stiff, uf(0, 0, 0), ("idler", I4A, NO_LOAD), ("motor", L2A, constant(0.5 * T22)))
    found = choose((Case("only", shop),), STOCK, highest_ratio=9.0).continuous
    point = found.points[0]
    watts = sum(machine.input_power_w for machine in point.machines)
    given = sum(
        i * v for i, v in zip(point.capacitor_currents_a, point.line_voltages_v, strict=True)
    )
    closed = balancing_capacitances(watts, point.supply_reactive_var + given, 230.0, 50.0)
    assert found.capacitance_f.c23 == pytest.approx(closed.c23_f, abs=3e-7)
    assert found.capacitance_f.c31 == pytest.approx(closed.c31_f, abs=3e-7)
    exact = judged((Case("only", shop),), Between(0.0, closed.c23_f, closed.c31_f))
    assert exact.worst_vuf <= found.worst_vuf + 1e-9


def test_compromise_between_idle_and_full_load() -> None:
    # source: computed reference table: 4.4 kW idler 27/125 uF, worst VUF 3.52 % idle and loaded
    idler = ("idler", scaled(M4K0, 1.1), NO_LOAD)
    cases = (
        Case("idle", network(TOWN, uf(0, 0, 0), idler)),
        Case("full", network(TOWN, uf(0, 0, 0), idler, ("motor", M2K2, constant(T22)))),
    )
    found = choose(cases, STOCK).continuous
    assert found.worst_vuf == pytest.approx(0.0352, abs=1e-4)
    assert 1e6 * found.capacitance_f.c23 == pytest.approx(27, abs=2)
    assert 1e6 * found.capacitance_f.c31 == pytest.approx(125, abs=2)


def test_the_stocked_bank_is_the_best_of_every_bank_the_stock_makes() -> None:
    cases = (Case("idle", IDLE, 1.0), Case("full", FULL, 3.0))
    found = choose(cases, STOCK[:4], most_cans=3)
    assert sum(found.cans_23_f) == pytest.approx(found.stocked.capacitance_f.c23)
    assert sum(found.cans_31_f) == pytest.approx(found.stocked.capacitance_f.c31)
    assert len(found.cans_23_f) <= 3
    legs = sorted({
        1e-6 * (a + b + c) for a in (0, 5, 10, 20, 30) for b in (0, 5, 10, 20, 30)
        for c in (0, 5, 10, 20, 30)
    })  # fmt: skip
    banks = np.array([(0.0, x, y) for x in legs for y in legs])
    worst = np.zeros(len(banks))
    for case in cases:
        sweep = settle_many(case.network, banks)
        high = np.max(sweep.lines[:, :3], axis=1) > 1.1 * 230.0
        worst = np.maximum(worst, np.where(high, np.inf, sweep.vuf))
    assert found.stocked.worst_vuf == pytest.approx(float(np.min(worst)), abs=2e-5)
    assert found.stocked.worst_vuf >= found.continuous.worst_vuf - 1e-6


def test_over_excitation_at_idle_is_refused_and_named() -> None:
    full = (Case("full", FULL),)
    loaded = choose(full, STOCK).continuous.capacitance_f
    both = judged((Case("idle", IDLE), *full), loaded)
    assert both.over_excited == ("idle",)
    found = choose((Case("idle", IDLE, 1.0), Case("full", FULL, 9.0)), STOCK)
    assert found.stocked.over_excited == ()
    assert found.continuous.over_excited == ()


def test_one_call_for_many_equals_many_calls() -> None:
    banks = np.array([[0.0, 30e-6, 90e-6], [10e-6, 20e-6, 120e-6]])
    scales = np.array([[1.0, 0.3], [1.0, 0.9]])
    sweep = settle_many(FULL, banks, scales)
    assert bool(sweep.settled.all())
    for i in range(2):
        alone = settle(
            network(TOWN, Between(*map(float, banks[i])), ("idler", M4K0, NO_LOAD),
                    ("motor", M2K2, constant(float(T22 * scales[i, 1]))))
        )  # fmt: skip
        assert sweep.lines[i, :3] == pytest.approx(alone.line_voltages_v, rel=1e-9)
        assert sweep.vuf[i] == pytest.approx(alone.vuf, rel=1e-9)


def test_a_coarser_look_at_any_value_leaves_the_stocked_bank_as_good() -> None:
    cases = (Case("idle", IDLE, 1.0), Case("half", HALF, 1.0), Case("full", FULL, 1.0))
    fine = choose(cases, STOCK, most_cans=3)
    coarse = choose(cases, STOCK, most_cans=3, within_f=1e-6)
    assert coarse.stocked.worst_vuf <= 1.01 * fine.stocked.worst_vuf
    assert coarse.continuous.worst_vuf == pytest.approx(fine.continuous.worst_vuf, rel=0.02)


def test_a_bank_is_left_untried_only_where_it_is_worse_than_one_that_is_known() -> None:
    """What is told of a bank after some of the cases never exceeds what all of them say."""
    judge = _Judge(
        (Case("idle", IDLE), Case("half", HALF), Case("full", FULL)), Between(), None, 1.1
    )
    c23, c31 = (each.ravel() for each in np.meshgrid(*[np.linspace(0.0, 2e-4, 9)] * 2))
    whole = judge.objective(c23, c31)
    for known in np.sort(whole[np.isfinite(whole)])[::9]:
        some = judge.objective(c23, c31, float(known))
        good = whole <= known
        np.testing.assert_array_equal(some[good], whole[good])
        assert np.all(some <= whole)
        assert np.all(some[~good] > known)
    best = judge.best(c23, c31, (1.5e-4, 0.0))
    assert best == int(np.argmin(whole))
