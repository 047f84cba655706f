"""A brake resistor's lasting watts: one body that warms and cools by one exponential."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from phasewright.electronics.brake_resistor import brake_duty, lasting_w
from phasewright.quantities.errors import UsageError

WATTS = st.floats(1.0, 1e4)
SECONDS = st.floats(0.05, 600.0)


def hottest_after_many_stops(pulse_w: float, on_s: float, period_s: float, warms_s: float) -> float:
    """Rise at the end of the last of many stops, over that of 1 W for ever; stepped by hand."""
    rise = 0.0
    for _ in range(400):
        rise *= math.exp(-(period_s - on_s) / warms_s)
        rise = pulse_w + (rise - pulse_w) * math.exp(-on_s / warms_s)
    return rise


@pytest.mark.parametrize(
    ("on_s", "period_s"), [(1.0, 60.0), (20.0, 900.0), (5.0, 6.0), (200.0, 300.0)]
)
def test_it_is_as_hot_at_the_end_of_a_stop_as_its_lasting_watts_make_it(on_s, period_s):
    found = lasting_w(2000.0, on_s, period_s, 120.0)
    assert found == pytest.approx(hottest_after_many_stops(2000.0, on_s, period_s, 120.0))


@given(WATTS, SECONDS, st.floats(1.0, 100.0), SECONDS)
def test_it_lies_between_the_mean_and_the_pulse(pulse_w, on_s, times, warms_s):
    found = lasting_w(pulse_w, on_s, times * on_s, warms_s)
    assert pulse_w / times * (1.0 - 1e-9) <= found <= pulse_w * (1.0 + 1e-9)


@given(WATTS, SECONDS, st.floats(1.5, 100.0))
def test_more_stops_an_hour_never_ask_for_less_and_a_slower_body_never_for_more(
    pulse_w, on_s, times
):
    rare, often = (lasting_w(pulse_w, on_s, k * times * on_s, 120.0) for k in (2.0, 1.0))
    assert often >= rare
    assert lasting_w(pulse_w, on_s, times * on_s, 240.0) <= often * (1.0 + 1e-9)


def test_one_stop_from_cold_and_stops_without_a_pause():
    assert lasting_w(1000.0, 12.0, math.inf, 120.0) == pytest.approx(1000.0 * (1 - math.exp(-0.1)))
    assert lasting_w(1000.0, 12.0, 12.0, 120.0) == 1000.0
    assert lasting_w(1000.0, 12.0, 5.0, 120.0) == 1000.0  # oftener than it can be stopped
    assert brake_duty(12.0, 120.0) == pytest.approx(0.1)
    assert brake_duty(12.0, 6.0) == 1.0
    assert brake_duty(12.0, math.inf) == 0.0
    with pytest.raises(UsageError):
        brake_duty(0.0, 10.0)
    with pytest.raises(UsageError):
        lasting_w(1.0, 1.0, 2.0, 0.0)
