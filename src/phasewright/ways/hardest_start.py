"""The hardest start of a motor on a converter: all else that may run with it already does."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from phasewright.machines.leakage import MIDDLE, LeakageLaw
from phasewright.network.supply import Source
from phasewright.running.converter import Converter
from phasewright.starts.brief import Brief, brief_of
from phasewright.starts.course import Course, LoadStep, Starter
from phasewright.starts.on_converter import LONGEST_S, from_rest, on_running
from phasewright.starts.waves import Waves, as_run, waves
from phasewright.ways.conditions import typical_ratio
from phasewright.ways.on_converter import starting, starting_amps, with_leakage
from phasewright.ways.on_two_lines import Linked
from phasewright.ways.starting_order import Pair, running_before, starting_with

LOADED_S = 1.0
"""How long the others work before the motor is switched on, in a course to be looked at [s]."""


def hardest_start(source: Source, converter: Converter, motors: Sequence[Pair], one: Pair) -> Brief:
    """The start of `one` of motors that may turn together: the others run at their usual load as
    far as the order of starting has them running. Raises NoOperatingPoint where they do not."""
    beside = tuple(other[1] for other in running_before(motors, one))
    at_once = tuple(other[1] for other in starting_with(motors, one))
    return start_beside(source, converter, one[1], beside, at_once)


@lru_cache(maxsize=8192)
def start_beside(
    source: Source, converter: Converter, motor: Linked, beside: tuple[Linked, ...],
    at_once: tuple[Linked, ...] = (),
) -> Brief:  # fmt: skip
    """The start of a motor with just these running at their usual load. Raises NoOperatingPoint
    where they do not run."""
    course = _course(source, converter, motor, beside, at_once, MIDDLE)
    return brief_of(course, len(course.starters) - 1 - len(at_once))


def hardest_waves(
    source: Source, converter: Converter, motors: Sequence[Pair], one: Pair,
    law: LeakageLaw = MIDDLE,
) -> tuple[Waves, int]:  # fmt: skip
    """The waves of that start and the motor's place in the course, with a law of its leakage."""
    course = _course(
        source, converter, one[1],
        tuple(other[1] for other in running_before(motors, one)),
        tuple(other[1] for other in starting_with(motors, one)), law,
    )  # fmt: skip
    place = next(
        k for k, each in enumerate(course.starters) if each.machine.name == one[1].motor.id
    )
    return _waves(course), place


@lru_cache(maxsize=128)
def _waves(of: Course) -> Waves:
    """Plans with the same converter start the same motors the same way."""
    return waves(of)


def as_it_starts(
    source: Source, converter: Converter, motor: Linked, law: LeakageLaw = MIDDLE
) -> Starter:
    """A motor with its leakage as it is at starting current, its load and its inertia."""
    amps = starting_amps(source, converter, motor)
    return starting(with_leakage(motor, amps, law), typical_ratio(motor.load))


def whole_course(
    source: Source, converter: Converter, own: Course, motors: Sequence[Pair], one: Pair
) -> Course:
    """Everything from rest, to be looked at: the converter's own course, then the others as they
    start, their usual load put on, and at last the motor with what the same event switches on.

    Instants are those at which all had settled. Where the run to find them does not get so far the
    course is given as it is, waiting machines and all.
    """
    beside = [other[1] for other in running_before(motors, one)]
    at_once = tuple(
        as_it_starts(source, converter, other[1]) for other in starting_with(motors, one)
    )
    others = tuple(as_it_starts(source, converter, other) for other in beside)
    course = from_rest(own, converter, as_it_starts(source, converter, one[1]), others, at_once)
    return loaded_first(course, len(own.starters) + len(others), beside)


def loaded_first(course: Course, place: int, beside: Sequence[Linked]) -> Course:
    """A course of waiting machines with its instants put in, the usual load put on all `beside`
    before the motor at `place` is switched on.

    Where the run to find the instants does not get so far the course is given as it is.
    """
    found = waves(course)
    last = found.closed_s[place]
    if last is None:
        return course
    loaded = tuple(
        LoadStep(each.motor.id, last, typical_ratio(each.load) / each.run_up_ratio(typical))
        for each in beside
        if each.run_up_ratio(typical := typical_ratio(each.load)) > 0.0
    )
    fixed = as_run(found)
    late = tuple(
        replace(each, closes_s=each.closes_s + LOADED_S) if each.closes_s >= last else each
        for each in fixed.starters
    )
    seconds = fixed.seconds + LOADED_S + LONGEST_S
    return replace(
        fixed, starters=late, load_steps=loaded, seconds=seconds, stops_when_settled=True
    )


def as_it_runs(motor: Linked) -> Starter:
    """A motor that turns already, at its usual load."""
    return motor.starter(typical_ratio(motor.load))


def _course(
    source: Source, converter: Converter, motor: Linked, beside: tuple[Linked, ...],
    at_once: tuple[Linked, ...], law: LeakageLaw,
) -> Course:  # fmt: skip
    return on_running(
        source, converter, as_it_starts(source, converter, motor, law),
        tuple(as_it_runs(other) for other in beside),
        tuple(as_it_starts(source, converter, other) for other in at_once),
    )  # fmt: skip
