"""Our least squares against scipy.optimize.least_squares (MINPACK, Levenberg-Marquardt)."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import least_squares as reference

from phasewright.machines.least_squares import least_squares


def rosenbrock(x):
    return np.array([10.0 * (x[1] - x[0] ** 2), 1.0 - x[0]])


def powell(x):
    return np.array(
        [
            x[0] + 10.0 * x[1],
            5.0**0.5 * (x[2] - x[3]),
            (x[1] - 2.0 * x[2]) ** 2,
            10.0**0.5 * (x[0] - x[3]) ** 2,
        ]
    )


T = np.linspace(0.0, 3.0, 20)
READ = 2.0 * np.exp(-1.3 * T) + 0.05 * np.sin(40.0 * T)


def decay(x):
    return x[0] * np.exp(-x[1] * T) - READ


def at_all(residuals):
    """Residuals of several points at once."""
    return lambda points: np.array([residuals(x) for x in points])


@pytest.mark.parametrize(
    ("residuals", "start"),
    [
        (rosenbrock, (-1.2, 1.0)),
        (powell, (3.0, -1.0, 0.0, 1.0)),
        (decay, (1.0, 0.3)),
    ],
)
def test_it_finds_the_same_minimum(residuals, start):
    cost, x = least_squares(at_all(residuals), np.array(start), tolerance=1e-10, rounds=200)
    there = reference(residuals, start, method="lm", xtol=1e-12, ftol=1e-12)
    assert cost == pytest.approx(there.cost, rel=1e-6, abs=1e-10)
    if residuals is not powell:  # its minimum is flat to the fourth order
        assert x == pytest.approx(there.x, rel=1e-4)


@settings(deadline=None, max_examples=40)
@given(seed=st.integers(0, 10**6), unknowns=st.integers(1, 6))
def test_a_linear_problem_is_met_exactly(seed, unknowns):
    rng = np.random.default_rng(seed)
    matrix, right = rng.normal(size=(unknowns + 3, unknowns)), rng.normal(size=unknowns + 3)
    cost, _ = least_squares(at_all(lambda x: matrix @ x - right), np.zeros(unknowns))
    best = np.linalg.lstsq(matrix, right, rcond=None)[0]
    assert cost == pytest.approx(0.5 * float(np.sum((matrix @ best - right) ** 2)), rel=1e-5)


def test_it_never_ends_worse_than_it_began():
    for start in np.linspace(-3.0, 3.0, 13):
        x = np.array([start, 2.0])
        cost, _ = least_squares(at_all(rosenbrock), x, rounds=3)
        assert cost <= 0.5 * float(np.sum(rosenbrock(x) ** 2))
