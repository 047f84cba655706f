"""A plate of one speed read through: volts, links, turning, rated point, circuit, load."""

from __future__ import annotations

from dataclasses import dataclass, replace

from phasewright.machines.connection import link_for, linking
from phasewright.machines.fit_motor import Fitted, fit_motor
from phasewright.machines.hanging import hanging_reasons
from phasewright.machines.link import Link
from phasewright.machines.load import Load, load_of
from phasewright.machines.mains import mains_reasons
from phasewright.machines.misread import ask_about_power
from phasewright.machines.notes import Notes
from phasewright.machines.questions import (
    ask_about_amps,
    ask_about_leads,
    ask_about_slip,
    ask_about_starter,
)
from phasewright.machines.rated_point import RatedPoint, power_from_current, rated_point
from phasewright.machines.speed import Turning, turning
from phasewright.machines.stamped import TWO_FREQUENCIES
from phasewright.machines.unreadable import power_from_measures
from phasewright.quantities.codes import Region
from phasewright.quantities.errors import NotComputable, TableEnds
from phasewright.quantities.finding import Assumed, Reason
from phasewright.quantities.value import Value, spread
from phasewright.shop.machine import Load as ShopLoad
from phasewright.shop.machine import Machine
from phasewright.shop.plate import Plate
from phasewright.tables.motors import default_inertia_kg_m2, power_range_w

USUAL_VOLTS: dict[Region, tuple[float, float]] = {"IEC": (230.0, 400.0), "NEC": (230.0, 460.0)}
MOST_POLES = 8


@dataclass(frozen=True, slots=True)
class Where:
    """The shop a motor stands in: its volts and hertz, and the volts read at the outlet."""

    supply_voltage_v: float
    frequency_hz: float
    region: Region
    readings_v: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Computed:
    """What takes the tables and the fit: the rated point, the circuit and the load."""

    point: RatedPoint
    inertia: Value
    fitted: Fitted
    load: Load
    assumed: tuple[Assumed, ...]


@dataclass(frozen=True, slots=True)
class Reading:
    """What a plate says. `computed` is None where `reasons` say why; `at` is the circuit's link."""

    links: tuple[Link, ...]
    link: Link | None
    link_reasons: tuple[Reason, ...]
    at: Link | None = None
    power_w: Value | None = None
    turns: Turning | None = None
    computed: Computed | None = None
    reasons: tuple[Reason, ...] = ()


def stamped_power(plate: Plate, frequency_hz: float) -> Value | None:
    """The stamped power: of two frequencies that of the one in use, else the larger one."""
    if len(plate.power) == 2 and _two_frequencies(plate):
        return plate.power[_place_of_frequency(plate, frequency_hz)]
    return max(plate.power, key=lambda value: value.number) if plate.power else None


def stamped_speed(plate: Plate, frequency_hz: float) -> float | None:
    """The stamped speed that belongs to the power that counts."""
    if not plate.speed:
        return None
    speeds = [value.number for value in plate.speed]
    if _two_frequencies(plate):
        return speeds[_place_of_frequency(plate, frequency_hz)]
    if len(speeds) == 2 and len(plate.power) == 2:
        return speeds[0] if plate.power[0].number >= plate.power[1].number else speeds[1]
    return max(speeds)


def _two_frequencies(plate: Plate) -> bool:
    speeds = [value.number for value in plate.speed]
    return len(speeds) == 2 and max(speeds) / min(speeds) < TWO_FREQUENCIES


def _place_of_frequency(plate: Plate, frequency_hz: float) -> int:
    """Which of the two values belongs to the frequency in use: the faster one to 60 Hz."""
    hertz = frequency_hz if plate.frequency is None else plate.frequency.number
    first_faster = plate.speed[0].number > plate.speed[1].number
    return 0 if (hertz > 55.0) == first_faster else 1


def read_plate(
    plate: Plate, machine: Machine, load: ShopLoad, where: Where, notes: Notes
) -> Reading:
    """Read one plate. Raises NotComputable where it contradicts itself beyond use."""
    plate = _with_volts(plate, where.region, notes)
    ways = linking(plate, where.region, machine.starter)
    ask_about_leads(plate, ways, notes)
    ask_about_starter(plate, machine, notes)
    if not ways.links:
        return Reading((), None, ways.reasons, reasons=ways.reasons)
    ask_about_amps(plate, ways.links, notes)
    rpm = stamped_speed(plate, where.frequency_hz)
    power = stamped_power(plate, where.frequency_hz)
    reading = Reading(ways.links, None, ways.reasons, ways.links[0], power)
    try:
        power = power or power_from_measures(plate, where.region, where.frequency_hz, notes)
        guess = power.number if power is not None else 1500.0
        turns = turning(plate, guess, where.region, where.frequency_hz, rpm, notes)
        reading = _linked(reading, turns, where)
        if power is None:
            power = _from_current(plate, reading, notes)
        reading = replace(reading, power_w=power)
        computed = _computed(plate, machine, load, reading, power, notes)
    except TableEnds as end:
        return replace(reading, reasons=(_beyond(reading, end),))
    ask_about_slip(plate, turns, power, notes)
    return _with_mains(replace(reading, computed=computed), computed.fitted, machine, where, notes)


