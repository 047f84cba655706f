"""What prices and kilowatt-hours come to on the mean of some futures.

Every cost is a sum of prices, of kilowatt-hours times their price and of the owner's own hours, so
that the mean over futures needs no more than the chance of each level of prices and of hours, and
for each level of hours the chance of it times the price of energy that goes with it. Fuel of an
own source is dear where things are dear: it and the days of a hire need the chance of both levels.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from phasewright.plan.options import offer_of
from phasewright.plan.payments import Ledger, is_illustrative
from phasewright.plan.worlds import STEADY, Levels, Unknown, World


@dataclass(frozen=True, slots=True)
class Prospect:
    """`prices`: the chance of each level of illustrative prices (their sum is one). `kwh`: for each
    level of hours its chance times the mean price of a kWh then. `both`: for each level of hours
    the chance of each level of prices with it (their sum is one)."""

    prices: Levels
    kwh: Levels
    both: tuple[Levels, Levels, Levels]

    @property
    def hours(self) -> Levels:
        """The chance of each level of hours."""
        low, usual, high = (sum(each) for each in self.both)
        return low, usual, high

    def rounded(self) -> Prospect:
        """The same to twelve digits, to be compared."""

        def of(levels: Levels) -> Levels:
            low, usual, high = (round(each, 12) for each in levels)
            return low, usual, high

        low, usual, high = map(of, self.both)
        return Prospect(of(self.prices), of(self.kwh), (low, usual, high))


def prospect_of(ledger: Ledger, worlds: Sequence[tuple[World, float]]) -> Prospect:
    """The mean over these worlds, weighed by their probabilities (of any sum)."""
    whole = sum(probability for _, probability in worlds)
    prices, kwh = [0.0, 0.0, 0.0], [0.0, 0.0, 0.0]
    both = [[0.0, 0.0, 0.0] for _ in kwh]
    for world, probability in worlds:
        weight = probability / whole
        prices[world.prices] += weight
        kwh[world.hours] += weight * ledger.terms.energy_at(world.energy)
        both[world.hours][world.prices] += weight
    low, usual, high = map(_levels, both)
    return Prospect(_levels(prices), _levels(kwh), (low, usual, high))


def _levels(of: list[float]) -> Levels:
    return of[0], of[1], of[2]


def unknown_of(ledger: Ledger) -> Unknown:
    """Which of prices, hours and the price of energy are unknown in this shop."""
    energy, facts = ledger.terms.energy, ledger.facts
    items = [item for on in facts.shared for had in on.hads for item in had.items]
    for unit in range(len(facts.units)):
        for option in ledger.options:
            offer = offer_of(facts, unit, option)
            items += () if offer is None else offer.items
    items += [on.hire.day for on in facts.shared if on.hire is not None]
    fuel = [on.energy_price for on in facts.shared if on.energy_price is not None]
    return Unknown(
        prices=any(map(is_illustrative, items)) or not all(price.sure for price in fuel),
        hours=any(
            ratio != STEADY for unit in facts.units for ratio in (unit.hours_ratio, unit.idle_ratio)
        ),
        energy=energy.low < energy.high,
    )
