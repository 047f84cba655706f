"""The wave on a motor lead: the lattice of echoes against a step-by-step line and its laws."""

from __future__ import annotations

import numpy as np
import pytest

from phasewright.electronics.reflected_wave import (
    critical_lead_m,
    longest_lead_ratio,
    peak_ratio,
    ramp_peak_ratio,
    reflection,
)

SHARES = (0.5, 0.8, 0.9, 0.97)


def stepped(lead_ratio: float, share: float) -> float:
    """The same line walked through in time: waves to and fro by the method of characteristics."""
    steps = 200  # of a one-way travel
    rise = max(1, round(2.0 * steps / lead_ratio))
    forward, back = np.zeros(steps), np.zeros(steps)
    highest = 0.0
    for now in range(rise + 12 * steps):
        at_motor = forward[-1]
        highest = max(highest, (1.0 + share) * at_motor)
        sent = min(1.0, now / rise) - back[-1]  # the inverter holds its volts
        forward, back = np.roll(forward, 1), np.roll(back, 1)
        forward[0], back[0] = sent, share * at_motor
    return highest


@pytest.mark.parametrize("share", SHARES)
@pytest.mark.parametrize("lead_ratio", [0.15, 0.3, 0.45, 0.7, 0.9, 1.0, 2.5])
def test_against_a_line_walked_through_in_time(lead_ratio: float, share: float) -> None:
    closed = float(ramp_peak_ratio(np.array([lead_ratio]), share)[0])
    assert closed == pytest.approx(stepped(lead_ratio, share), abs=0.012)


@pytest.mark.parametrize("share", SHARES)
def test_a_longer_lead_never_has_a_lower_peak(share: float) -> None:
    peaks = [peak_ratio(float(lead), share) for lead in np.linspace(0.0, 3.0, 601)]
    assert (np.diff(peaks) >= 0.0).all()
    assert peaks[0] == 1.0
    assert peaks[-1] == pytest.approx(1.0 + share)
    assert max(peaks) <= 2.0


@pytest.mark.parametrize("share", SHARES)
def test_never_below_the_ramp_itself_and_never_far_above_what_slower_ones_reach(
    share: float,
) -> None:
    leads = np.linspace(0.02, 1.5, 300)
    alone = ramp_peak_ratio(leads, share)
    told = np.array([peak_ratio(float(lead), share) for lead in leads])
    assert (told >= alone - 0.02).all()
    assert told == pytest.approx(np.maximum.accumulate(alone), abs=0.03)


def test_whole_peak_from_the_critical_lead_on() -> None:
    """v t/2: 0.1 us at 150 to 190 m/us is 7.5 to 9.5 m (IEC TS 60034-25, from memory)."""
    assert critical_lead_m(1e-7, 150e6) == pytest.approx(7.5)
    assert critical_lead_m(1e-7, 190e6) == pytest.approx(9.5)
    assert peak_ratio(1.0, 0.9) == pytest.approx(1.9)
    assert peak_ratio(0.9, 0.9) == pytest.approx(1.9 * (1.0 - 0.9 * 0.1), rel=2e-3)


def test_an_open_end_doubles_and_a_matched_one_sends_nothing_back() -> None:
    assert reflection(1e12, 100.0) == pytest.approx(1.0)
    assert reflection(100.0, 100.0) == 0.0
    assert peak_ratio(2.0, 0.0) == pytest.approx(1.0)


@pytest.mark.parametrize("most", [1.2, 1.5, 1.8])
def test_the_longest_lead_is_the_inverse(most: float) -> None:
    ratio = longest_lead_ratio(most, 0.95)
    assert ratio is not None
    assert peak_ratio(ratio, 0.95) <= most + 1e-9
    assert peak_ratio(ratio * 1.02, 0.95) > most - 1e-3
    assert longest_lead_ratio(1.96, 0.95) is None
