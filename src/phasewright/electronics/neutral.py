"""What harmonics do to a neutral and to the conductors of a cable.

On one phase the neutral carries what its line carries. On three phases the harmonics whose order
is a multiple of three add in it, so it may carry more than any line; between the two lines of a
split phase with its centre earthed, odd harmonics of like loads cancel as the fundamentals do.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence

Harmonics = Sequence[complex]
"""Rms phasors of harmonics 1 to 40, angles against n times that of the own phase's volts."""

_COPPER_PER_M = 17.241e-9  # ohm m at 20 degC (IEC 60028)


def neutral_harmonics(phases: Sequence[Harmonics]) -> tuple[complex, ...]:
    """Harmonics in the neutral of three phases 1, 2, 3, or of the two halves of a split phase.

    `phases` holds what hangs between each line and the neutral: three entries, each a third of a
    turn behind the one before, or two, half a turn apart; one is a single phase.
    """
    apart = 2.0 * math.pi / len(phases)
    orders = max(len(each) for each in phases)
    return tuple(
        sum(
            (each[n - 1] * cmath.rect(1.0, -n * k * apart) for k, each in enumerate(phases)
             if n <= len(each)), 0j,
        )
        for n in range(1, orders + 1)
    )  # fmt: skip


def spread_over_phases(loads: Sequence[Harmonics]) -> tuple[tuple[complex, ...], ...]:
    """Loads on three phases, the largest first, each on the phase with the least amps so far."""
    phases = [[0j] * max((len(each) for each in loads), default=1) for _ in range(3)]
    for load in sorted(loads, key=rms, reverse=True):
        least = min(phases, key=rms)
        for n, amps in enumerate(load):
            least[n] += amps
    return tuple(tuple(each) for each in phases)


def rms(harmonics: Harmonics) -> float:
    """Rms of all harmonics together."""
    return math.sqrt(sum(abs(each) ** 2 for each in harmonics))


def skin_ratio(area_m2: float, hertz: float) -> float:
    """Resistance of a round copper conductor at a frequency over that at zero.

    IEC 60287-1-1, 2.1.2 (from memory), good to xs = 2.8; at 20 degC, where it is largest.
    """
    squared = 8.0 * math.pi * hertz / (_COPPER_PER_M / area_m2) * 1e-7
    fourth = squared * squared
    return 1.0 + fourth / (192.0 + 0.8 * fourth)


def heat_ratio(harmonics: Harmonics, area_m2: float, hertz: float) -> float:
    """Heat in a conductor over that which the fundamental alone would make in it."""
    first = abs(harmonics[0]) ** 2 * skin_ratio(area_m2, hertz)
    whole = sum(
        abs(each) ** 2 * skin_ratio(area_m2, n * hertz) for n, each in enumerate(harmonics, 1)
    )
    return whole / first
