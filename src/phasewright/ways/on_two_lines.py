"""A three-phase motor on lines 1 and 2 with capacitors to its third terminal, no idler.

What the two ways without an idler share: the connected motor, its start capacitor, its draws.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from phasewright.machines.circuit import Circuit
from phasewright.machines.connection import Link
from phasewright.machines.leakage import MIDDLE, with_leakage_at
from phasewright.machines.load import Load, on_the_way_up
from phasewright.machines.motor import Motor
from phasewright.machines.performance import rated
from phasewright.network.supply import Source
from phasewright.quantities.errors import NoOperatingPoint
from phasewright.quantities.finding import Reason
from phasewright.quantities.identity import Hashed, Same, hashed_once
from phasewright.running import outcome
from phasewright.running.converter import alone
from phasewright.running.network import Between, Connected, LoadLaw, Network, Settled
from phasewright.running.settle import at_slips, settle, settle_many
from phasewright.running.usable import Windings
from phasewright.starts.brief import Brief, brief
from phasewright.starts.course import Course, Starter
from phasewright.starts.on_converter import STEPS_PER_CYCLE, lone
from phasewright.starts.waves import waves
from phasewright.tables.sizes import (
    RUN_CAPACITOR_STEP_F,
    RUN_CAPACITORS_F,
    START_CAPACITORS_F,
)
from phasewright.ways.way import Draw

_RATIOS = 41


@hashed_once
@dataclass(frozen=True, slots=True)
class Linked(Hashed):
    """A motor linked for the shop's supply volts, with what it drives."""

    motor: Motor
    link: Link
    circuit: Circuit
    load: Load
    rated_nm: float

    def connected(self, torque_ratio: float) -> Connected:
        """The motor with its load at this share of the rated torque."""
        return Connected(self.motor.id, self.circuit, self.law(torque_ratio))

    def run_up_ratio(self, typical: float) -> float:
        """Torque ratio the load asks for on the way up to speed."""
        return on_the_way_up(
            self.load.law, typical, self.load.breakaway_torque.number,
            starts_loaded=self.load.starts_loaded,
        )  # fmt: skip

    def law(self, torque_ratio: float) -> LoadLaw:
        """The load's law, with this share of the rated torque at rated speed."""
        speed = self.circuit.rated_speed_rpm * np.pi / 30.0
        return LoadLaw(self.load.law, torque_ratio * self.rated_nm, float(speed))

    def starter(self, torque_ratio: float, breakaway_ratio: float = 0.0) -> Starter:
        """The motor with rotor, load and what it takes to break away, over its rated torque."""
        inertia = self.circuit.inertia_kg_m2 + self.load.inertia_kg_m2.number
        return Starter(
            self.connected(torque_ratio), inertia, breakaway_nm=breakaway_ratio * self.rated_nm
        )

    @property
    def rated_w(self) -> float:
        return self.rated_nm * self.circuit.rated_speed_rpm * float(np.pi) / 30.0

    @property
    def windings(self) -> Windings:
        """How the phase windings are joined: delta where the link says so, else star."""
        return "delta" if self.link.delta else "star"


def linked(motor: Motor) -> Linked | Reason:
    """The motor linked for the supply volts, or why it cannot be."""
    return _linked(Same(motor))


@lru_cache(maxsize=1024)
def _linked(one: Same[Motor]) -> Linked | Reason:
    motor = one.it
    if not motor.three_phase:
        return Reason("single_phase_motor", "A single-phase motor needs no third line.")
    if motor.circuit is None or motor.load is None:
        known = motor.reasons or (Reason("not_computable", "This motor cannot be computed."),)
        return known[0]
    if motor.link is None:
        return motor.link_reasons[-1]
    circuit = motor.circuit_at(motor.link)
    return Linked(motor, motor.link, circuit, motor.load, rated(circuit).shaft_torque_nm)


@dataclass(frozen=True, slots=True)
class Start:
    """A start on capacitors: standstill torque over rated torque, supply amps and dip.

    `in_time` is the run-up computed in time, from which then amps (the largest rms of a cycle) and
    dip (the deepest half cycle) are; `on_s` how long the start capacitor was on in it, None where
    it never dropped out.
    """

    capacitance_f: float
    torque_ratio: float
    supply_a: float
    dip_ratio: float
    in_time: Brief | None = None
    on_s: float | None = None

    @property
    def runs_up(self) -> bool:
        """Whether it was seen to run up, its start capacitor dropping out."""
        return self.in_time is not None and self.in_time.runs_up and self.on_s is not None


def standstill(source: Source, motor: Linked, run_f: float, start_f: float) -> Start:
    """The motor at standstill with run and start capacitor across 3-1."""
    network = alone(source, Between(c31=run_f + start_f), motor.connected(0.0))
    held = at_slips(network, (1.0,))
    return Start(
        capacitance_f=start_f,
        torque_ratio=held.machines[0].shaft_torque_nm / motor.rated_nm,
        supply_a=held.supply_current_a,
        dip_ratio=1.0 - held.line_voltages_v[0] / source.voltage_v,
    )


