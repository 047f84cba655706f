"""What is worth finding out: facts nobody gave, how to find them, what they would change.

Those that bear on safety come first, then those worth most money, then the rest. Questions are
put as common practice puts them to an owner (no source).
"""

from __future__ import annotations

from dataclasses import replace

from phasewright.plan.arrays import Choice
from phasewright.plan.problem import Solution
from phasewright.plan.questions import (
    ENERGY,
    SERVICE,
    asked_of,
    place_questions,
    supply_questions,
)
from phasewright.plan.safety import safety_questions
from phasewright.plan.stakes import Stake, Turn, ends, stake_of_limit, worth_of
from phasewright.quantities.finding import Missing
from phasewright.quantities.value import Value
from phasewright.shop.model import Shop
from phasewright.tables.usage import (
    default_energy_price,
)

NO_CHANGE = "the cost over the years, not the plan"


def missing_of(choice: Choice, today: Solution) -> tuple[Missing, ...]:
    """Facts nobody gave; the money at stake where it is known."""
    facts = choice.facts
    shop = facts.shop
    ways = {
        choice.facts.units[unit].id: choice.options[index].way
        for unit, index in enumerate(today.options)
        if index >= 0
    }
    money = [*_energy(choice, today), *_machines(choice, today), *_service(choice, today)]
    rest = supply_questions(shop.supply, facts.site.resistance_ohm, facts.site.voltage_v)
    rest += place_questions(shop)
    rest += [one for motor in facts.motors for one in motor.missing]
    return (
        *safety_questions(shop, ways),
        *sorted(money, key=lambda fact: -(fact.worth or 0.0)),
        *rest,
    )


def _told(low: Stake, high: Stake) -> str:
    """What the ends of a fact would change, in words."""
    if low.title is None and high.title is None:
        return NO_CHANGE
    parts = [
        f"at its {end}: {stake.title[0].lower()}{stake.title[1:]}"
        + (
            ""
            if stake.loss is not None
            else ", for today's plan would leave motors without power there"
        )
        for end, stake in (("lowest", low), ("highest", high))
        if stake.title is not None
    ]
    return "the plan, " + "; ".join(parts)


def _money_fact(
    choice: Choice, today: Solution, field: str, path: str, value: Value, turn: Turn,
    words: str, how: str,
) -> Missing:  # fmt: skip
    low, high = ends(choice, today, value, turn)
    return Missing(
        field, path, value.low, value.high, words, how, _told(low, high), worth_of(low, high)
    )


def _energy(choice: Choice, today: Solution) -> list[Missing]:
    shop = choice.facts.shop
    if shop.tariff.energy is not None:
        return []
    return [
        _money_fact(
            choice, today, "price of energy", "tariff.energy", default_energy_price(shop.region),
            lambda shop, x: replace(shop, tariff=replace(shop.tariff, energy=x)),
            *ENERGY,
        )
    ]  # fmt: skip


def _machines(choice: Choice, today: Solution) -> list[Missing]:
    found = []
    known = {unit.machine for unit in choice.facts.units}
    for i, machine in enumerate(choice.facts.shop.machines):
        if machine.name not in known:
            continue
        for key, field, value, words, how in asked_of(machine):
            found.append(
                _money_fact(
                    choice, today, field, f"machines[{i}].{key}", value, _turner(i, key),
                    words, how,
                )
            )  # fmt: skip
    return found


def _turner(index: int, key: str) -> Turn:
    """Sets one number of one machine."""

    def turn(shop: Shop, x: float) -> Shop:
        machines = list(shop.machines)
        machines[index] = replace(machines[index], **{key: x})  # type: ignore[arg-type]
        return replace(shop, machines=tuple(machines))

    return turn


def _service(choice: Choice, today: Solution) -> list[Missing]:
    supply, limit = choice.facts.shop.supply, choice.facts.site.limit
    if supply.service_rating is not None or supply.outlet_rating is not None:
        return []
    value = limit.current_a
    low, high = (stake_of_limit(choice, today, amps) for amps in (value.low, value.high))
    changes = _told(low, high)
    return [
        Missing(
            "service rating", "supply.service_rating", value.low, value.high,
            *SERVICE,
            changes if changes != NO_CHANGE else "what may run together beside the machines",
            worth_of(low, high),
        )
    ]  # fmt: skip
