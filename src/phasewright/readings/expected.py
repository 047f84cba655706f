"""Everything a meter should show once the answer's plan is built, in the order of the work."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from phasewright.plan.answer import Answered
from phasewright.plan.options import shared_of
from phasewright.plan.reading_study import ReadingExpected
from phasewright.plan.starts import converter_of, pairs_of
from phasewright.plan.study import PlanSide, Study
from phasewright.quantities.value import Value
from phasewright.readings.alone import fed, on_drives, starting, together, uncoupled
from phasewright.readings.corners import Told
from phasewright.readings.dead import (
    discharges,
    earths,
    insulations,
    loops,
    residuals,
    supplied,
    windings,
)
from phasewright.readings.lines import idle_lines, with_motor
from phasewright.ways.shared_source import softest


def with_readings(of: Answered) -> Study:
    """The study with `readings_expected` of the plan of the answer; the other plans have none."""
    return replace(
        of.study,
        plans=tuple(
            replace(plan, readings_expected=readings_of(of, plan))
            if plan.id == of.study.answer.plan
            else plan
            for plan in of.study.plans
        ),
    )


def readings_of(of: Answered, plan: PlanSide) -> tuple[ReadingExpected, ...]:
    """The readings of the answer's plan, sorted by step; none where it serves no motor."""
    if all(each.way is None for each in plan.motors):
        return ()
    mains = of.choice.facts.site.voltage_v
    found = [
        *earths(plan),
        *insulations(plan),
        *windings(plan, of.choice.facts.motors),
        supplied(mains),
        *loops(plan),
        *residuals(plan),
        *_of_converter(of),
        *discharges(plan),
        *on_drives(plan, mains),
        *uncoupled(plan, of.choice.facts.motors),
        *starting(plan),
        *fed(plan),
        *together(plan),
    ]
    return tuple(sorted(found, key=lambda each: each.step))


def _of_converter(of: Answered) -> Iterator[ReadingExpected]:
    """On the lines of the plan's converter; none where it has none."""
    choice, plan = of.choice, of.plan
    on, shared = converter_of(choice, plan), shared_of(choice.facts, choice.states[plan.state])
    if on is None or shared is None:
        return
    site = choice.facts.site_at(shared.place)
    told = Told(on.source, on.converter, _there(site.voltage_v, on.source.voltage_v))
    yield from idle_lines(told, choice.facts.shop.supply)
    hung = [
        unit
        for unit, index in enumerate(plan.options)
        if index >= 0 and choice.options[index].shared
    ]
    for task, motor in pairs_of(choice, hung):
        source = softest(on.source, on.feeders, (task,))
        yield from with_motor(replace(told, source=source), motor)


def _there(mains: Value, voltage_v: float) -> Value:
    """The supply's spread about the volts that stand ahead of the converter."""
    return mains if mains.number == voltage_v else mains.scaled(voltage_v / mains.number)
