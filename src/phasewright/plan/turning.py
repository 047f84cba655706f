"""Turning points: how far one fact of the shop must move before another plan wins.

Found by solving again with the fact changed, never by a formula: circuits and verdicts are kept,
converters, money and futures are made anew. The value told is one at which the other plan has
taken over; just on this side of it the old plan still wins.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Final, Literal

from phasewright.plan.arrays import Choice, choice_of
from phasewright.plan.facts import facts_anew
from phasewright.plan.options import Option
from phasewright.plan.problem import Solution
from phasewright.plan.search import better, ranked, solve
from phasewright.plan.stakes import NOTHING, kept_problem
from phasewright.plan.study import ChangesIf, StaysIf
from phasewright.plan.terms import terms_of
from phasewright.plan.titles import content_of, title_of
from phasewright.plan.units import chance_of
from phasewright.quantities.errors import NotComputable
from phasewright.quantities.identity import Same
from phasewright.shop.machine import Machine
from phasewright.shop.model import Shop
from phasewright.ways.shared_source import Had

CLOSE = 1.009
"""Neighbours of a turning point are told apart to this ratio."""
STAYS: Final = "stays"
_FACTORS = (0.25, 4.0)
_STEPS = 14
_ASIDE = 0.4
"""How far beyond the crossing of two lines the next look goes, as a share of `CLOSE`."""


@dataclass(frozen=True, slots=True)
class Knob:
    """A fact that may be turned: where it stands, its value now, and how to set another."""

    what: str
    path: str
    value: float
    unit: str
    lowest: float
    highest: float
    turn: Callable[[Shop, float], Shop]


def turning_points(
    choice: Choice, today: Solution, limit: int, tell: Callable[[int, int], None] | None = None
) -> tuple[tuple[ChangesIf, ...], tuple[StaysIf, ...]]:
    """Every turning point within a factor of four of today's facts, nearest first, and the facts
    at whose ends today's plan is still the best.

    `today` is today's best plan; at most `limit` facts are tried, those that bear
    on the money most first. `tell` is called before each with (facts done, facts in all).
    """
    found: list[ChangesIf] = []
    stays: list[StaysIf] = []
    knobs = knobs_of(choice)[:limit]
    for done, knob in enumerate(knobs):
        if tell is not None:
            tell(done, len(knobs))
        ends = [_turning(choice, today, knob, end) for end in (knob.lowest, knob.highest)]
        found += [point for point in ends if isinstance(point, ChangesIf)]
        if all(point == STAYS for point in ends):
            stays.append(
                StaysIf(knob.what, knob.path, knob.value, knob.lowest, knob.highest, knob.unit)
            )
    return tuple(sorted(found, key=lambda p: abs(_log_ratio(p.to, p.from_)))), tuple(stays)


def _log_ratio(to: float, from_: float) -> float:
    return math.log(max(to, 1e-9) / max(from_, 1e-9))


def knobs_of(choice: Choice) -> list[Knob]:
    """The facts whose turning may change the plan by money alone, the weightiest first."""
    shop, terms = choice.facts.shop, choice.terms
    found = [
        _knob(
            "the price of energy", "tariff.energy", terms.energy.number, "per kWh",
            lambda shop, x: replace(shop, tariff=replace(shop.tariff, energy=x)),
        ),
        _knob(
            "the years of the plan", "wishes.plan_years", terms.years, "years",
            lambda shop, x: replace(shop, wishes=replace(shop.wishes, plan_years=x)),
            highest=60.0,
        ),
    ]  # fmt: skip
    if shop.wishes.stay_years is not None:
        found.pop()
    if terms.hour > 0.0:
        found.append(
            _knob(
                "an hour's labour", "wishes.labour", terms.hour, "an hour",
                lambda shop, x: replace(shop, wishes=replace(shop.wishes, labour=x)),
            )
        )  # fmt: skip
    units = {unit.machine: unit for unit in choice.facts.units}
    order = sorted(
        (i for i, machine in enumerate(shop.machines) if machine.name in units),
        key=lambda i: -units[shop.machines[i].name].hours_per_year,
    )
    for i in order:
        machine, unit = shop.machines[i], units[shop.machines[i].name]
        if machine.have == "planned" and 0.0 < chance_of(machine) < 1.0:
            found.append(
                Knob(
                    f"the chance that {machine.name} comes", f"machines[{i}].chance",
                    chance_of(machine), "", 0.01, 0.99, _turner(i, "chance"),
                )
            )  # fmt: skip
        if unit.idle_hours_per_year > 0.0:
            found.append(
                _knob(
                    f"the hours a converter idles in the sessions of {machine.name}",
                    f"machines[{i}].idle_hours_per_year", unit.idle_hours_per_year, "h",
                    _turner(i, "idle_hours_per_year"), highest=8000.0,
                )
            )  # fmt: skip
        if unit.hours_per_year > 0.0:
            found.append(
                _knob(
                    f"the hours {machine.name} turns", f"machines[{i}].hours_per_year",
                    unit.hours_per_year, "h", _turner(i, "hours_per_year"), highest=8000.0,
                )
            )  # fmt: skip
    return found


def _knob(
    what: str, path: str, value: float, unit: str, turn: Callable[[Shop, float], Shop],
    *, highest: float = 1e9,
) -> Knob:  # fmt: skip
    low, high = (value * factor for factor in _FACTORS)
    return Knob(what, path, value, unit, low, min(high, highest), turn)


def _turner(index: int, key: str) -> Callable[[Shop, float], Shop]:
    """Sets one number of one machine."""

    def turn(shop: Shop, x: float) -> Shop:
        machines: list[Machine] = list(shop.machines)
        machines[index] = replace(machines[index], **{key: x})  # type: ignore[arg-type]
        return replace(shop, machines=tuple(machines))

    return turn


Bought = tuple[int | None, Same[Had | None], tuple[Option | None, ...]]
"""What a plan buys today: its shared thing and how it is had, and every unit's option."""


