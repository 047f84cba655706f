"""What the owner wants of a motor (reverse, soft start, a stop in time) and what a way gives."""

from __future__ import annotations

import math
from dataclasses import dataclass

from phasewright.machines.circuit import Circuit
from phasewright.machines.motor import Motor
from phasewright.machines.performance import Operation, rated
from phasewright.quantities.errors import TableEnds
from phasewright.shop.model import Machine, Wants
from phasewright.tables.published import table
from phasewright.ways.asked import Asked, condition, told
from phasewright.ways.drive_in_time import (
    braked,
    on_usual_drive,
    ramp_down,
    resistor_within,
)

NOSE = (
    "Threaded spindle nose: no reversing and no quick stop without a clamp on the chuck, or it "
    "unscrews and flies off"
)


WOODWORKING = ("saw", "flywheel", "sander")
"""Loads that are mostly woodworking machines whose tool runs down."""


@dataclass(frozen=True, slots=True)
class Stop:
    """A stop in a wished time: energy of all that turns, and the torque that takes it away."""

    energy_j: float
    torque_ratio: float


def stop_in(motor: Motor, at: Operation, seconds: float) -> Stop:
    """A stop from rated speed, the load not helping; inertia of rotor and load together."""
    own, load = motor.inertia_kg_m2, motor.load
    inertia = (0.0 if own is None else own.number) + (
        0.0 if load is None else load.inertia_kg_m2.number
    )
    speed = at.speed_rpm * math.pi / 30.0
    ratio = inertia * speed / seconds / at.shaft_torque_nm
    return Stop(0.5 * inertia * speed**2, ratio)


def wants_of(machine: Machine, motor: Motor) -> Wants:
    """The wishes for this motor, as the shop file has them."""
    return next((each.wants for each in machine.motors if each.name == motor.name), Wants())


def without_drive(machine: Machine, motor: Motor, *, lone: bool | None) -> Asked:
    """Wishes on a way that gives one speed. `lone`: the capacitor sits at this motor; False: it
    hangs on a converter; None: it needs no third line and reverses as it always did.
    """
    wants = wants_of(machine, motor)
    whole = _stopping(machine, motor, wants)
    if wants.speed is not None and wants.speed != (1.0, 1.0):
        own = machine.own_speeds
        steps = "" if own is None or own.kind == "none" else f"; its own {own.kind} remain"
        whole += condition("one_speed", f"No other speed than the plate's this way{steps}.")
    if wants.soft_start:
        whole += condition("starts_hard", "No soft start this way: it starts straight on.")
    if wants.stop_within is not None and not _has_brake(machine):
        whole += condition(
            "coasts",
            f"It coasts to rest: a stop within {wants.stop_within.number:g} s needs a brake on the "
            "machine.",
        )
    if lone is not None and (wants.reverse or machine.starter == "reversing_drum"):
        whole += _reverse_without_drive(lone)
        whole += _nose(machine)
    return whole


def _stopping(machine: Machine, motor: Motor, wants: Wants) -> Asked:
    """How this kind of load is stopped, and the rule on run-down, where a stop matters: where one
    is wished for or staff use the machine."""
    if motor.load is None or (wants.stop_within is None and machine.users != "employees"):
        return Asked()
    kind = motor.load.kind
    whole = told("stopping", f"How such a machine is stopped: {kind.stopping}.")
    if motor.load.name in WOODWORKING:
        of = table("limits", "run_down")
        whole += told(
            "run_down_rule",
            "Where staff use a woodworking machine whose tool can be touched as it runs down, it "
            f"is expected to stop within {of.number('usual'):.0f} s, a large bandsaw within about "
            f"{of.number('large_bandsaw'):.0f} s: {of.words}. The rule where you are decides.",
        )
    return whole


def _reverse_without_drive(lone: bool) -> Asked:
    if lone:
        return condition(
            "reverse_from_rest",
            "Reverse from standstill only, the capacitor on the supply side of the switch: a "
            "turning motor keeps its direction. Not for tapping and threads.",
        )
    return condition(
        "reverse_from_rest",
        "Reverse by exchanging two lines behind the converter, from standstill only: thrown over "
        "while turning it draws far more than a start.",
    )


def _has_brake(machine: Machine) -> bool:
    return machine.brake is not None and machine.brake.kind != "none"


def _nose(machine: Machine) -> Asked:
    return condition("threaded_nose", f"{NOSE}.") if machine.spindle_nose == "threaded" else Asked()


def on_drive(machine: Machine, motor: Motor, circuit: Circuit, supply_v: float) -> Asked:
    """Wishes on a drive: it reverses, starts softly and stops as far as the drive reaches.

    `circuit` is the motor as it is linked, `supply_v` what feeds the drive.
    """
    wants = wants_of(machine, motor)
    whole = _nose(machine) + _stopping(machine, motor, wants)
    if wants.reverse and machine.spindle_nose != "threaded":
        whole += told("reverse_by_input", "It reverses by an input of the drive, through a ramp.")
    if wants.soft_start:
        whole += told("soft_start_by_ramp", "It starts softly by the drive's ramp.")
    if wants.stop_within is not None:
        seconds = wants.stop_within.number
        if machine.spindle_nose == "threaded":
            return whole + condition(
                "no_quick_stop",
                f"A stop within {seconds:g} s is not to be set while the chuck can unscrew: a ramp "
                "of 5 s is the least for hand-tight chucks (common practice).",
            )
        whole += _stop(motor, circuit, supply_v, seconds)
    return whole


def _stop(motor: Motor, circuit: Circuit, supply_v: float, seconds: float) -> Asked:
    """A stop in so many seconds, run on the usual drive for the motor, the load not helping."""
    at = rated(circuit)
    stop = stop_in(motor, at, seconds)
    energy = (
        f"{stop.energy_j / 1000.0:.2g} kJ, {stop.energy_j / seconds / 1000.0:.2g} kW on average"
    )
    try:
        on = on_usual_drive(motor, circuit, supply_v)
    except TableEnds as end:
        return condition("stop_not_known", f"Whether it stops within {seconds:g} s: {end}.")
    by_ramp, by_resistor = ramp_down(on), braked(on)
    if by_ramp is not None and by_ramp.seconds is not None and by_ramp.seconds <= seconds:
        return told("stop_by_ramp", f"It stops within {seconds:g} s by the drive's ramp.")
    if by_resistor is None or by_resistor.seconds is None:
        return condition(
            "stop_out_of_reach",
            f"A stop within {seconds:g} s is out of reach of a drive: {energy} would ask for "
            f"{stop.torque_ratio:.1f} times rated torque. It needs a mechanical brake.",
        )
    if by_resistor.seconds > seconds:
        return condition(
            "stop_out_of_reach",
            f"A stop within {seconds:g} s is out of reach of a drive: {energy} would ask for "
            f"{stop.torque_ratio:.1f} times rated torque. With a brake resistor about "
            f"{by_resistor.seconds:.2g} s; quicker only by a mechanical brake.",
        )
    brake = resistor_within(on, seconds)
    peak_kw = brake.on_v**2 / brake.ohm / 1000.0
    return condition(
        "stop_by_resistor",
        f"A stop within {seconds:g} s takes {energy} away: that needs a brake resistor on the "
        f"drive, of at most {brake.ohm:.2g} ohm and {peak_kw:.2g} kW at its peak, or a brake on "
        "the machine; neither is priced yet. A brake resistor gets hot enough to burn.",
    )
