"""What a plan gives an owner beside turning motors, and what it asks them to give up."""

from __future__ import annotations

from phasewright.plan.arrays import Choice
from phasewright.plan.options import offer_of, shared_of
from phasewright.plan.problem import Solution
from phasewright.quantities.codes import ON_A_DRIVE
from phasewright.quantities.finding import Reason


def _by_way(choice: Choice, plan: Solution) -> dict[str | None, list[str]]:
    found: dict[str | None, list[str]] = {}
    for unit, index in enumerate(plan.options):
        if index >= 0:
            found.setdefault(choice.options[index].way, []).append(choice.facts.units[unit].id)
    return found


def gives_of(choice: Choice, plan: Solution) -> tuple[Reason, ...]:
    """What the plan gives, named for the motors it holds for (common practice, no source)."""
    ways = _by_way(choice, plan)
    found = []
    if driven := ways.get("drive_per_motor"):
        found.append(
            Reason(
                "speed", f"Speed by a knob, a soft start and a set stop for {', '.join(driven)}."
            )
        )
    if stepped := ways.get("step_up_drive"):
        found.append(
            Reason(
                "speed_at_high_volts",
                f"Speed by a knob and a soft start for {', '.join(stepped)}, the winding left as "
                "it is.",
            )
        )
    on = shared_of(choice.facts, choice.states[plan.state])
    if on is not None and (hung := ways.get(on.way)):
        found += [Reason(each.code, f"{', '.join(hung)}: {each.words}") for each in on.said.gives]
    return tuple(found)


def owner_hours(choice: Choice, plan: Solution) -> float:
    """Hours a year the owner stands at what the plan's motors of today ask for [h]."""
    total = 0.0
    for unit, index in enumerate(plan.options):
        offer = None if index < 0 else offer_of(choice.facts, unit, choice.options[index])
        if offer is not None:
            total += offer.owner_h_per_hour * choice.facts.units[unit].hours_per_year
    return total


def gives_up_of(choice: Choice, plan: Solution) -> tuple[Reason, ...]:
    """What the plan asks to give up."""
    ways = _by_way(choice, plan)
    found = []
    if left := ways.get(None):
        found.append(Reason("not_powered", f"Left without power: {', '.join(left)}."))
    if driven := [name for way in ON_A_DRIVE for name in ways.get(way, [])]:
        found.append(
            Reason(
                "switches_moved",
                f"{', '.join(driven)}: the old motor switches go to the drive's inputs.",
            )
        )
    if swapped := ways.get("motor_swap"):
        found.append(
            Reason(
                "old_motor",
                f"{', '.join(swapped)}: the motor or the winding that is there; a single-phase "
                "motor has one speed, reverses from rest only and hums.",
            )
        )
    on = shared_of(choice.facts, choice.states[plan.state])
    if on is not None:
        found += on.said.gives_up
    hours = owner_hours(choice, plan)
    if hours > 0.0:
        found.append(
            Reason("owner_time", f"About {hours:.2g} h of your time a year at the selector.")
        )
    had = choice.states[plan.state].had
    if had is not None:
        found += had.gives_up
    if single := ways.get("capacitor_run", []) + ways.get("static_converter", []):
        found.append(Reason("less_torque", f"{', '.join(single)}: part of the motor's torque."))
    return tuple(found)
