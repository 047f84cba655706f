"""What the kind of motor (slip rings, two speeds, a brake, a closed-in winding) means for a way."""

from __future__ import annotations

from phasewright.machines.kinds import motor_limits
from phasewright.machines.motor import Motor
from phasewright.quantities.codes import WayName
from phasewright.quantities.finding import Reason
from phasewright.shop.machine import Machine
from phasewright.ways.asked import Asked
from phasewright.ways.on_two_lines import Linked, linked
from phasewright.ways.way import Task

BRAKE = "motor_kind_brake_motor"


def of_motor_kind(motor: Motor, machine: Machine, way: WayName) -> Asked:
    """Refusals and conditions of motors that are more than a plain three-phase cage motor.

    Of a spring brake nothing is asked where its coil is fed from two supply lines already; where
    the coil's volts are given they are told.
    """
    refusals, conditions = motor_limits(motor.plate, machine, way)
    brake = machine.brake
    if brake is not None and brake.fed_from == "two lines":
        conditions = tuple(reason for reason in conditions if reason.code != BRAKE)
    elif brake is not None and brake.coil is not None:
        conditions = tuple(_with_coil(reason, brake.coil.number) for reason in conditions)
    return Asked(refusals=refusals, conditions=conditions)


def _with_coil(reason: Reason, volts: float) -> Reason:
    if reason.code != BRAKE:
        return reason
    return Reason(reason.code, f"{reason.words} The coil is made for {volts:.0f} V.")


def kept_out(motor: Motor, machine: Machine, way: WayName) -> tuple[Reason, ...]:
    """Why nothing is computed of this motor for this way; empty where it can be.

    Of a motor without a circuit: the refusals of its kind, else why it has none with what would
    have to hold were it tried all the same.
    """
    if motor.circuit is None:
        asked = of_motor_kind(motor, machine, way)
        known = motor.reasons or (Reason("not_computable", "This motor cannot be computed."),)
        return asked.refusals or known + asked.conditions
    if motor.load is None:
        return (Reason("no_load_known", "Nothing is known of what it drives."),)
    return ()


def on_supply_volts(task: Task, way: WayName) -> Linked | tuple[Reason, ...]:
    """The motor linked for the supply's volts, or why this way does not serve it at all."""
    against = kept_out(task.motor, task.machine, way)
    if against:
        return against
    motor = linked(task.motor)
    return (motor,) if isinstance(motor, Reason) else motor
