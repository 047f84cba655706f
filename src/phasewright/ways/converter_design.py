"""A rotary converter that can be had: its idler, its capacitors chosen for the workday, its parts.

The capacitors are the discrete optimum over the workday (the idler alone, and what hangs on it)
from stock cans; the start capacitor is the smallest that turns the idler from rest with room.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from phasewright.machines.performance import rated
from phasewright.machines.standard import standard_motor
from phasewright.network.supply import Source
from phasewright.quantities.codes import Buyable
from phasewright.quantities.errors import NoOperatingPoint
from phasewright.running.capacitors import Case, choose
from phasewright.running.converter import Converter, on_converter
from phasewright.running.network import Between, Connected, Settled
from phasewright.running.settle import at_slips, locked, settle
from phasewright.tables.labour import hours
from phasewright.tables.published import table
from phasewright.tables.sizes import (
    CAPACITOR_VOLTAGES_V,
    RUN_CAPACITORS_F,
    START_CAPACITORS_F,
    idler_sizes_w,
    next_size,
)
from phasewright.ways.on_two_lines import Linked
from phasewright.ways.purchase import Item, item
from phasewright.ways.shared_source import Had
from phasewright.ways.site import Site

IDLER_START_RATIO = 0.25
"""Standstill torque of the unloaded idler over its rated torque that turns it from rest with
room for friction and frost (common practice, no source)."""
LEAST_START_RATIO = 0.10
"""Below this standstill torque an idler is not trusted to turn (common practice, no source)."""
DEEPEST_DIP = 0.10
"""Dip at the idler's start from which a series resistor is fitted (common practice)."""
START_RESISTOR_SHARES = (0.25, 0.5, 0.75, 1.0, 1.5, 2.0)
"""Series resistances tried, over rated volts by direct starting amps."""
MOST_CANS = 3
USUAL_IDLER_V = 230.0
IDLER_YEAR = 2005
"""Year of make taken for an idler bought today, new or used (common practice, no source)."""
SCREEN = 0.8


@dataclass(frozen=True, slots=True)
class IdlerStart:
    """The idler at standstill with its start capacitor, before anything hangs on it.

    `resistor_ohm` in series with the whole converter is bypassed when it has run up; 0 for a
    direct start.
    """

    torque_ratio: float
    supply_a: float
    dip_ratio: float
    resistor_ohm: float = 0.0


@dataclass(frozen=True, slots=True)
class Design:
    """One converter that can be had here, with what it costs and does by itself."""

    converter: Converter
    cans_23_f: tuple[float, ...]
    cans_31_f: tuple[float, ...]
    idle: Settled
    start: IdlerStart
    over_excited: bool


MADE = {"new": "ready-made", "self_built": "self-built", "used": "used", "owned": "owned"}


def idler_voltage_v(source: Source) -> float:
    """Volts the idler is linked for: the usual low voltage where it fits, else the supply's."""
    return USUAL_IDLER_V if 0.87 <= source.voltage_v / USUAL_IDLER_V <= 1.15 else source.voltage_v


def sizes_w(site: Site) -> tuple[float, ...]:
    """Idlers on this market, and those the owner has."""
    owned = {
        part.power.number
        for part in site.owned
        if site.wiring_by_owner and part.kind == "idler_motor" and part.power is not None
    }
    return tuple(sorted({*idler_sizes_w(site.region), *owned}))


@lru_cache(maxsize=1024)
def rough_converter(source: Source, idler_w: float) -> Converter:
    """The idler with a bank between that of idling and that of full load: to screen sizes by."""
    idler = standard_motor(idler_w, idler_voltage_v(source), source.frequency_hz, year=IDLER_YEAR)
    omega = 2.0 * math.pi * source.frequency_hz
    unit_f = idler.rated_current_a / (omega * idler.line_voltage_v)
    return Converter(idler_w, idler, Between(0.0, 0.15 * unit_f, 0.6 * unit_f))


def screened(source: Source, idler_w: float, motor: Linked) -> bool:
    """True where this idler is far too small for the motor: with a fair bank it gives less than
    `SCREEN` of the torque the machine needs at standstill. Only spares finer work; a size that
    passes is judged in full.
    """
    try:
        held = locked(
            on_converter(source, rough_converter(source, idler_w), (motor.connected(0.0),)),
            motor.motor.id,
        )
    except NoOperatingPoint:
        return True
    wanted = motor.load.breakaway_torque.number
    return held.machines[1].shaft_torque_nm / motor.rated_nm < SCREEN * wanted


