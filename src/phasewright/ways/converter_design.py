"""A rotary converter's idler and run capacitors: the sizes there are, and their tuning.

The capacitors are the discrete optimum over the workday (the idler alone, and what hangs on it)
from stock cans; the start capacitor is the smallest that turns the idler from rest with room.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

from phasewright.network.balance import balancing_capacitances
from phasewright.network.supply import Source
from phasewright.quantities.errors import NoOperatingPoint
from phasewright.quantities.identity import Hashed, hashed_once
from phasewright.running.capacitors import Case, choose
from phasewright.running.converter import Converter, on_converter
from phasewright.running.network import Between, Connected, Settled
from phasewright.running.settle import locked, settle
from phasewright.tables.published import table
from phasewright.tables.sizes import RUN_CAPACITORS_F
from phasewright.ways.conditions import demand_ratio
from phasewright.ways.converter_start import IdlerStart, start_of
from phasewright.ways.idlers import Idler, Idlers, circuit_of, power_of
from phasewright.ways.on_two_lines import Linked

MOST_CANS = 3
SCREEN = 0.8
SCREEN_UNBALANCE = 1.2


@dataclass(frozen=True, slots=True)
class Brings:
    """Run capacitors that a motor brings, switched with it: the cans across 2-3 and 3-1."""

    motor: str
    cans_23_f: tuple[float, ...]
    cans_31_f: tuple[float, ...]

    @property
    def capacitance_f(self) -> Between:
        """What its cans make together."""
        return Between(0.0, sum(self.cans_23_f), sum(self.cans_31_f))


@hashed_once
@dataclass(frozen=True, slots=True)
class Design(Hashed):
    """One converter that can be had here, with what it costs and does by itself.

    `idlers` are in the order of their start; `brings` is what its motors bring of their own,
    empty where the fixed bank serves all.
    """

    idlers: Idlers
    converter: Converter
    cans_23_f: tuple[float, ...]
    cans_31_f: tuple[float, ...]
    idle: Settled
    start: IdlerStart
    over_excited: bool
    brings: tuple[Brings, ...] = ()

    def brought_by(self, motor: str) -> Brings | None:
        """What this motor brings; None where it brings nothing."""
        return next((each for each in self.brings if each.motor == motor), None)

    def met_by(self, motor: str) -> Design:
        """The converter as this motor meets it alone, whatever others bring when they are on."""
        own = tuple(each for each in self.brings if each.motor == motor)
        if own == self.brings:
            return self
        return replace(self, converter=carrying(self.converter, own), brings=own)


def carrying(converter: Converter, brings: tuple[Brings, ...]) -> Converter:
    """The converter with what these motors bring."""
    return replace(converter, carried=tuple((each.motor, each.capacitance_f) for each in brings))


@lru_cache(maxsize=1024)
def rough_converter(source: Source, idler_w: float) -> Converter:
    """The idler with a bank between that of idling and that of full load: to screen sizes by."""
    idler = circuit_of(source, Idler(idler_w))
    omega = 2.0 * math.pi * source.frequency_hz
    unit_f = idler.rated_current_a / (omega * idler.line_voltage_v)
    return Converter(idler_w, idler, Between(0.0, 0.15 * unit_f, 0.6 * unit_f))


def screened(source: Source, idler_w: float, motor: Linked) -> bool:
    """True where this idler is far too small for the motor, by a fair bank.

    It gives less than `SCREEN` of the torque the machine needs at standstill, or its lines are
    more than `SCREEN_UNBALANCE` times the limit apart at the highest load even with a bank for
    loads. Only spares finer work; a size that passes is judged in full.
    """
    rough = rough_converter(source, idler_w)
    try:
        held = locked(on_converter(source, rough, (motor.connected(0.0),)), motor.motor.id)
        wanted = motor.load.breakaway_torque.number
        if held.machines[-1].shaft_torque_nm / motor.rated_nm < SCREEN * wanted:
            return True
        return _far_apart(source, rough, motor)
    except NoOperatingPoint:
        return True


def _far_apart(source: Source, rough: Converter, motor: Linked) -> bool:
    """Whether the lines are far apart at the highest load with the bank of half that load.

    A bank that serves idling as well balances the highest load less than this one does.
    """
    demand = demand_ratio(motor.load)
    half = motor.connected(0.5 * demand)
    bare = settle(on_converter(source, replace(rough, run_f=Between()), (half,)))
    bank = balancing_capacitances(
        bare.supply_power_w, bare.supply_reactive_var, source.voltage_v, source.frequency_hz
    )
    tuned = replace(rough, run_f=Between(0.0, max(0.0, bank.c23_f), max(0.0, bank.c31_f)))
    highest = settle(on_converter(source, tuned, (motor.connected(demand),)))
    return highest.nema > SCREEN_UNBALANCE * table("limits", "unbalance").number("continuous")


@lru_cache(maxsize=512)
def design(source: Source, idlers: Idlers, workday: tuple[tuple[Connected, ...], ...]) -> Design:
    """The converter of these idlers for a workday: sets of motors with their usual loads.

    Raises NoOperatingPoint where not even the idler alone runs with any bank, TableEnds where no
    start capacitor turns it.
    """
    first, *beside = (circuit_of(source, idler) for idler in idlers)
    bare = Converter(power_of(idlers), first, Between(), beside=tuple(beside))
    cases = [Case("idle", on_converter(source, bare, ()), 1.0)]
    for number, motors in enumerate(workday):
        case = Case(f"work {number}", on_converter(source, bare, motors), 1.0)
        if runs(case):
            cases.append(case)
    chosen = choose(
        tuple(cases), RUN_CAPACITORS_F, most_cans=MOST_CANS,
        rated_voltage_v=first.line_voltage_v, within_f=0.5 * RUN_CAPACITORS_F[0],
    )  # fmt: skip
    tuned = replace(bare, run_f=chosen.stocked.capacitance_f)
    start = start_of(source, tuned)
    tuned = replace(tuned, start_f=start[0])
    return Design(
        idlers=idlers,
        converter=tuned,
        cans_23_f=chosen.cans_23_f,
        cans_31_f=chosen.cans_31_f,
        idle=settle(on_converter(source, tuned, ())),
        start=start[1],
        over_excited=bool(chosen.stocked.over_excited),
    )


def runs(case: Case) -> bool:
    """Whether this set runs at all with a fair bank; a set that does not is no case to tune for."""
    circuit = case.network.machines[0].circuit
    omega = 2.0 * math.pi * case.network.source.frequency_hz
    c = circuit.rated_current_a / (omega * circuit.line_voltage_v)
    try:
        settle(replace(case.network, capacitance_f=Between(0.0, 0.3 * c, 0.8 * c)))
    except NoOperatingPoint:
        return False
    return True
