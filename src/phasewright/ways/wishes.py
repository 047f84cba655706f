"""What the owner wants of a motor (reverse, soft start, a stop in time) and what a way gives."""

from __future__ import annotations

from phasewright.machines.motor import Motor
from phasewright.shop.machine import Machine, Wants
from phasewright.tables.published import table
from phasewright.ways.asked import Asked, condition, told
from phasewright.ways.own_steps import cover

NOSE = (
    "Threaded spindle nose: no reversing and no quick stop without a clamp on the chuck, or it "
    "unscrews and flies off"
)


WOODWORKING = ("saw", "flywheel", "sander")
"""Loads that are mostly woodworking machines whose tool runs down."""


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
        words = f"No other speed than the plate's this way{steps}"
        if cover(own, wants):
            whole += told("own_speeds_enough", f"{words}, and they span what is wished for.")
        else:
            whole += condition("one_speed", f"{words}.")
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


def on_drive(machine: Machine, motor: Motor) -> Asked:
    """Wishes on a drive of any size: it reverses and starts softly. How it stops is a matter of
    the drive (`stopping`)."""
    wants = wants_of(machine, motor)
    whole = _nose(machine) + _stopping(machine, motor, wants)
    if wants.reverse and machine.spindle_nose != "threaded":
        whole += told("reverse_by_input", "It reverses by an input of the drive, through a ramp.")
    if wants.soft_start:
        whole += told("soft_start_by_ramp", "It starts softly by the drive's ramp.")
    return whole
