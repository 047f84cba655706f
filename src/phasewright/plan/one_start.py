"""One start of a shop to be looked at: its course from rest, and what the shop says beside it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import get_args

from phasewright.network.supply import Source
from phasewright.plan.arrays import Choice, choice_of, where_it_hangs
from phasewright.plan.facts import Facts, facts_of
from phasewright.plan.line_starts import hardest_on_lines
from phasewright.plan.listed import listed_plans
from phasewright.plan.options import shared_of
from phasewright.plan.problem import Solution
from phasewright.plan.starts import Hardest, hardest_case, supply_devices
from phasewright.plan.terms import terms_of
from phasewright.plan.titles import plan_id, title_of
from phasewright.quantities.codes import WayName
from phasewright.quantities.errors import UsageError
from phasewright.quantities.value import Value
from phasewright.shop.model import Shop
from phasewright.starts.course import Course
from phasewright.starts.overload import Overload
from phasewright.starts.trips import Device
from phasewright.starts.verdict import Shopside
from phasewright.ways.converter_design import Design
from phasewright.ways.converter_parts import capacitor_class_v
from phasewright.ways.converter_start import own_course
from phasewright.ways.hardest_start import whole_course
from phasewright.ways.line_start import whole_on_lines
from phasewright.ways.on_two_lines import Linked, linked, lone_course
from phasewright.ways.way import Judgement

STEPS_PER_CYCLE = 200
"""Steps of a course that is looked at."""
BY_CAPACITORS = ("static_converter", "capacitor_run")
ON_THREE_LINES = ("electronic_converter", "utility_service")
IN_TIME = ("rotary_converter", *BY_CAPACITORS, *ON_THREE_LINES, "direct")
"""Ways of which a start can be followed in time."""


@dataclass(frozen=True, slots=True)
class OneStart:
    """A start to be run: the motor's id, its course, what the shop adds to the verdict, and what
    it stands on in words."""

    motor: str
    course: Course
    side: Shopside
    words: str


def one_start(shop: Shop, motor: str, way: str, plan: str | None = None) -> OneStart:
    """The start of a motor by a way: on what the shop shares that of the listed plan named, else of
    the best listed one that has it so.

    Raises UsageError for a motor, way or plan that is not there, and for a motor that cannot start
    so, with what is allowed.
    """
    if way not in IN_TIME:
        known = "is a way, but starts by it are not followed in time" if way in get_args(
            WayName
        ) else "is no way of powering"  # fmt: skip
        raise UsageError(f"{way!r} {known}. Give one of: {', '.join(IN_TIME)}.")
    facts = facts_of(shop)
    unit = _unit(facts, motor)
    if way in BY_CAPACITORS or way == "direct":
        if plan is not None:
            raise UsageError(f"--plan goes with what is shared: by {way} a motor starts alone.")
        return _direct(facts, unit) if way == "direct" else _by_capacitors(facts, unit, way)
    choice = choice_of(facts, terms_of(facts.shop))
    id, solution = _plan_with(choice, unit, way, plan)
    if way in ON_THREE_LINES:
        return _on_three_lines(choice, unit, id, solution)
    return _on_converter(choice, unit, id, solution)


def _unit(facts: Facts, motor: str) -> int:
    ids = [unit.id for unit in facts.units]
    if motor not in ids:
        raise UsageError(f"there is no motor {motor!r}. Give one of: {', '.join(ids)}.")
    return ids.index(motor)


def _judgement(facts: Facts, unit: int, way: str) -> Judgement:
    return next(each for each in facts.judgements[unit] if each.way == way)


def _by_capacitors(facts: Facts, unit: int, way: str) -> OneStart:
    """A motor that starts by capacitors of its own."""
    judged, task = _judgement(facts, unit, way), facts.units[unit].task
    motor, start = linked(task.motor), judged.figures.start_capacitance_f
    if not isinstance(motor, Linked) or start is None:
        why = " ".join(reason.words for reason in judged.reasons)
        raise UsageError(f"{task.motor.id} does not start by {way}: {why}")
    run = judged.figures.run_capacitance_f
    run_f = run.number if isinstance(run, Value) else 0.0
    source = facts.site_at(facts.units[unit].place).source
    course = lone_course(source, motor, run_f, start.number, steps=STEPS_PER_CYCLE)
    side = Shopside(
        nominal_v=source.voltage_v,
        devices=supply_devices(facts),
        overloads={motor.motor.id: Overload(motor.circuit.rated_current_a)},
        duty=motor.load.duty.number,
    )
    what = f"{1e6 * start.number:.0f} uF to start"
    if run_f:
        what += f" and {1e6 * run_f:.0f} uF to run"
    return OneStart(motor.motor.id, course, side, f"{motor.motor.id} alone, by {what}.")


def _direct(facts: Facts, unit: int) -> OneStart:
    """A motor straight on a supply of three lines, nothing else running."""
    judged, task = _judgement(facts, unit, "direct"), facts.units[unit].task
    motor = linked(task.motor)
    if not isinstance(motor, Linked) or judged.figures.starts is None:
        why = " ".join(reason.words for reason in judged.reasons)
        raise UsageError(f"{task.motor.id} is not switched straight on three lines: {why}")
    if task.machine.starter == "star_delta":
        raise UsageError(
            f"{task.motor.id} starts by its star-delta starter, which is two runs: its figures "
            "stand in the study, and no one course shows it."
        )
    source = facts.site_at(facts.units[unit].place).source
    course = whole_on_lines(source, ((task, motor),), (task, motor), steps=STEPS_PER_CYCLE)
    side = _side_on_lines(source, (motor,), motor, supply_devices(facts))
    return OneStart(motor.motor.id, course, side, f"{motor.motor.id} alone on the supply's lines.")


def _plan_with(choice: Choice, unit: int, way: str, plan: str | None) -> tuple[str, Solution]:
    """The listed plan named, else the best one, that has a unit on what is shared by a way."""
    name, words = choice.facts.units[unit].id, way.replace("_", " ")
    able = [
        (plan_id(choice, each.plan), there)
        for each in listed_plans(choice)
        if _hangs(choice, there := where_it_hangs(choice, each.plan, unit), unit, way)
    ]
    if not able:
        judged = _judgement(choice.facts, unit, way)
        refused = judged.verdict == "refused"
        why = " ".join(reason.words for reason in judged.reasons) if refused else ""
        raise UsageError(f"No listed plan has {name} on a {words} now. {why}".strip())
    known = [(id, each) for id, each in able if plan in (None, id)]
    if not known:
        ids = ", ".join(id for id, _ in able)
        raise UsageError(f"{plan!r} is no plan with {name} on a {words}. Give: {ids}.")
    return known[0]


def _hangs(choice: Choice, plan: Solution, unit: int, way: str) -> bool:
    """Whether the unit hangs in a plan on what is shared by a way."""
    index = plan.options[unit]
    return (
        index >= 0 and choice.options[index].shared and choice.states[plan.state].way == way
    )  # fmt: skip


def _on_converter(choice: Choice, unit: int, id: str, solution: Solution) -> OneStart:
    """A motor in its hardest case on the converter of a plan."""
    facts, name = choice.facts, choice.facts.units[unit].id
    case, on = hardest_case(choice, solution, unit), shared_of(facts, choice.states[solution.state])
    if case is None or on is None or on.design is None:
        raise UsageError(f"{name} does not start from the lines of this plan by itself.")
    start = on.design.start
    own = own_course(
        case.source, case.converter, start.resistor_ohm, pony=start.method == "pony_motor",
        steps=STEPS_PER_CYCLE,
    )  # fmt: skip
    course = whole_course(case.source, case.converter, own, case.motors, case.one)
    side = _side(facts, case, on.design)
    return OneStart(name, course, side, f"{title_of(choice, solution)} ({id}).")


def _on_three_lines(choice: Choice, unit: int, id: str, solution: Solution) -> OneStart:
    """A motor in its hardest case on what makes the three lines of a plan."""
    name, title = choice.facts.units[unit].id, title_of(choice, solution)
    case = hardest_on_lines(choice, solution, unit)
    if case is None:
        raise UsageError(
            f"{name} is not switched straight on in this plan ({title}, {id}): a start by the "
            "source's ramp, by resistors or by a starter of its own is not followed."
        )
    course = whole_on_lines(case.lines, case.motors, case.one, steps=STEPS_PER_CYCLE)
    motors = tuple(pair[1] for pair in (*case.beside, *case.at_once, case.one))
    side = _side_on_lines(case.lines, motors, case.one[1], ())
    return OneStart(name, course, side, f"{title} ({id}), on its own three lines.")


def _side_on_lines(
    lines: Source, motors: tuple[Linked, ...], one: Linked, devices: tuple[Device, ...]
) -> Shopside:
    """What the shop says of fuses and relays; coils are taken to hang on these lines."""
    return Shopside(
        nominal_v=lines.voltage_v,
        devices=devices,
        overloads={each.motor.id: Overload(each.circuit.rated_current_a) for each in motors},
        duty=one.load.duty.number,
    )


def _side(facts: Facts, case: Hardest, of: Design) -> Shopside:
    """What the shop says of fuses, relays and capacitors."""
    motors = [pair[1] for pair in (*case.beside, *case.at_once, case.one)]
    return Shopside(
        nominal_v=facts.site.source.voltage_v,
        devices=supply_devices(facts),
        overloads={each.motor.id: Overload(each.circuit.rated_current_a) for each in motors},
        run_capacitor_v=capacitor_class_v(max(of.idle.line_voltages_v)),
        start_capacitor_v=case.source.voltage_v if of.converter.start_f else None,
        duty=case.one[1].load.duty.number,
    )
