"""Readings of one supply's impedance beside each other: what narrows what, and what contradicts.

Two that exclude each other are told with both figures and with what may be wrong with each (common
practice, no source). SI units.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from phasewright.quantities.finding import Finding, Remedy
from phasewright.quantities.value import Value
from phasewright.shop.supply import Supply

ROOM = 0.05
"""Share by which volts read at different hours may differ unasked (common practice)."""
OTHER_VOLTS = 0.20
"""Share off the told volts beyond which a reading is of other wires."""
WRONG = {
    "heater test": "another load changed meanwhile, the meter shows too few digits, or it was made "
    "at the end of a longer cable",
    "loop impedance": "it was read at another place, or to earth through an electrode and not "
    "between the wires",
    "prospective fault current": "it is the greatest that the operator tells for the whole "
    "district, or that between three lines",
    "transformer": "it is not this one, or a long line lies between it and the intake",
}
"""What may be wrong with a reading."""


@dataclass(frozen=True, slots=True)
class Impedance:
    """Resistance and reactance [ohm] of a loop, where they are from, whether the feeder is in."""

    resistance: Value
    reactance: Value
    words: str
    with_feeder: bool = False

    @property
    def ohm(self) -> float:
        return math.hypot(self.resistance.number, self.reactance.number)

    @property
    def low_ohm(self) -> float:
        return math.hypot(self.resistance.low, self.reactance.low)

    @property
    def high_ohm(self) -> float:
        return math.hypot(self.resistance.high, self.reactance.high)


def narrowed(chosen: Impedance, other: Impedance) -> Impedance:
    """The chosen reading with its spread narrowed by another of the same loop.

    Its own figure stays; one that would leave nothing changes nothing.
    """
    if chosen.with_feeder != other.with_feeder:
        return chosen
    return replace(
        chosen,
        resistance=_within(chosen.resistance, other.resistance),
        reactance=_within(chosen.reactance, other.reactance),
    )


def _within(of: Value, other: Value) -> Value:
    low, high = max(of.low, other.low), min(of.high, other.high)
    if not low <= of.number <= high:
        return of
    return replace(of, low=low, high=high)


def contradictions(
    known: Sequence[Impedance], supply: Supply, cable_ohm: float | None
) -> tuple[Finding, ...]:
    """Every pair of readings that exclude each other, and a heater test that shows nothing.

    `cable_ohm` is the resistance of the loop of the supply's feeder, None where it is not told
    whole: then only a loop that is smaller behind the feeder than ahead of it is sure to be wrong.
    """
    found = [*_of_test(supply), *_of_volts(supply)]
    for one, other in combinations(known, 2):
        if _apart(one, other, cable_ohm):
            words = (
                f"the {one.words} ({one.ohm:.2g} ohm) and the {other.words} ({other.ohm:.2g} ohm) "
                f"exclude each other; the {one.words} is used. Of the {one.words} it may be that "
                f"{WRONG[one.words]}; of the {other.words}, that {WRONG[other.words]}"
            )
            found.append(_finding("impedances_differ", words, "supply"))
    return tuple(found)


def _apart(one: Impedance, other: Impedance, cable_ohm: float | None) -> bool:
    """Behind the feeder stands a heater test, which shows resistance only: so that is compared."""
    if one.with_feeder == other.with_feeder:
        return one.high_ohm < other.low_ohm or other.high_ohm < one.low_ohm
    behind, ahead = (
        each.resistance for each in ((one, other) if one.with_feeder else (other, one))
    )
    if cable_ohm is None:
        return behind.high < ahead.low
    return behind.high < ahead.low + cable_ohm or ahead.high + cable_ohm < behind.low


def _of_test(supply: Supply) -> Iterator[Finding]:
    test = supply.heater_test
    if test is not None and test.loaded.number >= test.unloaded.number:
        yield _finding(
            "heater_test", "the heater test shows no drop in voltage: another load changed "
            "meanwhile, or the meter shows too few digits", "supply.heater_test",
        )  # fmt: skip


def _of_volts(supply: Supply) -> Iterator[Finding]:
    """Volts that were read against those that are told, and against each other."""
    read, told, test = supply.measured_voltage, supply.voltage.number, supply.heater_test
    if read is None:
        return
    low, high = read.low.number, read.high.number
    if high < (1.0 - OTHER_VOLTS) * told or low > (1.0 + OTHER_VOLTS) * told:
        yield _finding(
            "volts_differ",
            f"the supply is told to have {told:.0f} V and {low:.0f} to {high:.0f} V were read: the "
            "readings are of other wires (a line and the neutral, not two lines), or the volts "
            "told are those of another supply",
            "supply.measured_voltage",
        )
    if test is None:
        return
    without = test.unloaded.number
    if not low * (1.0 - ROOM) <= without <= high * (1.0 + ROOM):
        yield _finding(
            "volts_differ",
            f"{low:.0f} to {high:.0f} V were read over the day, and {without:.0f} V before the "
            "heater test: they were read between other wires, at another place, or with another "
            "meter",
            "supply.heater_test",
        )


def _finding(name: str, words: str, path: str) -> Finding:
    return Finding(
        id=f"supply.{name}", rule="supply_impedance", severity="caution", subject="supply",
        words=words, remedy=Remedy("measure again with other loads off", path),
        source="common practice, no source",
    )  # fmt: skip
