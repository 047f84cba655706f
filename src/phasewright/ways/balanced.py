"""A motor on three equal lines: what it may give, takes and asks for at its start."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from phasewright.machines.circuit import Circuit
from phasewright.machines.link import Link
from phasewright.machines.load import Load
from phasewright.machines.motor import Motor
from phasewright.machines.performance import Operation, at_torque, locked, no_load, rated
from phasewright.quantities.errors import NoOperatingPoint
from phasewright.quantities.finding import Reason
from phasewright.quantities.identity import Same
from phasewright.ways.conditions import demand_ratio, typical_ratio
from phasewright.ways.shared_source import Lines, MachineLines
from phasewright.ways.way import Draw, Task

_STEPS = 20


@dataclass(frozen=True, slots=True)
class Balanced:
    """One motor linked for three equal lines, at its loads and at standstill.

    `highest` is its greatest lasting load: what it may ask for, but no more than rated torque
    unless the usual load is more. `usable_ratio` is the torque over the rated one at which it
    loses as much as at its plate; never above 1.
    """

    motor: Motor
    link: Link
    circuit: Circuit
    load: Load
    line_voltage_v: float
    rated_nm: float
    usable_ratio: float
    unloaded: Operation
    typical: Operation
    highest: Operation
    start: Operation
    why: tuple[Reason, ...]

    @property
    def starting_ratio(self) -> float:
        """Torque at standstill over the rated one."""
        return self.start.shaft_torque_nm / self.rated_nm

    @property
    def usable_w(self) -> float:
        """Shaft power it may give for ever [W]."""
        return self.usable_ratio * self.rated_nm * self.circuit.rated_speed_rpm * math.pi / 30.0


def balanced(motor: Motor, line_voltage_v: float, frequency_hz: float) -> Balanced | Reason:
    """The motor on three equal lines of these volts, or why it does not run there."""
    return _balanced(Same(motor), line_voltage_v, frequency_hz)


@lru_cache(maxsize=4096)
def _balanced(one: Same[Motor], volts: float, hertz: float) -> Balanced | Reason:
    motor = one.it
    if not motor.three_phase:
        return Reason("single_phase_motor", "A single-phase motor needs no third line.")
    if motor.circuit is None or motor.load is None:
        return Reason("not_computable", "This motor cannot be computed.")
    link, why = motor.link_at(volts, hertz)
    if link is None:
        return why[-1]
    circuit = motor.circuit_at(link)
    nm = rated(circuit).shaft_torque_nm
    typical = typical_ratio(motor.load)
    highest = max(typical, min(demand_ratio(motor.load), 1.0))
    try:
        return Balanced(
            motor, link, circuit, motor.load, volts, nm,
            usable_ratio(circuit, volts, hertz, motor.heat_share),
            unloaded=no_load(circuit, volts, hertz),
            typical=at_torque(circuit, typical * nm, volts, hertz),
            highest=at_torque(circuit, highest * nm, volts, hertz),
            start=locked(circuit, volts, hertz),
            why=why,
        )  # fmt: skip
    except NoOperatingPoint as refusal:
        return Reason("stalls", str(refusal))


def usable_ratio(circuit: Circuit, volts: float, hertz: float, heat_share: float) -> float:
    """Torque ratio, at most 1, at which it loses no more than it bears for ever: so much of what
    it loses at its plate's volts and load."""
    whole = rated(circuit)
    rated_nm, allowed = whole.shaft_torque_nm, heat_share * whole.loss_w * (1.0 + 1e-6)

    def cool(ratio: float) -> bool:
        try:
            return at_torque(circuit, ratio * rated_nm, volts, hertz).loss_w <= allowed
        except NoOperatingPoint:
            return False

    if cool(1.0):
        return 1.0
    low, high = 0.0, 1.0
    for _ in range(_STEPS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if cool(middle) else (low, middle)
    return low


def draw_at(point: Operation) -> Draw:
    """What an operating point takes from the three lines together."""
    watts, var = point.input_power_w, point.reactive_power_var
    return Draw(watts, var, balanced_w=watts, balanced_var=var)


def motors_on(
    tasks: tuple[Task, ...], line_voltage_v: float, frequency_hz: float
) -> list[Balanced] | None:
    """All these motors on the lines; None where one does not run there."""
    found = []
    for task in tasks:
        one = balanced(task.motor, line_voltage_v, frequency_hz)
        if not isinstance(one, Balanced):
            return None
        found.append(one)
    return found


def greatest_draw(motors: list[Balanced]) -> Draw:
    """All at their usual loads, and the one whose highest load adds most at that."""
    usual = total_draw([one.typical for one in motors])
    more = max(motors, key=lambda one: one.highest.input_power_w - one.typical.input_power_w)
    return usual.without(draw_at(more.typical)).with_other(draw_at(more.highest))


def greatest_a(motors: list[Balanced]) -> float:
    """Amps in a line with all at their usual loads and one at its highest, whichever asks most."""
    usual = total_draw([one.typical for one in motors])
    return max(
        usual.without(draw_at(one.typical))
        .with_other(draw_at(one.highest))
        .current_a(one.line_voltage_v)
        for one in motors
    )


def total_draw(points: list[Operation]) -> Draw:
    """What several operating points take together."""
    whole = Draw()
    for point in points:
        whole = whole.with_other(draw_at(point))
    return whole


def lines_of(motors: list[Balanced]) -> Lines:
    """Three equal lines, and each motor's amps at its highest lasting load."""
    volts = motors[0].line_voltage_v
    return Lines(
        (volts, volts, volts), 0.0, 0.0,
        tuple(MachineLines(one.motor.id, (one.highest.current_a,) * 3) for one in motors),
    )  # fmt: skip
