"""The payments of one plan in every future, from the same ledger the search's arrays come from."""

from __future__ import annotations

import math
from functools import lru_cache
from statistics import NormalDist

from phasewright.plan.arrays import Choice
from phasewright.plan.payments import Entry, Kind, negated
from phasewright.plan.problem import Solution
from phasewright.plan.study import LifetimeCost, YearSide
from phasewright.quantities.value import figure

KINDS: tuple[Kind, ...] = ("buys", "labour", "energy", "upkeep")
_QUANTILES = 15
_NINETY = 2.0 * NormalDist().inv_cdf(0.95)


def entries_in(choice: Choice, plan: Solution, future: int) -> list[Entry]:
    """Every payment of a plan in one future."""
    ledger, end = choice.ledger, choice.terms.years
    coming = choice.futures
    epoch = int(coming.epoch[future])
    arrival = choice.arrival[epoch]
    state = choice.states[plan.state]
    found = [*ledger.hold(state, 0.0), *ledger.hold_yearly(state, 0.0, end)]
    for unit, index in enumerate(plan.options):
        if index >= 0:
            option = choice.options[index]
            found += ledger.begin(unit, option, 0.0)
            found += ledger.run(unit, option, state, 0.0, arrival)
    if coming.epoch_years[epoch] is None:
        return found
    later = plan.later[future]
    then = choice.states[later.state]
    found += negated(ledger.hold_yearly(state, arrival, end))
    found += ledger.hold_yearly(then, arrival, end)
    if not (then.shared == state.shared and then.had == state.had):
        found += [*ledger.drop(state, arrival), *ledger.hold(then, arrival)]
    for unit, index in enumerate(later.options):
        if index < 0:
            continue
        option, before = choice.options[index], plan.options[unit]
        start = arrival
        if before < 0:
            start = max(float(coming.years[unit]), arrival)
            found += ledger.begin(unit, option, start)
        elif before != index:
            found += ledger.end(unit, choice.options[before], arrival)
            found += ledger.begin(unit, option, arrival)
        found += ledger.run(unit, option, then, start, end)
    return found


def years_of(choice: Choice, plan: Solution) -> tuple[YearSide, ...]:
    """Expected payments year by year, not discounted."""
    last = math.ceil(choice.terms.years)
    table = {year: dict.fromkeys(("buys", "energy", "upkeep", "labour"), 0.0)
             for year in range(last + 1)}  # fmt: skip
    for future, chance in enumerate(choice.futures.probability):
        for entry in entries_in(choice, plan, future):
            year = min(math.ceil(entry.payment.year), last)
            table[year][entry.kind] += float(chance) * entry.payment.amount
    return tuple(
        YearSide(year, row["buys"], row["energy"], row["upkeep"], row["labour"])
        for year, row in table.items()
    )


def lifetime_cost(choice: Choice, plan: Solution, price_range: tuple[float, float]) -> LifetimeCost:
    """Expected cost worth today, and its 5th and 95th percentile over futures and unknowns.

    Unknown are the illustrative prices (all together, each within its own low and high;
    `price_range` is that of a payment without one of its own) and the price of energy where it
    was assumed. Each is log-normal with its low and high as 5th and 95th percentile; the two
    are independent of each other and of who comes.
    """
    energy = choice.terms.energy
    watts: tuple[float, ...] = (1.0,)  # energy that costs nothing is known to cost nothing
    if energy.number > 0.0:
        watts = _factors(energy.low / energy.number, energy.high / energy.number)
    found: list[tuple[float, float]] = []
    by_kind = dict.fromkeys(KINDS, 0.0)
    for future, chance in enumerate(choice.futures.probability):
        entries = entries_in(choice, plan, future)
        worth = choice.ledger.worth
        bought = _by_range(choice, entries, price_range)
        burnt = worth(entry for entry in entries if entry.kind == "energy")
        whole = worth(entries)
        for kind in KINDS:
            by_kind[kind] += float(chance) * worth(e for e in entries if e.kind == kind)
        for step in range(_QUANTILES):
            dearer = sum(
                ((_factors(*ends)[step] - 1.0) * amount for ends, amount in bought.items()), 0.0
            )
            for tariff in watts:
                cost = whole + dearer + (tariff - 1.0) * burnt
                found.append((cost, float(chance) / (_QUANTILES * len(watts))))
    found.sort()
    low, high = _percentile(found, 0.05), _percentile(found, 0.95)
    low, high = min(low, plan.expected), max(high, plan.expected)
    expected = figure(
        plan.expected, "", "plan.flows.lifetime_cost",
        {f"{kind}, worth today": (amount, "") for kind, amount in by_kind.items()},
        "present value of every payment of the ledger, weighed over the futures",
        low=low, high=high,
    )  # fmt: skip
    return LifetimeCost(expected, low, high)


def _by_range(
    choice: Choice, entries: list[Entry], usual: tuple[float, float]
) -> dict[tuple[float, float], float]:
    """Worth today of what rests on illustrative prices, by their low and high over the amount."""
    ranges = dict.fromkeys(e.price_range or usual for e in entries if e.illustrative)
    return {
        ends: choice.ledger.worth(
            e for e in entries if e.illustrative and (e.price_range or usual) == ends
        )
        for ends in ranges
        if ends[0] < ends[1]
    }


@lru_cache(maxsize=256)
def _factors(low: float, high: float) -> tuple[float, ...]:
    """Equally likely factors of a log-normal with this 5th and 95th percentile."""
    if low >= high:
        return (1.0,)
    middle = 0.5 * (math.log(low) + math.log(high))
    deviation = (math.log(high) - math.log(low)) / _NINETY
    normal = NormalDist(middle, deviation)
    return tuple(math.exp(normal.inv_cdf((k + 0.5) / _QUANTILES)) for k in range(_QUANTILES))


def _percentile(sorted_costs: list[tuple[float, float]], share: float) -> float:
    total = 0.0
    for cost, weight in sorted_costs:
        total += weight
        if total >= share - 1e-12:
            return cost
    return sorted_costs[-1][0]
