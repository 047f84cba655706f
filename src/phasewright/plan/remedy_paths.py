"""Where in the shop file a remedy is put: what a rule says of a machine or motor, from the root.

A rule knows its machine and not which of the file's machines that is: it gives the key alone, as
`brake.kind` or `wants.stop_within`.
"""

from __future__ import annotations

from dataclasses import replace

from phasewright.plan.study import MotorSide
from phasewright.quantities.finding import Finding, Reason, Remedy
from phasewright.shop.keys import keys_of
from phasewright.shop.machine import Motor, motor_id
from phasewright.shop.model import Shop


def rooted(found: tuple[Finding, ...], shop: Shop) -> tuple[Finding, ...]:
    """The findings with the whole path of every remedy."""
    return tuple(
        each
        if each.remedy is None or each.remedy.path is None
        else replace(each, remedy=_rooted(each.remedy, each.subject, shop))
        for each in found
    )


def rooted_ways(motor: MotorSide, shop: Shop) -> MotorSide:
    """The same of what every way says of a motor."""
    return replace(
        motor,
        ways=tuple(
            replace(
                way,
                reasons=_reasons(way.reasons, motor.id, shop),
                conditions=_reasons(way.conditions, motor.id, shop),
            )
            for way in motor.ways
        ),
    )


def _reasons(reasons: tuple[Reason, ...], subject: str, shop: Shop) -> tuple[Reason, ...]:
    return tuple(
        each if each.remedy is None else replace(each, remedy=_rooted(each.remedy, subject, shop))
        for each in reasons
    )


def _rooted(remedy: Remedy, subject: str, shop: Shop) -> Remedy:
    path = remedy.path
    if path is None:
        return remedy
    key = path.partition(".")[0].partition("[")[0]
    if key in keys_of(Shop):
        return remedy
    at = _motor_at(subject, shop) if key in keys_of(Motor) else _machine_at(subject, shop)
    return replace(remedy, path=None if at is None else f"{at}.{path}")


def _machine_at(subject: str, shop: Shop) -> str | None:
    """Of a machine by its name, or of the machine of a motor."""
    for number, machine in enumerate(shop.machines):
        if machine.name == subject:
            return f"machines[{number}]"
    at = _motor_at(subject, shop)
    return None if at is None else at.partition(".")[0]


def _motor_at(subject: str, shop: Shop) -> str | None:
    """Of a motor by its id, which the id of a circuit to it ends with."""
    for path, machine, motor in shop.each_motor():
        name = motor_id(machine, motor)
        if subject == name or subject.endswith(f" {name}"):
            return path
    return None
