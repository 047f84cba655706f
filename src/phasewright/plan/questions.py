"""Questions put to an owner about what the shop file does not say (common practice, no source)."""

from __future__ import annotations

from phasewright.plan.safety import safety_questions
from phasewright.quantities.finding import Missing
from phasewright.quantities.value import Value
from phasewright.quantities.words import place_words
from phasewright.shop.machine import Machine
from phasewright.shop.machine_questions import LOAD_KIND_WORDS
from phasewright.shop.model import Shop
from phasewright.shop.supply import Feeder, Supply
from phasewright.tables.loads import load_kind
from phasewright.tables.usage import (
    default_chance,
    default_energy_price,
    default_hours_per_year,
    default_idle_ratio,
    default_service_a,
    default_year,
)

ENERGY = (
    "What a kilowatt-hour costs weighs the losses of every plan.",
    "Read the price of one kWh off the last bill, taxes included.",
)
SERVICE = (
    "The main fuse bounds everything that may run at once.",
    "Read the number on the main fuse carrier or breaker.",
)
PERHAPS = "the cost over the years, perhaps the plan"


def questions_of(shop: Shop, resistance_ohm: Value, voltage_v: Value) -> tuple[Missing, ...]:
    """Everything that may be worth finding out before a plan is made; nothing is weighed yet."""
    found = list(safety_questions(shop, None))
    if shop.tariff.energy is None:
        found.append(_plain("price of energy", "tariff.energy", default_energy_price(shop.region),
                            *ENERGY))  # fmt: skip
    for i, machine in enumerate(shop.machines):
        found += [
            _plain(field, f"machines[{i}].{key}", value, words, how)
            for key, field, value, words, how in asked_of(machine)
        ]
    found += _of_loads(shop)
    if shop.supply.service_rating is None and shop.supply.outlet_rating is None:
        usual = default_service_a(shop.region, shop.supply.country)
        found.append(_plain("service rating", "supply.service_rating", usual, *SERVICE))
    found += place_questions(shop)
    return (*found, *supply_questions(shop.supply, resistance_ohm, voltage_v))


def _of_loads(shop: Shop) -> list[Missing]:
    """What the trade asks of every kind of load whose start and torque nobody told."""
    found = []
    for path, _, motor in shop.each_motor():
        asks = load_kind(motor.load.kind).asks
        if not asks or motor.load.start is not None or motor.load.torque is not None:
            continue
        kind = LOAD_KIND_WORDS[motor.load.kind]
        found.append(
            Missing(
                "what it drives", f"{path}.load", None, None,
                f"Taken is what is usual for: {kind}. Yours may differ, and change the plan.",
                " ".join(asks), "its torque at the start and in work, which ways suit it",
            )
        )  # fmt: skip
    return found


def _plain(field: str, path: str, value: Value, words: str, how: str) -> Missing:
    return Missing(field, path, value.low, value.high, words, how, PERHAPS)


def asked_of(machine: Machine) -> list[tuple[str, str, Value, str, str]]:
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


def place_questions(shop: Shop) -> list[Missing]:
    """The feeder of every place where a machine stands and none is told.

    Where all machines stand in one place the supply's own feeder may be the one that is meant.
    """
    named = {machine.place for machine in shop.machines}
    if len(named) == 1 and shop.supply.feeder is not None:
        return []
    found = []
    for i, place in enumerate(shop.places):
        feeder, where = place.feeder, place_words(place.name)
        if place.name not in named:
            continue
        for key, told in (
            ("", feeder),
            (".length", feeder is None or feeder.length),
            (".conductor", feeder is None or feeder.conductor),
        ):
            if not told and not (key and feeder is not None and _no_length(feeder)):
                found.append(_place_question(f"places[{i}].feeder{key}", where))
    return found


def _no_length(feeder: Feeder) -> bool:
    return feeder.length is not None and feeder.length.number == 0.0


def _place_question(path: str, where: str) -> Missing:
    return Missing(
        f"feeder of {where}", path, None, None,
        f"How long and how thick the cable to {where} is decides what may start there and what "
        "may run at once; until it is known it counts as none at all.",
        "Pace out its length one way, read the size off its sheath, and look how it is laid.",
        "what starts there, the dip, where a converter stands best",
    )  # fmt: skip


def supply_questions(supply: Supply, resistance_ohm: Value, voltage_v: Value) -> list[Missing]:
    """Facts of the supply nobody gave; the values are those taken in their place."""
    found: list[Missing] = []
    if not (supply.loop_impedance or supply.heater_test or supply.prospective_fault_current):
        found.append(
            Missing(
                "supply impedance", "supply.heater_test",
                resistance_ohm.low, resistance_ohm.high,
                "How stiff the supply is decides what may start on it and how far lights dip.",
                "Meter between the two wires at the outlet, other loads off, without and with a "
                "heater of 2 to 3 kW on: note both volts and the heater's amps, five times.",
                "which converter starts, the dip",
            )
        )  # fmt: skip
    if supply.measured_voltage is None:
        found.append(
            Missing(
                "mains volts", "supply.measured_voltage", voltage_v.low, voltage_v.high,
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
