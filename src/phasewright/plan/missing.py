"""What is worth finding out: facts nobody gave, how to find them, what they would change.

Those that bear on safety come first, then those worth most money, then the rest. Questions are
put as common practice puts them to an owner (no source).
"""

from __future__ import annotations

from dataclasses import replace

from phasewright.plan.arrays import Choice
from phasewright.plan.problem import Solution
from phasewright.plan.safety import safety_questions
from phasewright.plan.stakes import Stake, Turn, ends, stake_of_limit, worth_of
from phasewright.quantities.finding import Missing
from phasewright.quantities.value import Value
from phasewright.shop.model import Machine, Shop
from phasewright.tables.usage import (
    default_chance,
    default_energy_price,
    default_hours_per_year,
    default_idle_ratio,
    default_year,
)

NO_CHANGE = "the cost over the years, not the plan"


def missing_of(choice: Choice, today: Solution) -> tuple[Missing, ...]:
    """Facts nobody gave; the money at stake where it is known."""
    ways = {
        choice.facts.units[unit].id: choice.options[index].way
        for unit, index in enumerate(today.options)
        if index >= 0
    }
    money = [*_energy(choice, today), *_machines(choice, today), *_service(choice, today)]
    rest = [*_supply(choice), *(one for motor in choice.facts.motors for one in motor.missing)]
    return (
        *safety_questions(choice.facts.shop, ways),
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
            "What a kilowatt-hour costs weighs the losses of every plan.",
            "Read the price of one kWh off the last bill, taxes included.",
        )
    ]  # fmt: skip


def _machines(choice: Choice, today: Solution) -> list[Missing]:
    found = []
    known = {unit.machine for unit in choice.facts.units}
    for i, machine in enumerate(choice.facts.shop.machines):
        if machine.name not in known:
            continue
        for key, field, value, words, how in _asked(machine):
            found.append(
                _money_fact(
                    choice, today, field, f"machines[{i}].{key}", value, _turner(i, key),
                    words, how,
                )
            )  # fmt: skip
    return found


def _asked(machine: Machine) -> list[tuple[str, str, Value, str, str]]:
    """(key, field, usual value, words, how) of what a machine's owner did not tell."""
    hours = machine.hours_per_year
    found = []
    if hours is None:
        found.append(
            ("hours_per_year", "hours a year", default_hours_per_year(),
             f"How long {machine.name} turns in a year decides what its losses cost.",
             "In a usual week: minutes of cutting, times the weeks you work.")
        )  # fmt: skip
    if machine.idle_hours_per_year is None:
        turning = default_hours_per_year().number if hours is None else hours
        found.append(
            ("idle_hours_per_year", "idle hours a year", default_idle_ratio().scaled(turning),
             f"A converter left on between the cuts of {machine.name} burns energy for nothing.",
             "Would you leave it on between cuts: always, most of a session, or switch it off?")
        )  # fmt: skip
    if machine.have == "planned" and machine.chance is None:
        found.append(
            ("chance", "chance that it comes", default_chance(),
             f"If {machine.name} surely comes, it is worth buying for today.",
             "Sure, likely or maybe: 0.95, 0.7 or 0.3.")
        )  # fmt: skip
    if machine.have == "planned" and machine.year is None:
        found.append(
            ("year", "years until it comes", default_year(),
             f"The later {machine.name} comes, the less it weighs today.",
             "In how many years do you expect it?")
        )  # fmt: skip
    return [entry for entry in found if entry[2].high > 0.0]


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
            "The main fuse bounds everything that may run at once.",
            "Read the number on the main fuse carrier or breaker.",
            changes if changes != NO_CHANGE else "what may run together beside the machines",
            worth_of(low, high),
        )
    ]  # fmt: skip


def _supply(choice: Choice) -> list[Missing]:
    """Facts of the supply whose worth is not money."""
    supply, site = choice.facts.shop.supply, choice.facts.site
    found: list[Missing] = []
    if not (supply.loop_impedance or supply.heater_test or supply.prospective_fault_current):
        found.append(
            Missing(
                "supply impedance", "supply.heater_test",
                site.resistance_ohm.low, site.resistance_ohm.high,
                "How stiff the supply is decides what may start on it and how far lights dip.",
                "Meter between the two wires at the outlet, other loads off, without and with a "
                "heater of 2 to 3 kW on: note both volts and the heater's amps, five times.",
                "which converter starts, the dip",
            )
        )  # fmt: skip
    if supply.measured_voltage is None:
        found.append(
            Missing(
                "mains volts", "supply.measured_voltage", site.voltage_v.low, site.voltage_v.high,
                "Old plates on high mains run hot, and generated lines stand higher still.",
                "Meter between the two wires at the outlet, by day and in the evening.",
                "idle volts, heat of old motors",
            )
        )  # fmt: skip
    if not supply.other_loads:
        found.append(
            Missing(
                "other loads", "supply.other_loads", 0.0, None,
                "What else runs on this supply takes room from the machines.",
                "List oven, heater, charger, shower with their amps, and which may wait.",
                "room left on the supply",
            )
        )  # fmt: skip
    return found
