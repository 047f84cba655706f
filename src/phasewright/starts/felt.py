"""What running machines feel of a start: coils that must pull in or hold, and speed that falls.

A coil is asked over whole cycles, for a contactor does not follow a half one. It must pull in at
85 % of its volts at the moment of its own start, and once closed it may let go only below 75 %
(IEC 60947-4-1, from memory); usual ones let go between 65 and 40 % (common practice).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from phasewright.starts.halves import by_cycle, half_of
from phasewright.starts.instants import instants, opened_s
from phasewright.starts.waves import Waves
from phasewright.tables.published import table

Floats = NDArray[np.float64]
CoilLines = Literal["1-2", "line 3"]
PullsIn = Literal["pulls_in", "may_not_pull_in"]
Holds = Literal["holds", "may_drop_out", "drops_out"]
TURNING = 0.5
"""Share of synchronous speed above which a machine counts as running when another starts."""


@dataclass(frozen=True, slots=True)
class Coil:
    """What a machine's contactor coil felt, as shares of its nominal volts.

    `pull_in_ratio` is the lesser of the cycle before and the first cycle after it closed,
    `least_ratio` the least cycle while it was closed. A coil on line 3 has the lower of 2-3, 3-1.
    """

    machine: str
    lines: CoilLines
    pull_in_ratio: float
    least_ratio: float
    pulls_in: PullsIn
    holds: Holds
    words: str


@dataclass(frozen=True, slots=True)
class SpeedFall:
    """How far a running machine fell in speed after another was switched on."""

    machine: str
    by: str
    at_s: float
    before_rpm: float
    least_rpm: float
    fall: float


def coil(waves: Waves, of: int, nominal_v: float, lines: CoilLines = "1-2") -> Coil | None:
    """What the coil of machine `of` felt; None where its contactor never closed."""
    closed = waves.closed_s[of]
    if closed is None:
        return None
    opened = opened_s(waves, of)
    first = half_of(waves, closed)
    stop = len(waves.time_s) if opened is None else half_of(waves, opened)
    volts = waves.volts_v
    rms = _fed_v(waves) if lines == "1-2" else np.minimum(volts[:, 1], volts[:, 2])
    cycles = by_cycle(rms)[first : max(stop - 1, first + 1)] / nominal_v
    before = _before(waves, rms, first, lines) / nominal_v
    least = float(cycles.min()) if cycles.size else before
    ratio = min(before, float(cycles[0])) if cycles.size else before
    name = waves.course.starters[of].machine.name
    pulls, holds = _pulls(ratio), _holds(least)
    words = _words(name, lines, ratio, least, pulls, holds)
    return Coil(name, lines, ratio, least, pulls, holds, words)


def _fed_v(waves: Waves) -> Floats:
    """Rms volts of control circuits on lines 1 and 2: they are fed ahead of a series resistor."""
    if waves.course.resistor is None:
        return waves.volts_v[:, 0]
    bypassed = waves.bypassed_s
    through = waves.time_s < (math.inf if bypassed is None else bypassed)
    return np.where(through, waves.service_v, waves.volts_v[:, 0])


def speed_falls(waves: Waves) -> tuple[SpeedFall, ...]:
    """The speed every running machine loses when another is switched on, until the next switching.

    A machine that does not come back is a matter of its outcome.
    """
    found: list[SpeedFall] = []
    switched = instants(waves)
    for place, each in enumerate(switched):
        if each.what != "machine_on" or not (first := half_of(waves, each.at_s)):
            continue
        later = switched[place + 1].at_s if place + 1 < len(switched) else math.inf
        stop = min(half_of(waves, later), len(waves.time_s)) if math.isfinite(later) else None
        for of, starter in enumerate(waves.course.starters):
            own = waves.speed_rad_s[:, of]
            hertz, poles = waves.course.source.frequency_hz, starter.machine.circuit.poles
            running = own[first - 1] > TURNING * 4.0 * math.pi * hertz / poles
            if (
                starter.machine.name == each.machine
                or not running
                or not _is_on(waves, of, each.at_s)
            ):
                continue
            span = own[first:stop] if stop is None or stop > first else own[first : first + 1]
            before, least = float(own[first - 1]), float(span.min())
            found.append(
                SpeedFall(
                    starter.machine.name, each.machine, each.at_s, before * 30.0 / math.pi,
                    least * 30.0 / math.pi, max(0.0, 1.0 - least / before),
                )
            )  # fmt: skip
    return tuple(found)


def _is_on(waves: Waves, of: int, at_s: float) -> bool:
    closed, opened = waves.closed_s[of], opened_s(waves, of)
    return closed is not None and closed < at_s and (opened is None or opened > at_s)


def _before(waves: Waves, rms: Floats, first: int, lines: CoilLines) -> float:
    """Volts of the cycle before; before the first half cycle line 3 is dead."""
    if first >= 2:
        return float(by_cycle(rms)[first - 2])
    if first == 1:
        return float(rms[0])
    live = lines == "1-2" or waves.course.three_lines
    return waves.course.source.voltage_v if live else 0.0


def _pulls(ratio: float) -> PullsIn:
    limit = table("limits", "coils").number("pull_in")
    return "pulls_in" if ratio >= limit else "may_not_pull_in"


def _holds(ratio: float) -> Holds:
    if ratio >= table("limits", "coils").number("drop_out_high"):
        return "holds"
    low = table("trip_bands", "coils_usual").number("drop_out_low")
    return "may_drop_out" if ratio >= low else "drops_out"


def _words(
    name: str, lines: CoilLines, ratio: float, least: float, pulls: PullsIn, holds: Holds
) -> str:
    where = "lines 1 and 2" if lines == "1-2" else "line 3"
    told = f"A contactor coil of {name} on {where} gets {ratio:.0%} of its volts as it pulls in"
    if pulls == "may_not_pull_in":
        told += ", less than the 85 % it must pull in at: it may chatter"
    told += f", and never less than {least:.0%} while it is closed"
    if holds == "holds":
        return f"{told}: it holds."
    usual = table("trip_bands", "coils_usual")
    high, low = usual.number("drop_out_high"), usual.number("drop_out_low")
    if holds == "drops_out":
        return f"{told}: it drops out."
    most = (
        "most still hold" if least > high else f"usual ones let go between {high:.0%} and {low:.0%}"
    )
    return f"{told}: it may drop out ({most})."
