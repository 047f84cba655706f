"""Which machines come and what things cost: all combinations of a few, chances kept of many."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from phasewright.plan.futures import futures
from phasewright.plan.worlds import HIGH, WEIGHTS, Unknown
from phasewright.quantities.errors import UsageError


def as_set(f, names):
    """{(who is there, arrival of the first): probability}, without any order."""
    return {
        (
            frozenset(n for n, there in zip(names, row, strict=True) if there),
            f.epoch_years[e],
        ): round(float(p), 12)
        for p, row, e in zip(f.probability, f.present, f.epoch, strict=True)
    }


def test_two_machines_by_hand():
    """A lathe that is there, a saw at 30 % in year 2, a press at 60 % in year 5."""
    names = ("lathe", "saw", "press")
    f = futures(names, (1, 0.3, 0.6), (0, 2, 5))
    assert as_set(f, names) == {
        (frozenset({"lathe"}), None): 0.28,
        (frozenset({"lathe", "saw"}), 2.0): 0.12,
        (frozenset({"lathe", "press"}), 5.0): 0.42,
        (frozenset({"lathe", "saw", "press"}), 2.0): 0.18,
    }
    assert f.now.tolist() == [True, False, False]
    assert not f.reduced


def test_chance_one_now_is_owned_and_chance_nothing_is_absent():
    """Nothing uncertain is left: one future, nobody to come."""
    f = futures(("a", "b"), (1, 0), (0, 3))
    assert f.present.tolist() == [[True, False]]
    assert f.now.tolist() == [True, False]
    assert f.probability.tolist() == [1.0]
    assert f.epoch_years == (None,)


def test_a_sure_machine_that_comes_later_is_not_there_now():
    """Chance 1 in year 4: in every future, but not today."""
    f = futures(("a", "b"), (1, 1), (0, 4))
    assert f.now.tolist() == [True, False]
    assert f.present.tolist() == [[True, True]]
    assert f.epoch_years == (4.0,)


def test_no_machine_at_all():
    """One future, nobody in it."""
    f = futures((), (), ())
    assert f.probability.tolist() == [1.0]
    assert f.present.shape == (1, 0)


@given(chances=st.lists(st.floats(0.01, 0.99), min_size=1, max_size=6))
@settings(deadline=None, max_examples=40)
def test_up_to_six_are_all_subsets_with_product_chances(chances):
    """2^m futures; each as likely as the product of its chances."""
    names = [f"m{i}" for i in range(len(chances))]
    f = futures(names, chances, [1] * len(chances))
    wanted = {
        row: np.prod([c if there else 1 - c for c, there in zip(chances, row, strict=True)])
        for row in product((False, True), repeat=len(chances))
    }
    found = {tuple(r): p for r, p in zip(f.present.tolist(), f.probability, strict=True)}
    assert found.keys() == wanted.keys()
    assert all(found[row] == pytest.approx(p) for row, p in wanted.items())


@given(chances=st.lists(st.sampled_from([0.05, 0.3, 0.5, 0.5, 0.77, 0.9]), min_size=7, max_size=14))
@settings(deadline=None, max_examples=25)
def test_many_machines_keep_every_chance(chances):
    """At most 64 futures, said to be reduced, each machine's chance exact; pairs up to ten."""
    names = [f"m{i:02d}" for i in range(len(chances))]
    f = futures(names, chances, [1] * len(chances))
    assert f.reduced
    assert f.probability.size <= 64
    assert (f.probability > 0).all()
    assert f.probability.sum() == pytest.approx(1, abs=1e-12)
    assert f.probability @ f.present == pytest.approx(chances, abs=1e-9)
    assert len({tuple(row) for row in f.present.tolist()}) == f.probability.size
    if len(chances) <= 10:
        together = f.present.T.astype(float) @ (f.probability[:, None] * f.present)
        wanted = np.outer(chances, chances)
        apart = ~np.eye(len(chances), dtype=bool)
        assert together[apart] == pytest.approx(wanted[apart], abs=1e-9)


