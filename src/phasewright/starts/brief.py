"""A start told in a few numbers: what every way of powering that has a third line asks of it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from phasewright.quantities.errors import NoOperatingPoint
from phasewright.starts.course import Course
from phasewright.starts.halves import by_cycle, half_of
from phasewright.starts.outcome import Outcome, outcome
from phasewright.starts.waves import Waves, waves


@dataclass(frozen=True, slots=True)
class Brief:
    """One machine's start.

    `supply_a` the largest rms of a cycle from its closing on, `peak_a` the largest instant,
    `dip_ratio` the deepest fall of the service from one half cycle before to any after, over the
    volts before, `service_ratio` the lowest volts there over those at no load; `lowest_ratio` the
    lowest volts of lines 2-3 and 3-1 after it over the source's;
    `slowest` the lowest speed over its speed before of anything that ran already, and whose.
    """

    outcome: Outcome
    supply_a: float
    peak_a: float
    dip_ratio: float
    service_ratio: float
    lowest_ratio: float
    slowest_ratio: float
    slowest: str
    pulled_down: tuple[str, ...]

    @property
    def runs_up(self) -> bool:
        """Whether it gets to its running speed, and drags down nothing that ran."""
        return bool(self.outcome.runs_up) and not self.pulled_down

    @property
    def seconds(self) -> float:
        """Time of the start [s]; infinite where it does not run up."""
        time_s = self.outcome.time_s
        return math.inf if time_s is None or not self.outcome.runs_up else time_s


@lru_cache(maxsize=8192)
def brief_of(course: Course, place: int) -> Brief:
    """The start of the machine at a place of a course, which is run. Raises as `brief` does."""
    return brief(waves(course), place)


def brief(found: Waves, of: int) -> Brief:
    """The start of machine `of` (its place in the course), from its closing to the run's end.

    Raises NoOperatingPoint where its contactor never closed, since what ran before swings.
    """
    closed = found.closed_s[of]
    if closed is None:
        raise NoOperatingPoint(
            "Computed in time, volts and speeds of the converter swing on this supply and do not "
            f"settle, so {found.course.starters[of].machine.name} could not be switched on."
        )
    first = min(half_of(found, closed), len(found.time_s) - 1)
    no_load = found.course.source.voltage_v
    before_v = float(found.service_v[first - 1]) if first else no_load
    after = slice(first, None)
    cycles = by_cycle(found.supply_a[max(0, first - 1) :])
    ratio, name = _slowest(found, of, first)
    return Brief(
        outcome=outcome(found, of),
        supply_a=float(cycles.max()) if cycles.size else float(found.supply_a[after].max()),
        peak_a=float(found.supply_peak_a[after].max()),
        dip_ratio=max(0.0, 1.0 - float(found.service_v[after].min()) / before_v),
        service_ratio=float(found.service_v[after].min()) / no_load,
        lowest_ratio=float(found.volts_v[after, 1:].min()) / no_load,
        slowest_ratio=ratio,
        slowest=name,
        pulled_down=_pulled_down(found, of, first),
    )


def _slowest(waves: Waves, of: int, first: int) -> tuple[float, str]:
    """The machine that slows down most of those that turned before, over its speed then."""
    least, name = 1.0, ""
    for k, starter in enumerate(waves.course.starters):
        if k == of or first == 0 or not waves.speed_rad_s[first - 1, k] > 1.0:
            continue
        ratio = float(waves.speed_rad_s[first:, k].min() / waves.speed_rad_s[first - 1, k])
        if ratio < least:
            least, name = ratio, starter.machine.name
    return least, name


def _pulled_down(waves: Waves, of: int, first: int) -> tuple[str, ...]:
    """Machines that turned before and have lost more than a tenth of their speed for good."""
    if first == 0:
        return ()
    before, end = waves.speed_rad_s[first - 1], waves.speed_rad_s[-1]
    lost = np.flatnonzero((before > 1.0) & (end < 0.9 * before))
    return tuple(waves.course.starters[k].machine.name for k in lost if k != of)