def _linked(reading: Reading, turns: Turning, where: Where) -> Reading:
    link, reasons = link_for(
        reading.links, where.supply_voltage_v, where.frequency_hz, turns.frequency_hz.number
    )
    return replace(
        reading, link=link, at=link or reading.links[0], turns=turns,
        link_reasons=reading.link_reasons + reasons,
    )  # fmt: skip


def _from_current(plate: Plate, reading: Reading, notes: Notes) -> Value:
    at, turns = reading.at, reading.turns
    if at is None or turns is None or at.full_load_current_a is None:
        raise NotComputable("Neither power nor current nor size of this motor is known.")
    return power_from_current(plate, at, turns.frequency_hz.number, turns.poles, notes)


def _computed(
    plate: Plate, machine: Machine, load: ShopLoad, reading: Reading, power: Value, notes: Notes
) -> Computed:
    at, turns = reading.at, reading.turns
    assert at is not None
    assert turns is not None
    point = rated_point(plate, power, at, turns, notes)
    ask_about_power(plate, power, at, turns, notes)
    inertia = notes.take(
        "rotor inertia", "plate", default_inertia_kg_m2(power.number, turns.poles, plate.year)
    )
    fitted = fit_motor(plate, point, at, turns, inertia, notes)
    path = notes.path
    done, assumed = load_of(
        load, machine, inertia, path,
        rated_nm=fitted.rated_nm.number, speed_rpm=turns.speed_rpm.number,
    )  # fmt: skip
    return Computed(point, inertia, fitted, done, assumed)


def _with_mains(
    reading: Reading, fitted: Fitted, machine: Machine, where: Where, notes: Notes
) -> Reading:
    """Links with their currents; what the readings at the outlet and a brake coil say to them."""
    at = reading.at
    assert at is not None
    amps = fitted.circuit.rated_current_a
    links = tuple(link.with_current(at, amps) for link in reading.links)
    link = None if reading.link is None else reading.link.with_current(at, amps)
    reasons = reading.link_reasons
    if link is not None:
        volts = link.line_voltage_v
        circuits = (
            fitted.circuit.relinked(volts),
            fitted.circuit_soft.relinked(volts),
            fitted.circuit_hard.relinked(volts),
        )
        reasons += mains_reasons(
            circuits, link, where.readings_v, where.supply_voltage_v, where.frequency_hz, notes
        )
        reasons += hanging_reasons(machine, link, links)
    return replace(
        reading, links=links, link=link, at=at.with_current(at, amps), link_reasons=reasons
    )


def _beyond(reading: Reading, end: TableEnds) -> Reason:
    """Why a motor that is recognised has no figures."""
    low, high = power_range_w()
    known = []
    if reading.power_w is not None:
        known.append(f"{reading.power_w.number / 1000.0:.3g} kW")
    if reading.turns is not None:
        known.append(f"{reading.turns.poles} poles")
    words = (
        f"This motor ({', '.join(known) or 'size unknown'}) is recognised but not computed: "
        f"motors from {low / 1000.0:g} to {high / 1000.0:g} kW with 2 to {MOST_POLES} poles are. "
        f"{str(end)[:1].upper()}{str(end)[1:]}. Ask a motor works."
    )
    return Reason("beyond_the_tables", words)


def _with_volts(plate: Plate, region: Region, notes: Notes) -> Plate:
    if plate.voltage:
        return plate
    low, high = USUAL_VOLTS[region]
    source = "usual plate of the region (common practice, no source)"
    values = (
        spread(low, 190.0, 400.0, "V", "assumed", source),
        spread(high, 380.0, 690.0, "V", "assumed", source),
    )
    notes.take("voltage", "plate.voltage", values[0])
    notes.wanted(
        "voltage", "plate.voltage", values[0], "Whether this motor runs on the low voltage at all.",
        "Look for the volts on the plate or in the lid; else a winder can tell.",
        "connection, way of powering",
    )  # fmt: skip
    return replace(plate, voltage=values)
