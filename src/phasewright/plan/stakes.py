"""What a missing fact is worth: the plan is solved again at the fact's lowest and highest value.

The stake at an end is what keeping today's plan costs more there than the plan that is best there;
what is bought later may follow either way. The worth of the fact is the expected stake, with the
ends taken as 5th and 95th percentile and weights of 0.185, 0.63 and 0.185 on low, expected and
high (D. L. Keefer, S. E. Bodily, Three-point approximations for continuous random variables,
Management Science 29 (1983), from memory). At the expected value nothing is at stake.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from phasewright.plan.arrays import Choice, choice_of
from phasewright.plan.facts import Facts, facts_of
from phasewright.plan.problem import Problem, Solution
from phasewright.plan.search import better, ranked, solve
from phasewright.plan.terms import terms_of
from phasewright.plan.titles import content_of, title_of
from phasewright.plan.units import units_of
from phasewright.plan.worlds import END_WEIGHT
from phasewright.quantities.errors import NotComputable
from phasewright.quantities.value import Value, exact
from phasewright.shop.model import Shop

NOTHING = 1e-6
"""Plans whose costs differ by less are equal: rounding."""


@dataclass(frozen=True, slots=True)
class Stake:
    """What the facts at one end would change: the plan that wins there and the money at stake.

    `title` is None where today's plan wins there too; `loss` is None where today's plan could
    not be kept there.
    """

    title: str | None
    loss: float | None


def worth_of(low: Stake, high: Stake) -> float | None:
    """Expected money at stake; None where an end cannot be told in money."""
    if low.loss is None or high.loss is None:
        return None
    return END_WEIGHT * (low.loss + high.loss)


def stake_of_money(choice: Choice, today: Solution, shop: Shop) -> Stake:
    """The stake with the money facts (price of energy, hours, chances) of a changed shop."""
    motors = {motor.id: motor for motor in choice.facts.motors}
    return stake(choice, today, replace(choice.facts, shop=shop, units=units_of(shop, motors)))


def stake_of_limit(choice: Choice, today: Solution, amps: float) -> Stake:
    """The stake if the service let through so many amperes.

    Where the limit kept a way or a converter from being tried at all, all is judged again.
    """
    facts = choice.facts
    value = exact(amps, "A", "assumed", "end of the spread")
    limit = replace(facts.site.limit, current_a=value)
    if amps > facts.site.limit.current_a.number and _kept_out(facts):
        shop = replace(facts.shop, supply=replace(facts.shop.supply, service_rating=value))
        wider = choice_of(facts_of(shop), choice.terms)
        best = solve(wider.problem)
        if content_of(wider, best) == content_of(choice, today):
            return Stake(None, 0.0)
        gain = today.expected - best.expected if today.serves_all else None
        return Stake(title_of(wider, best), gain)
    return stake(choice, today, replace(facts, site=replace(facts.site, limit=limit)))


def stake(choice: Choice, today: Solution, facts: Facts) -> Stake:
    """The stake with changed facts of the same converters and ways."""
    again = choice_of(facts, terms_of(facts.shop), choice)
    try:
        kept = solve(kept_problem(choice, today, again))
    except NotComputable:
        return Stake(title_of(again, solve(again.problem)), None)
    best = better(again.problem, ranked(again.problem, kept) - NOTHING)
    if best is None or _same_now(choice, today, again, best):
        return Stake(None, 0.0)
    if (kept.unserved_now, kept.unserved_later) != (best.unserved_now, best.unserved_later):
        return Stake(title_of(again, best), None)
    return Stake(title_of(again, best), max(0.0, kept.expected - best.expected))


def _same_now(choice: Choice, today: Solution, again: Choice, best: Solution) -> bool:
    return content_of(choice, today) == content_of(again, best)


def kept_problem(choice: Choice, today: Solution, again: Choice) -> Problem:
    """The problem with today's purchases held: other states and options are not to be had now.

    The hours a converter idles are no purchase, so its other habits stay open.
    """
    was, problem = choice.states[today.state], again.problem
    held = np.array([(s.shared, s.had) == (was.shared, was.had) for s in again.states])
    first = problem.first.copy()
    for unit, index in enumerate(today.options):
        if index >= 0:
            column = again.option_index(choice.options[index])
            others = np.arange(first.shape[3]) != column
            first[:, :, unit, others] = np.inf
    return replace(problem, hold=np.where(held, problem.hold, np.inf), first=first)


def _kept_out(facts: Facts) -> bool:
    """Whether the limit refused a way or a converter before any plan was made."""
    judged = (r.code for js in facts.judgements for j in js for r in j.reasons)
    tried = (
        r.code for on in facts.shared for one in on.served if isinstance(one, tuple) for r in one
    )
    return any(code == "supply_too_small" for code in (*judged, *tried))


Turn = Callable[[Shop, float], Shop]


def ends(choice: Choice, today: Solution, value: Value, turn: Turn) -> tuple[Stake, Stake]:
    """The stakes at the lowest and the highest value of a money fact."""
    shop = choice.facts.shop
    return (
        stake_of_money(choice, today, turn(shop, value.low)),
        stake_of_money(choice, today, turn(shop, value.high)),
    )
