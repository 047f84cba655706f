"""Volts and amps as stamped, gathered into what belongs to one connection."""

from __future__ import annotations

import math
from dataclasses import dataclass

from phasewright.shop.plate import Plate

ROOT3 = math.sqrt(3.0)
SAME_RANGE = 1.30
"""Stamped volts (or amps) closer than this ratio are a range of one connection (220-240)."""
SAME_VOLTS = 0.015
"""A stamped end this near to what the other voltage implies is meant by it (220 with 380)."""
STEPS = (ROOT3, 2.0)


@dataclass(frozen=True, slots=True)
class Group:
    """One stamped voltage, or a range of one connection, with its stamped currents.

    `volts` is the rated voltage of the connection, within `low_v` to `high_v`. Where every end
    of a range has its own current, `currents_a` stands in the order low, high.
    """

    low_v: float
    high_v: float
    currents_a: tuple[float, ...]
    rated_v: float | None = None

    @property
    def volts(self) -> float:
        """The rated voltage: what the other connection implies, else the middle of the range."""
        return 0.5 * (self.low_v + self.high_v) if self.rated_v is None else self.rated_v

    @property
    def amps(self) -> float | None:
        """The stamped current at `volts`: between the two of a range, or the largest there is."""
        if not self.currents_a:
            return None
        if len(self.currents_a) == 2 and self.high_v > self.low_v:
            low, high = self.currents_a
            return low + (high - low) * (self.volts - self.low_v) / (self.high_v - self.low_v)
        return max(self.currents_a)


def voltage_groups(plate: Plate) -> tuple[Group, ...]:
    """Stamped volts gathered into ranges, low first, each with its stamped current."""
    volts = [value.number for value in plate.voltage]
    amps = [value.number for value in plate.current]
    gathered = _gathered(volts)
    currents = _paired(volts, amps, gathered)
    out = [
        Group(volts[members[0]], volts[members[-1]], own)
        for members, own in zip(gathered, currents, strict=True)
    ]
    if len(out) == 2 and len(amps) == 1:
        out = list(_share_one_current(plate, out[0], out[1], amps[0]))
    return _implied(out)


def _gathered(numbers: list[float]) -> list[list[int]]:
    """Places of the numbers, rising, those within one range together."""
    found: list[list[int]] = []
    for i in sorted(range(len(numbers)), key=lambda i: numbers[i]):
        if found and numbers[i] / numbers[found[-1][0]] < SAME_RANGE:
            found[-1].append(i)
        else:
            found.append([i])
    return found


def _paired(
    volts: list[float], amps: list[float], gathered: list[list[int]]
) -> list[tuple[float, ...]]:
    """The currents of every range of volts: one each in its own place, else high amps first."""
    if len(gathered) == 1:
        return [tuple(amps)]
    if len(amps) == len(volts) and len(volts) > 2:
        return [tuple(amps[i] for i in members) for members in gathered]
    ranges = _gathered(amps)[::-1]
    if len(ranges) != len(gathered):
        return [()] * len(gathered)
    return [tuple(amps[i] for i in reversed(members)) for members in ranges]


def _implied(groups: list[Group]) -> tuple[Group, ...]:
    """Rated volts within a range: those that the other voltage implies by star or halves."""
    if len(groups) != 2:
        return tuple(groups)
    low, high = groups
    fitting = [step for step in STEPS if low.low_v * step <= high.high_v * (1.0 + SAME_VOLTS)
               and low.high_v * step >= high.low_v * (1.0 - SAME_VOLTS)]  # fmt: skip
    if not fitting or (low.low_v < low.high_v) == (high.low_v < high.high_v):
        return low, high
    step = min(fitting, key=lambda s: abs(math.log(high.volts / low.volts / s)))
    if low.low_v < low.high_v:
        return _rated(low, high.volts / step), high
    return low, _rated(high, low.volts * step)


def _rated(group: Group, volts: float) -> Group:
    for stamped in (group.low_v, group.high_v):
        if abs(stamped / volts - 1.0) < SAME_VOLTS:
            volts = stamped
    return Group(group.low_v, group.high_v, group.currents_a, volts)


def _share_one_current(plate: Plate, low: Group, high: Group, amps: float) -> tuple[Group, Group]:
    """One current and two voltages: it belongs where the power comes out credible.

    Without a power it is taken as that of the higher voltage (the larger motor of the two).
    """
    low, high = _implied([low, high])
    ratio = high.volts / low.volts
    belongs_low = False
    if len(plate.power) == 1:
        product = plate.power[0].number / (ROOT3 * amps)
        at_low, at_high = product / low.volts, product / high.volts
        usual = usual_apparent_share(plate.power[0].number)
        belongs_low = abs(math.log(at_low / usual)) <= abs(math.log(at_high / usual))
    first, second = (amps, amps / ratio) if belongs_low else (amps * ratio, amps)
    return Group(low.low_v, low.high_v, (first,), low.rated_v), Group(
        high.low_v, high.high_v, (second,), high.rated_v
    )


def usual_apparent_share(power_w: float) -> float:
    """Power factor times efficiency of a usual four-pole motor (a rough judge, not a figure)."""
    return min(0.80, max(0.30, 0.60 + 0.14 * math.log10(power_w / 1000.0)))
