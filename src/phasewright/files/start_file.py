"""The start file: `start.json`, and beside it the waves, their picture and the netlist.

The same course gives the same bytes. The `network` block repeats the run: its numbers have all
their digits, the others nine.
"""

from __future__ import annotations

import json
import math
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from phasewright.files.result_schema import schema_of
from phasewright.files.spice import netlist
from phasewright.files.start_csv import csv_lines
from phasewright.files.start_network import network_block, network_of
from phasewright.files.start_shape import NetworkShape
from phasewright.papers.picture import png
from phasewright.quantities.plain import plain
from phasewright.running.points import OperatingPoint
from phasewright.starts.capacitor_volts import CapacitorVolts
from phasewright.starts.course import Course
from phasewright.starts.felt import Coil, SpeedFall
from phasewright.starts.halves import at_the_end, by_cycle
from phasewright.starts.heat import StartHeat
from phasewright.starts.outcome import Outcome
from phasewright.starts.seen import Event
from phasewright.starts.starts_an_hour import StartsAnHour
from phasewright.starts.trips import Trip
from phasewright.starts.verdict import StartVerdict
from phasewright.starts.waves import Waves, as_run


@dataclass(frozen=True, slots=True)
class VerdictSide:
    """Whether the machine that was switched on last runs up, in how many seconds, and three
    sentences for the owner; `runs_up` is absent where the run ended too soon to tell."""

    runs_up: bool | None
    time_s: float | None
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class UnbalanceSide:
    """Unbalance of the line voltages, fractions."""

    vuf: float
    nema: float


@dataclass(frozen=True, slots=True)
class PointMachine:
    """A machine at an operating point; currents of lines 1, 2, 3 rms, torque at the shaft."""

    id: str
    slip: float
    speed_rpm: float
    shaft_torque_nm: float
    shaft_power_w: float
    input_power_w: float
    loss_w: float
    line_currents_a: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class PointSide:
    """A stable operating point; `runs` says whether every machine turns above half its speed
    in its own direction, `growth_per_s` is the rate of its slowest dying motion."""

    runs: bool
    growth_per_s: float
    line_voltages_v: tuple[float, float, float]
    unbalance: UnbalanceSide
    supply_current_a: float
    supply_power_w: float
    supply_reactive_var: float
    machines: tuple[PointMachine, ...]


@dataclass(frozen=True, slots=True)
class StartFile:
    """What `start.json` holds. With `--settled` there are `settled` and `network` alone, the
    fastest operating point first; else everything but `settled`. Lists of what was not judged
    are absent."""

    machine: str | None
    stands_on: str | None
    verdict: VerdictSide | None
    supply_peak_a: float | None
    supply_rms_max_a: float | None
    dip: float | None
    line_volts_end_v: tuple[float, float, float] | None
    speeds_end_rpm: dict[str, float] | None
    trips: tuple[Trip, ...] | None
    events: tuple[Event, ...] | None
    outcomes: tuple[Outcome, ...] | None
    coils: tuple[Coil, ...] | None
    speed_falls: tuple[SpeedFall, ...] | None
    heat: StartHeat | None
    starts_an_hour: StartsAnHour | None
    capacitors: tuple[CapacitorVolts, ...] | None
    told: tuple[str, ...] | None
    settled: tuple[PointSide, ...] | None
    network: NetworkShape


def start_text(found: Waves, told: StartVerdict, stands_on: str = "") -> str:
    """The text of `start.json` for a run; `stands_on` says of which plan or parts it is."""
    volts = by_cycle_end(found)
    speeds = at_the_end(found.speed_rad_s) * 30.0 / math.pi
    names = [starter.machine.name for starter in found.course.starters]
    whole = StartFile(
        machine=told.machine,
        stands_on=stands_on or None,
        verdict=VerdictSide(told.runs_up, told.time_s, told.words),
        supply_peak_a=told.supply_peak_a,
        supply_rms_max_a=told.supply_rms_max_a,
        dip=told.dip,
        line_volts_end_v=volts,
        speeds_end_rpm={name: float(rpm) for name, rpm in zip(names, speeds, strict=True)},
        trips=told.trips,
        events=told.events,
        outcomes=told.outcomes,
        coils=told.coils,
        speed_falls=told.speed_falls,
        heat=told.heat,
        starts_an_hour=told.starts_an_hour,
        capacitors=told.capacitors or None,
        told=found.told or None,
        settled=None,
        network=network_of(as_run(found)),
    )
    return _json(whole, as_run(found))


def settled_text(points: tuple[OperatingPoint, ...], why_none: str, course: Course) -> str:
    """The text of `start.json` for operating points alone; `why_none` where there is none."""
    nothing = dict.fromkeys(StartFile.__dataclass_fields__)
    sides = tuple(_point(point) for point in points)
    told = (why_none,) if why_none else None
    given = {**nothing, "told": told, "settled": sides, "network": network_of(course)}
    return _json(StartFile(**given), course)  # type: ignore[arg-type]


def write_start(
    found: Waves, told: StartVerdict, drawn: str, folder: Path, stands_on: str = ""
) -> None:
    """Write start.json, start.csv, start.svg, start.png and start.cir into a folder that exists.

    `drawn` is the picture's SVG text. Raises OSError where the disk refuses.
    """
    _put(folder / "start.json", start_text(found, told, stands_on))
    _put(folder / "start.cir", netlist(found))
    with (folder / "start.csv").open("w", encoding="utf-8", newline="") as file:
        file.writelines(csv_lines(found))
    _put(folder / "start.svg", drawn)
    (folder / "start.png").write_bytes(png(drawn))


def write_settled(
    points: tuple[OperatingPoint, ...], why_none: str, course: Course, folder: Path
) -> None:
    """Write start.json with operating points alone."""
    _put(folder / "start.json", settled_text(points, why_none, course))


def start_schema_text() -> str:
    """The text of `docs/start.schema.json`."""
    schema = schema_of(StartFile, "Phasewright start file")
    return json.dumps(schema, ensure_ascii=False, indent=1) + "\n"


def by_cycle_end(found: Waves) -> tuple[float, float, float]:
    """Rms volts of lines 1-2, 2-3, 3-1 over the last cycle [V]."""
    last = by_cycle(found.volts_v)[-1] if len(found.volts_v) > 1 else found.volts_v[-1]
    return (float(last[0]), float(last[1]), float(last[2]))


def _point(point: OperatingPoint) -> PointSide:
    of = point.settled
    return PointSide(
        runs=point.running,
        growth_per_s=point.growth_per_s,
        line_voltages_v=of.line_voltages_v,
        unbalance=UnbalanceSide(of.vuf, of.nema),
        supply_current_a=of.supply_current_a,
        supply_power_w=of.supply_power_w,
        supply_reactive_var=of.supply_reactive_var,
        machines=tuple(
            PointMachine(
                id=each.name,
                slip=each.slip,
                speed_rpm=each.speed_rpm,
                shaft_torque_nm=each.shaft_torque_nm,
                shaft_power_w=each.shaft_power_w,
                input_power_w=each.input_power_w,
                loss_w=each.loss_w,
                line_currents_a=each.line_currents_a,
            )
            for each in of.machines
        ),
    )


def _json(whole: StartFile, course: Course) -> str:
    tree: dict[str, Any] = plain(whole)
    tree["network"] = network_block(course)
    return json.dumps(tree, ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def _put(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8", newline="\n")
