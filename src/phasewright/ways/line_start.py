"""A motor's start in time on a source that makes three equal lines.

Judged with the usual torque to break away and the usual leakage at starting current, and again
with the worst of both. A soft starter and a drive inside a machine shape their motor's start
themselves, and a slip-ring motor starts on resistors: none of them is followed here.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass, replace
from functools import lru_cache

from phasewright.machines.leakage import MIDDLE, STRONG, LeakageLaw, with_leakage_at
from phasewright.machines.performance import locked
from phasewright.network.supply import Source
from phasewright.quantities.errors import NoOperatingPoint
from phasewright.quantities.identity import Same
from phasewright.starts.brief import Brief, brief
from phasewright.starts.course import Course, Starter
from phasewright.starts.halves import half_of
from phasewright.starts.on_converter import LONGEST_S
from phasewright.starts.on_three_lines import all_from_rest, on_three_lines
from phasewright.starts.waves import Waves, waves
from phasewright.ways.asked import Asked, condition
from phasewright.ways.balanced import Balanced, draw_at, total_draw
from phasewright.ways.conditions import typical_ratio
from phasewright.ways.hardest_start import loaded_first
from phasewright.ways.on_converter import start_refusals
from phasewright.ways.on_two_lines import Linked
from phasewright.ways.starting_order import Pair, running_before, starting_with
from phasewright.ways.way import Task

OWN_START = ("soft_starter", "drive_inside")
"""Starters that shape the start themselves."""

FEW_S = 5.0
"""What the few seconds are taken to be for which an inverter gives more than its rated current
(common practice, no source)."""


@dataclass(frozen=True, slots=True)
class LineStart:
    """One start: its brief, and the greatest watts that the three lines give, as a mean over a
    cycle, with all that turns."""

    brief: Brief
    greatest_w: float


@dataclass(frozen=True, slots=True)
class LineStarts:
    """A motor's start with what is usual and with the worst to break away and leakage that
    saturates strongly."""

    usual: LineStart
    worst: LineStart


@dataclass(frozen=True, slots=True)
class Seen:
    """What the supply sees of a start on lines that it only feeds: crest of its amps, and the fall
    of its volts."""

    peak_a: float
    dip_ratio: float


def followed(task: Task) -> bool:
    """Whether the motor is switched straight on, so that its start can be followed."""
    return task.motor.kind != "slip_ring" and task.machine.starter not in OWN_START


def as_linked(one: Balanced) -> Linked:
    """The motor as it is linked for these lines."""
    return _as_linked(Same(one))


@lru_cache(maxsize=4096)
def _as_linked(of: Same[Balanced]) -> Linked:
    one = of.it
    return Linked(one.motor, one.link, one.circuit, one.load, one.rated_nm)


def pairs_of(tasks: tuple[Task, ...], motors: list[Balanced]) -> tuple[Pair, ...]:
    """Motors with their tasks, for the order in which they are started."""
    return tuple((task, as_linked(one)) for task, one in zip(tasks, motors, strict=True))


def start_amps(tasks: tuple[Task, ...], motors: list[Balanced]) -> list[float]:
    """Amps in a line while each stands still, straight on, with what the same event switches on,
    and the others work."""
    usual, pairs = total_draw([one.typical for one in motors]), pairs_of(tasks, motors)
    of = {one.motor.id: one for one in motors}
    found = []
    for pair in pairs:
        whole = usual
        for _, each in (pair, *starting_with(pairs, pair)):
            one = of[each.motor.id]
            whole = whole.without(draw_at(one.typical)).with_other(draw_at(one.start))
        found.append(whole.current_a(motors[0].line_voltage_v))
    return found


def line_starts(lines: Source, motor: Linked) -> LineStarts:
    """The motor's start with nothing else on the lines."""
    return LineStarts(
        _started(lines, Same(motor), (), (), worst=False),
        _started(lines, Same(motor), (), (), worst=True),
    )


def line_start(lines: Source, motors: tuple[Pair, ...], one: Pair) -> LineStart:
    """The start of `one` of motors that may turn together, the others running at their usual load
    as far as the order of starting has them running.

    Raises NoOperatingPoint where what ran before swings, so that it could not be switched on.
    """
    return _started(
        lines, Same(one[1]),
        tuple(Same(other[1]) for other in running_before(motors, one)),
        tuple(Same(other[1]) for other in starting_with(motors, one)),
        worst=False,
    )  # fmt: skip


def all_run_up(lines: Source, motors: tuple[Pair, ...]) -> bool:
    """Whether each of them runs up beside the others and drags none of them down."""
    try:
        return all(
            line_start(lines, motors, one).brief.runs_up for one in motors if followed(one[0])
        )
    except NoOperatingPoint:
        return False


