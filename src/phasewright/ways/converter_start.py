"""How the idlers are brought up to speed: start capacitor, series resistor, pony motor, in time."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

from phasewright.machines.circuit import Circuit
from phasewright.machines.leakage import MIDDLE, with_leakage_at
from phasewright.machines.performance import rated
from phasewright.network.supply import Source
from phasewright.running.converter import Converter, on_converter
from phasewright.running.network import Between, Settled
from phasewright.running.settle import at_slips
from phasewright.starts.course import Course
from phasewright.starts.halves import by_cycle
from phasewright.starts.on_converter import STEPS_PER_CYCLE, idlers_from_rest
from phasewright.starts.outcome import outcomes
from phasewright.starts.waves import Waves, waves
from phasewright.tables.sizes import START_CAPACITORS_F

Method = Literal["direct", "series_resistor", "pony_motor"]

IDLER_START_RATIO = 0.25
"""Standstill torque of the unloaded idler over its rated torque that turns it from rest with
room for friction and frost (common practice, no source)."""
LEAST_START_RATIO = 0.10
"""Torque over the rated one that an idler needs to break away (common practice, no source)."""
DEEPEST_DIP = 0.10
"""Dip at the idler's start from which a series resistor is fitted (common practice)."""
START_RESISTOR_SHARES = (0.25, 0.5, 0.75, 1.0, 1.5, 2.0)
"""Series resistances tried, over rated volts by direct starting amps."""
LONGEST_ON_S = 3.0
"""How long a start capacitor may be on (common practice: three seconds, twenty times an hour)."""
PONY_SPEED = 0.95
"""Share of synchronous speed to which a pony motor turns an idler (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class IdlerStart:
    """The converter's start with nothing on it, computed in time.

    `torque_ratio` standstill torque of the first idler over its rated torque (0 with a pony motor);
    `supply_a` the largest rms of a cycle, `peak_a` the largest instant, `dip_ratio` the deepest
    half cycle at the service against the volts before; `seconds` until the last idler runs;
    `settles` is False where volts and speeds swing for ever; `start_on_s` how long the start
    capacitor is on. `resistor_ohm` is in series with the whole converter and bridged once the
    first idler runs; 0 without.
    """

    method: Method
    runs_up: bool
    settles: bool
    torque_ratio: float
    supply_a: float
    peak_a: float
    dip_ratio: float
    seconds: float
    start_on_s: float
    resistor_ohm: float = 0.0


def start_of(source: Source, converter: Converter) -> tuple[float, IdlerStart]:
    """Start capacitor and start of the idlers: direct where the supply bears it, else through a
    series resistor with bypass, the smallest that keeps the dip (an electronic soft starter with
    capacitors behind it is no way), else by a pony motor. Several start one after the other."""
    tried = [_tried(source, converter, 0.0)]
    if _good(tried[0][1]):
        return tried[0]
    for share in START_RESISTOR_SHARES:
        ohm = share * converter.idler.line_voltage_v / tried[0][1].supply_a
        tried.append(_tried(source, converter, ohm))
        if _good(tried[-1][1]):
            return tried[-1]
    tried.append((0.0, by_pony(source, converter)))
    able = [each for each in tried if each[1].runs_up]
    return min(able or tried, key=lambda each: each[1].dip_ratio)


def _good(start: IdlerStart) -> bool:
    return start.runs_up and start.dip_ratio <= DEEPEST_DIP


def _tried(source: Source, converter: Converter, resistor_ohm: float) -> tuple[float, IdlerStart]:
    """The start capacitor that suits this resistor, and the start with it: the smallest that gives
    its standstill torque, or the next ones while it does not run up in the time a can bears."""
    sizes = _start_capacitors(source, converter.started_first, resistor_ohm)
    best = (sizes[0], start_through(source, replace(converter, start_f=sizes[0]), resistor_ohm))
    for start_f in sizes[1:]:
        if best[1].runs_up:
            break
        best = (start_f, start_through(source, replace(converter, start_f=start_f), resistor_ohm))
    return best


@lru_cache(maxsize=1024)
def start_through(source: Source, converter: Converter, resistor_ohm: float) -> IdlerStart:
    """The converter's start through a series resistor, 0 for a direct one: the first idler by the
    start capacitor with nothing beside it, every other one on those that run.

    Amps and dip are those of the idler's plate; it must run up with its leakage as it is at
    starting current too, which gives less torque.
    """
    at_rest = idler_standstill(source, converter.started_first, converter.start_f, resistor_ohm)
    torque_ratio = at_rest.machines[0].shaft_torque_nm / _rated_nm(converter.idler)
    found = _run(source, converter, resistor_ohm)
    method: Method = "series_resistor" if resistor_ohm else "direct"
    told = _told(found, method, torque_ratio, _on_s(found), resistor_ohm)
    if not told.runs_up:
        return told
    weaker = _run(source, _with_leakage(converter, at_rest), resistor_ohm)
    also = _told(weaker, method, torque_ratio, _on_s(weaker), resistor_ohm)
    return replace(told, runs_up=also.runs_up)


def _run(source: Source, converter: Converter, resistor_ohm: float) -> Waves:
    return waves(own_course(source, converter, resistor_ohm))


def own_course(
    source: Source, converter: Converter, resistor_ohm: float, *, pony: bool = False,
    steps: int = STEPS_PER_CYCLE,
) -> Course:  # fmt: skip
    """The converter's own start: its first idler takes something to break away, or is turned by a
    pony motor."""
    course = idlers_from_rest(source, converter, resistor_ohm, steps=steps)
    first, *others = course.starters
    if pony:
        speed = PONY_SPEED * first.machine.circuit.synchronous_speed_rpm * math.pi / 30.0
        first = replace(first, speed_rad_s=speed)
    else:
        first = replace(first, breakaway_nm=LEAST_START_RATIO * _rated_nm(converter.idler))
    return replace(course, starters=(first, *others))


def _on_s(found: Waves) -> float | None:
    return 0.0 if found.course.start is None else found.dropped_s


def by_pony(source: Source, converter: Converter) -> IdlerStart:
    """The converter's start with its first idler turned by a pony motor when it is switched on."""
    found = waves(own_course(source, replace(converter, start_f=0.0), 0.0, pony=True))
    return _told(found, "pony_motor", 0.0, 0.0, 0.0)


