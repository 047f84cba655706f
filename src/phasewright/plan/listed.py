"""Which plans are listed: the best, the runners-up, the best of each kind, and doing nothing."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from phasewright.plan.arrays import Choice
from phasewright.plan.options import State, shared_of
from phasewright.plan.problem import Solution
from phasewright.plan.search import best_of_each, rank, solve
from phasewright.plan.titles import content_of
from phasewright.quantities.errors import NotComputable

RUNNERS_UP = 4


@dataclass(frozen=True, slots=True)
class Listed:
    """A plan and why it is listed."""

    plan: Solution
    why: str


def listed_plans(choice: Choice) -> tuple[Listed, ...]:
    """The listed plans, the best first, each content once.

    Besides the best and its runners-up: the best with nothing shared, the best with each kind
    of shared equipment and each of its variants, the best that uses one way throughout, and
    doing nothing.
    """
    ranked = rank(choice.problem, RUNNERS_UP * 3)
    found = [Listed(ranked[0], "best")]
    found += [Listed(plan, "runner-up") for plan in ranked[1:]]
    found = _distinct(choice, found)[: 1 + RUNNERS_UP]
    found += _by_kind(choice)
    found += _one_way(choice)
    found.append(Listed(_nothing(choice), "nothing"))
    return tuple(_distinct(choice, found))


def _distinct(choice: Choice, found: list[Listed]) -> list[Listed]:
    seen: dict[str, Listed] = {}
    for each in found:
        if not _idle_purchase(choice, each.plan):
            seen.setdefault(content_of(choice, each.plan), each)
    return list(seen.values())


def _idle_purchase(choice: Choice, plan: Solution) -> bool:
    """True where something shared is bought now on which nothing hangs now."""
    if choice.states[plan.state].shared is None:
        return False
    return not any(index >= 0 and choice.options[index].shared for index in plan.options)


def _by_kind(choice: Choice) -> list[Listed]:
    named = [_kind(choice, state) for state in choice.states]
    kinds = sorted(set(named))
    numbered = [kinds.index(name) for name in named]
    return [
        Listed(plan, f"best with {kinds[number]}")
        for number, plan in best_of_each(choice.problem, numbered).items()
    ]


def _kind(choice: Choice, state: State) -> str:
    """The kind of a shared state; variants of one way are kinds of their own."""
    on = shared_of(choice.facts, state)
    return state.kind + (f" variant {on.variant}" if on is not None and on.variant else "")


def _one_way(choice: Choice) -> list[Listed]:
    """The best plan for each way used throughout, where it serves every motor."""
    found = []
    units = len(choice.facts.units)
    for way in dict.fromkeys(option.way for option in choice.options if option.way is not None):
        allowed = np.zeros((units, len(choice.options)), dtype=np.bool_)
        for column, option in enumerate(choice.options):
            allowed[:, column] = option.way in (way, None)
        try:
            plan = solve(choice.problem, allowed=allowed)
        except NotComputable:
            continue
        if plan.serves_all:
            found.append(Listed(plan, f"{way} throughout"))
    return found


def _nothing(choice: Choice) -> Solution:
    allowed = np.zeros((len(choice.facts.units), len(choice.options)), dtype=np.bool_)
    allowed[:, -1] = True
    states = np.zeros(len(choice.states), dtype=np.bool_)
    states[0] = True
    return solve(choice.problem, allowed=allowed, states=states)
