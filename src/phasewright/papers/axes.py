"""Axes of a plot: round steps, and a curve with no more points than the eye can tell apart."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

HARDLY = 0.01
"""Share of the greatest value by which a curve may dip below nought without a tick for it."""


@dataclass(frozen=True, slots=True)
class Axis:
    """Values `low` to `high` drawn from `start` to `end` (in the drawing's units)."""

    low: float
    high: float
    start: float
    end: float
    step: float

    def place(self, value: float) -> float:
        """Where a value lies."""
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)

    def ticks(self) -> tuple[float, ...]:
        """Round values from low to high."""
        first = math.ceil(self.low / self.step - 1e-9)
        last = math.floor(self.high / self.step + 1e-9)
        return tuple(at * self.step for at in range(first, last + 1))

    def written(self, value: float) -> str:
        """A tick's value with the digits its step needs."""
        digits = max(0, -math.floor(math.log10(self.step) + 1e-9))
        shown = f"{value:,.{digits}f}"
        return shown.replace("-", "\N{MINUS SIGN}")


def round_step(span: float, most: int) -> float:
    """The smallest of 1, 2, 5 times a power of ten that cuts a span into `most` parts or fewer."""
    power = 10.0 ** math.floor(math.log10(span / most))
    return next(
        step * power for step in (1.0, 2.0, 5.0, 10.0, 20.0) if span / (step * power) <= most + 1e-9
    )


def value_axis(least: float, most: float, start: float, end: float, steps: int = 6) -> Axis:
    """An axis from round value to round value; it begins at nought unless values are far above
    or more than hardly below it."""
    low, high = min(least, most), max(least, most)
    if high - low < 1e-9 * max(abs(high), 1.0):
        low, high = min(low, 0.0), high if high > 0.0 else low + 1.0
    if -HARDLY * high < low < 0.6 * high:
        low = 0.0
    step = round_step(high - low, steps)
    return Axis(
        math.floor(low / step + 1e-9) * step, math.ceil(high / step - 1e-9) * step, start, end, step
    )


def time_axis(seconds: float, start: float, end: float, steps: int = 10) -> Axis:
    """An axis from nought to the end of a run."""
    return Axis(0.0, seconds, start, end, round_step(seconds, steps))


def points(across: Axis, up: Axis, times: Floats, values: Floats) -> list[tuple[float, float]]:
    """A curve as points of the drawing: least and greatest value of each column of one unit
    where more than two points fall on one, in the order in which they came."""
    columns = max(1, int(abs(across.end - across.start)))
    if times.size > 2 * columns:
        column = np.minimum(
            ((times - across.low) / (across.high - across.low) * columns).astype(int), columns - 1
        )
        cuts = np.flatnonzero(np.diff(column)) + 1
        kept: set[int] = {0, times.size - 1}
        for part in np.split(np.arange(times.size), cuts):
            kept |= {int(part[values[part].argmin()]), int(part[values[part].argmax()])}
        chosen = np.array(sorted(kept))
        times, values = times[chosen], values[chosen]
    return [
        (across.place(float(t)), up.place(float(v))) for t, v in zip(times, values, strict=True)
    ]
