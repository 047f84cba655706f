"""Volts to earth against the same triangle drawn with phasors; no formula of the code is used."""

from __future__ import annotations

import cmath
import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from phasewright.network.earth import (
    earthed_by,
    highest_to_earth,
    third_line_to_centre_v,
    volts_to_earth,
)
from phasewright.quantities.errors import UsageError

CORNERS = st.tuples(st.floats(0.3, 3.0), st.floats(0.2, 3.0))


def drawn(scale: float, angle: float) -> tuple[complex, complex, complex]:
    """Lines 1, 2, 3 with line 2 at the origin, line 1 at 240 V and line 3 anywhere."""
    return 240 + 0j, 0j, 240.0 * cmath.rect(scale, angle)


def between(one: complex, two: complex, three: complex) -> tuple[float, float, float]:
    return abs(one - two), abs(two - three), abs(three - one)


@given(CORNERS)
def test_the_median_is_the_distance_to_the_middle(corner: tuple[float, float]) -> None:
    one, two, three = drawn(*corner)
    middle = (one + two) / 2
    assume(abs(three - middle) > 1.0)
    volts = volts_to_earth(between(one, two, three), "centre")
    assert volts == pytest.approx((120.0, 120.0, abs(three - middle)), rel=1e-6)


@given(CORNERS)
def test_an_earthed_corner_is_a_line_without_volts(corner: tuple[float, float]) -> None:
    one, two, three = drawn(*corner)
    volts = volts_to_earth(between(one, two, three), "line_2")
    assert volts == pytest.approx((abs(one), 0.0, abs(three)))


@given(CORNERS)
def test_not_knowing_is_never_lower_than_knowing(corner: tuple[float, float]) -> None:
    sides = between(*drawn(*corner))
    for point in ("line_2", "centre"):
        known = volts_to_earth(sides, point)
        assert all(a >= b for a, b in zip(highest_to_earth(sides), known, strict=True))


def test_balanced_lines_of_240_v_stand_120_120_and_208_v_from_an_earthed_centre() -> None:
    assert volts_to_earth((240.0, 240.0, 240.0), "centre") == pytest.approx(
        (120.0, 120.0, 240.0 * math.sqrt(3.0) / 2.0)
    )


def test_readings_that_close_no_triangle_are_refused() -> None:
    with pytest.raises(UsageError, match="misreading"):
        third_line_to_centre_v((240.0, 100.0, 100.0))
    with pytest.raises(UsageError, match="positive"):
        volts_to_earth((math.nan, 240.0, 240.0), "line_2")


@pytest.mark.parametrize(
    ("one", "two", "point"),
    [
        (231.0, 2.0, "line_2"), (3.0, 228.0, "line_1"), (116.0, 113.0, "centre"),
        (5.0, 8.0, "none"), (160.0, 60.0, None), (230.0, 230.0, None),
    ],
)  # fmt: skip
def test_two_readings_to_earth_tell_which_point_is_earthed(one, two, point) -> None:
    assert earthed_by(one, two, 230.0) == point


@given(st.floats(100.0, 480.0), st.sampled_from(["line_2", "centre"]))
def test_what_an_earthed_point_makes_is_read_back_as_that_point(volts, point) -> None:
    one, two, _ = volts_to_earth((volts, volts, volts), point)
    assert earthed_by(one, two, volts) == point
