"""One start in time: run, judged, drawn and written."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from phasewright.files.start_csv import every_of
from phasewright.files.start_file import write_settled, write_start
from phasewright.papers.start_events import marks_of
from phasewright.papers.start_plot import start_plot
from phasewright.plan.one_start import one_start
from phasewright.quantities.errors import NoOperatingPoint
from phasewright.running.points import OperatingPoint, operating_points
from phasewright.shop.model import Shop
from phasewright.starts.at_end import network_at_end
from phasewright.starts.course import Course
from phasewright.starts.verdict import Shopside, StartVerdict, verdict
from phasewright.starts.waves import Waves, waves


@dataclass(frozen=True, slots=True, eq=False)
class Started:
    """A run with its record, what there is to say of it, and for a shop's motor what the start
    stands on, in words."""

    waves: Waves
    verdict: StartVerdict
    stands_on: str = ""


def run_course(course: Course, side: Shopside, machine: str | None = None) -> Started:
    """A course run and judged for a machine, by its name; for the one that is switched on last
    where none is named."""
    found = waves(course, every=every_of(course))
    names = [starter.machine.name for starter in course.starters]
    closed = [at if at is not None else -1.0 for at in found.closed_s]
    last = max(range(len(closed)), key=lambda at: (closed[at], at))
    of = last if machine is None else names.index(machine)
    return Started(found, verdict(found, of, side))


def run_shop(shop: Shop, motor: str, way: str, plan: str | None = None) -> Started:
    """The start of a motor, "Machine/motor", by a way of powering, from everything at rest.

    On a converter its hardest case in the plan named, else in the best listed one that has it so.
    Raises UsageError for what is not there or does not start so.
    """
    asked = one_start(shop, motor, way, plan)
    run = run_course(asked.course, asked.side, asked.motor)
    return replace(run, stands_on=asked.words)


def run_network(course: Course) -> Started:
    """A course run and judged with nothing known of the shop but what the course holds; coils are
    taken to be made for the supply's volts at no load."""
    return run_course(course, Shopside(course.source.voltage_v))


def settled_points(course: Course) -> tuple[tuple[OperatingPoint, ...], str]:
    """Every stable operating point of what is connected at the end of a course, the fastest first,
    and why there is none where there is none.

    Raises NotComputable where nothing is connected that could settle.
    """
    try:
        return operating_points(network_at_end(course)), ""
    except NoOperatingPoint as none:
        return (), str(none)


def write_run(started: Started, folder: Path) -> None:
    """Write the files of a run."""
    told = started.verdict
    drawn = start_plot(started.waves, told.words[0], marks_of(started.waves, told))
    write_start(started.waves, told, drawn, folder, started.stands_on)


def write_points(
    points: tuple[OperatingPoint, ...], why_none: str, course: Course, folder: Path
) -> None:
    """Write the file of operating points."""
    write_settled(points, why_none, course, folder)
