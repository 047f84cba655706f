"""The course of a start on a source that makes three lines: an electronic one, a battery's
inverter, a generator, a three-phase service.

The source is a voltage between every two lines behind half of its loop's impedance in each.
"""

from __future__ import annotations

import math
from dataclasses import replace

from phasewright.network.supply import Source
from phasewright.running.network import Between
from phasewright.starts.course import WHEN_SETTLED, WITH_THE_LAST, Course, Starter
from phasewright.starts.on_converter import LONGEST_S, STEPS_PER_CYCLE


def on_three_lines(
    lines: Source, motor: Starter, beside: tuple[Starter, ...] = (),
    at_once: tuple[Starter, ...] = (), *, steps: int = STEPS_PER_CYCLE,
) -> Course:  # fmt: skip
    """A motor's start on three lines, with others turning on them already and some switched on by
    the same event.

    The others begin at their rated speed without flux; the motor closes once that has died away,
    at once where there are none.
    """
    turning = tuple(
        replace(each, closes_s=0.0, speed_rad_s=_rated_rad_s(lines, each), breakaway_nm=0.0)
        for each in beside
    )
    first = replace(motor, closes_s=WHEN_SETTLED if beside else 0.0)
    with_it = tuple(
        replace(each, closes_s=WITH_THE_LAST if beside else 0.0) for each in at_once
    )  # fmt: skip
    return _course(lines, (*turning, first, *with_it), LONGEST_S, steps)


def all_from_rest(
    lines: Source, motor: Starter, beside: tuple[Starter, ...] = (),
    at_once: tuple[Starter, ...] = (), *, steps: int = STEPS_PER_CYCLE,
) -> Course:  # fmt: skip
    """Everything from rest: the others one by one, then the motor with what the same event
    switches on."""
    order = [*beside, motor]
    waiting = [
        replace(each, closes_s=WHEN_SETTLED if at else 0.0) for at, each in enumerate(order)
    ]  # fmt: skip
    waiting += [replace(each, closes_s=WITH_THE_LAST if beside else 0.0) for each in at_once]
    return _course(lines, tuple(waiting), LONGEST_S * len(waiting), steps)


def _course(lines: Source, starters: tuple[Starter, ...], seconds: float, steps: int) -> Course:
    return Course(
        source=lines,
        capacitance_f=Between(),
        starters=starters,
        seconds=seconds,
        three_lines=True,
        stops_when_settled=True,
        steps_per_cycle=steps,
    )


def _rated_rad_s(lines: Source, starter: Starter) -> float:
    circuit = starter.machine.circuit
    return circuit.rated_speed_rpm * math.pi / 30.0 * lines.frequency_hz / circuit.frequency_hz
