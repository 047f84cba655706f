"""A set of a plan's drives on its one supply, with the motors, capacitors and heaters beside them.

Every drive at its highest load, settled together in time. What is linear takes its share of the
harmonics: machines on a converter or on capacitors as their windings at standstill with the run
capacitors in circuit, single-phase motors as the impedance of their start, heaters and lamps as
resistances. What draws harmonics that are not known (house electronics, chargers, the input of an
electronic source, rectifiers on generated lines) is left out.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import lru_cache

from phasewright.electronics.common_supply import (
    Branch,
    BridgeThere,
    Common,
    CommonState,
    Linear,
    settle_common,
    windings,
)
from phasewright.machines.circuit import Circuit
from phasewright.machines.motor import Motor
from phasewright.plan.arrays import Choice
from phasewright.plan.options import Option, offer_of, shared_of
from phasewright.plan.problem import Solution
from phasewright.quantities.errors import NotComputable
from phasewright.quantities.value import Value
from phasewright.running.converter import on_converter
from phasewright.running.network import Between
from phasewright.running.rectifier import standstill_ohm
from phasewright.shop.machine import Machine
from phasewright.shop.supply import Supply
from phasewright.tables.drives import choke_resistance_ohm
from phasewright.tables.stepping_up import doubles
from phasewright.ways.conditions import typical_ratio
from phasewright.ways.consumers import fed_from_two_lines
from phasewright.ways.converter_drive_inside import has_drive_inside
from phasewright.ways.figures import Figures
from phasewright.ways.on_two_lines import Linked, linked
from phasewright.ways.shared_source import Shared
from phasewright.ways.way import Service

Running = tuple[tuple[int, int], ...]

_CAPACITOR_LOSS = 0.002  # loss factor of a film capacitor (from memory): it damps a resonance
_START_FACTOR = 0.5  # power factor of a motor held at standstill (from memory)
_START_RATIO = 5.0  # starting over running amps of a motor of which neither is known (assumed)
_RUN_FACTOR = 0.8
_RESISTANCES = ("heater", "lamp")


def drive_figures(choice: Choice, plan: Solution, unit: int) -> Figures | None:
    """A unit's figures on its drive, its own or a shared one; None where no drive serves it."""
    index = plan.options[unit]
    option = choice.options[index] if index >= 0 else None
    if option is None or option.way is None:
        return None
    if option.shared:
        on = shared_of(choice.facts, choice.states[plan.state])
        served = None if on is None else on.serves(unit)
        found = None if served is None else served.figures
    else:
        judgement = next(j for j in choice.facts.judgements[unit] if j.way == option.way)
        found = judgement.figures_of(judgement.offers[option.offer])
    return found if found is not None and found.harmonics_a is not None else None


def on_one_supply(choice: Choice, plan: Solution, running: Running) -> CommonState | None:
    """The set on the supply, without what else the house may have on or with it, whichever
    distorts the volts more; None where the set has no drive or cannot all be at its highest."""
    drives = [
        (unit, of) for unit, _ in running if (of := drive_figures(choice, plan, unit)) is not None
    ]
    if not drives:
        return None
    bare = Common(
        choice.facts.site.source,
        tuple(_bridge(choice, unit, of) for unit, of in drives if not _drawn(choice, plan, unit)),
        tuple(_machines(choice, plan, running)),
        tuple(phasors_of(of) for unit, of in drives if _drawn(choice, plan, unit)),
    )
    house = tuple(_house(choice.facts.shop.supply))
    both = [bare] if not house else [bare, _with(bare, house)]
    found = [state for each in both if (state := _settled(each)) is not None]
    return max(found, key=lambda each: each.spectrum.voltage_thd, default=None)


@lru_cache(maxsize=512)
def _settled(common: Common) -> CommonState | None:
    try:
        return settle_common(common)
    except NotComputable:  # all at their highest at once: more than the set may draw
        return None


def _with(common: Common, house: tuple[Linear, ...]) -> Common:
    return Common(common.source, common.bridges, (*common.linear, *house), common.drawn)


def phasors_of(of: Figures) -> tuple[complex, ...]:
    """A drive's harmonic amps 1 to 40 as it draws them alone."""
    assert of.harmonics_a is not None
    assert of.harmonics_deg is not None
    return tuple(
        cmath.rect(amps, math.radians(angle))
        for amps, angle in zip(of.harmonics_a, of.harmonics_deg, strict=True)
    )


def _drawn(choice: Choice, plan: Solution, unit: int) -> bool:
    """Whether a drive hangs behind a transformer of its own: it is put in with the amps it draws
    alone, for its impedance is not told among its figures."""
    return behind_isolation(choice, unit, choice.options[plan.options[unit]])


def behind_isolation(choice: Choice, unit: int, option: Option) -> bool:
    """Whether an isolating transformer of its own stands before a unit's drive."""
    offer = offer_of(choice.facts, unit, option)
    return offer is not None and any(each.kind == "isolating_transformer" for each in offer.items)


