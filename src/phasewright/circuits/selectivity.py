"""Up to what current only the nearer of two breakers in series opens, by their published bands.

Selective is every current at which the one behind has surely opened before the one ahead may
(IEC 60364-5-53, 536.4; from memory). Makers prove more in their own tables than bands can show.
"""

from __future__ import annotations

from functools import lru_cache

from phasewright.circuits.devices import band_of
from phasewright.circuits.installation import Device

STEP = 1.02
"""From one current that is tried to the next."""


@lru_cache(maxsize=1024)
def selective_up_to_a(behind: Device, ahead: Device, most_a: float) -> float:
    """Highest current [A] up to which only `behind` opens, at most `most_a`, the greatest fault.

    0 where the one ahead may open first already at the least current that the other must open.
    """
    late, early = band_of(behind).late, band_of(ahead).early
    least = late.points[0][0]
    if most_a <= least:
        return most_a
    magnetic = band_of(ahead).magnetic_a
    kept = 0.0
    amps = least
    while amps < most_a:
        at_once = magnetic is not None and amps >= magnetic
        if at_once or late.seconds(amps) >= early.seconds(amps):
            return kept
        kept, amps = amps, STEP * amps
    return most_a if magnetic is None or most_a < magnetic else kept
