"""What is told of the supply's earthed point, against readings; and what is never tied to earth."""

from __future__ import annotations

import pytest

from phasewright.plan.earth_contradictions import earth_contradictions
from phasewright.plan.supply_side import lines_to_earth_of, never_of
from phasewright.plan.to_earth import earthed_of
from phasewright.quantities.value import exact
from phasewright.shop.supply import Supply, VoltsToEarth


def volts(number):
    return exact(number, "V", "measured")


def supply(read=None, kind="single_phase", **more):
    given = None if read is None else VoltsToEarth(line_1=volts(read[0]), line_2=volts(read[1]))
    return Supply(
        kind=kind, voltage=volts(230.0), frequency=exact(50.0, "Hz", "stated"),
        volts_to_earth=given, **more,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("read", "point"), [((230.0, 1.0), "line_2"), ((114.0, 116.0), "centre"), ((2.0, 3.0), "none")]
)
def test_readings_tell_the_point_where_nobody_did(read, point):
    assert earthed_of(supply(read)) == point
    assert earthed_of(supply(read, earthed="unknown")) == point
    assert not earth_contradictions(supply(read))


def test_what_is_told_stays_and_the_contradiction_is_said_with_both():
    of = supply((115.0, 115.0), earthed="line_2")
    assert earthed_of(of) == "line_2"
    (found,) = earth_contradictions(of)
    assert found.severity == "condition"
    assert "115 V" in found.words
    assert "line 2 earthed" in found.words
    assert "the centre between both" in found.words


def test_readings_that_fit_nothing_are_questioned():
    (found,) = earth_contradictions(supply((160.0, 70.0), earthed="line_2"))
    assert "fits no earthed wire" in found.words


def test_the_other_wire_earthed_is_a_matter_of_names():
    (found,) = earth_contradictions(supply((1.0, 230.0), earthed="line_2"))
    assert "exchange the names" in found.words


def test_readings_that_agree_say_nothing():
    assert not earth_contradictions(supply((231.0, 0.0), earthed="line_2"))
    assert not earth_contradictions(supply(earthed="line_2"))


@pytest.mark.parametrize(
    ("more", "expected"),
    [
        ({"earthed": "line_2"}, (240.0, 0.0)),
        ({"earthed": "centre"}, (120.0, 120.0)),
        ({"kind": "split_phase"}, (120.0, 120.0)),
        ({"earthed": "none"}, None),
        ({"earthed": "line_2", "earthing": "IT"}, None),
        ({"kind": "three_phase"}, (138.564, 138.564, 138.564)),
    ],
)
def test_volts_of_every_line_to_earth(more, expected):
    found = lines_to_earth_of(supply(**more), 240.0)
    if expected is None:
        assert found is None
    else:
        assert [each.number for each in found] == pytest.approx(expected, rel=1e-4)


def test_an_unknown_point_is_never_told_lower_than_a_known_one():
    unknown = lines_to_earth_of(supply(), 240.0)
    for earthed in ("line_2", "centre"):
        known = lines_to_earth_of(supply(earthed=earthed), 240.0)
        assert all(a.number >= b.number for a, b in zip(unknown, known, strict=True))


@pytest.mark.parametrize("earthed", ["line_2", "centre", "none", "unknown"])
def test_line_3_and_a_neutral_from_it_are_forbidden_exactly_where_a_line_is_generated(earthed):
    with_it = {each.code for each in never_of(supply(earthed=earthed), 230.0, generated=True)}
    without = {each.code for each in never_of(supply(earthed=earthed), 230.0, generated=False)}
    assert with_it - without == {"line_3", "no_neutral"}
    assert without