def _bridge(choice: Choice, unit: int, of: Figures) -> BridgeThere:
    """A drive with its choke and the cable of its place before it."""
    assert of.link is not None
    intake, there = choice.facts.site.source, choice.facts.site_at(choice.facts.units[unit].place)
    omega = 2.0 * math.pi * intake.frequency_hz
    # a choke in the link is as one before it while pulses do not run into each other
    choke_h = of.link.ac_choke_h.number + of.link.dc_choke_h.number
    cable_h = (there.source.reactance_ohm - intake.reactance_ohm) / omega
    cable_ohm = there.source.resistance_ohm - intake.resistance_ohm
    whole = BridgeThere(
        of.link.capacitance_f.number,
        of.link.power_w.number,
        choke_h + max(0.0, cable_h),
        choke_resistance_ohm(choke_h) + max(0.0, cable_ohm),
    )
    if not doubles(intake.voltage_v):
        return whole
    # a doubler's pulses are those of a bridge with one of its two capacitors and one diode's drop
    return replace(
        whole,
        capacitance_f=2.0 * whole.capacitance_f,
        diode_drop_v=0.5 * whole.diode_drop_v,
        diode_resistance_ohm=0.5 * whole.diode_resistance_ohm,
    )


def _machines(choice: Choice, plan: Solution, running: Running) -> Iterator[Linear]:
    """Everything of the set that is linear: on what is shared, on its own, and consumers."""
    hertz, volts = choice.facts.site.source.frequency_hz, choice.facts.site.source.voltage_v
    hung = choice.admission.hung(running)
    on = shared_of(choice.facts, choice.states[plan.state])
    if on is not None and on.design is not None and hung:
        turning = choice.admission.turning(plan.state, hung)
        if turning is not None:
            va = complex(turning.draw.power_w, turning.draw.reactive_var)
            yield _converter(choice, on, hung, va)
    if choice.facts.site.supply_kind == "three_phase":
        return  # its motors hang on all three lines
    seen: set[str] = set()
    for unit, index in running:
        machine = choice.facts.units[unit].task.machine
        if not choice.options[index].shared and drive_figures(choice, plan, unit) is None:
            yield from _alone(choice, unit, choice.options[index], hertz, volts)
        if machine.name not in seen:
            seen.add(machine.name)
            yield from _consumers(machine, volts)


def _converter(choice: Choice, on: Shared, hung: tuple[int, ...], va: complex) -> Linear:
    """Idlers, motors and run capacitors on their three lines."""
    assert on.design is not None
    source, tasks = choice.facts.site.source, [choice.facts.units[unit].task for unit in hung]
    motors = [one for each in tasks if not has_drive_inside(each) if (one := _linked(each.motor))]
    network = on_converter(
        source, on.design.converter,
        tuple(each.connected(typical_ratio(each.load)) for each in motors),
    )  # fmt: skip
    circuits = [each.circuit for each in network.machines]
    return Linear(
        (*_windings(circuits, source.frequency_hz),
         *_capacitors(network.capacitance_f, source.frequency_hz)), va,
    )  # fmt: skip


def _linked(motor: Motor) -> Linked | None:
    found = linked(motor)
    return found if isinstance(found, Linked) else None


def _windings(circuits: Iterable[Circuit], hertz: float) -> Iterator[Branch]:
    for circuit in circuits:
        yield from windings(standstill_ohm(circuit, hertz), hertz)


def _capacitors(bank: Between, hertz: float) -> Iterator[Branch]:
    for farad, lines in ((bank.c12, (1, 2)), (bank.c23, (2, 3)), (bank.c31, (1, 3))):
        if farad > 0.0:
            yield Branch(lines, _CAPACITOR_LOSS / (2.0 * math.pi * hertz * farad), 0.0, farad)


def _alone(
    choice: Choice, unit: int, option: Option, hertz: float, volts: float
) -> Iterator[Linear]:
    """A motor with equipment of its own that is no drive."""
    offer = offer_of(choice.facts, unit, option)
    if offer is None:
        return
    judgement = next(j for j in choice.facts.judgements[unit] if j.way == option.way)
    link, run = judgement.link_of(offer), judgement.figures_of(offer).run_capacitance_f
    motor = choice.facts.units[unit].motor
    va = complex(offer.service.demand.power_w, offer.service.demand.reactive_var)
    if option.way in ("capacitor_run", "static_converter") and link is not None:
        bank = Between(c31=run.number if isinstance(run, Value) else 0.0)
        parts = (*_windings([motor.circuit_at(link)], hertz), *_capacitors(bank, hertz))
        yield Linear(parts, va)
        return
    held = _held(offer.service, volts)
    if held is not None:
        yield Linear((_inductive(held, hertz),), va)


def _held(service: Service, volts: float) -> float | None:
    """Ohms of a motor at standstill, by its starting amps."""
    return volts / service.starting_current_a if service.starting_current_a > 0.0 else None


def _inductive(ohm: float, hertz: float) -> Branch:
    """A motor at standstill between lines 1 and 2."""
    reactance = ohm * math.sqrt(1.0 - _START_FACTOR**2)
    return Branch((1, 2), _START_FACTOR * ohm, reactance / (2.0 * math.pi * hertz))


def _consumers(machine: Machine, volts: float) -> Iterator[Linear]:
    for each in machine.others:
        watts = fed_from_two_lines(each, machine.name, "", volts).draw.power_w
        if each.kind in _RESISTANCES and watts > 0.0:
            yield Linear((Branch((1, 2), volts * volts / watts),))


def _house(supply: Supply) -> Iterator[Linear]:
    """Heaters and motors of the house between both lines that cannot wait."""
    volts, hertz = supply.voltage.number, supply.frequency.number
    for load in supply.other_loads:
        if load.can_wait or load.lines != "both":
            continue
        ohm = volts / load.current.number
        if load.type == "heater":
            yield Linear((Branch((1, 2), ohm),))
        elif load.type == "motor":
            va = volts * load.current.number * cmath.rect(1.0, math.acos(_RUN_FACTOR))
            yield Linear((_inductive(ohm / _START_RATIO, hertz),), va)
