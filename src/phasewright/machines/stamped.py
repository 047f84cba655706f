"""Volts, amps, speeds and connection as stamped, gathered into what belongs together."""

from __future__ import annotations

import math
from dataclasses import dataclass

from phasewright.shop.plate import Plate

ROOT3 = math.sqrt(3.0)
SAME_RANGE = 1.30
"""Stamped volts closer than this ratio are a range of one connection (220-240, 208-230)."""


@dataclass(frozen=True, slots=True)
class Group:
    """One stamped voltage, or a range of one connection, with its stamped currents."""

    low_v: float
    high_v: float
    currents_a: tuple[float, ...]

    @property
    def volts(self) -> float:
        """The middle of the range."""
        return 0.5 * (self.low_v + self.high_v)

    @property
    def amps(self) -> float | None:
        """The largest stamped current of this group: the one a relay must let pass."""
        return max(self.currents_a) if self.currents_a else None


def speeds_of(plate: Plate) -> tuple[float, ...]:
    """Stamped speeds [rpm] that differ by more than the two frequencies of one motor would."""
    numbers = [value.number for value in plate.speed]
    if len(numbers) == 2 and max(numbers) / min(numbers) < 1.27:
        return (numbers[0],)
    return tuple(numbers)


def voltage_groups(plate: Plate) -> tuple[Group, ...]:
    """Stamped volts gathered into ranges, low first, each with its stamped current."""
    volts = [value.number for value in plate.voltage]
    amps = [value.number for value in plate.current]
    paired = len(amps) == len(volts)
    order = sorted(range(len(volts)), key=lambda i: volts[i])
    gathered: list[list[int]] = []
    for i in order:
        if gathered and volts[i] / volts[gathered[-1][0]] < SAME_RANGE:
            gathered[-1].append(i)
        else:
            gathered.append([i])
    falling = sorted(amps, reverse=True)
    out: list[Group] = []
    for place, members in enumerate(gathered):
        low, high = volts[members[0]], volts[members[-1]]
        if len(gathered) == 1:
            own = tuple(amps)
        elif paired and len(gathered) == 2 and len(amps) == 2:
            own = (falling[place],)
        elif paired:
            own = tuple(amps[i] for i in members)
        else:
            own = ()
        out.append(Group(low, high, own))
    if len(out) == 2 and len(amps) == 1:
        out = list(_share_one_current(plate, out[0], out[1], amps[0]))
    return tuple(out)


def _share_one_current(plate: Plate, low: Group, high: Group, amps: float) -> tuple[Group, Group]:
    """One current and two voltages: it belongs where the power comes out credible.

    Without a power it is taken as that of the higher voltage (the larger motor of the two).
    """
    ratio = high.volts / low.volts
    if len(plate.power) != 1:
        return Group(low.low_v, low.high_v, (amps * ratio,)), Group(
            high.low_v, high.high_v, (amps,)
        )
    product = plate.power[0].number / (ROOT3 * amps)
    at_low, at_high = product / low.volts, product / high.volts
    usual = usual_apparent_share(plate.power[0].number)
    belongs_low = abs(math.log(at_low / usual)) <= abs(math.log(at_high / usual))
    first, second = (amps, amps / ratio) if belongs_low else (amps * ratio, amps)
    return Group(low.low_v, low.high_v, (first,)), Group(high.low_v, high.high_v, (second,))


def usual_apparent_share(power_w: float) -> float:
    """Power factor times efficiency of a usual four-pole motor (a rough judge, not a figure)."""
    return min(0.80, max(0.30, 0.60 + 0.14 * math.log10(power_w / 1000.0)))


def two_speed_stamp(stamp: str | None) -> bool:
    """True for stamps that only a pole-changing winding has."""
    return plain_stamp(stamp) in {"D/YY", "YY/D"}


def plain_stamp(stamp: str | None) -> str:
    """A stamped connection in the letters D and Y."""
    text = (stamp or "").upper().replace(" ", "").replace("\N{GREEK CAPITAL LETTER DELTA}", "D")
    return text.replace("STAR", "Y").replace("DELTA", "D").replace("WYE", "Y")
