"""How loud motors are: their own level, several together, and at a distance.

Sound powers add; over a floor sound spreads through half a sphere (basic acoustics, from
memory): Lp = Lw - 10 log10(2 pi r^2). Two equal sources are 3 dB louder than one.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from phasewright.quantities.value import Value, figure, spread
from phasewright.tables.noise import typical_sound_pressure_dba

HALF_SPHERE_1_M_DB = 10.0 * math.log10(2.0 * math.pi)
"""Sound power over the sound pressure 1 m away over a floor: 7.98 dB."""
POLE_STEP_DB = {2: (8.0, 5.0, 12.0), 4: (0.0, 0.0, 0.0), 6: (-2.0, -4.0, 0.0), 8: (-4.0, -7.0, 0.0)}
"""Louder than four poles by (usual, low, high): fan tip speed (common practice, no source)."""


def together_dba(levels_dba: Iterable[float]) -> float:
    """Level of several independent sources together; at least one must be given."""
    powers = [10.0 ** (level / 10.0) for level in levels_dba]
    if not powers:
        raise ValueError("no sound sources were given")
    return 10.0 * math.log10(sum(powers))


def pressure_at(sound_power_dba: float, distance_m: float) -> float:
    """Sound pressure level at a distance over a floor in the open, without walls."""
    return sound_power_dba - 10.0 * math.log10(2.0 * math.pi * distance_m**2)


def power_of(sound_pressure_dba: float, distance_m: float = 1.0) -> float:
    """Sound power level of a source whose pressure level was given at a distance."""
    return sound_pressure_dba + 10.0 * math.log10(2.0 * math.pi * distance_m**2)


def motor_sound_power(power_w: float, poles: int = 4) -> Value:
    """Sound power level [dB(A)] of a fan-cooled motor, with its spread.

    Raises TableEnds where the table of typical levels ends, ValueError for other poles.
    """
    if poles not in POLE_STEP_DB:
        raise ValueError(f"no sound level is known for {poles} poles")
    at_1_m = typical_sound_pressure_dba(power_w)
    usual, low, high = POLE_STEP_DB[poles]
    return spread(
        power_of(at_1_m.number) + usual,
        power_of(at_1_m.low) + low,
        power_of(at_1_m.high) + high,
        "dB(A)",
        at_1_m.origin,
        at_1_m.source,
    )


def level_at(sources: tuple[Value, ...], distance_m: float) -> Value:
    """Sound pressure level [dB(A)] of motors running together at a distance in the open.

    A wall between takes off 10 to 30 dB more, which is not computed here.
    """
    if distance_m <= 0.0:
        raise ValueError("a distance above zero is needed")

    def at(levels: list[float]) -> float:
        return pressure_at(together_dba(levels), distance_m)

    inputs = {f"source {i + 1}": (v.number, "dB(A)") for i, v in enumerate(sources)}
    return figure(
        at([v.number for v in sources]),
        "dB(A)",
        "machines.noise.level_at",
        inputs | {"distance": (distance_m, "m")},
        "; ".join(dict.fromkeys(v.source for v in sources)),
        low=at([v.low for v in sources]),
        high=at([v.high for v in sources]),
    )
