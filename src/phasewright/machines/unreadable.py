"""Power of a motor without a readable plate: from frame, shaft, winding ohms and idle amps.

Every fact gives a power with its spread; together they are weighed by how narrow each is (on
the scale of logarithms, the inverse square of the spread), and where they stand further apart
than their spreads allow, the spread of the answer grows by as much and the owner is asked.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import combinations

from phasewright.machines.measured_size import (
    from_frame,
    from_no_load_current,
    from_winding,
)
from phasewright.machines.notes import Notes
from phasewright.machines.speed import poles_for
from phasewright.quantities.codes import Region
from phasewright.quantities.value import Value, spread
from phasewright.shop.plate import Plate

INTERVAL = 2.0 * 1.645
"""Standard deviations between the 5th and the 95th percentile of a normal spread."""


@dataclass(frozen=True, slots=True)
class _Fact:
    name: str
    words: str
    key: str
    power: Value


def power_from_measures(
    plate: Plate, region: Region, frequency_hz: float, notes: Notes
) -> Value | None:
    """Shaft power [W] from whatever was measured on a motor without a power, or None.

    A plate with a current has its power from there and is not taken from here.
    """
    if plate.current:
        return None
    poles = _poles(plate, frequency_hz)
    facts = _facts(plate, poles, region, notes)
    if not facts:
        return None
    value = weighed([fact.power for fact in facts])
    for one, other in combinations(facts, 2):
        if one.power.low > other.power.high or other.power.low > one.power.high:
            _ask_which(one, other, notes)
            ends = (one.power.number, other.power.number, value.low, value.high)
            value = replace(value, low=min(ends), high=max(ends))
    notes.take("power", "plate.power", value)
    notes.wanted(
        "power", "plate.power", value, "The power was taken from the size of the motor.",
        "Clean the plate; else shaft height and diameter with a rule, one winding in ohms with "
        "the links off, the no-load current: each narrows it.",
        "every figure of this motor",
    )  # fmt: skip
    return value


def weighed(powers: list[Value]) -> Value:
    """One power from several: weights by the inverse square of the spread, on logarithms.

    The spread shrinks with every fact that agrees and grows by the root of the mean square of
    their differences (over their own spreads) where they do not.
    """
    if len(powers) == 1:
        return powers[0]
    logs = [math.log(of.number) for of in powers]
    widths = [math.log(of.high / of.low) / INTERVAL for of in powers]
    weights = [1.0 / (width * width) for width in widths]
    middle = sum(w * x for w, x in zip(weights, logs, strict=True)) / sum(weights)
    apart = sum(w * (x - middle) ** 2 for w, x in zip(weights, logs, strict=True))
    scale = math.sqrt(max(1.0, apart / (len(powers) - 1)))
    half = 0.5 * INTERVAL * scale / math.sqrt(sum(weights))
    source = "; ".join(of.source for of in powers)
    return spread(
        math.exp(middle), math.exp(middle - half), math.exp(middle + half), "W", "table", source
    )


def _poles(plate: Plate, frequency_hz: float) -> int | None:
    if not plate.speed:
        return None
    hertz = frequency_hz if plate.frequency is None else plate.frequency.number
    return poles_for(max(value.number for value in plate.speed), hertz)


def _facts(plate: Plate, poles: int | None, region: Region, notes: Notes) -> list[_Fact]:
    frame = from_frame(plate, poles, region, notes)
    winding = from_winding(plate)
    idle = from_no_load_current(plate, poles, region)
    found = (
        ("frame", "the frame", "plate.shaft_height", frame),
        ("winding", "the winding's resistance", "plate.winding_resistance", winding),
        ("no_load", "the no-load current", "plate.no_load_current", idle),
    )
    return [
        _Fact(name, words, key, power) for name, words, key, power in found if power is not None
    ]


def _ask_which(one: _Fact, other: _Fact, notes: Notes) -> None:
    notes.ask(
        f"{one.name}_and_{other.name}_differ", "caution",
        f"{one.words.capitalize()} speaks for {one.power.number:.0f} W, {other.words} for "
        f"{other.power.number:.0f} W: "
        "measure again (one winding, links off; idle amps on three real phases).",
        found=other.power.number, allowed=one.power.number, unit="W", key=other.key,
    )  # fmt: skip