def test_seventy_machines_still_keep_their_chances():
    """More machines than futures: one future more than there are machines."""
    chances = np.linspace(0.02, 0.98, 70)
    f = futures([f"m{i:02d}" for i in range(70)], chances.tolist(), [1.0] * 70)
    assert f.probability.size <= 71
    assert f.probability @ f.present == pytest.approx(chances, abs=1e-9)


@given(data=st.data(), count=st.integers(1, 9))
@settings(deadline=None, max_examples=25)
def test_order_of_machines_changes_nothing(data, count):
    """The same futures in the same order, whatever the order of writing."""
    machines = [(f"m{i}", (0.0, 0.2, 0.55, 1.0, 0.8)[i % 5], float(i % 4)) for i in range(count)]
    mixed = data.draw(st.permutations(machines))
    one, two = (futures(*zip(*list_, strict=True)) for list_ in (machines, mixed))
    back = [mixed.index(machine) for machine in machines]
    assert np.array_equal(one.probability, two.probability)
    assert np.array_equal(one.present, two.present[:, back])
    assert np.array_equal(one.epoch, two.epoch)
    assert one.epoch_years == two.epoch_years


UNKNOWNS = [
    Unknown(),
    Unknown(prices=True),
    Unknown(hours=True, energy=True),
    Unknown(prices=True, hours=True, energy=True),
]


@pytest.mark.parametrize("unknown", UNKNOWNS)
@pytest.mark.parametrize("count", [0, 1, 2, 5, 9])
def test_levels_of_prices_hours_and_energy_keep_their_chances(unknown, count):
    """Every level as likely as it is alone, every machine too; at most 64 futures."""
    chances = np.linspace(0.15, 0.85, count).tolist()
    f = futures([f"m{i}" for i in range(count)], chances, [1.0] * count, unknown)
    whole = 2**count * 3 ** sum((unknown.prices, unknown.hours, unknown.energy))
    assert f.probability.size == whole if whole <= 64 else f.probability.size <= 64
    assert f.reduced == (whole > f.probability.size)
    assert f.probability @ f.present == pytest.approx(chances, abs=1e-9)
    for name in ("prices", "hours", "energy"):
        levels = np.array([getattr(world, name) for world in f.worlds])
        found = [float(f.probability[levels == level].sum()) for level in range(3)]
        wanted = WEIGHTS if getattr(unknown, name) else (0.0, 1.0, 0.0)
        assert found == pytest.approx(wanted, abs=1e-9)


def test_levels_are_independent_where_the_futures_suffice():
    """Prices, hours, energy and a machine: 54 combinations, all of them; hours and energy always."""
    f = futures(("a",), (0.3,), (1,), UNKNOWNS[-1])
    dear = np.array([world.prices == HIGH for world in f.worlds])
    busy = np.array([world.hours == HIGH for world in f.worlds])
    both = float(f.probability[dear & busy].sum())
    assert both == pytest.approx(WEIGHTS[HIGH] ** 2, abs=1e-9)
    for count in range(8):
        of = futures([f"m{i}" for i in range(count)], [0.4] * count, [1.0] * count, UNKNOWNS[-1])
        busy_and_dear = np.array([w.hours == HIGH and w.energy == HIGH for w in of.worlds])
        both = float(of.probability[busy_and_dear].sum())
        assert both == pytest.approx(WEIGHTS[HIGH] ** 2, abs=1e-9)
    comes = f.present[:, 0] & dear
    assert float(f.probability[comes].sum()) == pytest.approx(0.3 * WEIGHTS[HIGH], abs=1e-9)


@pytest.mark.parametrize(
    "wrong",
    [
        (("a", "a"), (1, 1), (0, 0)),
        (("a",), (1, 1), (0, 0)),
        (("a",), (1.2,), (0,)),
        (("a",), (float("nan"),), (0,)),
        (("a",), (0.5,), (-1,)),
    ],
)
def test_what_cannot_be(wrong):
    """A name twice, lists that differ, a chance above 1, a year gone by."""
    with pytest.raises(UsageError):
        futures(*wrong)
