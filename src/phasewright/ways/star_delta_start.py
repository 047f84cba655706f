"""A start in time by a star-delta starter: two runs, the winding in star and then in delta.

In star the same winding is a circuit of three times the ohms. The starter changes over once the
speed has settled, after `LONGEST_STAR_S` at the latest; the pause between is taken to be just long
enough for the flux to die away, and no speed is lost in it.
"""

from __future__ import annotations

import math
from dataclasses import replace

from phasewright.network.supply import Source
from phasewright.starts.brief import Brief, brief
from phasewright.starts.course import Starter
from phasewright.starts.halves import end_s
from phasewright.starts.on_three_lines import on_three_lines
from phasewright.starts.waves import Waves, waves
from phasewright.ways.line_start import LineStart, LineStarts, as_it_starts, greatest_w
from phasewright.ways.on_two_lines import Linked

LONGEST_STAR_S = 10.0
"""A starter's time in star (common practice, no source)."""


def star_delta_starts(lines: Source, motor: Linked) -> LineStarts:
    """The motor's start by a star-delta starter with nothing else on the lines."""
    return LineStarts(
        star_delta_start(lines, motor, worst=False), star_delta_start(lines, motor, worst=True)
    )


def star_delta_start(lines: Source, motor: Linked, *, worst: bool) -> LineStart:
    """The start in two runs; its time is that in star and that in delta together."""
    star = waves(
        replace(on_three_lines(lines, in_star(lines, motor, worst=worst)), seconds=LONGEST_STAR_S)
    )
    delta = waves(on_three_lines(lines, _in_delta(lines, motor, star, worst=worst)))
    return LineStart(
        _both(brief(star, 0), brief(delta, 0), end_s(star)),
        max(greatest_w(star, 0), greatest_w(delta, 0)),
    )


def in_star(lines: Source, motor: Linked, *, worst: bool) -> Starter:
    """The motor as it starts with its delta winding in star."""
    volts = math.sqrt(3.0) * motor.circuit.line_voltage_v
    return as_it_starts(lines, replace(motor, circuit=motor.circuit.relinked(volts)), worst=worst)


def _in_delta(lines: Source, motor: Linked, star: Waves, *, worst: bool) -> Starter:
    """The motor in delta at the speed it had come to in star."""
    turning = as_it_starts(lines, motor, worst=worst)
    return replace(turning, speed_rad_s=float(star.speed_rad_s[-1, 0]))


def _both(star: Brief, delta: Brief, star_s: float) -> Brief:
    """What is told of the whole start."""
    time_s = None if delta.outcome.time_s is None else star_s + delta.outcome.time_s
    return replace(
        delta,
        outcome=replace(delta.outcome, time_s=time_s),
        supply_a=max(star.supply_a, delta.supply_a),
        peak_a=max(star.peak_a, delta.peak_a),
        dip_ratio=max(star.dip_ratio, delta.dip_ratio),
        service_ratio=min(star.service_ratio, delta.service_ratio),
        lowest_ratio=min(star.lowest_ratio, delta.lowest_ratio),
    )