def line_waves(
    lines: Source, motors: tuple[Pair, ...], one: Pair, *, worst: bool = False
) -> tuple[Waves, int]:
    """The waves of that start and the motor's place in the course."""
    course, place = _course(
        lines, one[1],
        tuple(other[1] for other in running_before(motors, one)),
        tuple(other[1] for other in starting_with(motors, one)),
        worst=worst,
    )  # fmt: skip
    return waves(course), place


def whole_on_lines(
    lines: Source, motors: tuple[Pair, ...], one: Pair, *, steps: int
) -> Course:  # fmt: skip
    """Everything from rest, to be looked at: the others as they start, their usual load put on,
    then the motor with what the same event switches on."""
    beside = [other[1] for other in running_before(motors, one)]
    course = all_from_rest(
        lines, as_it_starts(lines, one[1]),
        tuple(as_it_starts(lines, other) for other in beside),
        tuple(as_it_starts(lines, other[1]) for other in starting_with(motors, one)),
        steps=steps,
    )  # fmt: skip
    return loaded_first(course, len(beside), beside) if beside else course


def as_it_starts(lines: Source, motor: Linked, *, worst: bool = False) -> Starter:
    """A motor with its leakage as it is at its starting current, its load and its inertia."""
    law: LeakageLaw = STRONG if worst else MIDDLE
    shaped = replace(motor, circuit=with_leakage_at(motor.circuit, held_a(lines, motor), law))
    breakaway = motor.load.breakaway_torque
    return shaped.starter(
        motor.run_up_ratio(typical_ratio(motor.load)), breakaway.high if worst else breakaway.number
    )


def held_a(lines: Source, motor: Linked) -> float:
    """Line amps of the motor at standstill behind the lines' own impedance."""
    held = locked(motor.circuit, lines.voltage_v, lines.frequency_hz)
    phase_v = lines.voltage_v / math.sqrt(3.0)
    its = cmath.rect(phase_v / held.current_a, math.acos(held.power_factor))
    return phase_v / abs(its + 0.5 * complex(lines.resistance_ohm, lines.reactance_ohm))


def time_words(of: Brief) -> str:
    """How long a start takes, in words."""
    return f"{of.seconds:.2g} s" if math.isfinite(of.seconds) else f"more than {LONGEST_S:.0f} s"


def lasts(starts: LineStarts | None) -> str:
    """How long the start takes, in words; empty where it is not followed or does not run up."""
    if starts is None or not math.isfinite(starts.usual.brief.seconds):
        return ""
    return f" Computed in time, its start takes {starts.usual.brief.seconds:.2g} s."


def asked_of_start(motor: Linked, starts: LineStarts) -> Asked:
    """What stands against the start, and what is asked where only the worst does not start."""
    against = start_refusals(motor, starts.usual.brief)
    if against:
        return Asked(refusals=tuple(against))
    if starts.worst.brief.runs_up or not start_refusals(motor, starts.worst.brief):
        return Asked()
    breakaway = motor.load.breakaway_torque
    return condition(
        "hard_to_break_away",
        f"Computed in time it runs up against the {breakaway.number:.0%} of rated torque that the "
        f"machine usually needs to break away, but not for sure against {breakaway.high:.0%}, the "
        "worst: start it eased.",
    )


@lru_cache(maxsize=8192)
def _started(
    lines: Source, motor: Same[Linked], beside: tuple[Same[Linked], ...],
    at_once: tuple[Same[Linked], ...], *, worst: bool,
) -> LineStart:  # fmt: skip
    course, place = _course(
        lines, motor.it, tuple(each.it for each in beside), tuple(each.it for each in at_once),
        worst=worst,
    )  # fmt: skip
    return _told(course, place)


@lru_cache(maxsize=8192)
def _told(course: Course, place: int) -> LineStart:
    """A start by its course, so that what does not bear on it (a duty, hours) starts nothing."""
    found = waves(course)
    return LineStart(brief(found, place), greatest_w(found, place))


def greatest_w(found: Waves, place: int) -> float:
    """The greatest mean over a cycle of what three lines give from a machine's closing on [W]."""
    closed = found.closed_s[place]
    first = 0 if closed is None else max(0, half_of(found, closed) - 1)
    watts = found.source_w[first:]
    by_cycle = 0.5 * (watts[1:] + watts[:-1])
    return float(by_cycle.max()) if by_cycle.size else float(watts.max())


def _course(
    lines: Source, motor: Linked, beside: tuple[Linked, ...], at_once: tuple[Linked, ...],
    *, worst: bool,
) -> tuple[Course, int]:  # fmt: skip
    course = on_three_lines(
        lines, as_it_starts(lines, motor, worst=worst),
        tuple(other.starter(typical_ratio(other.load)) for other in beside),
        tuple(as_it_starts(lines, other, worst=worst) for other in at_once),
    )  # fmt: skip
    return course, len(beside)
