"""The whole verdict on one start: the answers of this folder side by side, as plain data."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from phasewright.starts.capacitor_volts import (
    CapacitorVolts,
    run_capacitor_volts,
    start_capacitor_volts,
)
from phasewright.starts.felt import Coil, CoilLines, SpeedFall, coil, speed_falls
from phasewright.starts.heat import USUAL_CLASS, WARM_C, StartHeat, start_heat
from phasewright.starts.outcome import Outcome, outcomes
from phasewright.starts.overload import Overload, overload_trip
from phasewright.starts.seen import Event, amps, events
from phasewright.starts.starts_an_hour import StartsAnHour, start_capacitor_on_s, starts_an_hour
from phasewright.starts.trips import Device, Trip, supply_trip
from phasewright.starts.waves import Waves
from phasewright.starts.words import sentences


@dataclass(frozen=True, slots=True)
class Shopside:
    """What a verdict needs beside the waves. Machines by name; what is left out is not judged.

    `nominal_v` are the nominal volts of coils; `coils_on_line_3` names machines whose coil hangs
    there, by mistake or not; `other_a` the amps of whatever else hangs behind `devices`; `duty` the
    share of the time a machine works.
    """

    nominal_v: float
    devices: tuple[Device, ...] = ()
    other_a: float = 0.0
    overloads: Mapping[str, Overload] = field(default_factory=dict)
    coils_on_line_3: frozenset[str] = frozenset()
    run_capacitor_v: float | None = None
    start_capacitor_v: float | None = None
    insulation_class: str = USUAL_CLASS
    winding_before_c: float = WARM_C
    duty: float | None = None


@dataclass(frozen=True, slots=True)
class StartVerdict:
    """What became of one machine's start and of everything else while it did.

    `runs_up` is None where the run ended too soon to tell; `dip` is the deepest fall at the
    service over all that was switched. `words` are three sentences for the owner.
    """

    machine: str
    runs_up: bool | None
    time_s: float | None
    words: tuple[str, str, str]
    supply_peak_a: float
    supply_rms_max_a: float
    dip: float
    outcomes: tuple[Outcome, ...]
    events: tuple[Event, ...]
    trips: tuple[Trip, ...]
    coils: tuple[Coil, ...]
    speed_falls: tuple[SpeedFall, ...]
    heat: StartHeat | None
    starts_an_hour: StartsAnHour | None
    capacitors: tuple[CapacitorVolts, ...]


def verdict(waves: Waves, of: int, side: Shopside) -> StartVerdict:
    """Everything there is to say of the start of machine `of` (its place in the course)."""
    told, seen, most = outcomes(waves), events(waves), amps(waves)
    trips = _trips(waves, side)
    coils = _coils(waves, side)
    heat = start_heat(
        waves, of, told[of],
        before_c=side.winding_before_c, insulation_class=side.insulation_class,
    )  # fmt: skip
    often = None
    if heat is not None and side.duty is not None:
        on_s = start_capacitor_on_s(waves) if _uses_start_capacitor(waves, of) else None
        often = starts_an_hour(waves, of, heat, duty=side.duty, capacitor_on_s=on_s)
    capacitors = _capacitors(waves, side)
    return StartVerdict(
        machine=told[of].machine,
        runs_up=told[of].runs_up,
        time_s=told[of].time_s,
        words=sentences(
            told[of],
            told,
            seen,
            trips,
            coils,
            heat,
            capacitors,
            three_lines=waves.course.three_lines,
        ),
        supply_peak_a=most.peak_a,
        supply_rms_max_a=most.rms_max_a,
        dip=max((event.dip for event in seen), default=0.0),
        outcomes=told,
        events=seen,
        trips=trips,
        coils=coils,
        speed_falls=speed_falls(waves),
        heat=heat,
        starts_an_hour=often,
        capacitors=capacitors,
    )


def _trips(waves: Waves, side: Shopside) -> tuple[Trip, ...]:
    own = [supply_trip(waves, device, other_a=side.other_a) for device in side.devices]
    for of, starter in enumerate(waves.course.starters):
        relay = side.overloads.get(starter.machine.name)
        if relay is not None:
            own.append(overload_trip(waves, of, relay))
    return tuple(own)


def _coils(waves: Waves, side: Shopside) -> tuple[Coil, ...]:
    found = []
    for of, starter in enumerate(waves.course.starters):
        lines: CoilLines = "line 3" if starter.machine.name in side.coils_on_line_3 else "1-2"
        felt = coil(waves, of, side.nominal_v, lines)
        if felt is not None:
            found.append(felt)
    return tuple(found)


def _capacitors(waves: Waves, side: Shopside) -> tuple[CapacitorVolts, ...]:
    found: list[CapacitorVolts] = []
    if side.run_capacitor_v is not None:
        found += run_capacitor_volts(waves, side.run_capacitor_v)
    if side.start_capacitor_v is not None:
        start = start_capacitor_volts(waves, side.start_capacitor_v)
        found += [] if start is None else [start]
    return tuple(found)


def _uses_start_capacitor(waves: Waves, of: int) -> bool:
    """The start capacitor serves the machine it watches, else the first of the course."""
    start = waves.course.start
    if start is None:
        return False
    name = waves.course.starters[of].machine.name
    return name == start.drop.of if start.drop.of else of == 0