@lru_cache(maxsize=512)
def design(source: Source, idler_w: float, workday: tuple[tuple[Connected, ...], ...]) -> Design:
    """The converter of this idler for a workday: sets of motors with their usual loads.

    Raises NoOperatingPoint where not even the idler alone runs with any bank, TableEnds where no
    start capacitor turns it.
    """
    idler = standard_motor(idler_w, idler_voltage_v(source), source.frequency_hz, year=IDLER_YEAR)
    bare = Converter(idler_w, idler, Between())
    cases = [Case("idle", on_converter(source, bare, ()), 1.0)]
    for number, motors in enumerate(workday):
        case = Case(f"work {number}", on_converter(source, bare, motors), 1.0)
        if _runs(case):
            cases.append(case)
    chosen = choose(
        tuple(cases), RUN_CAPACITORS_F, most_cans=MOST_CANS,
        rated_voltage_v=idler.line_voltage_v, within_f=0.5 * RUN_CAPACITORS_F[0],
    )  # fmt: skip
    tuned = replace(bare, run_f=chosen.stocked.capacitance_f)
    start = _start_of(source, tuned)
    tuned = replace(tuned, start_f=start[0])
    return Design(
        converter=tuned,
        cans_23_f=chosen.cans_23_f,
        cans_31_f=chosen.cans_31_f,
        idle=settle(on_converter(source, tuned, ())),
        start=start[1],
        over_excited=bool(chosen.stocked.over_excited),
    )


def _runs(case: Case) -> bool:
    """Whether this set runs at all with a fair bank; a set that does not is no case to tune for."""
    circuit = case.network.machines[0].circuit
    omega = 2.0 * math.pi * case.network.source.frequency_hz
    c = circuit.rated_current_a / (omega * circuit.line_voltage_v)
    try:
        settle(replace(case.network, capacitance_f=Between(0.0, 0.3 * c, 0.8 * c)))
    except NoOperatingPoint:
        return False
    return True


def _start_of(source: Source, converter: Converter) -> tuple[float, IdlerStart]:
    """Start capacitor and start of the idler: direct where the supply bears it, else through a
    series resistor with bypass, the smallest that keeps the dip (an electronic soft starter with
    capacitors behind it is no way)."""
    direct = _start_capacitor(source, converter, 0.0)
    if direct[1].dip_ratio <= DEEPEST_DIP:
        return direct
    best = direct
    for share in START_RESISTOR_SHARES:
        ohm = share * converter.idler.line_voltage_v / direct[1].supply_a
        best = _start_capacitor(source, converter, ohm)
        if best[1].dip_ratio <= DEEPEST_DIP:
            break
    return best


def _start_capacitor(
    source: Source, converter: Converter, resistor_ohm: float
) -> tuple[float, IdlerStart]:
    """The smallest start capacitor that gives the idler its standstill torque, else the best.

    Cans of the stock, then several of the largest in parallel.
    """
    largest = START_CAPACITORS_F[-1]
    tries = (*START_CAPACITORS_F, *(cans * largest for cans in range(2, 9)))
    found = [(tries[0], idler_standstill(source, converter, tries[0], resistor_ohm))]
    for capacitance in tries[1:]:
        if found[-1][1].torque_ratio >= IDLER_START_RATIO:
            break
        found.append((capacitance, idler_standstill(source, converter, capacitance, resistor_ohm)))
    if found[-1][1].torque_ratio >= IDLER_START_RATIO:
        return found[-1]
    return max(found, key=lambda pair: pair[1].torque_ratio)


def idler_standstill(
    source: Source, converter: Converter, start_f: float, resistor_ohm: float = 0.0
) -> IdlerStart:
    """The idler at rest with this start capacitor across 3-1 beside its run capacitors."""
    run = converter.run_f
    network = on_converter(
        replace(source, resistance_ohm=source.resistance_ohm + resistor_ohm),
        replace(converter, run_f=Between(run.c12, run.c23, run.c31 + start_f)),
        (),
    )
    held = at_slips(network, (1.0,))
    volts = held.line_voltages_v[0]
    current = complex(held.supply_power_w, -held.supply_reactive_var) / volts
    return IdlerStart(
        torque_ratio=held.machines[0].shaft_torque_nm / rated(converter.idler).shaft_torque_nm,
        supply_a=held.supply_current_a,
        dip_ratio=1.0 - abs(volts + resistor_ohm * current) / source.voltage_v,
        resistor_ohm=resistor_ohm,
    )


