"""Two counter-turning fluxes in saturating iron: the series against the mean over a turn."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from phasewright.running.flux import sequence_saturation


def mean_over_a_turn(p: float, n: float, s: float) -> tuple[float, float]:
    theta = (np.arange(4096) + 0.5) * 2 * math.pi / 4096
    z = p + n * np.exp(-1j * theta)
    return (
        float(np.mean(np.abs(z) ** s * z).real / p),
        float(np.mean(np.abs(z) ** s * z * np.exp(1j * theta)).real / n),
    )


@settings(deadline=None, max_examples=60)
@given(
    p=st.floats(0.05, 2.0),
    n=st.floats(0.05, 2.0),
    s=st.sampled_from([3.0, 4.0, 5.3, 6.0, 7.0, 8.0]),
)
def test_series_is_the_mean(p: float, n: float, s: float) -> None:
    forward, backward, *_ = sequence_saturation(p * p, n * n, s)
    assert (forward, backward) == pytest.approx(mean_over_a_turn(p, n, s), rel=2e-6)


@pytest.mark.parametrize("s", [4.0, 5.7, 6.0, 8.0])
def test_a_small_backward_flux_sees_half_chord_half_slope(s: float) -> None:
    forward, backward, *_ = sequence_saturation(1.21, 0.0, s)
    chord = 1.1**s
    assert forward == pytest.approx(chord, rel=1e-12)
    assert backward == pytest.approx(0.5 * (chord + (s + 1) * chord), rel=1e-12)


@pytest.mark.parametrize(("x", "y"), [(1.3, 0.2), (0.2, 1.3), (0.7, 0.7001), (1.0, 1e-3)])
@pytest.mark.parametrize("s", [4.0, 5.7, 8.0])
def test_slopes_are_those_of_the_values(x: float, y: float, s: float) -> None:
    _, _, f_x, f_y, b_x, b_y = sequence_saturation(x, y, s)
    step = 1e-6
    for slope, (dx, dy), which in (
        (f_x, (step * x, 0), 0), (f_y, (0, step * y), 0), (b_x, (step * x, 0), 1),
        (b_y, (0, step * y), 1),
    ):  # fmt: skip
        up = sequence_saturation(x + dx, y + dy, s)[which]
        down = sequence_saturation(x - dx, y - dy, s)[which]
        assert slope == pytest.approx((up - down) / (2 * (dx + dy)), rel=2e-4, abs=1e-6)


def test_no_flux_no_saturation() -> None:
    assert sequence_saturation(0.0, 0.0, 6.0) == (0.0,) * 6
