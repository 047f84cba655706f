"""The waves of a course: the compiled kernel called, and what it found in named arrays."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from phasewright.quantities.errors import UsageError
from phasewright.running.network import Network
from phasewright.running.rows import LINE_COLUMNS, LS, LU, LZ, RZ, line_row, machine_row
from phasewright.starts import layout
from phasewright.starts.course import FOREVER, WHEN_SETTLED, Course, StartBranch
from phasewright.starts.kernel import run

Floats = NDArray[np.float64]

LEAST_IMPEDANCE = 1e-3
"""Least source resistance over the base impedance of the largest machine: a bank of capacitors on a
source without any impedance would have no settled current."""
LEAST_LEAKAGE = 1e-4
"""Least stator leakage over the magnetising inductance."""
_RULES = {
    "never": layout.NEVER, "speed": layout.AT_SPEED, "time": layout.AT_TIME,
    "volts": layout.AT_VOLTS,
}  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class Waves:
    """What happened in a course.

    `record` (n, columns of `layout`) every `every` steps, empty where none was asked for;
    by half cycle `volts_v` (halves, 3) rms of lines 1-2, 2-3, 3-1, `service_v` rms ahead of a
    series resistor and of the contactor, `supply_a` rms, `supply_peak_a`, `start_peak_v` across
    the start capacitor, `lines_a` (halves, machines, 3) rms line currents and `line_a` (halves,
    machines) the largest of them, `stator_w`, `rotor_w` mean losses, `speed_rad_s` mean speed.
    Of a source of three lines `service_v` is the lowest of the three pairs, `supply_a` and
    `supply_peak_a` the greatest line's, and `source_lines_a` (halves, 3) rms and `source_w` mean
    watts are what its lines give; both empty where it has two.
    Instants [s], None where it did not happen: `dropped_s` the start capacitor, `bypassed_s` the
    series resistor, `opened_s` and `returned_s` the supply, `settled_s` all of it for good, and of
    every machine `closed_s` and `released_s` (undervoltage). `told` says what was changed to be
    able to compute.
    """

    course: Course
    record: Floats
    time_s: Floats
    volts_v: Floats
    service_v: Floats
    supply_a: Floats
    supply_peak_a: Floats
    start_peak_v: Floats
    line_a: Floats
    lines_a: Floats
    stator_w: Floats
    rotor_w: Floats
    speed_rad_s: Floats
    source_lines_a: Floats
    source_w: Floats
    dropped_s: float | None
    opened_s: float | None
    returned_s: float | None
    bypassed_s: float | None
    settled_s: float | None
    closed_s: tuple[float | None, ...]
    released_s: tuple[float | None, ...]
    told: tuple[str, ...] = ()


def waves(course: Course, *, every: int = 0) -> Waves:
    """All machines and the supply run in time through a course.

    `every`: a record every so many steps, none where 0.

    Raises UsageError for a course that cannot be run: no machine, no inertia at a shaft, steps
    that do not halve, a start branch that watches a machine that is not there.
    """
    _check(course)
    sound, changed = regular(course)
    line, rows = _line(sound), _rows(sound)
    hertz = course.source.frequency_hz
    per_half = course.steps_per_cycle // 2
    halves = max(1, math.ceil(2.0 * hertz * course.seconds - 1e-9))
    step = 0.5 / hertz / per_half
    m = len(course.starters)
    count = halves * per_half // every if every else 0
    record = np.zeros((count, layout.HEAD + layout.PER_MACHINE * m))
    half = np.zeros((halves, layout.H_HEAD + layout.H_PER_MACHINE * m))
    told = np.zeros(layout.TOLD + layout.PER_TOLD * m)
    speeds = np.array([starter.speed_rad_s for starter in course.starters])
    kept, done = run(
        line, rows, _steps(course), speeds, step, per_half, halves, max(every, 1),
        course.stops_when_settled, record, half, told,
    )  # fmt: skip
    each = half[:done, layout.H_HEAD :].reshape(done, m, layout.H_PER_MACHINE) / per_half
    head, lines_a = half[:done], np.sqrt(each[:, :, :3])
    own = told[layout.TOLD :].reshape(m, layout.PER_TOLD)
    volts = np.sqrt(head[:, [layout.H_V12, layout.H_V23, layout.H_V31]] / per_half)
    given = np.sqrt(head[:, [layout.H_SUPPLY, layout.H_LINE_2, layout.H_LINE_3]] / per_half)
    three = course.three_lines
    return Waves(
        course=course,
        record=record[:kept],
        time_s=(np.arange(done, dtype=np.float64) + 0.5) * (per_half * step),
        volts_v=volts,
        service_v=volts.min(axis=1) if three else np.sqrt(head[:, layout.H_SERVICE] / per_half),
        supply_a=given.max(axis=1) if three else given[:, 0],
        supply_peak_a=head[:, layout.H_PEAK],
        start_peak_v=head[:, layout.H_VC],
        line_a=lines_a.max(axis=2),
        lines_a=lines_a,
        stator_w=each[:, :, 3],
        rotor_w=each[:, :, 4],
        speed_rad_s=each[:, :, 5],
        source_lines_a=given[: done if three else 0],
        source_w=head[: done if three else 0, layout.H_POWER] / per_half,
        dropped_s=_instant(told[layout.DROPPED]),
        opened_s=_instant(told[layout.OPENED]),
        returned_s=_instant(told[layout.RETURNED]),
        bypassed_s=_instant(told[layout.BYPASS]),
        settled_s=_instant(told[layout.SETTLED]),
        closed_s=tuple(_instant(at) for at in own[:, 0]),
        released_s=tuple(_instant(at) for at in own[:, 1]),
        told=changed,
    )


def as_run(found: Waves) -> Course:
    """The course with the instants put in that the run found, so that it repeats by itself: when
    waiting machines closed, when the bypass closed, and when the run ended.

    A machine that never came to close is written as one that closes never.
    """
    course = found.course
    starters = tuple(
        replace(each, closes_s=FOREVER if at is None else at, point_on_wave=0.0)
        if each.closes_s < 0.0
        else each
        for each, at in zip(course.starters, found.closed_s, strict=True)
    )
    resistor = course.resistor
    if resistor is not None and resistor.bypass_s == WHEN_SETTLED:
        at = FOREVER if found.bypassed_s is None else found.bypassed_s
        resistor = replace(resistor, bypass_s=at)
    seconds = len(found.time_s) * 0.5 / course.source.frequency_hz
    return replace(
        course, starters=starters, resistor=resistor, seconds=seconds, stops_when_settled=False
    )


def _instant(at: float) -> float | None:
    return None if at < 0.0 else float(at)


def _check(course: Course) -> None:
    names = [starter.machine.name for starter in course.starters]
    if not names or len(set(names)) != len(names):
        raise UsageError("a run in time needs at least one machine, each with a name of its own")
    if course.steps_per_cycle < 20 or course.steps_per_cycle % 2:
        raise UsageError("a run in time needs an even number of steps a cycle, 20 or more")
    for starter in course.starters:
        if not starter.inertia_kg_m2 > 0.0:
            raise UsageError(f"{starter.machine.name}: a shaft needs an inertia above zero")
    if course.three_lines and (course.resistor is not None or course.lost_s < FOREVER):
        raise UsageError(
            "a source of three lines is followed without a series resistor and without its loss"
        )
    drop = None if course.start is None else course.start.drop
    if drop is not None and drop.rule == "speed" and drop.of not in names:
        raise UsageError(f"the start capacitor watches {drop.of!r}, which is not there")
    for change in course.load_steps:
        if change.machine not in names:
            raise UsageError(f"a load step is of {change.machine!r}, which is not there")


def regular(course: Course) -> tuple[Course, tuple[str, ...]]:
    """The course with a least impedance of the source, and what was changed."""
    source = course.source
    base = min(
        starter.machine.circuit.line_voltage_v / starter.machine.circuit.rated_current_a
        for starter in course.starters
    )
    least = LEAST_IMPEDANCE * base
    if math.hypot(source.resistance_ohm, source.reactance_ohm) >= least:
        return course, ()
    told = f"The supply has hardly any impedance: {least:.2g} ohm were put in its place."
    return replace(course, source=replace(source, resistance_ohm=least)), (told,)


def _steps(course: Course) -> Floats:
    """Load steps in the order of their instants, shape (steps, 3)."""
    names = [starter.machine.name for starter in course.starters]
    ordered = sorted(course.load_steps, key=lambda step: step.at_s)
    rows = [(step.at_s, names.index(step.machine), step.share) for step in ordered]
    return np.array(rows, dtype=np.float64).reshape(len(rows), 3)


def _line(course: Course) -> Floats:
    network = Network(course.source, course.capacitance_f, (), course.conductance_s)
    row = np.zeros(layout.LINES)
    row[:LINE_COLUMNS] = line_row(network)
    row[layout.PHASE] = course.phase_rad
    if course.three_lines:
        row[layout.THREE] = 1.0
        row[RZ], row[LZ] = 0.5 * row[RZ], 0.5 * row[LZ]
    row[layout.LOST], row[layout.RETURNS] = course.lost_s, course.returns_s
    if course.resistor is not None:
        row[layout.RESISTOR_OHM] = course.resistor.ohm
        row[layout.BYPASSED] = course.resistor.bypass_s
    if course.start is not None:
        _start_branch(row, course, course.start)
    return row


def _start_branch(row: Floats, course: Course, start: StartBranch) -> None:
    names = [starter.machine.name for starter in course.starters]
    row[layout.START_F], row[layout.START_OHM] = start.capacitance_f, start.resistance_ohm
    row[layout.BLEEDER_S] = 0.0 if start.bleeder_ohm is None else 1.0 / start.bleeder_ohm
    row[layout.START_JOINS] = start.joins_s
    row[layout.DROP_RULE], row[layout.DROP_AT] = _RULES[start.drop.rule], start.drop.at
    row[layout.DROP_OF] = names.index(start.drop.of) if start.drop.rule == "speed" else 0


def _rows(course: Course) -> Floats:
    rows = np.zeros((len(course.starters), layout.ROW))
    for at, starter in enumerate(course.starters):
        own = machine_row(starter.machine, course.source)
        rows[at, : own.size] = own
        rows[at, LS] = max(rows[at, LS], LEAST_LEAKAGE * rows[at, LU])
        rows[at, layout.INERTIA] = starter.inertia_kg_m2
        rows[at, layout.CLOSES], rows[at, layout.OPENS] = starter.closes_s, starter.opens_s
        rows[at, layout.BREAKAWAY] = starter.breakaway_nm
        rows[at, layout.ON_WAVE_S] = starter.point_on_wave * 0.5 / course.source.frequency_hz
        tied = starter.travelling_f
        rows[at, [layout.T12, layout.T23, layout.T31]] = tied.c12, tied.c23, tied.c31
        rows[at, layout.RELEASE_V] = starter.releases_below_v
    return rows