def _told(
    found: Waves, method: Method, torque_ratio: float, on_s: float | None, resistor_ohm: float
) -> IdlerStart:
    told = outcomes(found)
    ran, end = all(each.runs_up for each in told), float(found.time_s[-1])
    return IdlerStart(
        method=method,
        runs_up=ran and on_s is not None and on_s <= LONGEST_ON_S,
        settles=found.settled_s is not None,
        torque_ratio=torque_ratio,
        supply_a=float(by_cycle(found.supply_a).max()),
        peak_a=float(found.supply_peak_a.max()),
        dip_ratio=max(0.0, 1.0 - float(found.service_v.min()) / found.course.source.voltage_v),
        seconds=max((each.closed_s or 0.0) + (each.time_s or 0.0) for each in told) if ran else end,
        start_on_s=end if on_s is None else on_s,
        resistor_ohm=resistor_ohm,
    )


def _with_leakage(converter: Converter, at_rest: Settled) -> Converter:
    """The converter with its first idler's leakage as it is at its starting current."""
    amps = max(at_rest.machines[0].line_currents_a)
    return replace(converter, idler=with_leakage_at(converter.idler, amps, MIDDLE))


def _rated_nm(circuit: Circuit) -> float:
    return rated(circuit).shaft_torque_nm


@lru_cache(maxsize=1024)
def _start_capacitors(
    source: Source, converter: Converter, resistor_ohm: float
) -> tuple[float, ...]:
    """Start capacitors to try: the smallest with the standstill torque and those up to twice it;
    where none gives that, the one with most torque.

    Cans of the stock, then several of the largest in parallel.
    """
    largest = START_CAPACITORS_F[-1]
    sizes = (*START_CAPACITORS_F, *(cans * largest for cans in range(2, 9)))
    nm = IDLER_START_RATIO * _rated_nm(converter.idler)
    most = (-1.0, sizes[0])
    for size in sizes:
        torque = idler_standstill(source, converter, size, resistor_ohm).machines[0].shaft_torque_nm
        if torque >= nm:
            return tuple(each for each in sizes if size <= each <= 2.0 * size)
        most = max(most, (torque, size))
    return (most[1],)


def idler_standstill(
    source: Source, converter: Converter, start_f: float, resistor_ohm: float = 0.0
) -> Settled:
    """The first idler at rest with this start capacitor across 3-1 beside its run capacitors."""
    run = converter.run_f
    through = replace(source, resistance_ohm=source.resistance_ohm + resistor_ohm)
    network = on_converter(
        through, replace(converter, run_f=Between(run.c12, run.c23, run.c31 + start_f)), ()
    )
    return at_slips(network, (1.0,))
