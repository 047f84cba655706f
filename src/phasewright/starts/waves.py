"""The waves of a course: the compiled kernel called, and what it found in named arrays."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from phasewright.quantities.errors import UsageError
from phasewright.running.network import Network
from phasewright.running.rows import LINE_COLUMNS, LS, LU, line_row, machine_row
from phasewright.starts import layout
from phasewright.starts.course import Course, StartBranch
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
    the start capacitor, `line_a` (halves, machines) rms of the largest line current, `stator_w`,
    `rotor_w` mean losses, `speed_rad_s` mean speed.
    `dropped_s`, `opened_s`, `returned_s` are instants, None where it did not happen. `told`
    says what was changed to be able to compute.
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
    stator_w: Floats
    rotor_w: Floats
    speed_rad_s: Floats
    dropped_s: float | None
    opened_s: float | None
    returned_s: float | None
    told: tuple[str, ...] = ()


def waves(course: Course, *, every: int = 0) -> Waves:
    """Run a course. `every`: a record every so many steps, none where 0.

    Raises UsageError for a course that cannot be run: no machine, no inertia at a shaft, steps
    that do not halve, a start branch that watches a machine that is not there.
    """
    _check(course)
    sound, told = _regular(course)
    line, rows = _line(sound), _rows(sound)
    hertz = course.source.frequency_hz
    per_half = course.steps_per_cycle // 2
    halves = max(1, math.ceil(2.0 * hertz * course.seconds - 1e-9))
    step = 0.5 / hertz / per_half
    m = len(course.starters)
    count = halves * per_half // every if every else 0
    record = np.zeros((count, layout.HEAD + layout.PER_MACHINE * m))
    half = np.zeros((halves, layout.H_HEAD + layout.H_PER_MACHINE * m))
    events = np.zeros(3)
    speeds = np.array([starter.speed_rad_s for starter in course.starters])
    run(line, rows, speeds, step, per_half, halves, max(every, 1), record, half, events)
    each = half[:, layout.H_HEAD :].reshape(halves, m, layout.H_PER_MACHINE) / per_half
    return Waves(
        course=course,
        record=record,
        time_s=(np.arange(halves, dtype=np.float64) + 0.5) * (per_half * step),
        volts_v=np.sqrt(half[:, [layout.H_V12, layout.H_V23, layout.H_V31]] / per_half),
        service_v=np.sqrt(half[:, layout.H_SERVICE] / per_half),
        supply_a=np.sqrt(half[:, layout.H_SUPPLY] / per_half),
        supply_peak_a=half[:, layout.H_PEAK],
        start_peak_v=half[:, layout.H_VC],
        line_a=np.sqrt(each[:, :, 0]),
        stator_w=each[:, :, 1],
        rotor_w=each[:, :, 2],
        speed_rad_s=each[:, :, 3],
        dropped_s=_instant(events[0]),
        opened_s=_instant(events[1]),
        returned_s=_instant(events[2]),
        told=told,
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
    drop = None if course.start is None else course.start.drop
    if drop is not None and drop.rule == "speed" and drop.of not in names:
        raise UsageError(f"the start capacitor watches {drop.of!r}, which is not there")


def _regular(course: Course) -> tuple[Course, tuple[str, ...]]:
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


def _line(course: Course) -> Floats:
    network = Network(course.source, course.capacitance_f, (), course.conductance_s)
    row = np.zeros(layout.LINES)
    row[:LINE_COLUMNS] = line_row(network)
    row[layout.PHASE] = course.phase_rad
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
    return rows
