"""The payments of one plan in every future, from the same ledger the search's arrays come from."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from phasewright.plan.arrays import Choice
from phasewright.plan.payments import Entry, Kind, negated
from phasewright.plan.problem import Solution
from phasewright.plan.study import CostParts, LifetimeCost, PaidSoFar, YearSide
from phasewright.plan.worlds import World
from phasewright.quantities.value import figure

KINDS: tuple[Kind, ...] = ("buys", "labour", "energy", "upkeep")


Part = tuple[str, tuple[float, ...], World]
"""A part of a plan's payments: what it is, of what and when, in which world."""


def parts_in(choice: Choice, plan: Solution, future: int) -> list[tuple[float, Part]]:
    """The parts of a plan's payments in one of the futures of the choice, each with its sign."""
    coming, end = choice.futures, choice.terms.years
    world = coming.worlds[future]
    prices = World(prices=world.prices)  # things do not depend on hours or energy
    epoch = int(coming.epoch[future])
    arrival, now = choice.arrival[epoch], plan.state
    found: list[tuple[float, Part]] = [
        (1.0, ("hold", (now, 0.0), prices)),
        (1.0, ("hold_yearly", (now, 0.0, end), world)),
    ]
    for unit, index in enumerate(plan.options):
        if index >= 0:
            found.append((1.0, ("begin", (unit, index, 0.0), prices)))
            found.append((1.0, ("run", (unit, index, now, 0.0, arrival), world)))
    if coming.epoch_years[epoch] is None:
        return found
    later = plan.later[choice.seen[future]]
    then = later.state
    found.append((-1.0, ("hold_yearly", (now, arrival, end), world)))
    found.append((1.0, ("hold_yearly", (then, arrival, end), world)))
    one, other = choice.states[now], choice.states[then]
    if not (one.shared == other.shared and one.had == other.had):
        found.append((1.0, ("drop", (now, arrival), prices)))
        found.append((1.0, ("hold", (then, arrival), prices)))
    for unit, index in enumerate(later.options):
        if index < 0:
            continue
        before, start = plan.options[unit], arrival
        if before < 0:
            start = max(float(coming.years[unit]), arrival)
            found.append((1.0, ("begin", (unit, index, start), prices)))
        elif before != index:
            found.append((1.0, ("end", (unit, before, arrival), prices)))
            found.append((1.0, ("begin", (unit, index, arrival), prices)))
        found.append((1.0, ("run", (unit, index, then, start, end), world)))
    return found


def entries_of(choice: Choice, part: Part) -> list[Entry]:
    """The payments of a part."""
    what, of, world = part
    ledger = replace(choice.ledger, world=world)
    states, options, first = choice.states, choice.options, int(of[0])
    if what == "hold":
        return ledger.hold(states[first], of[1])
    if what == "drop":
        return ledger.drop(states[first], of[1])
    if what == "hold_yearly":
        return ledger.hold_yearly(states[first], of[1], of[2])
    option = options[int(of[1])]
    if what == "begin":
        return ledger.begin(first, option, of[2])
    if what == "end":
        return ledger.end(first, option, of[2])
    return ledger.run(first, option, states[int(of[2])], of[3], of[4])


def entries_in(choice: Choice, plan: Solution, future: int) -> list[Entry]:
    """Every payment of a plan in one of the futures of the choice."""
    found: list[Entry] = []
    for sign, part in parts_in(choice, plan, future):
        entries = entries_of(choice, part)
        found += entries if sign > 0.0 else negated(entries)
    return found


Sums = tuple[Mapping[Kind, float], Mapping[tuple[int, Kind], float]]
"""Worth today by kind, and amounts by year and kind."""


