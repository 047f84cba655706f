"""What supply and lines see of a run: amps, and the fall of the volts at everything switched.

A fall is the deepest half cycle from the instant of a switching to the next one, against the last
whole half cycle before it, as a fraction. Before the first half cycle the service and the pair 1-2
have the volts of the supply at no load; the pairs of line 3 have none to fall from, unless the
source has three lines.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from phasewright.starts.halves import half_of, half_s
from phasewright.starts.instants import Instant, What, instants
from phasewright.starts.waves import Waves

Floats = NDArray[np.float64]
LIVE = 0.5
"""Share of the supply's volts a pair must have had before for a fall to be told of it."""


@dataclass(frozen=True, slots=True)
class Event:
    """Something switched and what the lines saw until the next; an entry of `events[]`.

    Dips are fractions of the volts just before (0: no fall), None for a pair that was dead.
    """

    what: What
    at_s: float
    machine: str | None
    dip: float
    dip_12: float | None
    dip_23: float | None
    dip_31: float | None
    supply_peak_a: float
    supply_rms_max_a: float


@dataclass(frozen=True, slots=True)
class Amps:
    """Supply current over a run: greatest instant, greatest half-cycle rms [A]."""

    peak_a: float
    rms_max_a: float


def amps(waves: Waves) -> Amps:
    """The greatest of the supply current."""
    return Amps(float(waves.supply_peak_a.max()), float(waves.supply_a.max()))


def seconds_above(waves: Waves, level_a: float) -> float:
    """How long the half-cycle rms of the supply current lies above a level, in all [s]."""
    return float(np.count_nonzero(waves.supply_a > level_a) * half_s(waves))


def events(waves: Waves) -> tuple[Event, ...]:
    """Everything switched, and what the lines saw of it until the next."""
    found = instants(waves)
    halves = len(waves.time_s)
    starts = [min(half_of(waves, each.at_s), halves - 1) for each in found]
    told = []
    for place, each in enumerate(found):
        stop = starts[place + 1] if place + 1 < len(found) else halves
        told.append(_event(waves, each, starts[place], max(stop, starts[place] + 1)))
    return tuple(told)


def deepest_dip(waves: Waves) -> float:
    """The deepest fall at the service over all that was switched, a fraction."""
    return max((event.dip for event in events(waves)), default=0.0)


def _event(waves: Waves, each: Instant, first: int, stop: int) -> Event:
    no_load, three = waves.course.source.voltage_v, waves.course.three_lines
    at_first = (no_load, no_load if three else 0.0, no_load if three else 0.0)
    pairs = [
        _fall(waves.volts_v[:, pair], first, stop, at_first[pair], LIVE * no_load)
        for pair in range(3)
    ]
    dip = _fall(waves.service_v, first, stop, no_load, 0.0)
    return Event(
        what=each.what,
        at_s=each.at_s,
        machine=each.machine or None,
        dip=0.0 if dip is None else dip,
        dip_12=pairs[0],
        dip_23=pairs[1],
        dip_31=pairs[2],
        supply_peak_a=float(waves.supply_peak_a[first:stop].max()),
        supply_rms_max_a=float(waves.supply_a[first:stop].max()),
    )


def _fall(rms: Floats, first: int, stop: int, at_first: float, live: float) -> float | None:
    """Deepest fall of an rms series in [first, stop) against the half cycle before `first`."""
    before = float(rms[first - 1]) if first else at_first
    if not before > live:
        return None
    return max(0.0, 1.0 - float(rms[first:stop].min()) / before)
