"""The emergency stop of a motor on a drive: its category, and what takes the torque away.

IEC 60204-1, 9.2.2: category 0 cuts the power off at once, category 1 after a controlled stop. The
machine's own standard and whoever judges its risks decide; this says what the physics say.
"""

from __future__ import annotations

from phasewright.machines.motor import Motor
from phasewright.quantities.units import format as printed
from phasewright.quantities.value import Value
from phasewright.rules.stopping import OTHERS, emergency_category, torque_off
from phasewright.shop.machine import Machine
from phasewright.tables.stopping import at_once_s, hurts_running_down
from phasewright.ways.asked import Asked, by_rules, condition, told
from phasewright.ways.figures import EmergencyStopFigures


def emergency_stop(
    machine: Machine, motor: Motor, coasts: Value | None, braked: Value | None
) -> tuple[EmergencyStopFigures, Asked]:
    """Category and words; `coasts` and `braked`: seconds to rest with the power off, and by the
    drive's ramp, None where it does not come to rest so."""
    assert motor.load is not None
    hurts = hurts_running_down(motor.load.name)
    held = machine.brake is not None and machine.brake.kind == "spring_electric"
    category = 0
    if hurts and not held and not _at_once(coasts):
        judged = emergency_category(0, _judged_by(coasts), _number(braked), motor.id)
        category = 1 if judged.findings else 0
    words = _words(category, coasts, braked, hurts=hurts, held=held)
    if category == 0 and machine.brake is not None and machine.brake.kind == "mechanical":
        words = f"{words[:-1]}, less where its own brake is used."
    found = EmergencyStopFigures(category, words)
    others = machine.users in OTHERS
    if not (hurts or others):
        return found, Asked()
    asked = told("emergency_stop", words)
    asked += by_rules(torque_off("stop_input", False, 1, machine.users, motor.id))
    if others:
        who = "Staff use it" if machine.users == "employees" else "Guests use it"
        asked += condition(
            "emergency_stop_button",
            f"{who}: a latching red stop button on yellow within reach at the machine, whose reset "
            "starts nothing; torque off does not isolate, so a lockable isolator stands ahead of "
            "the drive as well. Have it judged by someone competent.",
        )
    return found, asked


def _number(value: Value | None) -> float | None:
    return None if value is None else value.number


def _at_once(coasts: Value | None) -> bool:
    return coasts is not None and coasts.high <= at_once_s()


def _judged_by(coasts: Value | None) -> float | None:
    """Seconds of coasting that count against a ramp: the usual ones, or half of the most where
    that is more (our choice): how hard a machine drags is a guess."""
    return None if coasts is None else max(coasts.number, 0.5 * coasts.high)


def _words(
    category: int, coasts: Value | None, braked: Value | None, *, hurts: bool, held: bool
) -> str:
    if category == 1 and braked is not None:
        unsure = coasts is not None and coasts.number < braked.number
        why = " How hard it drags is not known, so the stop that is sure counts." if unsure else ""
        return (
            "Emergency stop of category 1: the ramp brings it to rest, in "
            f"{printed(braked.number, 's', 2)} at the shortest, then the torque goes off; cut off "
            f"at once it would {_coasts(coasts)}.{why}"
        )
    head = "Emergency stop of category 0: power off at once"
    if held:
        return f"{head}, and its spring brake falls in."
    rest = "" if hurts else ", and nothing of it is touched meanwhile"
    return f"{head}; it will {_coasts(coasts)}{rest}."


def _coasts(coasts: Value | None) -> str:
    if coasts is None:
        return "turn on until something stops it"
    if _at_once(coasts):
        return f"rest within {printed(at_once_s(), 's', 2)}"
    if coasts.number < 1.0 or coasts.sure:
        return f"coast for up to {printed(coasts.high, 's', 2)}"
    usual, most = printed(coasts.number, "s", 2), printed(coasts.high, "s", 2)
    return f"coast for about {usual}, perhaps {most}"
