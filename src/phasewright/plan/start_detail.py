"""The starts of the answer's plan looked at closely: heat, how often an hour, what runs beside.

And of its converter: the largest motors it starts, and what it does the wrong way round.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from phasewright.plan.arrays import Choice
from phasewright.plan.converter_limits import largest_of, wrong_direction_of
from phasewright.plan.options import offer_of
from phasewright.plan.problem import Solution
from phasewright.plan.start_beside import beside_of
from phasewright.plan.start_study import Span, StartsPerHour
from phasewright.plan.start_told import WHERE
from phasewright.plan.starts import HOW, converter_of, hardest_case
from phasewright.plan.study import PlanSide, PlanStart
from phasewright.quantities.finding import Finding
from phasewright.quantities.value import Value, figure
from phasewright.rules.starts import starts_per_hour, winding_heat
from phasewright.running.network import MachineState, Settled
from phasewright.starts.brief import brief
from phasewright.starts.heat import StartHeat, start_heat
from phasewright.starts.starts_an_hour import StartsAnHour, start_capacitor_on_s, starts_an_hour
from phasewright.starts.waves import Waves, waves
from phasewright.ways.conditions import typical_ratio
from phasewright.ways.figures import Range
from phasewright.ways.hardest_start import hardest_waves
from phasewright.ways.on_converter import state_of, together
from phasewright.ways.on_two_lines import Linked, linked, loaded, lone_course

RULERS = {"windings": "its windings", "start_capacitor": "its start capacitor"}


@dataclass(frozen=True, slots=True)
class Followed:
    """A start run again to be looked at: its waves, its place in them, what is started, and the
    machine's point at its usual load (None where it does not hold it)."""

    found: Waves
    place: int
    motor: Linked
    working: MachineState | None
    own_capacitor: bool


def looked_at(
    choice: Choice, plan: Solution, side: PlanSide, name: str
) -> tuple[PlanSide, tuple[Finding, ...]]:
    """A plan with its starts and its converter told closely, and what the rules find in that; the
    findings' ids are made unique by the plan's `name`."""
    starts: list[PlanStart] = []
    found: list[Finding] = []
    ids = [unit.id for unit in choice.facts.units]
    for start in side.starts:
        unit = ids.index(start.motor)
        followed = _on_converter(choice, plan, unit) or _alone(choice, plan, unit)
        told, findings = (start, ()) if followed is None else _told(start, followed)
        case = hardest_case(choice, plan, unit)
        if case is not None:
            told = replace(told, beside=beside_of(choice, plan, unit, case))
        starts.append(told)
        found += findings
    named = tuple(replace(each, id=f"{name}:{each.id}", plan=name) for each in found)
    whole = replace(
        side,
        starts=tuple(starts),
        findings=(*side.findings, *(each.id for each in named)),
        equipment=tuple(
            replace(
                each,
                largest_starts=largest_of(choice, plan),
                wrong_direction=wrong_direction_of(choice, plan),
            )
            if each.way == "rotary_converter" and converter_of(choice, plan) is not None
            else each
            for each in side.equipment
        ),
    )
    return whole, named


def _on_converter(choice: Choice, plan: Solution, unit: int) -> Followed | None:
    case = hardest_case(choice, plan, unit)
    if case is None:
        return None
    motor = case.one[1]
    found, place = hardest_waves(case.source, case.converter, case.motors, case.one)
    point = together(case.source, case.converter, (motor.connected(typical_ratio(motor.load)),))
    return Followed(found, place, motor, _state(point, motor), own_capacitor=False)


def _alone(choice: Choice, plan: Solution, unit: int) -> Followed | None:
    """A motor that starts by capacitors of its own."""
    option = choice.options[plan.options[unit]]
    if option.way not in ("static_converter", "capacitor_run"):
        return None
    judged = next((j for j in choice.facts.judgements[unit] if j.way == option.way), None)
    motor = linked(choice.facts.units[unit].task.motor)
    if judged is None or offer_of(choice.facts, unit, option) is None:
        return None
    start, run = judged.figures.start_capacitance_f, judged.figures.run_capacitance_f
    if start is None or not isinstance(motor, Linked):
        return None
    run_f = run.number if isinstance(run, Value) else 0.0
    source = choice.facts.site_at(choice.facts.units[unit].place).source
    point = loaded(source, motor, run_f, typical_ratio(motor.load))
    found = waves(lone_course(source, motor, run_f, start.number))
    return Followed(found, 0, motor, _state(point, motor), own_capacitor=True)


def _state(point: Settled | None, motor: Linked) -> MachineState | None:
    return None if point is None else state_of(point, motor.motor.id)


def _told(start: PlanStart, of: Followed) -> tuple[PlanStart, tuple[Finding, ...]]:
    """The start with its heat and how often it may be made."""
    heat = start_heat(
        of.found, of.place, brief(of.found, of.place).outcome, delta=of.motor.windings == "delta"
    )
    if heat is None:
        return start, ()
    out = _figures(of)
    told = replace(
        start,
        winding_c=Range(heat.winding_low_c, out(heat.winding_c, "°C"), heat.winding_high_c),
        winding_verdict=heat.verdict,
        winding_words=heat.words,
    )
    findings = winding_heat(heat.winding_low_c, heat.greatest_c, start.motor).findings
    often = _often(of, heat)
    if often is None:
        return told, findings
    asked = of.motor.load.starts_per_hour
    capacitor = often.capacitor
    told = replace(
        told,
        starts_per_hour=StartsPerHour(
            windings=Span(out(often.windings_low, "1/h"), out(often.windings_high, "1/h")),
            start_capacitor=None if capacitor is None else out(capacitor, "1/h"),
            asked=asked,
            ruled_by=often.ruled_by,
            words=often.words,
        ),
    )
    high = often.windings_high if capacitor is None else min(often.windings_high, capacitor)
    ruling = starts_per_hour(
        asked.number, often.allowed, high, RULERS[often.ruled_by], start.motor, told=asked.sure
    )
    return told, (*findings, *ruling.findings)


def _often(of: Followed, heat: StartHeat) -> StartsAnHour | None:
    """Starts an hour, by the losses at the usual load; None where it does not hold that."""
    if of.working is None:
        return None
    return starts_an_hour(
        of.found, of.place, heat,
        duty=of.motor.load.duty.number,
        capacitor_on_s=start_capacitor_on_s(of.found) if of.own_capacitor else None,
        working_w=of.working.stator_loss_w + of.working.rotor_loss_w,
    )  # fmt: skip


def _figures(of: Followed) -> Callable[[float, str], Value]:
    """What makes a figure of a number and a unit, with what it was computed from."""
    source = of.found.course.source
    inputs = {
        "supply": (source.voltage_v, "V"),
        "supply resistance": (source.resistance_ohm, "ohm"),
        "supply reactance": (source.reactance_ohm, "ohm"),
        "inertia": (of.found.course.starters[of.place].inertia_kg_m2, "kg m2"),
        "share of the time at work": (of.motor.load.duty.number, ""),
    }
    return lambda number, unit: figure(number, unit, WHERE, inputs, HOW)