@dataclass(frozen=True, slots=True)
class _Tried:
    """The shop with the fact at `value`: its choice and its best plan.

    `kept` holds the best plan (None where there is none) with today's purchases of another.
    """

    value: float
    choice: Choice
    plan: Solution
    kept: dict[Bought, Solution | None] = field(default_factory=dict, compare=False)

    @property
    def content(self) -> str:
        return content_of(self.choice, self.plan)

    def cost_of(self, other: _Tried) -> float | None:
        """What it costs here to buy today what is best there; what comes later is free."""
        key = _bought(other)
        if key not in self.kept:
            self.kept[key] = _kept(other, self.choice)
        found = self.kept[key]
        return None if found is None else found.expected


def _bought(by: _Tried) -> Bought:
    state, options = by.choice.states[by.plan.state], by.choice.options
    return (
        state.shared, Same(state.had),
        tuple(None if index < 0 else options[index] for index in by.plan.options),
    )  # fmt: skip


def _kept(by: _Tried, choice: Choice) -> Solution | None:
    """The best plan of a choice that buys today what is best there; None where there is none."""
    try:
        return solve(kept_problem(by.choice, by.plan, choice))
    except NotComputable:
        return None


def _turning(
    choice: Choice, today: Solution, knob: Knob, end: float
) -> ChangesIf | Literal["stays"] | None:
    """The turning point between today's value and an end; STAYS where today's plan is the best at
    the end too, None where that cannot be told.

    The plan on the near side costs less there, that on the far side less there; where the lines
    between both costs cross is tried next, a little beyond it and then a little before it.
    """
    if knob.value <= 0.0 or abs(end / knob.value - 1.0) < 1e-6:
        return None
    now, near, far = content_of(choice, today), *_ends(choice, today, knob, end)
    if near is None or far is None or near.content != now:
        return None
    if far.content == now:
        return STAYS
    here, there = near, far
    for step in range(_STEPS):
        if max(near.value / far.value, far.value / near.value) < CLOSE:
            break
        tried = _at(near, knob, _next(near, far, step))
        if tried is None:
            return None
        if tried.content == now:
            near = tried
        else:
            far = tried
    then = title_of(far.choice, far.plan)
    return ChangesIf(
        knob.what, knob.path, knob.value, far.value, knob.unit, then,
        dearer_now=_more(here, far), looked_to=there.value,
        best_there=title_of(there.choice, there.plan), saves_there=_more(there, here),
    )  # fmt: skip


def _more(at: _Tried, other: _Tried) -> float | None:
    """What buying today what is best at `other` costs more than the best, at this value; None
    where it cannot be done there."""
    cost = at.cost_of(other)
    return None if cost is None else max(0.0, cost - at.plan.expected)


def _ends(
    choice: Choice, today: Solution, knob: Knob, end: float
) -> tuple[_Tried | None, _Tried | None]:
    """The fact where it stands and at the end; a fact nobody gave is told to be what it is."""
    told = knob.turn(choice.facts.shop, knob.value) == choice.facts.shop
    here = _Tried(knob.value, choice, today)
    far = _at(here, knob, end)
    if far is None:
        return None, None
    if far.content == here.content:
        return here, far
    return here if told else _at(here, knob, knob.value), far


def _next(near: _Tried, far: _Tried, step: int) -> float:
    """Where to look next between two values, on a scale of ratios."""
    whole = math.log(far.value / near.value)
    share = 0.5
    if step % 3 != 2:  # every third look halves, whatever the lines say
        crossing = _crossing(near, far)
        if crossing is not None:
            aside = _ASIDE * math.log(CLOSE) / abs(whole)
            share = math.log(crossing / near.value) / whole + (aside if step % 3 == 0 else -aside)
            share = min(max(share, aside), 1.0 - aside)
    return near.value * math.exp(share * whole)


def _crossing(near: _Tried, far: _Tried) -> float | None:
    """The value at which both plans cost the same if costs are straight lines between."""
    of_far, of_near = near.cost_of(far), far.cost_of(near)
    if of_far is None or of_near is None:
        return None
    here, there = of_far - near.plan.expected, of_near - far.plan.expected
    if here < 0.0 or there < 0.0 or here + there == 0.0:
        return None
    return near.value + (far.value - near.value) * here / (here + there)


def _at(known: _Tried, knob: Knob, value: float) -> _Tried | None:
    """The best plan with the fact at this value; None where there is none. `known` is another value
    with its best plan, for this one to beat."""
    choice = known.choice
    shop = knob.turn(choice.facts.shop, value)
    again = choice_of(facts_anew(choice.facts, shop), terms_of(shop), choice)
    kept = _kept(known, again)
    found = {_bought(known): kept}
    if kept is not None:
        best = better(again.problem, ranked(again.problem, kept) - NOTHING)
        return _Tried(value, again, kept if best is None else best, found)
    try:
        return _Tried(value, again, solve(again.problem), found)
    except NotComputable:
        return None
