"""Breakers: the smallest that carries a circuit and holds its starts, and when it surely trips.

A start is judged by its rms amps over its whole time against the early edge of the published
band, and by its highest crest against the magnetic release. Ratings before curves: of one rating
the mildest curve that holds.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from phasewright.circuits.installation import Device
from phasewright.quantities.codes import Region
from phasewright.quantities.errors import TableEnds
from phasewright.tables.published import table
from phasewright.tables.sizes import breaker_sizes_a
from phasewright.tables.trip_bands import Band, Curve, breaker_band, fuse_band, inverse_time_band

CURVES: tuple[Curve, ...] = ("B", "C", "D")
_ROOM = 1e-9


@dataclass(frozen=True, slots=True)
class Start:
    """What a start asks of a device: rms amps, for how long, and the highest crest of a wave."""

    current_a: float
    seconds: float
    crest_a: float

    def scaled(self, factor: float) -> Start:
        """The same on the other side of a transformer, `factor` times the amps."""
        return Start(factor * self.current_a, self.seconds, factor * self.crest_a)


@dataclass(frozen=True, slots=True)
class Chosen:
    """A device with its band. `holds` is False where none that is allowed is sure to hold."""

    device: Device
    band: Band
    holds: bool


def band_of(device: Device) -> Band:
    """The published band of a breaker by its curve, of a gG fuse, or inverse-time without one."""
    return _band(device.curve, device.rating_a)


@lru_cache(maxsize=512)
def _band(curve: str | None, rating_a: float) -> Band:
    for known in CURVES:
        if known == curve:
            return breaker_band(known, rating_a)
    if curve == "gG":
        return fuse_band(rating_a)
    return inverse_time_band(rating_a)


def holds(band: Band, start: Start) -> bool:
    """Whether the device surely carries the start."""
    if band.magnetic_a is not None and start.crest_a >= math.sqrt(2.0) * band.magnetic_a:
        return False
    return band.early.seconds(start.current_a) > start.seconds


def surely_trips_s(device: Device, current_a: float) -> float:
    """Within how long the device has surely opened at a lasting current [s]; inf for never.

    No standard prints the magnetic release of an inverse-time breaker: a usual one has acted at
    so many times its rating (common practice).
    """
    rows = table("circuits", "inverse_time_release")
    if device.curve is None and current_a >= rows.number("times") * device.rating_a:
        return rows.number("seconds")
    return band_of(device).late.seconds(current_a)


def surely_carries_a(device: Device, seconds: float) -> float:
    """Up to how many rms amps it surely carries for so long [A]."""
    return band_of(device).early.amps(seconds)


def magnetic_a(device: Device) -> float | None:
    """From how many amps its magnetic release surely acts; None for one that has none printed."""
    band = band_of(device)
    if device.curve is None or band.magnetic_a is None:
        return None
    return band.late.points[-1][0]


def smallest(
    region: Region, least_a: float, most_a: float, starts: tuple[Start, ...]
) -> Chosen:  # fmt: skip
    """The smallest breaker within its bounds that holds every start, the largest allowed
    where none does. Raises TableEnds where none is made so large."""
    largest: Chosen | None = None
    for device in _sold(region, least_a, most_a):
        band = band_of(device)
        if all(holds(band, start) for start in starts):
            return Chosen(device, band, holds=True)
        largest = Chosen(device, band, holds=False)
    if largest is None:
        within = f"of {least_a:.3g} A" + (
            f" to {most_a:.3g} A" if math.isfinite(most_a) else " or more"
        )
        raise TableEnds(f"no breaker {within} is in the tables")
    return largest


def _sold(region: Region, least_a: float, most_a: float) -> Iterator[Device]:
    for rating in breaker_sizes_a(region):
        if rating < least_a * (1.0 - _ROOM) or rating > most_a * (1.0 + _ROOM):
            continue
        if region == "NEC":
            if rating <= _NEC_PRINTED_A:
                yield Device("breaker", rating)
        else:
            for curve in CURVES:
                yield Device("breaker", rating, curve)


_NEC_PRINTED_A = 150.0
"""Above it no trip times are at hand (`trip_bands.inverse_time_larger`)."""