def choose_start(source: Source, motor: Linked, run_f: float, wanted_ratio: float) -> Start:
    """The smallest start capacitor that gives the wanted torque, else the strongest one.

    Torque over capacitance rises to a resonance and falls beyond it, so more is not better.
    """
    best = standstill(source, motor, run_f, 0.0)
    if best.torque_ratio >= wanted_ratio:
        return best
    for capacitance in START_CAPACITORS_F:
        tried = standstill(source, motor, run_f, capacitance)
        if tried.torque_ratio > best.torque_ratio:
            best = tried
        if best.torque_ratio >= wanted_ratio:
            return best
    return best


def start_in_time(source: Source, motor: Linked, run_f: float, wanted_ratio: float) -> Start:
    """The start with the smallest start capacitor that gives the wanted standstill torque and then
    runs the machine up, of those up to twice as large; the first of them where none does."""
    chosen = choose_start(source, motor, run_f, wanted_ratio)
    first = run_up(source, motor, run_f, chosen)
    if first.runs_up or chosen.capacitance_f == 0.0:
        return first
    for capacitance in START_CAPACITORS_F:
        if chosen.capacitance_f < capacitance <= 2.0 * chosen.capacitance_f:
            tried = run_up(source, motor, run_f, standstill(source, motor, run_f, capacitance))
            if tried.runs_up:
                return tried
    return first


def run_up(source: Source, motor: Linked, run_f: float, start: Start) -> Start:
    """The same start computed in time: leakage as it is at starting current, the load at what it
    asks for on the way up and at the usual torque to break away."""
    found = waves(lone_course(source, motor, run_f, start.capacitance_f))
    told = brief(found, 0)
    on_s = found.dropped_s if start.capacitance_f > 0.0 else 0.0
    return replace(
        start, supply_a=told.supply_a, dip_ratio=1.0 - told.service_ratio, in_time=told, on_s=on_s
    )


def lone_course(
    source: Source, motor: Linked, run_f: float, start_f: float, *, steps: int = STEPS_PER_CYCLE
) -> Course:
    """The course of that start."""
    network = alone(source, Between(c31=run_f + start_f), motor.connected(0.0))
    amps = max(at_slips(network, (1.0,)).machines[0].line_currents_a)
    shaped = replace(motor, circuit=with_leakage_at(motor.circuit, amps, MIDDLE))
    typical = motor.load.running_torque.number
    breakaway = motor.load.breakaway_torque.number
    starter = shaped.starter(motor.run_up_ratio(typical), breakaway)
    return lone(source, starter, run_f, start_f, steps=steps)


def best_run_capacitor(source: Source, motor: Linked) -> tuple[float, float]:
    """(capacitance [F], torque ratio for ever) of the best run capacitor; zeros where none fits.

    Every can and every bank step up to the one whose current is 1.3 times the motor's rated
    current is tried at every load: no line above the rated current, unloaded or loaded.
    """
    circuit = motor.circuit
    omega = 2.0 * math.pi * source.frequency_hz
    most_f = 1.3 * circuit.rated_current_a / (omega * source.voltage_v)
    steps = np.arange(1, int(most_f / RUN_CAPACITOR_STEP_F) + 1) * RUN_CAPACITOR_STEP_F
    cans = [can for can in RUN_CAPACITORS_F if can <= most_f]
    banks = np.unique(np.round(np.r_[cans, steps], 12))
    if len(banks) == 0:
        return 0.0, 0.0
    ratios = np.linspace(0.0, 1.0, _RATIOS)
    network = network_of(source, motor, 0.0)
    constant = replace(network.machines[0], load=LoadLaw("constant", motor.rated_nm))
    c31, scale = (each.ravel() for each in np.meshgrid(banks, ratios, indexing="ij"))
    none = np.zeros_like(c31)
    sweep = settle_many(
        replace(network, machines=(constant,)),
        np.stack([none, none, c31], axis=1),
        np.asarray(scale[:, None], dtype=np.float64),
    )
    x = sweep.machines[:, 0, :]
    with np.errstate(invalid="ignore"):
        fits = (
            sweep.settled
            & (np.max(x[:, outcome.I1 : outcome.I1 + 3], axis=1) <= circuit.rated_current_a)
        ).reshape(len(banks), len(ratios))
    reach = np.where(fits[:, 0], np.argmin(np.c_[fits, np.zeros(len(banks), bool)], axis=1), 0)
    best = int(np.argmax(reach))
    if reach[best] == 0:
        return 0.0, 0.0
    return float(banks[best]), float(ratios[reach[best] - 1])


def draw_of(point: Settled) -> Draw:
    """What a settled network takes from the supply."""
    return Draw(point.supply_power_w, point.supply_reactive_var, 0.0)


def loaded(source: Source, motor: Linked, run_f: float, ratio: float) -> Settled | None:
    """The motor running at this share of its rated torque, or None where it cannot."""
    try:
        return settle(alone(source, Between(c31=run_f), motor.connected(ratio)))
    except NoOperatingPoint:
        return None


def network_of(source: Source, motor: Linked, run_f: float) -> Network:
    """The network for a study of what the motor may give."""
    return alone(source, Between(c31=run_f), motor.connected(0.0))
