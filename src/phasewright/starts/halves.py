"""The half cycles of a run: which one an instant lies in, and what lies before it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from phasewright.starts.waves import Waves

Floats = NDArray[np.float64]
CYCLES_AT_END = 2
"""Whole cycles at the end of a run that are taken as its end."""


def half_s(waves: Waves) -> float:
    """Length of a half cycle [s]."""
    return 0.5 / waves.course.source.frequency_hz


def end_s(waves: Waves) -> float:
    """When the run ended [s]."""
    return float(len(waves.time_s) * half_s(waves))


def half_of(waves: Waves, at_s: float) -> int:
    """The half cycle an instant lies in; one on a boundary belongs to the half that follows."""
    return int(at_s / half_s(waves) + 1e-6)


def at_the_end(by_half: Floats) -> Floats:
    """Mean over the last whole cycles of a run, over the first axis."""
    mean: Floats = np.asarray(by_half[-2 * CYCLES_AT_END :].mean(axis=0), dtype=np.float64)
    return mean


def by_cycle(rms_by_half: Floats) -> Floats:
    """Rms over each half cycle and the one before it (a sliding cycle); one shorter."""
    square = rms_by_half * rms_by_half
    cycle: Floats = np.sqrt(0.5 * (square[1:] + square[:-1]))
    return cycle
