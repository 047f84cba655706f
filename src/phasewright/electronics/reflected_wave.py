"""The wave a drive's steep edges send down the motor lead, and how high it gets at the motor.

A lossless line between an inverter (which sends every echo back reversed) and a motor whose surge
impedance is far above the lead's: the lattice of travelling waves (Bewley, Travelling Waves on
Transmission Systems, from memory). Losses of the lead, which only lower the peak, are left out;
so are two edges that meet on the lead, which can lift it beyond.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
_LEADS = np.geomspace(0.01, 1.0, 120)
_ECHOES, _TURNS = 110, 2
"""Echoes counted (the shortest lead returns a hundred while the edge lasts), and how many of them
may make the highest point: each weighs less than the one before."""


def reflection(motor_ohm: float, lead_ohm: float) -> float:
    """Share of a wave that the motor's terminals send back, -1 to 1."""
    return (motor_ohm - lead_ohm) / (motor_ohm + lead_ohm)


def critical_lead_m(rise_s: float, metres_per_s: float) -> float:
    """The lead from which on the peak is the whole one: an echo returns as the edge ends."""
    return 0.5 * rise_s * metres_per_s


def peak_ratio(lead_ratio: float, share: float) -> float:
    """Highest terminal volts over the link's, for this rise time or any slower one.

    `lead_ratio` is the lead over its critical length, `share` the reflection (0 to 1). A ramp of
    just this rise time may by chance meet its own echoes at less; as the rise time is known only
    at its least, the highest of all slower ones counts, so a longer lead is never told lower.
    """
    return float(np.interp(lead_ratio, np.append(0.0, _LEADS), np.append(1.0, _highest(share))))


@lru_cache(maxsize=256)
def _highest(share: float) -> Floats:
    """The peaks over `_LEADS`, each the highest of all shorter leads."""
    return np.maximum.accumulate(ramp_peak_ratio(_LEADS, share))


def ramp_peak_ratio(lead_ratio: Floats, share: float) -> Floats:
    """Highest terminal volts over the link's, for straight edges of just this rise time.

    `lead_ratio` of any shape (n,), 0.01 and above. The edge ends while echoes return every twice
    the travel time; each weighs -`share` times the one before. The volts turn only where an edge
    or an echo begins or ends.
    """
    lead = np.asarray(lead_ratio, dtype=np.float64)[:, None, None]
    echo = np.arange(_ECHOES)
    begins = lead * np.arange(_TURNS)[None, :, None]
    at = np.concatenate((begins, begins + 1.0), axis=1)  # in rise times from the first arrival
    come = np.minimum(1.0, np.maximum(0.0, at - lead * echo))
    volts = (1.0 + share) * (come * (-share) ** echo).sum(axis=2)
    return np.asarray(volts.max(axis=1), dtype=np.float64)


def longest_lead_ratio(most: float, share: float) -> float | None:
    """The longest lead over its critical length whose peak stays at `most` times the link's volts;
    None where no lead is too long. `most` must be above 1."""
    if peak_ratio(1.0, share) <= most:
        return None
    low, high = 0.0, 1.0
    for _ in range(40):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if peak_ratio(middle, share) <= most else (low, middle)
    return low
