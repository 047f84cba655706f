"""Volts and amps stamped as ranges are written so that they read back."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from phasewright.quantities.units import parse_several, spelt


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("208-230/460 V", "voltage"),
        ("220-240/380-415 V", "voltage"),
        ("8.8-8.4/4.2 A", "current"),
        ("230/400 V", "voltage"),
        ("400 V", "voltage"),
    ],
)
def test_what_a_plate_shows_is_written_as_it_shows_it(text, kind):
    assert spelt(parse_several(text, kind), kind) == text


@settings(deadline=None, max_examples=100)
@given(st.lists(st.floats(0.1, 1000), min_size=1, max_size=4), st.sampled_from(("IEC", "NEC")))
def test_one_to_four_amps_read_back(amps, region):
    numbers = tuple(amps)
    read = parse_several(spelt(numbers, "current", region), "current")
    assert read == pytest.approx(numbers, rel=1e-12)
