"""Waves made by hand: half cycles of chosen amps and volts, to ask the verdicts alone."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from starts.courses import idler_start

from phasewright.starts.course import Course, Starter
from phasewright.starts.waves import Waves, waves

HALF_S = 0.01


def flat(course: Course | None = None, *, seconds: float = 1.0) -> Waves:
    """A run of the idler with nothing left of its waves: no amps, full volts, full speed."""
    asked = course or idler_start(300)
    found = waves(replace(asked, seconds=0.02))
    n, m = round(seconds / HALF_S), len(asked.starters)
    none, one = np.zeros(n), np.ones(n)
    return replace(
        found,
        course=replace(asked, seconds=seconds),
        time_s=(np.arange(n) + 0.5) * HALF_S,
        volts_v=np.full((n, 3), 230.0),
        service_v=230.0 * one,
        supply_a=none,
        supply_peak_a=none,
        start_peak_v=none,
        line_a=np.zeros((n, m)),
        lines_a=np.zeros((n, m, 3)),
        stator_w=np.zeros((n, m)),
        rotor_w=np.zeros((n, m)),
        speed_rad_s=np.full((n, m), 157.0),
        dropped_s=None,
        closed_s=tuple(_closes(each) for each in asked.starters),
        released_s=(None,) * m,
    )


def drawing(amps: np.ndarray, course: Course | None = None) -> Waves:
    """The same with a sine of these rms amps from the supply and in every line of machine 0."""
    amps = np.asarray(amps, dtype=float)
    found = flat(course, seconds=len(amps) * HALF_S)
    lines = found.lines_a.copy()
    lines[:, 0] = amps[:, None]
    return replace(
        found, supply_a=amps, supply_peak_a=np.sqrt(2.0) * amps, lines_a=lines,
        line_a=lines.max(axis=2),
    )  # fmt: skip


def steady(amps: float, seconds: float) -> Waves:
    """The same with one current all the time."""
    return drawing(np.full(round(seconds / HALF_S), amps))


def _closes(starter: Starter) -> float:
    return starter.closes_s
