"""Operating points: one network with two, one with none that says why, and false roots."""

from __future__ import annotations

import math
import re

import pytest
from reference_machines import (
    I4A,
    L2A,
    M2K2,
    M4K0,
    NO_LOAD,
    TOWN,
    constant,
    fan,
    network,
    rated_torque,
    uf,
)  # fmt: skip

from phasewright.quantities.errors import NoOperatingPoint
from phasewright.running.points import operating_points
from phasewright.running.settle import at_slips, settle

T22 = rated_torque(2200, 1445)


def test_an_unloaded_idler_runs_forwards_and_backwards() -> None:
    idle = network(TOWN, uf(0, 0, 0), ("idler", M4K0, NO_LOAD))
    forwards, backwards = operating_points(idle)
    assert forwards.running
    assert not backwards.running
    assert forwards.settled.machines[0].speed_rpm > 1490
    assert backwards.settled.machines[0].speed_rpm < -1490
    # with nothing but two lines neither direction is the better one
    assert backwards.settled.machines[0].slip == pytest.approx(
        2.0 - forwards.settled.machines[0].slip, abs=1e-8
    )
    assert forwards.settled.supply_current_a == pytest.approx(
        backwards.settled.supply_current_a, rel=1e-8
    )


def test_backwards_is_forwards_with_the_capacitors_exchanged() -> None:
    one = operating_points(network(TOWN, uf(0, 25, 118), ("idler", I4A, NO_LOAD)))
    other = operating_points(network(TOWN, uf(0, 118, 25), ("idler", I4A, NO_LOAD)))
    assert [point.running for point in one] == [True, False]
    v12, v23, v31 = one[0].settled.line_voltages_v
    assert other[1].settled.line_voltages_v == pytest.approx((v12, v31, v23), rel=1e-8)
    assert other[1].settled.machines[0].speed_rpm == pytest.approx(
        -one[0].settled.machines[0].speed_rpm, rel=1e-9
    )
    assert one[0].settled.vuf < 0.04 < one[1].settled.vuf


def test_every_point_found_is_in_balance_and_settle_gives_the_fastest() -> None:
    shop = network(TOWN, uf(0, 25, 118), ("idler", M4K0, NO_LOAD), ("motor", M2K2, fan(T22, 1445)))
    points = operating_points(shop)
    running = [point for point in points if point.running]
    assert len(running) == 1
    found = settle(shop)
    for mine, other in zip(found.machines, running[0].settled.machines, strict=True):
        assert mine.slip == pytest.approx(other.slip, abs=1e-9)
    for point in points:
        assert point.growth_per_s < 0
        held = at_slips(shop, tuple(m.slip for m in point.settled.machines))
        motor = held.machines[1]
        speed = motor.speed_rpm / 1445
        assert motor.shaft_torque_nm == pytest.approx(T22 * speed * abs(speed), abs=1e-5)
        assert held.machines[0].shaft_torque_nm == pytest.approx(0.0, abs=1e-5)


def test_a_motor_that_cannot_carry_its_load_is_named_with_its_torque() -> None:
    # on two lines without capacitor its breakdown torque is 1.08 of rated (computed reference)
    two_lines = network(TOWN, uf(0, 0, 0), ("press", M2K2, constant(1.3 * T22)))
    with pytest.raises(NoOperatingPoint, match="press cannot carry") as refused:
        settle(two_lines)
    with pytest.raises(NoOperatingPoint, match="press cannot carry"):
        operating_points(two_lines)
    torque, _, wanted = (
        float(number) for number in re.findall(r"([0-9.]+) (?:N m|rpm)", str(refused.value))
    )
    friction = 26.4 / (2 * math.pi * 1445 / 60)  # the printed ratio is that of the air gap
    assert (torque + friction) / T22 == pytest.approx(1.08, abs=0.006)
    assert wanted == pytest.approx(1.3 * T22, rel=1e-2)
    assert settle(network(TOWN, uf(0, 0, 0), ("press", M2K2, constant(1.07 * T22))))


def test_the_machine_that_fails_is_named_not_its_neighbour() -> None:
    shop = network(TOWN, uf(0, 25, 118), ("idler", I4A, NO_LOAD), ("saw", L2A, constant(4.0 * T22)))
    with pytest.raises(NoOperatingPoint, match="saw cannot carry"):
        settle(shop)


def test_a_start_at_standstill_is_not_taken_for_running() -> None:
    shop = network(TOWN, uf(0, 25, 118), ("idler", M4K0, NO_LOAD), ("motor", M2K2, constant(T22)))
    slow = settle(shop, start_slips=(0.9, 0.95))
    usual = settle(shop)
    assert slow.machines[1].slip == pytest.approx(usual.machines[1].slip, abs=1e-9)


@pytest.mark.parametrize("slip", [1.0, 0.5, 1.5])
def test_held_slips_are_kept(slip: float) -> None:
    shop = network(TOWN, uf(0, 25, 118), ("idler", I4A, NO_LOAD), ("motor", L2A, NO_LOAD))
    held = at_slips(shop, {"motor": slip, "idler": 0.001})
    assert [m.slip for m in held.machines] == [0.001, slip]
