"""What must hold of every trip band, whatever its figures."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from phasewright.quantities.errors import TableEnds
from phasewright.tables.trip_bands import (
    Band,
    breaker_band,
    fuse_band,
    inverse_time_band,
    overload_relay,
)
from phasewright.tables.winding_heat import (
    capacitor_starts_an_hour,
    densities_a_mm2,
    greatest_winding_c,
    heated_c,
    stall_s,
)

BANDS = [
    *(breaker_band(curve, amps) for curve in "BCD" for amps in (6.0, 16.0, 32.0, 63.0, 100.0)),
    *(fuse_band(amps) for amps in (16.0, 32.0, 63.0, 100.0, 160.0)),
    *(inverse_time_band(amps) for amps in (15.0, 40.0, 100.0)),
]


@pytest.mark.parametrize("band", BANDS, ids=lambda band: band.words)
@given(low=st.floats(0.01, 30.0), more=st.floats(1.0, 3.0))
@settings(deadline=None, max_examples=60)
def test_more_amps_never_act_later_and_never_early_after_late(
    band: Band, low: float, more: float
) -> None:
    amps = low * band.rating_a
    for edge in (band.early, band.late):
        assert edge.seconds(more * amps) <= edge.seconds(amps)
    assert band.early.seconds(amps) <= band.late.seconds(amps)
    assert "memory" in band.source or "common practice" in band.source


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(BANDS), st.floats(0.02, 20000.0))
def test_a_shade_less_than_the_amps_of_a_time_is_borne_longer_than_it(
    band: Band, seconds: float
) -> None:
    """Up to those amps the early edge acts later than `seconds`, a shade above no longer so."""
    amps = band.early.amps(seconds)
    assert band.early.seconds(0.9999 * amps) >= seconds
    assert band.early.seconds(1.0001 * amps) <= seconds


def test_a_curve_for_higher_inrush_never_acts_sooner() -> None:
    """The late edges are compared where a magnetic release surely acts: beside it each curve has
    a printed point of its own, and nothing says that their bimetals are one."""
    for multiple in (1.2, 1.5, 2.5, 3.5, 6.0, 12.0, 25.0):
        early = [breaker_band(c, 32.0).early.seconds(32.0 * multiple) for c in "BCD"]
        assert early == sorted(early)
    for multiple in (1.2, 1.5, 2.5, 6.0, 12.0, 25.0):
        late = [breaker_band(c, 32.0).late.seconds(32.0 * multiple) for c in "BCD"]
        assert late == sorted(late)


def test_a_higher_class_never_acts_sooner() -> None:
    relays = [overload_relay(name) for name in ("10A", "10", "20", "30")]
    assert [relay.early_tau_s for relay in relays] == sorted(relay.early_tau_s for relay in relays)
    assert [relay.late_tau_s for relay in relays] == sorted(relay.late_tau_s for relay in relays)
    for relay in relays:
        assert relay.early_tau_s < relay.late_tau_s
        assert relay.early_pick_up < relay.late_pick_up


@pytest.mark.parametrize("asked", [
    lambda: breaker_band("C", 160.0), lambda: breaker_band("B", 0.0), lambda: fuse_band(10.0),
    lambda: fuse_band(33.0), lambda: inverse_time_band(200.0), lambda: overload_relay("5"),
    lambda: overload_relay("at"), lambda: greatest_winding_c("E"),
    lambda: capacitor_starts_an_hour(3.01), lambda: capacitor_starts_an_hour(0.0),
])  # fmt: skip
def test_beyond_its_rows_a_table_refuses(asked) -> None:
    with pytest.raises(TableEnds):
        asked()


def test_a_rating_that_is_no_number_is_refused() -> None:
    with pytest.raises(TableEnds):
        breaker_band("C", math.nan)


def test_density_and_stalling_time_agree_with_the_temperatures_of_a_winding() -> None:
    """Three sources: densities of common practice, 12 s at six times rated current, 225 °C."""
    low, _, high = (heated_c(120.0, (6.0 * d) ** 2 * stall_s()) for d in densities_a_mm2())
    assert low < greatest_winding_c("B")[0] < high
