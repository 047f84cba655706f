"""Which plans are listed: the best, the runners-up, the best of each kind, and doing nothing."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from phasewright.plan.arrays import Choice
from phasewright.plan.options import State, shared_of
from phasewright.plan.problem import Flags, Solution
from phasewright.plan.search import best_of_each, rank, solve
from phasewright.plan.titles import content_of
from phasewright.quantities.errors import NotComputable
from phasewright.ways.catalogue import SHARED_NAMES

RUNNERS_UP = 4


@dataclass(frozen=True, slots=True)
class Listed:
    """A plan and why it is listed."""

    plan: Solution
    why: str


def listed_plans(choice: Choice) -> tuple[Listed, ...]:
    """The listed plans, the best first, each content once.

    Besides the best and its runners-up: the best with nothing shared, the best with each kind
    of shared equipment and each variant of it, the best that uses one way throughout, and doing
    nothing.
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
    found: list[Listed] = []
    for number, plan in best_of_each(choice.problem, numbered).items():
        best: Solution | None = plan
        if _idle_purchase(choice, plan):
            best = _with_one_on_it(choice, np.array(numbered) == number)
        if best is not None:
            found.append(Listed(best, f"best with {kinds[number]}"))
    return found


def _with_one_on_it(choice: Choice, states: Flags) -> Solution | None:
    """The best plan with one of these states (S,) on which a motor hangs, where it would be
    cheaper to hang none; None where none can."""
    way = choice.states[int(np.flatnonzero(states)[0])].way
    on_it = np.array([option.way == way for option in choice.options])
    found = []
    for unit in np.flatnonzero(choice.problem.now):
        allowed = np.ones((len(choice.facts.units), len(choice.options)), dtype=np.bool_)
        allowed[unit] = on_it
        try:
            found.append(solve(choice.problem, allowed=allowed, states=states))
        except NotComputable:
            continue
    able = [plan for plan in found if not _idle_purchase(choice, plan)]
    return min(
        able,
        key=lambda plan: (plan.unserved_now, plan.unserved_later, plan.expected),
        default=None,
    )


def _kind(choice: Choice, state: State) -> str:
    """The kind of a state, with the name of what is shared where its way has several; variants in
    which a motor brings things of its own are kinds too."""
    on = shared_of(choice.facts, state)
    if on is None:
        return state.kind
    first = next(each for each in choice.facts.shared if each.way == on.way)
    kind = state.kind if on.name == first.name else on.name
    return kind + (f" variant {on.variant}" if on.variant else "")


def _one_way(choice: Choice) -> list[Listed]:
    """The best plan for each way, or variant of what is shared, used throughout, where it serves
    every motor."""
    found = []
    units = len(choice.facts.units)
    kinds = [_kind(choice, state) for state in choice.states]
    for way in dict.fromkeys(option.way for option in choice.options if option.way is not None):
        allowed = np.zeros((units, len(choice.options)), dtype=np.bool_)
        for column, option in enumerate(choice.options):
            allowed[:, column] = option.way == way
        for name in dict.fromkeys(kinds) if way in SHARED_NAMES else (way,):
            of_name = np.array(
                [
                    way not in SHARED_NAMES or (state.way == way and kind == name)
                    for state, kind in zip(choice.states, kinds, strict=True)
                ]
            )
            if not of_name.any():
                continue
            try:
                plan = solve(choice.problem, allowed=allowed, states=of_name)
            except NotComputable:
                continue
            found.append(Listed(plan, f"{name} throughout"))
    return found


def _nothing(choice: Choice) -> Solution:
    allowed = np.zeros((len(choice.facts.units), len(choice.options)), dtype=np.bool_)
    allowed[:, -1] = True
    states = np.zeros(len(choice.states), dtype=np.bool_)
    states[0] = True
    return solve(choice.problem, allowed=allowed, states=states)
