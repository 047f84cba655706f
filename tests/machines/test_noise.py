"""Sound levels (basic acoustics, from memory; typical motor levels are common practice)."""

from __future__ import annotations

import pytest

from phasewright.machines.noise import (
    level_at,
    motor_sound_power,
    power_of,
    pressure_at,
    together_dba,
)
from phasewright.quantities.errors import TableEnds


def test_two_equal_sources_are_three_decibels_louder() -> None:
    assert together_dba([60.0, 60.0]) == pytest.approx(63.01, abs=0.01)
    assert together_dba([60.0, 40.0]) == pytest.approx(60.04, abs=0.01)


def test_half_sphere() -> None:
    """Sound power 83 dB: 75.0 dB at 1 m, 69.0 dB at 2 m."""
    assert pressure_at(83.0, 1.0) == pytest.approx(75.0, abs=0.05)
    assert pressure_at(83.0, 2.0) == pytest.approx(69.0, abs=0.05)
    assert power_of(pressure_at(83.0, 7.0), 7.0) == pytest.approx(83.0)


def test_typical_motors() -> None:
    """45 to 55 dB at 1 m for small four-pole motors, 55 to 62 for 4 to 11 kW."""
    small, large = motor_sound_power(1500.0), motor_sound_power(7500.0)
    assert pressure_at(small.low, 1.0) == pytest.approx(45.0)
    assert pressure_at(small.high, 1.0) == pytest.approx(55.0)
    assert pressure_at(large.number, 1.0) == pytest.approx(58.5)
    assert motor_sound_power(1500.0, 2).number > small.number > motor_sound_power(1500.0, 8).number


def test_outside_the_table_nothing_is_told() -> None:
    with pytest.raises(TableEnds):
        motor_sound_power(30_000.0)
    with pytest.raises(ValueError, match="10 poles"):
        motor_sound_power(1500.0, 10)


def test_level_of_several_at_a_neighbour() -> None:
    one = motor_sound_power(4000.0)
    alone, pair = level_at((one,), 12.0), level_at((one, one), 12.0)
    assert pair.number == pytest.approx(alone.number + 3.01, abs=0.01)
    assert pair.low < pair.number < pair.high
    assert level_at((one,), 24.0).number == pytest.approx(alone.number - 6.02, abs=0.01)
    assert pair.inputs[-1].name == "distance"
    with pytest.raises(ValueError, match="above zero"):
        level_at((one,), 0.0)
    with pytest.raises(ValueError, match="no sound sources"):
        together_dba([])
