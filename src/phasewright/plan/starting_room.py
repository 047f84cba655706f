"""What is left of the supply while one motor of a set that turns together is started.

The start is that of the motor among the set, computed in time where it is; what else of the set
runs beside it is added ampere by ampere, which is never too little. Below zero the main fuse has
to bear it for as long as the start takes: whether it does, the start's own trips say.
"""

from __future__ import annotations

from dataclasses import replace

from phasewright.plan.arrays import Choice
from phasewright.plan.currents import room_inputs, running_sets
from phasewright.plan.options import shared_of
from phasewright.plan.problem import Running, Solution
from phasewright.plan.starts import converter_of, pairs_of
from phasewright.plan.study import PlanCase
from phasewright.quantities.errors import NoOperatingPoint
from phasewright.quantities.value import figure
from phasewright.ways.hardest_start import hardest_start
from phasewright.ways.shared_source import softest


def with_starting_room(
    choice: Choice, plan: Solution, cases: tuple[PlanCase, ...]
) -> tuple[PlanCase, ...]:
    """The cases of a plan, in the order of its running sets, with their room at a start.

    Absent behind a service of three phases, whose phases are filled otherwise at a start, and
    where nothing of the set starts but on a drive.
    """
    on = shared_of(choice.facts, choice.states[plan.state])
    if on is not None and on.phases is not None:
        return cases
    sets = running_sets(choice, plan)
    return tuple(
        _with_room(choice, plan, case, running)
        for case, running in zip(cases, sets, strict=True)
    )  # fmt: skip


def _with_room(choice: Choice, plan: Solution, case: PlanCase, running: Running) -> PlanCase:
    found = {
        choice.facts.units[unit].id: amps
        for unit, option in running
        if (amps := _starting_a(choice, plan, running, (unit, option))) is not None
    }
    if not found:
        return case
    others, room = choice.facts.site.others_a, choice.admission.room_a(plan.state)
    most = max(case.supply_current_a.number, *found.values())
    left = figure(
        room - most, "A", "plan.starting_room.with_starting_room",
        room_inputs(choice, plan)
        | {f"{motor} starts": (amps, "A") for motor, amps in found.items()},
        "the start that draws most, largest rms of a cycle, beside what runs",
        low=room - most - (others.high - others.number),
    )  # fmt: skip
    return replace(case, room_left_starting_a=left)


def _starting_a(
    choice: Choice, plan: Solution, running: Running, one: tuple[int, int]
) -> float | None:
    """Amps of the supply while this one starts and the rest of the set runs."""
    hung = choice.admission.hung(running)
    if one[0] in hung:
        amps = _on_converter_a(choice, plan, hung, one[0])
        beside = tuple(each for each in running if each[0] not in hung)
    else:
        state = choice.states[plan.state]
        service = choice.ledger.service(one[0], choice.options[plan.options[one[0]]], state)
        soft = service is None or service.dip_ratio is None
        amps = None if soft or service is None else service.starting_current_a
        beside = tuple(each for each in running if each != one)
    if amps is None:
        return None
    rest = choice.admission.supply_a(plan.state, beside) if beside else 0.0
    return amps + rest


def _on_converter_a(
    choice: Choice, plan: Solution, hung: tuple[int, ...], unit: int
) -> float | None:
    """What the supply sees of a start on the plan's converter, all others of the set on it."""
    converter = converter_of(choice, plan)
    if converter is None:
        return None
    motors = pairs_of(choice, hung)
    name = choice.facts.units[unit].id
    own = next((each for each in motors if each[1].motor.id == name), None)
    if own is None:
        return None
    tasks = tuple(choice.facts.units[each].task for each in hung)
    source = softest(converter.source, converter.feeders, tasks)
    try:
        return hardest_start(source, converter.converter, motors, own).supply_a
    except NoOperatingPoint:
        return None
