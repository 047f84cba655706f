"""What becomes of a converter that is not brought up the right way, computed in time.

Its first idler is switched on with nothing to turn it (a dead start capacitor, a pony motor that
stands), or while something turns it backwards (a rope pulled the wrong way, a pony motor linked
wrong); then each motor is switched on to the lines of a converter that runs backwards.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from phasewright.network.supply import Source
from phasewright.running.converter import Converter
from phasewright.starts.course import Course
from phasewright.starts.halves import at_the_end
from phasewright.starts.heat import too_hot_after_s
from phasewright.starts.on_converter import from_rest
from phasewright.starts.outcome import Outcome, outcome, outcomes
from phasewright.starts.waves import waves
from phasewright.ways.converter_start import PONY_SPEED, IdlerStart, own_course
from phasewright.ways.hardest_start import as_it_starts
from phasewright.ways.on_two_lines import Linked

Three = tuple[float, float, float]
TURNS = 0.5
"""Share of synchronous speed above which a machine counts as turning one way or the other."""


@dataclass(frozen=True, slots=True)
class NotTurned:
    """The first idler switched on with nothing to turn it, its start resistor bridged in the end.

    `supply_a` and `idler_a` (its fullest line) are rms at the end of the run; `too_hot_s` the
    seconds (low, usual, high) until its winding is as hot as it bears, None where it runs up.
    """

    idler: Outcome
    supply_a: float
    idler_a: float
    too_hot_s: Three | None


@dataclass(frozen=True, slots=True)
class Backwards:
    """The converter switched on while its first idler is turned backwards.

    `stays` where every idler ends up turning backwards; `volts_v` are those of lines 1-2, 2-3, 3-1
    then, `speeds_rpm` the idlers' (below zero: backwards). `motors` are the motors switched on
    then, each alone; none where it does not stay so.
    """

    stays: bool
    speeds_rpm: tuple[float, ...]
    volts_v: Three
    motors: tuple[Outcome, ...]


def not_turned(source: Source, converter: Converter, start: IdlerStart) -> NotTurned:
    """The first idler switched on without start capacitor, from rest, nothing else on the lines."""
    dead = replace(converter.started_first, start_f=0.0)
    found = waves(own_course(source, dead, start.resistor_ohm))
    told = outcome(found, 0)
    return NotTurned(
        idler=told,
        supply_a=float(at_the_end(found.supply_a)),
        idler_a=float(at_the_end(found.line_a[:, 0])),
        too_hot_s=None if told.runs_up else too_hot_after_s(found, 0),
    )


def backwards(
    source: Source, converter: Converter, start: IdlerStart, motors: Sequence[Linked]
) -> Backwards:
    """The first idler turned backwards when it is switched on, as fast as a pony motor turns it,
    and every motor started on what comes of that."""
    dead = replace(converter, start_f=0.0)
    own = _turned_back(own_course(source, dead, start.resistor_ohm, pony=True))
    found = waves(own)
    count = len(own.starters)
    told = outcomes(found)
    stays = all(
        each.end_speed_rpm < -TURNS * of.machine.circuit.synchronous_speed_rpm
        for each, of in zip(told, own.starters, strict=True)
    )
    started = []
    for motor in motors if stays else ():
        course = from_rest(own, dead, as_it_starts(source, dead, motor))
        started.append(outcome(waves(course), count))
    v12, v23, v31 = (float(v) for v in at_the_end(found.volts_v))
    return Backwards(
        stays=stays,
        speeds_rpm=tuple(each.end_speed_rpm for each in told),
        volts_v=(v12, v23, v31),
        motors=tuple(started),
    )


def _turned_back(own: Course) -> Course:
    """The course of a pony start with the pony motor turning the wrong way."""
    first, *others = own.starters
    speed = -PONY_SPEED * first.machine.circuit.synchronous_speed_rpm * math.pi / 30.0
    return replace(own, starters=(replace(first, speed_rad_s=speed), *others))
