"""Plates that contradict themselves, questioned in words (common practice, no source)."""

from __future__ import annotations

import math

from phasewright.machines.link import Link, Linking
from phasewright.machines.notes import Notes
from phasewright.quantities.value import exact
from phasewright.shop.plate import Plate

AMPS_RATIO_TOLERANCE = 0.08


def ask_about_amps(plate: Plate, links: tuple[Link, ...], notes: Notes) -> None:
    """Two amps must stand in the inverse ratio of the two volts, the larger at the lower."""
    volts = [value.number for value in plate.voltage]
    amps = [value.number for value in plate.current]
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
