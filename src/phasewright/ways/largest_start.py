"""The largest motor that a converter starts, by what the motor drives.

Standard motors of growing size, each with what its kind of load usually asks, are started one by
one on the running converter with nothing beside, computed in time, until one does not run up, drags
an idler down or pulls the service down too far. Inertia, torques and laws of the loads are common
practice (`tables/data/loads.toml`); the motors are usual ones, as bought today, like the idler.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from phasewright.machines.circuit import Circuit
from phasewright.machines.leakage import MIDDLE, with_leakage_at
from phasewright.machines.load import on_the_way_up
from phasewright.machines.performance import rated
from phasewright.network.supply import Source
from phasewright.quantities.codes import LoadKindName, Region
from phasewright.quantities.errors import NoOperatingPoint
from phasewright.quantities.finding import Reason
from phasewright.running.converter import Converter, on_converter
from phasewright.running.network import Connected, LoadLaw
from phasewright.running.settle import stalled
from phasewright.starts.brief import Brief, brief_of
from phasewright.starts.course import Starter
from phasewright.starts.on_converter import on_running
from phasewright.tables.loads import LoadKind, TorqueLaw
from phasewright.tables.sizes import motor_size, motor_sizes_w
from phasewright.ways.idlers import Idler, circuit_of
from phasewright.ways.on_converter import dip_refusals, failures

NOTHING_LARGER = Reason("no_larger_size", "No larger standard motor was tried.")


@dataclass(frozen=True, slots=True)
class Demand:
    """What a load asks in a start: torques over the motor's rated torque (`on_the_way` at rated
    speed, by its law), its inertia over the rotor's."""

    law: TorqueLaw
    on_the_way: float
    breakaway: float
    inertia_ratio: float


@dataclass(frozen=True, slots=True)
class LargestStart:
    """The largest standard motor that starts with a kind of load [W], 0 where not even the smallest
    does, and why the next size does not."""

    load: LoadKindName
    power_w: float
    limited_by: Reason


def usual_demand(kind: LoadKind) -> Demand:
    """What a kind of load usually asks, started empty, and at the worst to break away."""
    working, breakaway = kind.running.number, kind.breakaway.number
    way = on_the_way_up(kind.law, working, breakaway, starts_loaded=False)
    return Demand(kind.law, way, kind.breakaway.high, kind.inertia_ratio.number)


def largest_starts(
    source: Source, converter: Converter, kinds: Sequence[LoadKind], region: Region
) -> tuple[LargestStart, ...]:
    """The largest start of every kind of load; the search for one begins where the last ended."""
    found: list[LargestStart] = []
    near_w = converter.idler_power_w
    for kind in kinds:
        one = largest_start(source, converter, kind.name, usual_demand(kind), region, near_w)
        found.append(one)
        near_w = one.power_w
    return tuple(found)


def largest_start(
    source: Source, converter: Converter, load: LoadKindName, demand: Demand, region: Region,
    near_w: float,
) -> LargestStart:  # fmt: skip
    """The standard size that starts and whose next does not, searched from `near_w` on: up where
    that size starts, else down."""
    sizes = motor_sizes_w(region)

    def barred(at: int) -> list[Reason]:
        return _barred(source, converter, load, demand, sizes[at], region)

    at = max((k for k, size in enumerate(sizes) if size <= near_w), default=0)
    against = barred(at)
    if against:
        while at > 0 and (below := barred(at - 1)):
            at, against = at - 1, below
        return LargestStart(load, sizes[at - 1] if at else 0.0, _next(sizes[at], region, against))
    while at + 1 < len(sizes):
        against = barred(at + 1)
        if against:
            return LargestStart(load, sizes[at], _next(sizes[at + 1], region, against))
        at += 1
    return LargestStart(load, sizes[at], NOTHING_LARGER)


def _next(power_w: float, region: Region, against: list[Reason]) -> Reason:
    """The first reason against a size, with that size in its words."""
    size = motor_size(power_w, region)
    return Reason(against[0].code, f"With the next size, {size}: {against[0].words}")


def _barred(
    source: Source, converter: Converter, load: LoadKindName, demand: Demand, power_w: float,
    region: Region,
) -> list[Reason]:  # fmt: skip
    """Why a motor of this size does not start with this load; empty where it does."""
    try:
        start = start_of_size(
            source, converter, demand, power_w, f"the {motor_size(power_w, region)} motor"
        )
    except NoOperatingPoint as none:
        return [Reason("does_not_run_up", str(none))]
    return failures(load, start) + dip_refusals(1.0 - start.service_ratio)


@lru_cache(maxsize=1024)
def start_of_size(
    source: Source, converter: Converter, demand: Demand, power_w: float, name: str = "motor"
) -> Brief:
    """A standard motor's start on the running converter, its leakage as at starting current.

    Raises NoOperatingPoint where the converter alone does not run.
    """
    circuit = _with_its_leakage(source, converter, power_w)
    nm = rated(circuit_of(source, Idler(power_w))).shaft_torque_nm
    law = LoadLaw(demand.law, demand.on_the_way * nm, circuit.rated_speed_rpm * math.pi / 30.0)
    starter = Starter(
        Connected(name, circuit, law),
        circuit.inertia_kg_m2 * (1.0 + demand.inertia_ratio),
        breakaway_nm=demand.breakaway * nm,
    )
    course = on_running(source, converter, starter)
    return brief_of(course, len(course.starters) - 1)


@lru_cache(maxsize=256)
def _with_its_leakage(source: Source, converter: Converter, power_w: float) -> Circuit:
    """A usual motor of this size with its leakage as at standstill on the converter."""
    circuit = circuit_of(source, Idler(power_w))
    motor = Connected("motor", circuit, LoadLaw("none"))
    held = stalled(on_converter(source, converter, (motor,)), motor.name)
    return with_leakage_at(circuit, max(held.machines[-1].line_currents_a), MIDDLE)
