"""The waves of a run as a table in text: `start.csv`, a hundred rows a cycle."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from phasewright.quantities.errors import UsageError
from phasewright.starts.course import Course
from phasewright.starts.layout import HEAD, PER_MACHINE, START_A, SUPPLY, TIME, V12, V23, V31
from phasewright.starts.waves import Waves

ROWS_A_CYCLE = 100
OF_MACHINE = ("current1_a", "current2_a", "current3_a", "torque_nm", "speed_rpm")
_BLOCK = 2000


def every_of(course: Course) -> int:
    """Every how many steps a row is written: a hundred a cycle, or each step where there are
    fewer. Raises UsageError for steps so long that forty rows a cycle cannot be had."""
    if course.steps_per_cycle < 40:
        raise UsageError("start.csv holds 40 rows a cycle or more: take steps_per_cycle from 40 up")
    return max(1, course.steps_per_cycle // ROWS_A_CYCLE)


def columns_of(course: Course) -> list[str]:
    """Names of the columns: time, the lines at the converter's terminals, every machine; the
    current into the start capacitor is the last, where there is one."""
    own = [f"{each.machine.name}.{name}" for each in course.starters for name in OF_MACHINE]
    start = [] if course.start is None else ["start_capacitor_a"]
    return ["time_s", "v12_v", "v23_v", "v31_v", "supply_a", *own, *start]


def csv_lines(waves: Waves) -> Iterator[str]:
    """The text of `start.csv` in blocks of lines; the record must have been kept."""
    course, record = waves.course, waves.record
    picked = [TIME, V12, V23, V31, SUPPLY, *range(HEAD, HEAD + PER_MACHINE * len(course.starters))]
    if course.start is not None:
        picked.append(START_A)
    yield ",".join(_quoted(name) for name in columns_of(course)) + "\n"
    scale = np.ones(record.shape[1])
    scale[HEAD + PER_MACHINE - 1 :: PER_MACHINE] = 30.0 / math.pi
    line = ",".join(["%.8g"] * len(picked)) + "\n"
    for at in range(0, len(record), _BLOCK):
        rows = (record[at : at + _BLOCK] * scale)[:, picked] + 0.0
        yield "".join(line % tuple(row) for row in rows.tolist())


def _quoted(name: str) -> str:
    """A name as a field: in quotes where it holds what parts fields."""
    return '"' + name.replace('"', '""') + '"' if set(name) & set(',"\n\r') else name