def _sums(choice: Choice, part: Part) -> Sums:
    """The sums of a part's payments, each part reckoned once for all plans."""
    found: Sums | None = choice.sums.get(part)
    if found is None:
        last = math.ceil(choice.terms.years)
        worth: dict[Kind, float] = {}
        years: dict[tuple[int, Kind], float] = {}
        for entry in entries_of(choice, part):
            worth[entry.kind] = worth.get(entry.kind, 0.0) + choice.ledger.worth((entry,))
            at = (min(math.ceil(entry.payment.year), last), entry.kind)
            years[at] = years.get(at, 0.0) + entry.payment.amount
        found = choice.sums[part] = (worth, years)
    return found


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a plan costs in one future: worth today by kind of payment, and year by year."""

    chance: float
    by_kind: Mapping[Kind, float]
    by_year: Mapping[tuple[int, Kind], float]

    @property
    def cost(self) -> float:
        return sum(self.by_kind.values())


def outcomes_of(choice: Choice, plan: Solution) -> tuple[Outcome, ...]:
    """What the plan costs in every future."""
    found = []
    for future, chance in enumerate(choice.futures.probability.tolist()):
        by_kind = dict.fromkeys(KINDS, 0.0)
        by_year: dict[tuple[int, Kind], float] = {}
        for sign, part in parts_in(choice, plan, future):
            worth, years = _sums(choice, part)
            for kind, amount in worth.items():
                by_kind[kind] += sign * amount
            for at, amount in years.items():
                by_year[at] = by_year.get(at, 0.0) + sign * amount
        found.append(Outcome(chance, by_kind, by_year))
    return tuple(found)


def sold_at_end(choice: Choice, plan: Solution) -> float:
    """What the plan's things are expected to sell for at its end, not discounted."""
    total = 0.0
    for future, chance in enumerate(choice.futures.probability.tolist()):
        for sign, part in parts_in(choice, plan, future):
            total += chance * sign * _sold(choice, part)
    return total


def _sold(choice: Choice, part: Part) -> float:
    """What a part of a plan sells for at the end, each part reckoned once for all plans."""
    key = ("sold", part)
    found: float | None = choice.sums.get(key)
    if found is None:
        end = choice.terms.years
        found = choice.sums[key] = -sum(
            (entry.payment.amount for entry in entries_of(choice, part)
             if entry.kind == "buys" and entry.payment.year == end), 0.0
        )  # fmt: skip
    return found


def years_of(choice: Choice, outcomes: tuple[Outcome, ...]) -> tuple[YearSide, ...]:
    """Expected payments year by year, not discounted, and what has been paid until then."""
    last = math.ceil(choice.terms.years)
    table = {year: dict.fromkeys(KINDS, 0.0) for year in range(last + 1)}
    for each in outcomes:
        for (year, kind), amount in each.by_year.items():
            table[year][kind] += each.chance * amount
    paid = [0.0] * len(outcomes)
    found = []
    for year, row in table.items():
        for k, each in enumerate(outcomes):
            paid[k] += sum(each.by_year.get((year, kind), 0.0) for kind in KINDS)
        so_far = _so_far(outcomes, paid)
        found.append(
            YearSide(year, row["buys"], row["energy"], row["upkeep"], row["labour"], so_far)
        )
    return tuple(found)


def _so_far(outcomes: tuple[Outcome, ...], paid: list[float]) -> PaidSoFar:
    """What has been paid, expected and with its 5th and 95th percentile over the futures."""
    costs = sorted((amount, each.chance) for amount, each in zip(paid, outcomes, strict=True))
    expected = sum(amount * chance for amount, chance in costs)
    return PaidSoFar(
        expected, min(_percentile(costs, 0.05), expected), max(_percentile(costs, 0.95), expected)
    )


def lifetime_cost(outcomes: tuple[Outcome, ...]) -> LifetimeCost:
    """Expected cost worth today, and its 5th and 95th percentile over the futures."""
    costs = sorted((each.cost, each.chance) for each in outcomes)
    low, high = _percentile(costs, 0.05), _percentile(costs, 0.95)
    amounts = {kind: sum(each.chance * each.by_kind[kind] for each in outcomes) for kind in KINDS}
    by_kind = {f"{kind}, worth today": (amount, "") for kind, amount in amounts.items()}
    expected = sum(amounts.values())
    low, high = min(low, expected), max(high, expected)
    whole = figure(
        expected, "", "plan.flows.lifetime_cost", by_kind,
        "present value of every payment of the ledger, weighed over the futures",
        low=low, high=high,
    )  # fmt: skip
    return LifetimeCost(whole, low, high, CostParts(**amounts))


def _percentile(sorted_costs: list[tuple[float, float]], share: float) -> float:
    total = 0.0
    for cost, weight in sorted_costs:
        total += weight
        if total >= share - 1e-12:
            return cost
    return sorted_costs[-1][0]
