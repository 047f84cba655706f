"""What is worth finding out: facts that were assumed and may change the plan."""

from __future__ import annotations

from phasewright.plan.arrays import Choice
from phasewright.plan.study import PlanSide
from phasewright.quantities.finding import Missing


def missing_of(choice: Choice, best: PlanSide) -> tuple[Missing, ...]:
    """Facts nobody gave, with how to find them; those of the supply first."""
    facts = choice.facts
    supply, site = facts.shop.supply, facts.site
    found: list[Missing] = []
    known = supply.loop_impedance or supply.heater_test or supply.prospective_fault_current
    if not known:
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
                "mains volts", "supply.measured_voltage",
                site.voltage_v.low, site.voltage_v.high,
                "Old plates on high mains run hot, and generated lines stand higher still.",
                "Meter between the two wires at the outlet, by day and in the evening.",
                "idle volts, heat of old motors",
            )
        )  # fmt: skip
    if supply.service_rating is None and supply.outlet_rating is None:
        found.append(
            Missing(
                "service rating", "supply.service_rating",
                site.limit.current_a.low, site.limit.current_a.high,
                "The main fuse bounds everything that may run at once.",
                "Read the number on the main fuse carrier or breaker.",
                "what may run together",
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
    for motor in facts.motors:
        found += motor.missing
    for i, machine in enumerate(facts.shop.machines):
        if machine.hours_per_year is None:
            found.append(
                Missing(
                    "hours a year", f"machines[{i}].hours_per_year", 10.0, 700.0,
                    f"How long {machine.name} turns in a year decides what losses cost.",
                    "In a usual week: minutes of cutting, times the weeks you work.",
                    "cost over the years",
                )
            )  # fmt: skip
    return tuple(found)
