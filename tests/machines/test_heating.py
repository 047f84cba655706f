"""What a motor stands for ever, with the published unbalance rule beside it."""

from __future__ import annotations

import math

import pytest

from phasewright.machines.heating import extra_temperature_rise, heat, limits, winding_copper_w
from phasewright.machines.performance import at_power, rated
from phasewright.machines.standard import standard_motor

MOTOR = standard_motor(2200.0, 230.0, 50.0)


@pytest.mark.parametrize("delta", [True, False])
def test_the_rated_point_is_just_allowed(delta: bool) -> None:
    now = rated(MOTOR)
    each = now.winding_current_a(delta=delta)
    ratio = heat(
        MOTOR, total_loss_w=now.loss_w, winding_currents_a=(each, each, each),
        line_currents_a=(now.current_a,) * 3, delta=delta,
    )  # fmt: skip
    assert ratio.total_ratio == pytest.approx(1.0)
    assert ratio.hottest_winding_ratio == pytest.approx(1.0)
    assert ratio.line_current_ratio == pytest.approx(1.0, rel=1e-3)
    assert ratio.for_ever


def test_more_load_is_too_hot_and_one_hot_winding_is_enough() -> None:
    more = at_power(MOTOR, 2500.0)
    each = more.winding_current_a(delta=True)
    over = heat(
        MOTOR, total_loss_w=more.loss_w, winding_currents_a=(each, each, each),
        line_currents_a=(more.current_a,) * 3, delta=True,
    )  # fmt: skip
    assert not over.for_ever
    own = limits(MOTOR, delta=True).winding_current_a
    one = heat(
        MOTOR, total_loss_w=0.5 * rated(MOTOR).loss_w,
        winding_currents_a=(1.2 * own, 0.5 * own, 0.5 * own), line_currents_a=(1.0, 1.0, 1.0),
        delta=True,
    )  # fmt: skip
    assert one.total_ratio < 1.0
    assert one.hottest_winding_ratio == pytest.approx(1.44)
    assert not one.for_ever


def test_copper_loss_of_a_delta_winding_is_that_of_its_star_equivalent() -> None:
    star = winding_copper_w(MOTOR, 5.0, delta=False)
    assert winding_copper_w(MOTOR, 5.0 / math.sqrt(3.0), delta=True) == pytest.approx(star)


def test_extra_temperature_rise_of_unbalanced_volts() -> None:
    """Hubert, Electric Machines, example 5.14: 2.58 % on 110 degrees makes 124.64 degrees."""
    assert 110.0 * (1.0 + extra_temperature_rise(0.0258)) == pytest.approx(124.64, abs=0.02)
