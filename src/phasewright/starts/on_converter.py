"""The course of a start on a rotary converter: its idlers from rest, and one motor's start on it.

The hardest case of a motor is that all which may run beside it already does, at its usual load.
"""

from __future__ import annotations

import math
from dataclasses import replace

from phasewright.network.supply import Source
from phasewright.running.converter import IDLER, Converter, on_converter
from phasewright.running.network import Between
from phasewright.running.settle import settle
from phasewright.starts.course import (
    WHEN_SETTLED,
    WITH_THE_LAST,
    Course,
    Drop,
    StartBranch,
    Starter,
    StartResistor,
)

DROP_OUT = 0.85
"""Share of synchronous speed at which the start capacitor drops out (common practice 0.75 to 0.85,
no source)."""
LONGEST_S = 30.0
"""How long a start is followed: beyond it the slowest overload class has tripped (class 30,
IEC 60947-4-1, from memory)."""
STEPS_PER_CYCLE = 60
"""Steps of a start that is one of hundreds: against fine steps speeds within 0.2 %, amps 0.4 %,
volts 0.8 %."""


def idlers_from_rest(
    source: Source, converter: Converter, resistor_ohm: float = 0.0, *, steps: int = STEPS_PER_CYCLE
) -> Course:
    """The converter's own start: the first idler by the start capacitor, the others as soon as all
    has settled; a series resistor is bridged once the first runs."""
    start = None
    if converter.start_f > 0.0:
        start = StartBranch(
            converter.start_f, converter.start_resistance_ohm, None, Drop("speed", DROP_OUT, IDLER)
        )
    idlers = tuple(
        Starter(each, each.circuit.inertia_kg_m2, closes_s=0.0 if k == 0 else WHEN_SETTLED)
        for k, each in enumerate(converter.idlers)
    )
    return Course(
        source=source,
        capacitance_f=converter.run_f,
        starters=idlers,
        seconds=LONGEST_S,
        start=start,
        resistor=StartResistor(resistor_ohm, WHEN_SETTLED) if resistor_ohm > 0.0 else None,
        stops_when_settled=True,
        steps_per_cycle=steps,
    )


def on_running(
    source: Source, converter: Converter, motor: Starter, beside: tuple[Starter, ...] = (),
    at_once: tuple[Starter, ...] = (), *, steps: int = STEPS_PER_CYCLE,
) -> Course:  # fmt: skip
    """A motor's start on the running converter, with others turning on it already and some
    switched on by the same event.

    Idlers and others begin at their settled speeds without flux; the motor closes once that has
    died away. Raises NoOperatingPoint where the others do not run.
    """
    others = tuple(each.machine for each in beside)
    point = settle(on_converter(source, converter, others))
    turning = [Starter(each, each.circuit.inertia_kg_m2) for each in converter.idlers]
    turning += [_with_own(converter, each) for each in beside]
    running = [
        replace(each, closes_s=0.0, speed_rad_s=state.speed_rpm * math.pi / 30.0, breakaway_nm=0.0)
        for each, state in zip(turning, point.machines, strict=True)
    ]
    starting = _starting(converter, motor, at_once)
    return Course(
        source=source,
        capacitance_f=converter.run_f,
        starters=(*running, *starting),
        seconds=LONGEST_S,
        stops_when_settled=True,
        steps_per_cycle=steps,
    )


def lone(
    source: Source, motor: Starter, run_f: float, start_f: float, *, steps: int = STEPS_PER_CYCLE
) -> Course:
    """A motor without an idler: run capacitor across 3-1, and a start capacitor beside it that
    drops out at its speed."""
    name = motor.machine.name
    start = StartBranch(start_f, 0.0, None, Drop("speed", DROP_OUT, name)) if start_f else None
    return Course(
        source=source,
        capacitance_f=Between(c31=run_f),
        starters=(motor,),
        seconds=LONGEST_S,
        start=start,
        stops_when_settled=True,
        steps_per_cycle=steps,
    )


def from_rest(
    own: Course, converter: Converter, motor: Starter, beside: tuple[Starter, ...] = (),
    at_once: tuple[Starter, ...] = (),
) -> Course:  # fmt: skip
    """Everything from rest: after the converter's own course the others one by one, then the motor
    with what the same event switches on."""
    more = [replace(_with_own(converter, each), closes_s=WHEN_SETTLED) for each in beside]
    more += _starting(converter, motor, at_once)
    seconds = LONGEST_S * (1 + len(more))
    return replace(own, starters=(*own.starters, *more), seconds=seconds)


def _starting(
    converter: Converter, motor: Starter, at_once: tuple[Starter, ...]
) -> tuple[Starter, ...]:
    """The motor when all has settled, and others together with it."""
    first = replace(_with_own(converter, motor), closes_s=WHEN_SETTLED)
    others = (replace(_with_own(converter, each), closes_s=WITH_THE_LAST) for each in at_once)
    return (first, *others)


def _with_own(converter: Converter, starter: Starter) -> Starter:
    """A motor with the capacitors it brings to this converter."""
    own = dict(converter.carried).get(starter.machine.name, Between())
    return replace(starter, travelling_f=own)
