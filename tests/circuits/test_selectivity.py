"""Two breakers in series: up to what current only the nearer one opens."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from phasewright.circuits.devices import band_of
from phasewright.circuits.installation import Device
from phasewright.circuits.selectivity import selective_up_to_a

RATINGS = (6.0, 10.0, 16.0, 20.0, 25.0, 32.0, 40.0, 50.0, 63.0)
DEVICES = st.builds(
    Device, st.just("breaker"), st.sampled_from(RATINGS), st.sampled_from(["B", "C", "D"])
)


@given(DEVICES, DEVICES, st.floats(1.0, 6000.0))
def test_at_every_current_below_it_the_nearer_has_opened_before_the_other_may(one, other, most):
    found = selective_up_to_a(one, other, most)
    assert 0.0 <= found <= most
    late, early = band_of(one).late, band_of(other).early
    for share in (0.3, 0.7, 1.0):
        amps = share * found
        if amps > late.points[0][0]:
            assert late.seconds(amps) < early.seconds(amps)


@given(DEVICES, st.floats(100.0, 6000.0))
def test_two_alike_are_never_selective_on_a_short(one, most):
    assert selective_up_to_a(one, one, most) <= band_of(one).late.points[0][0]


@pytest.mark.parametrize("curve", ["B", "C", "D"])
def test_a_larger_one_ahead_is_never_less_selective(curve):
    behind, last = Device("breaker", 6.0, "B"), 0.0
    for rating in RATINGS[1:]:
        found = selective_up_to_a(behind, Device("breaker", rating, curve), 6000.0)
        assert found >= last
        last = found
    assert last > 0.0


def test_beyond_the_magnetic_release_of_the_one_ahead_both_may_open():
    """A B6 behind a D63: ten times 63 A rms may trip the one ahead at once (IEC 60898)."""
    found = selective_up_to_a(Device("breaker", 6.0, "B"), Device("breaker", 63.0, "D"), 6000.0)
    assert 63.0 < found <= 630.0


def test_a_short_that_draws_less_than_that_opens_only_the_nearer():
    ahead = Device("breaker", 63.0, "D")
    assert selective_up_to_a(Device("breaker", 6.0, "B"), ahead, 200.0) == 200.0
