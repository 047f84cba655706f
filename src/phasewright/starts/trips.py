"""Whether breakers and fuses trip in a run, from its half cycles and the published bands.

A device that would act after t(I) seconds at a lasting current I has gathered dt/t(I) of what it
takes after dt; it acts when the sum is one (the rule by which inverse-time relays are followed
through a changing current, IEEE C37.112, from memory). Summed over the early edge of its band
without ever forgetting, the device may have tripped; summed over the late edge, begun anew
whenever the current falls below what the edge clears at all, it surely has.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np
from numpy.typing import NDArray

from phasewright.quantities.errors import TableEnds, UsageError
from phasewright.starts.halves import at_the_end, half_s
from phasewright.starts.waves import Waves
from phasewright.tables.published import Status
from phasewright.tables.trip_bands import (
    Band,
    Curve,
    Edge,
    breaker_band,
    fuse_band,
    inverse_time_band,
)

Floats = NDArray[np.float64]
TripVerdict = Literal["holds", "may_trip", "trips", "not_judged"]
DeviceKind = Literal["B", "C", "D", "gG", "inverse_time"]
CURVES: tuple[Curve, ...] = get_args(Curve)


@dataclass(frozen=True, slots=True)
class Device:
    """A breaker or fuse ahead of lines 1 and 2: what it is called, its curve, its rated amps."""

    name: str
    kind: DeviceKind
    rating_a: float


@dataclass(frozen=True, slots=True)
class Trip:
    """What a protective device does in a run; made to be written as an entry of `trips[]`.

    `may_s` and `surely_s` are the instants at which it may have and must have acted, None where
    neither happens in the run. `lasting_may_s` and `lasting_surely_s` are the seconds after which
    it may and must act from cold if the current at the end of the run lasted, None where never. A
    verdict that rests on figures from memory or of common practice is `to_be_confirmed`.
    """

    device: str
    kind: str
    rating_a: float
    of: str
    verdict: TripVerdict
    to_be_confirmed: bool
    words: str
    source: str
    may_s: float | None = None
    surely_s: float | None = None
    lasting_may_s: float | None = None
    lasting_surely_s: float | None = None


def band_of(device: Device) -> Band:
    """The device's published band; TableEnds for a rating of which nothing is printed."""
    if device.kind == "gG":
        return fuse_band(device.rating_a)
    if device.kind == "inverse_time":
        return inverse_time_band(device.rating_a)
    for curve in CURVES:
        if curve == device.kind:
            return breaker_band(curve, device.rating_a)
    raise UsageError(f"{device.kind!r} is no kind of breaker or fuse")


def supply_trip(waves: Waves, device: Device, *, other_a: float = 0.0) -> Trip:
    """What a breaker or fuse ahead of lines 1 and 2 does in a run.

    `other_a` is the rms current of whatever else hangs behind it: added in full where it may trip,
    at right angles where it surely does (two loads are never further apart).
    """
    try:
        band = band_of(device)
    except TableEnds as ends:
        return _not_judged(device, str(ends))
    step = half_s(waves)
    together = waves.supply_a + other_a
    apart = np.hypot(waves.supply_a, other_a)
    crest = (waves.supply_peak_a + math.sqrt(2.0) * other_a) / math.sqrt(2.0)
    jump = np.zeros_like(crest, dtype=np.bool_)
    if band.magnetic_a is not None:
        jump = crest >= band.magnetic_a
    may = first_at(gathered(band.early, together, step, jump), step)
    surely = first_at(gathered_anew(band.late, apart, step), step)
    lasts = (
        _finite(band.early.seconds(float(at_the_end(together)))),
        _finite(band.late.seconds(float(at_the_end(apart)))),
    )
    verdict = verdict_of(may, surely)
    return Trip(
        device=device.name,
        kind=device.kind,
        rating_a=device.rating_a,
        of="supply",
        verdict=verdict,
        to_be_confirmed=unsure(band.status),
        words=_words(device, band, may, surely) + lasting_words(verdict, lasts),
        source=band.source,
        may_s=may,
        surely_s=surely,
        lasting_may_s=lasts[0],
        lasting_surely_s=lasts[1],
    )


def seconds_at(edge: Edge, amps: Floats) -> Floats:
    """`Edge.seconds` over an array."""
    points = np.log(np.array(edge.points))
    inside = np.exp(np.interp(np.log(np.maximum(amps, 1e-9)), points[:, 0], points[:, 1]))
    never = np.where(amps < edge.points[0][0], np.inf, inside)
    return np.where(amps >= edge.points[-1][0], edge.beyond_s, never)


def gathered(edge: Edge, amps: Floats, step_s: float, jump: NDArray[np.bool_]) -> Floats:
    """What the device has gathered by the end of each half cycle, nothing forgotten.

    `jump`: half cycles in which it may act at once.
    """
    seconds = seconds_at(edge, amps)
    at_once = jump | (seconds <= 0.0)
    shares = step_s / np.where(at_once, step_s, seconds)
    summed: Floats = np.cumsum(shares)
    return summed


def gathered_anew(edge: Edge, amps: Floats, step_s: float) -> Floats:
    """The same, begun anew whenever the current falls below the edge's first point."""
    seconds = seconds_at(edge, amps)
    summed = np.cumsum(step_s / seconds)
    base = np.maximum.accumulate(np.where(np.isinf(seconds), summed, 0.0))
    stretch: Floats = summed - base
    return stretch


def first_at(sums: Floats, step_s: float) -> float | None:
    """When a sum first reaches one [s], at the end of that half cycle; None where it never does."""
    over = np.flatnonzero(sums >= 1.0 - 1e-12)
    return float((over[0] + 1) * step_s) if over.size else None


def verdict_of(may_s: float | None, surely_s: float | None) -> TripVerdict:
    """Three values from the instants of both edges."""
    if surely_s is not None:
        return "trips"
    return "holds" if may_s is None else "may_trip"


def unsure(status: Status) -> bool:
    """True where a figure of this status leaves a verdict to be confirmed."""
    return status != "published"


def _finite(seconds: float) -> float | None:
    return None if math.isinf(seconds) else seconds


def _not_judged(device: Device, why: str) -> Trip:
    return Trip(
        device=device.name, kind=device.kind, rating_a=device.rating_a, of="supply",
        verdict="not_judged", to_be_confirmed=True,
        words=f"Whether the {device.name} trips was not judged: {why}.", source="",
    )  # fmt: skip


def _words(device: Device, band: Band, may_s: float | None, surely_s: float | None) -> str:
    name = f"The {device.name} ({band.words})"
    if surely_s is not None:
        return f"{name} trips, at the latest after {surely_s:.2g} s."
    return f"{name} holds." if may_s is None else f"{name} may trip, from {may_s:.2g} s on."


def lasting_words(verdict: TripVerdict, lasts: tuple[float | None, float | None]) -> str:
    """What follows if the current at the end lasts; nothing where it has tripped or never would."""
    early, late = lasts
    if verdict == "trips" or early is None:
        return ""
    surely = "or not at all" if late is None else f"and surely does within {_span(late)}"
    return f" Should the current at the end last, it may trip after {_span(early)} {surely}."


def _span(seconds: float) -> str:
    return f"{seconds:.2g} s" if seconds < 120.0 else f"{seconds / 60.0:.0f} min"
