"""Motors that are not plain three-phase cage motors, and what that means."""

from __future__ import annotations

from phasewright.machines.notes import Notes
from phasewright.machines.stamped import speeds_of
from phasewright.quantities.finding import Reason
from phasewright.shop.model import Machine
from phasewright.shop.plate import Plate


def not_computable(plate: Plate) -> Reason | None:
    """Why no three-phase circuit is made for this motor, or None where one can be."""
    if plate.single_phase:
        return Reason(
            "single_phase_motor",
            "A single-phase motor runs on the supply as it is. If its own plate says three "
            "phases and a capacitor was added later, take the capacitor off and give phases: 3.",
        )
    if plate.kind == "dc":
        return Reason("dc_motor", "A direct-current motor needs a rectifier, not three phases.")
    if plate.kind == "commutator":
        return Reason(
            "commutator_motor",
            "A commutator motor: neither a converter nor a drive is made for it; its figures are "
            "not computed.",
        )
    if plate.kind == "torque":
        return Reason(
            "torque_motor",
            "A torque motor (made to stand stalled) has no rated point a circuit could be fitted "
            "to.",
        )
    return None


def warn_of_kind(plate: Plate, machine: Machine, notes: Notes) -> None:
    """Note what a kind of motor asks for beyond a plain one."""
    if plate.kind == "slip_ring":
        notes.ask(
            "slip_ring", "condition",
            "A slip-ring motor starts through its resistors; computed here with the rings "
            "shorted, its starting figures hold only for that.",
            key="plate.kind", remedy="Keep the starting resistor, or short the rings for a drive.",
        )  # fmt: skip
    if plate.kind in ("hermetic", "submersible"):
        notes.ask(
            "closed_in_motor", "condition",
            f"A {plate.kind} motor cannot be relinked and bears little unbalance or slow running; "
            "ask its maker before any converter or drive.",
            key="plate.kind", remedy="Give it what the maker's plate says, nothing else.",
        )  # fmt: skip
    brake = machine.brake
    if plate.kind == "brake_motor" or (brake is not None and brake.kind == "spring_electric"):
        notes.ask(
            "brake_coil", "condition",
            "The spring brake's coil is often fed from the motor's terminals: on a drive or after "
            "relinking it gets the wrong voltage and does not release.",
            key="plate.kind",
            remedy="Find where the coil is fed; feed it from the supply lines by its own contact.",
        )  # fmt: skip
    if len(speeds_of(plate)) > 1:
        notes.ask(
            "two_speed", "info",
            "Two speeds are stamped: torque, current and circuit are those of the more powerful "
            "one.",
            key="plate.speed", remedy="Nothing to change; keep the speed switch.",
        )  # fmt: skip
