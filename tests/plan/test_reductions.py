"""The compiled passes against the plain sums of arrays."""

from __future__ import annotations

import numpy as np
import pytest

from phasewright.plan.reductions import (
    add_least,
    both_stages,
    from_then_on,
    greatest,
    least_after,
)

E, S, U, A = 3, 7, 4, 5


def costs(seed: int, *shape: int) -> np.ndarray:
    """Costs of either sign, a fifth of them not to be had."""
    random = np.random.default_rng(seed)
    found = random.normal(0.0, 100.0, shape)
    return np.where(random.random(shape) < 0.2, np.inf, found)


@pytest.mark.parametrize("seed", range(4))
def test_the_greatest_is_of_what_is_to_be_had(seed: int) -> None:
    array, found = costs(seed, E, S, U), np.empty(S)
    assert greatest(array, found)
    plain = np.where(np.isinf(array), 0.0, np.abs(array)).max(axis=(0, 2))
    np.testing.assert_array_equal(found, plain)


@pytest.mark.parametrize("wrong", [np.nan, -np.inf])
@pytest.mark.parametrize("before", [0.0, 5.0, -5.0, np.inf])
def test_what_is_no_cost_is_told(wrong: float, before: float) -> None:
    array = np.array([[[before, wrong, 1.0]]])
    assert not greatest(array, np.empty(1))


@pytest.mark.parametrize("seed", range(4))
def test_the_least_later_cost(seed: int) -> None:
    later, own = costs(seed, E, S, U, A + 1, A), costs(seed + 10, U, A)
    found = np.empty((E, S, U, A + 1))
    least_after(later, own, found)
    np.testing.assert_array_equal(found, (later + own[:, None, :]).min(axis=4))


@pytest.mark.parametrize("seed", range(4))
def test_the_cheapest_options_now_and_later(seed: int) -> None:
    first, after = costs(seed, S, U, A), costs(seed + 10, S, U, A + 1)
    first[:, :, 1] = first[0, :, 1]  # the same in every state
    begin, now = np.array([1, 4]), np.array([0, 2, 3])
    found = np.zeros((2, S))
    add_least(first, after, begin, now, found)
    both = first[begin][:, None, now] + after[None][:, :, now, :A]
    np.testing.assert_allclose(found, both.min(axis=3).sum(axis=2), rtol=1e-13)


@pytest.mark.parametrize("seed", range(4))
def test_both_stages_and_their_least(seed: int) -> None:
    first, after = costs(seed, E, U, A), costs(seed + 10, E, S, U, A + 1)
    second = np.array([True, False, True])
    whole, least, at_best = np.empty((E, S, U, A)), np.empty((E, S, U)), np.empty((E, U, A))
    both_stages(first, after, second, whole, least, at_best)
    later = np.where(second[:, None, None, None], after[..., :A], 0.0)
    np.testing.assert_array_equal(whole, first[:, None] + later)
    np.testing.assert_array_equal(least, whole.min(axis=3))
    np.testing.assert_array_equal(at_best, whole.min(axis=1))


def test_costs_from_the_arrival_on() -> None:
    change, running, fresh = costs(1, U, A, A), costs(2, S, U, A), costs(3, S, U, A)
    found = np.empty((S, U, A + 1, A))
    from_then_on(change, running, fresh, found)
    np.testing.assert_array_equal(found[:, :, :A], change[None] + running[:, :, None])
    np.testing.assert_array_equal(found[:, :, A], fresh)
