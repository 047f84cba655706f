"""Motors that are not plain three-phase cage motors, and what each can run on."""

from __future__ import annotations

from phasewright.machines.notes import Notes
from phasewright.machines.stamped import plain_stamp, speeds_of
from phasewright.machines.voltages import voltage_groups
from phasewright.machines.winding import DOUBLING_RATIOS, STAR_DELTA_RATIOS
from phasewright.quantities.codes import WayName
from phasewright.quantities.finding import Reason
from phasewright.shop.machine import Machine
from phasewright.shop.plate import Plate
from phasewright.tables.motor_kinds import MotorTrait, motor_kind


def traits_of(plate: Plate, machine: Machine) -> tuple[MotorTrait, ...]:
    """What sets this motor apart from a plain cage motor; empty for a plain one."""
    found: list[MotorTrait] = []
    if plate.single_phase:
        found.append("capacitor" if plate.capacitor else "single_phase")
    elif plate.rigged:
        found.append("rigged_with_capacitor")
    if plate.kind != "cage" and plate.kind != "brake_motor":
        found.append(plate.kind)
    brake = machine.brake
    if plate.kind == "brake_motor" or (brake is not None and brake.kind == "spring_electric"):
        found.append("brake_motor")
    if len(speeds_of(plate)) > 1 or machine.starter == "two_speed_switch":
        found.append("two_speed")
    return tuple(found)


def motor_limits(
    plate: Plate, machine: Machine, way: WayName
) -> tuple[tuple[Reason, ...], tuple[Reason, ...]]:
    """(refusals, conditions) that the kind of motor means for this way of powering it."""
    refusals: list[Reason] = []
    conditions: list[Reason] = []
    for trait in traits_of(plate, machine):
        limit = motor_kind(trait).limit(way)
        if limit is not None:
            reason = Reason(f"motor_kind_{trait}", limit.why)
            (refusals if limit.verdict == "refused" else conditions).append(reason)
    return tuple(refusals), tuple(conditions)


def not_computable(plate: Plate) -> Reason | None:
    """Why no three-phase circuit is made for this motor, or None where one can be."""
    if plate.single_phase:
        return Reason("single_phase_motor", motor_kind("single_phase").runs_on)
    if plate.kind == "dc":
        return Reason("dc_motor", motor_kind("dc").runs_on)
    if plate.kind == "commutator":
        return Reason("commutator_motor", motor_kind("commutator").runs_on)
    if plate.kind == "torque":
        return Reason("torque_motor", motor_kind("torque").runs_on)
    return None


def ask_about_phases(plate: Plate, notes: Notes) -> None:
    """A capacitor on a motor whose own plate speaks for three phases."""
    if not plate.single_phase or not plate.capacitor:
        return
    groups = voltage_groups(plate)
    ratio = groups[1].volts / groups[0].volts if len(groups) == 2 else 0.0
    stamp = plain_stamp(plate.connection)
    speaks = STAR_DELTA_RATIOS[0] <= ratio <= STAR_DELTA_RATIOS[1] or stamp in ("D", "Y", "D/Y")
    if DOUBLING_RATIOS[0] <= ratio <= DOUBLING_RATIOS[1] and not stamp:
        speaks = False
    if not speaks:
        return
    notes.ask(
        "perhaps_three_phase", "condition",
        "A capacitor is told, but the plate speaks of star and delta: it is perhaps a three-phase "
        "motor somebody rigged with a capacitor. Taken as single-phase until that is clear.",
        key="plate.phases", remedy="Give phases: 3 where the plate says so, or phases: 1.",
    )  # fmt: skip


def warn_of_kind(plate: Plate, machine: Machine, notes: Notes) -> None:
    """Note what a kind of motor asks for beyond a plain one."""
    for trait in traits_of(plate, machine):
        of = motor_kind(trait)
        if of.rule is None:
            continue
        key = {"two_speed": "plate.speed", "rigged_with_capacitor": "plate.capacitor"}
        notes.ask(
            of.rule, of.severity, of.runs_on, key=key.get(trait, "plate.kind"), remedy=of.remedy,
            source=of.source,
        )  # fmt: skip
