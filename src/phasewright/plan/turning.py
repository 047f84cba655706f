"""Turning points: how far one fact of the shop must move before another plan wins.

Found by solving again with the fact changed, never by a formula: circuits and verdicts are kept,
converters, money and futures are made anew. The value told is one at which the other plan has
taken over; just on this side of it the old plan still wins.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from phasewright.plan.arrays import Choice, choice_of
from phasewright.plan.facts import facts_anew
from phasewright.plan.search import solve
from phasewright.plan.study import ChangesIf
from phasewright.plan.terms import terms_of
from phasewright.plan.titles import content_of, title_of
from phasewright.plan.units import chance_of
from phasewright.quantities.errors import NotComputable
from phasewright.shop.model import Machine, Shop

CLOSE = 1.009
"""Neighbours of a turning point are told apart to this ratio."""
_FACTORS = (0.25, 4.0)
_STEPS = 14


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


def turning_points(choice: Choice, now: str, limit: int) -> tuple[ChangesIf, ...]:
    """Every turning point within a factor of four of today's facts, nearest first.

    `now` is the content of today's best plan; at most `limit` facts are tried, those that bear
    on the money most first.
    """
    found = []
    for knob in knobs_of(choice)[:limit]:
        for end in (knob.lowest, knob.highest):
            point = _turning(choice, knob, now, end)
            if point is not None:
                found.append(point)
    return tuple(sorted(found, key=lambda p: abs(_log_ratio(p.to, p.from_))))


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


def _turning(choice: Choice, knob: Knob, now: str, end: float) -> ChangesIf | None:
    """The turning point between today's value and an end, or None where the plan stays."""
    if knob.value <= 0.0 or abs(end / knob.value - 1.0) < 1e-6:
        return None
    other = best_with(choice, knob, end)
    if other is None or other[0] == now:
        return None
    near, far, then = knob.value, end, other
    for _ in range(_STEPS):
        if max(near / far, far / near) < CLOSE:
            break
        middle = (near * far) ** 0.5
        tried = best_with(choice, knob, middle)
        if tried is None or tried[0] != now:
            far = middle
            then = tried or then
        else:
            near = middle
    return ChangesIf(knob.what, knob.path, knob.value, far, knob.unit, then[1])


def best_with(choice: Choice, knob: Knob, value: float) -> tuple[str, str] | None:
    """(content, title) of the best plan with the fact at this value; None where there is none."""
    shop = knob.turn(choice.facts.shop, value)
    changed = facts_anew(choice.facts, shop)
    again = choice_of(changed, terms_of(shop), choice.admission)
    try:
        plan = solve(again.problem)
    except NotComputable:
        return None
    return content_of(again, plan), title_of(again, plan)
