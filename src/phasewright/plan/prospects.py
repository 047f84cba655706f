"""What prices and kilowatt-hours come to on the mean of some futures.

Every cost is a sum of prices and of kilowatt-hours times their price, so that the mean over futures
needs no more than the chance of each level of prices, and for each level of hours the chance of
it times the price of energy that goes with it. Fuel of an own source is dear where things are dear:
it and the days of a hire need the chance of both levels.
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
    low, usual, high = ((each[0], each[1], each[2]) for each in both)
    return Prospect((prices[0], prices[1], prices[2]), (kwh[0], kwh[1], kwh[2]), (low, usual, high))


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