def capacitor_class_v(highest_idle_v: float) -> float:
    """The rated volts the run capacitors need."""
    return next_size(
        table("limits", "capacitor").number("margin") * highest_idle_v,
        CAPACITOR_VOLTAGES_V,
        "run capacitor volts",
    )


def ways_to_have(site: Site, of: Design) -> tuple[Had, ...]:
    """Every way this converter can be had: ready-made, self-built, round an idler one owns."""
    found = []
    rating = of.converter.idler_power_w
    release = item("undervoltage_release", 1.0, "", site.quotes)
    if rating in idler_sizes_w(site.region):
        found.append(
            Had(
                "new",
                (item("rotary_converter", rating, "W", site.quotes), release, *_resistor(site, of)),
                hours("converter_ready_made"),
                hours("upkeep_rotary").number,
                words=_words("new", rating),
            )
        )
    if site.wiring_by_owner:
        if rating in idler_sizes_w(site.region):
            motor = item("idler_motor", rating, "W", site.quotes, origin="used")
            found.append(_built(site, of, motor, "self_built", None))
        for index, part in enumerate(site.owned):
            if part.kind == "idler_motor" and part.power and part.power.number == rating:
                motor = item("idler_motor", rating, "W", site.quotes, origin="owned")
                found.append(_built(site, of, motor, "self_built", index))
    return tuple(found)


def _built(site: Site, of: Design, motor: Item, origin: Buyable, owned_item: int | None) -> Had:
    """A self-built converter from its parts, owned capacitors used first."""
    converter = of.converter
    amps = converter.idler.rated_current_a
    items = [motor, *_run_cans(site, of)]
    starts = _start_cans(converter.start_f)
    items += [item("start_capacitor", can, "F", site.quotes, quantity=n) for can, n in starts]
    items += [
        item("bleeder", 1.0, "", site.quotes, quantity=sum(n for _, n in starts)),
        item("contactor", amps, "A", site.quotes),
        item("overload_relay", amps, "A", site.quotes),
        item("drop_out_relay", 1.0, "", site.quotes),
        item("phase_sequence_relay", 1.0, "", site.quotes),
        item("undervoltage_release", 1.0, "", site.quotes),
        item("converter_box", converter.idler_power_w, "W", site.quotes),
        *_resistor(site, of),
    ]
    return Had(
        origin,
        tuple(items),
        hours("converter_self_built", converter.idler_power_w),
        hours("upkeep_rotary").number,
        owned_item,
        _words(origin, converter.idler_power_w, owned=owned_item is not None),
    )


def _words(origin: Buyable, power_w: float, *, owned: bool = False) -> str:
    around = " round the idler you own" if owned else ""
    return f"a {MADE[origin]} rotary converter of {power_w / 1000.0:.3g} kW{around}"


def _resistor(site: Site, of: Design) -> list[Item]:
    """The series start resistor with its bypass, where the supply does not bear a direct start."""
    if of.start.resistor_ohm == 0.0:
        return []
    return [item("start_resistor", of.converter.idler_power_w, "W", site.quotes)]


def _run_cans(site: Site, of: Design) -> list[Item]:
    """The run capacitors by their class; owned ones of the right class and value cost nothing."""
    volts = capacitor_class_v(max(of.idle.line_voltages_v))
    kind = "run_capacitor" if volts <= 450.0 else "run_capacitor_600"
    shelf = [
        [part.capacitance.number, part.count]
        for part in site.owned
        if part.kind == "run_capacitor"
        and part.capacitance is not None
        and (not part.voltage or part.voltage[0].number >= volts)
    ]
    items = []
    for can in (*of.cans_23_f, *of.cans_31_f):
        owned = next((row for row in shelf if row[1] > 0 and abs(row[0] / can - 1.0) < 0.02), None)
        if owned is not None:
            owned[1] -= 1
            items.append(item(kind, can, "F", site.quotes, origin="owned"))
        else:
            items.append(item(kind, can, "F", site.quotes))
    return items


def _start_cans(total_f: float) -> Sequence[tuple[float, int]]:
    largest = START_CAPACITORS_F[-1]
    if total_f <= largest:
        return ((total_f, 1),)
    return ((largest, round(total_f / largest)),)
