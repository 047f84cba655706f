"""Plates that contradict themselves, questioned in words (common practice, no source)."""

from __future__ import annotations

import math

from phasewright.machines.link import Link, Linking
from phasewright.machines.notes import Notes
from phasewright.machines.speed import Turning
from phasewright.machines.stamped import plain_stamp, speeds_of
from phasewright.machines.voltages import voltage_groups
from phasewright.machines.winding import STAR_DELTA_RATIOS
from phasewright.quantities.value import Value, exact
from phasewright.shop.machine import Machine
from phasewright.shop.plate import Plate
from phasewright.tables.motors import default_slip

AMPS_RATIO_TOLERANCE = 0.08
LOW_DELTA_V = 300.0
"""Below this a delta voltage is none a star-delta starter is usual for."""
HIGH_SLIP = 0.07
HIGH_SLIP_OVER = 1.3
"""From here on, and so far above the usual spread, a motor is one for presses (8 to 13 %)."""


def ask_about_amps(plate: Plate, links: tuple[Link, ...], notes: Notes) -> None:
    """Two amps must stand in the inverse ratio of the two volts, the larger at the lower."""
    volts = [value.number for value in plate.voltage]
    amps = [value.number for value in plate.current]
    if len(volts) > 2 and len(links) == 2:
        rated = [link.full_load_current_a for link in links]
        volts, amps = [link.line_voltage_v for link in links], [a for a in rated if a is not None]
        if len(plate.current) == 1:
            amps = [plate.current[0].number]
    if len(volts) == 2 and len(amps) == 1 and len(links) == 2:
        which = [link.line_voltage_v for link in links if link.full_load_current_a == amps[0]]
        notes.ask(
            "one_current_two_volts", "caution",
            f"{amps[0]:.3g} A is stamped once for {volts[0]:.0f}/{volts[1]:.0f} V; taken as the "
            f"current at {max(which, default=max(volts)):.0f} V.",
            found=amps[0], unit="A", key="plate.current",
        )  # fmt: skip
        return
    if len(volts) != 2 or len(amps) != 2 or len(links) != 2:
        return
    if (volts[0] - volts[1]) * (amps[0] - amps[1]) > 0.0:
        notes.ask(
            "amps_in_wrong_order", "caution",
            f"{amps[0]:.3g}/{amps[1]:.3g} A with {volts[0]:.0f}/{volts[1]:.0f} V: the larger "
            f"current belongs to the lower voltage; taken as {max(amps):.3g} A at "
            f"{min(volts):.0f} V.",
            found=amps[0], unit="A", key="plate.current",
        )  # fmt: skip
    wanted = max(volts) / min(volts)
    got = max(amps) / min(amps)
    if abs(math.log(got / wanted)) > AMPS_RATIO_TOLERANCE:
        notes.ask(
            "amps_ratio", "caution",
            f"The currents stand 1 to {got:.2f}, the volts 1 to {wanted:.2f}: one of them is "
            "misread. The current of the connection in use was kept.",
            found=got, allowed=wanted, key="plate.current",
        )  # fmt: skip


def ask_about_leads(plate: Plate, linking: Linking, notes: Notes) -> None:
    """Note a number of leads that was taken, and a connection that cannot be told."""
    if linking.leads_assumed and linking.leads is not None:
        taken = exact(float(linking.leads), "", "assumed", "usual for these volts")
        notes.take("leads", "plate.leads", taken)
        notes.wanted(
            "leads", "plate.leads", taken, "Whether the motor can be linked for another voltage.",
            "Open the lid: block of six with three links, six, nine or twelve loose, or three "
            "wires?",
            "connection, way of powering",
        )  # fmt: skip
    if not linking.links or any(link.connection == "unknown" for link in linking.links):
        notes.ask(
            "connection_unknown", "condition", " ".join(r.words for r in linking.reasons),
            key="plate.leads",
            remedy="Photograph the terminals and the lid; measure every pair in ohms.",
        )  # fmt: skip


def ask_about_starter(plate: Plate, machine: Machine, notes: Notes) -> None:
    """A star-delta starter or a speed switch that the plate does not know of."""
    if machine.starter == "two_speed_switch" and len(speeds_of(plate)) < 2:
        notes.ask(
            "second_speed_not_given", "caution",
            "The machine has a switch for two speeds, the plate gives one: the ends in the lid "
            "belong to the speeds and are not linked for another voltage.",
            key="plate.speed", remedy="Give both speeds and powers, as: 1420/2840 rpm.",
        )  # fmt: skip
    if machine.starter != "star_delta":
        return
    groups = voltage_groups(plate)
    if plate.leads in (3, 4, 9):
        notes.ask(
            "starter_and_leads", "caution",
            f"A star-delta starter needs both ends of every winding, six leads; {plate.leads} are "
            "told.",
            found=float(plate.leads), allowed=6.0, key="plate.leads",
            remedy="Count the wires from the starter to the motor.",
        )  # fmt: skip
    if (
        len(groups) == 2
        and STAR_DELTA_RATIOS[0] <= groups[1].volts / groups[0].volts <= (STAR_DELTA_RATIOS[1])
    ):
        if groups[0].volts < LOW_DELTA_V:
            notes.ask(
                "starter_and_volts", "caution",
                f"A star-delta starter ends in delta, which this plate allows at "
                f"{groups[0].volts:.0f} V only: either the machine ran on {groups[0].volts:.0f} V "
                f"three-phase, or this is not its motor; on {groups[1].volts:.0f} V it would burn.",
                found=groups[0].volts, unit="V", key="plate.voltage",
                remedy="Look which voltage the machine ran on.",
            )  # fmt: skip
    elif plain_stamp(plate.connection) == "Y" and len(groups) == 1:
        notes.ask(
            "starter_and_star", "caution",
            "The plate says star and the machine has a star-delta starter, which would put 1.73 "
            "times its volts on every winding: one of the two is misread.",
            key="plate.connection", remedy="Read the plate and follow the starter's wires.",
        )  # fmt: skip


def ask_about_slip(plate: Plate, turns: Turning, power: Value, notes: Notes) -> None:
    """A motor made to give way (presses, shears): its slip lies far above the usual."""
    slip = 1.0 - turns.speed_rpm.number / turns.synchronous_speed_rpm
    usual = default_slip(power.number, turns.poles, plate.year)
    if turns.speed_rpm.origin != "plate" or slip < max(HIGH_SLIP, HIGH_SLIP_OVER * usual.high):
        return
    notes.ask(
        "high_slip", "caution",
        f"A slip of {slip:.0%} (usual {usual.low:.0%} to "
        f"{usual.high:.0%}): a motor for a press or shear, made to give way to its "
        "flywheel. It runs hot by design.",
        found=slip, allowed=usual.high, key="plate.speed",
        remedy="Switch off a drive's slip compensation, and do not replace it by a plain motor.",
    )  # fmt: skip
