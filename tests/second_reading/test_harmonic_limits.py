"""Limits of harmonic current and of distorted volts typed a second time from their sources."""

from __future__ import annotations

import pytest

from phasewright.quantities.errors import TableEnds
from phasewright.tables.limits import (
    harmonic_share_limits,
    short_circuit_ratios,
    standing_leakage_share,
    voltage_distortion_limit,
)

# IEC 61000-3-12, other than balanced three-phase (from memory): ratio, per cent of the 3rd, 5th,
# 7th, 9th, 11th, 13th, all together, the high ones weighted
LIMITS = """
33: 21.6 10.7 7.2 3.8 3.1 2; 23 23
66: 24 13 8 5 4 3; 26 26
120: 27 15 10 6 5 4; 30 30
250: 35 20 13 9 8 6; 40 40
350: 41 24 15 12 10 8; 47 47
"""


@pytest.mark.parametrize("line", LIMITS.split("\n")[1:-1])
def test_every_row(line: str) -> None:
    ratio, rest = line.split(":")
    percent = [float(each) for each in rest.replace(";", " ").split()]
    limits = harmonic_share_limits(float(ratio))
    names = ("3", "5", "7", "9", "11", "13", "total", "weighted")
    assert [100.0 * limits[name] for name in names] == pytest.approx(percent)
    # even harmonics to the 12th: 16 % over n
    assert 100.0 * limits["2"] == pytest.approx(8.0)
    assert 100.0 * limits["12"] == pytest.approx(16.0 / 12.0)


def test_between_the_rows_and_beyond() -> None:
    assert short_circuit_ratios() == (33.0, 350.0)
    assert harmonic_share_limits(93.0)["3"] == pytest.approx(0.255)  # halfway from 66 to 120
    assert harmonic_share_limits(1e4) == harmonic_share_limits(350.0)
    with pytest.raises(TableEnds):
        harmonic_share_limits(32.0)


def test_volts_and_leakage() -> None:
    assert voltage_distortion_limit() == 0.08  # EN 50160
    assert standing_leakage_share() == 0.30  # common practice
