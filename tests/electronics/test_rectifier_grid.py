"""The settled bridge depends neither on the grid nor on where the run began."""

from __future__ import annotations

import numpy as np
import pytest

from phasewright.electronics.bridge_kernel import settle

# 230 V 50 Hz, 0.25 + j0.15 ohm, 600 uF, 0.9 V and 10 mohm a diode
WATTS = 2200.0


def run(ac_h: float, dc_h: float, samples: int, start_v: float) -> tuple[float, float, float]:
    omega = 100.0 * np.pi
    p = np.array(
        [230.0 * 2**0.5, omega, 0.25, 0.15 / omega + ac_h, 0.0, dc_h, 600e-6, 0.9, 0.010,
         WATTS / 325.0, 0.0, 0.0]
    )  # fmt: skip
    state = np.array([0.0, 0.0, start_v, 0.0])
    current, link = np.empty(samples), np.empty(samples)
    assert settle(p, WATTS, state, 3000, 1e-9, current, link) > 0
    return float(np.sqrt(np.mean(current**2))), float(np.mean(link)), float(state[2])


@pytest.mark.parametrize(("ac_h", "dc_h"), [(0.0, 0.0), (3e-3, 0.0), (0.0, 10e-3), (0.0, 40e-3)])
def test_grid_and_start_do_not_matter(ac_h: float, dc_h: float) -> None:
    reference = run(ac_h, dc_h, 4000, 320.0)
    for samples, start_v in ((100, 320.0), (1000, 250.0), (1000, 400.0)):
        rms, mean, end_v = run(ac_h, dc_h, samples, start_v)
        assert end_v == pytest.approx(reference[2], rel=2e-7 if samples > 100 else 5e-6)
        assert mean == pytest.approx(reference[1], rel=2e-6)
        # a mean over a hundred samples of a wave with corners
        assert rms == pytest.approx(reference[0], rel=2e-5 if samples > 100 else 1e-3)


def test_a_run_that_does_not_settle_says_so() -> None:
    omega = 100.0 * np.pi
    p = np.array([325.0, omega, 0.25, 4.8e-4, 0.0, 40e-3, 600e-6, 0.9, 0.010, 7.0, 0.0, 0.0])
    state = np.array([0.0, 0.0, 320.0, 0.0])
    assert settle(p, WATTS, state, 3, 1e-9, np.empty(200), np.empty(200)) == -3
