"""Unbalance from three voltmeter readings and symmetrical components.

Sources: C. I. Hubert, Electric Machines, example 5.14 (460, 455, 440 V: 2.58 % NEMA); an
installation manual's example (224, 231, 226 V: mean 227, deviation 4 V, 1.76 %); P. Srivastava's
example 7.14 (220 at 0, 230 at -115, 250 at -245 degrees; sequences derived). VUF beside them is
derived from the readings.
"""

from __future__ import annotations

import cmath
import math

import pytest

from phasewright.network.phasors import line_to_line, phasors_of, sequences
from phasewright.network.unbalance import nema_unbalance, vuf, vuf_of_magnitudes
from phasewright.quantities.errors import UsageError


@pytest.mark.parametrize(
    ("volts", "nema", "true"),
    [((460, 455, 440), 0.025830, 0.026487), ((224, 231, 226), 0.017621, 0.018400),
     ((230, 225, 238), 0.030303, 0.0329)],
)  # fmt: skip
def test_three_readings(volts: tuple[float, float, float], nema: float, true: float) -> None:
    assert nema_unbalance(volts) == pytest.approx(nema, abs=1e-6)
    assert vuf_of_magnitudes(volts) == pytest.approx(true, abs=6e-6)


def test_sequences_of_three_phasors() -> None:
    given = tuple(
        cmath.rect(volts, math.radians(angle))
        for volts, angle in ((220, 0), (230, -115), (250, -245))
    )
    zero, positive, negative = sequences((given[0], given[1], given[2]))
    assert abs(positive) == pytest.approx(232.725, abs=6e-4)
    assert abs(negative) == pytest.approx(19.231, abs=6e-4)
    assert abs(zero) == pytest.approx(8.316, abs=6e-4)
    assert phasors_of(positive, negative, zero) == pytest.approx(given, abs=1e-9)


def test_readings_and_phasors_agree() -> None:
    lines = line_to_line(132.0 + 5j, -3.0 + 4j)
    readings = (abs(lines[0]), abs(lines[1]), abs(lines[2]))
    assert vuf(lines) == pytest.approx(5.0 / abs(132 + 5j), rel=1e-12)
    assert vuf_of_magnitudes(readings) == pytest.approx(vuf(lines), rel=1e-9)


@pytest.mark.parametrize("readings", [(100.0, 100.0, 201.0), (0.0, 0.0, 0.0), (-1.0, 2.0, 2.0)])
def test_impossible_readings_are_refused(readings: tuple[float, float, float]) -> None:
    with pytest.raises(UsageError):
        vuf_of_magnitudes(readings)
