"""The payments of one plan in every future, from the same ledger the search's arrays come from."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from phasewright.plan.arrays import Choice
from phasewright.plan.payments import Entry, Kind, negated
from phasewright.plan.problem import Solution
from phasewright.plan.study import LifetimeCost, YearSide
from phasewright.quantities.value import figure

KINDS: tuple[Kind, ...] = ("buys", "labour", "energy", "upkeep")


def entries_in(choice: Choice, plan: Solution, future: int) -> list[Entry]:
    """Every payment of a plan in one of the futures of the choice."""
    coming, end = choice.futures, choice.terms.years
    ledger = replace(choice.ledger, world=coming.worlds[future])
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
    later = plan.later[choice.seen[future]]
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


Paid = tuple[tuple[float, list[Entry]], ...]
"""The chance of every future with every payment in it."""


def paid_in(choice: Choice, plan: Solution) -> Paid:
    """Every payment of a plan in every future."""
    chances = choice.futures.probability.tolist()
    return tuple(
        (chance, entries_in(choice, plan, future)) for future, chance in enumerate(chances)
    )


def years_of(choice: Choice, paid: Paid) -> tuple[YearSide, ...]:
    """Expected payments year by year, not discounted."""
    last = math.ceil(choice.terms.years)
    table = {year: dict.fromkeys(("buys", "energy", "upkeep", "labour"), 0.0)
             for year in range(last + 1)}  # fmt: skip
    for chance, entries in paid:
        for entry in entries:
            year = min(math.ceil(entry.payment.year), last)
            table[year][entry.kind] += chance * entry.payment.amount
    return tuple(
        YearSide(year, row["buys"], row["energy"], row["upkeep"], row["labour"])
        for year, row in table.items()
    )


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a plan costs in one future: worth today by kind of payment."""

    chance: float
    by_kind: Mapping[Kind, float]

    @property
    def cost(self) -> float:
        return sum(self.by_kind.values())


def outcomes_of(choice: Choice, paid: Paid) -> tuple[Outcome, ...]:
    """What the plan costs in every future."""
    found = []
    for chance, entries in paid:
        by_kind = dict.fromkeys(KINDS, 0.0)
        for entry in entries:
            by_kind[entry.kind] += choice.ledger.worth((entry,))
        found.append(Outcome(chance, by_kind))
    return tuple(found)


def lifetime_cost(outcomes: tuple[Outcome, ...]) -> LifetimeCost:
    """Expected cost worth today, and its 5th and 95th percentile over the futures."""
    costs = sorted((each.cost, each.chance) for each in outcomes)
    low, high = _percentile(costs, 0.05), _percentile(costs, 0.95)
    by_kind = {
        f"{kind}, worth today": (sum(each.chance * each.by_kind[kind] for each in outcomes), "")
        for kind in KINDS
    }
    expected = sum(amount for amount, _ in by_kind.values())
    low, high = min(low, expected), max(high, expected)
    whole = figure(
        expected, "", "plan.flows.lifetime_cost", by_kind,
        "present value of every payment of the ledger, weighed over the futures",
        low=low, high=high,
    )  # fmt: skip
    return LifetimeCost(whole, low, high)


def _percentile(sorted_costs: list[tuple[float, float]], share: float) -> float:
    total = 0.0
    for cost, weight in sorted_costs:
        total += weight
        if total >= share - 1e-12:
            return cost
    return sorted_costs[-1][0]
