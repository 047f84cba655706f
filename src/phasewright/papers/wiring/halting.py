"""Emergency stops: one head for a machine, whatever number of motors it has.

Category 0 of IEC 60204-1, 9.2.2, takes the power away at once: the head's own contacts open coil
and enable. Category 1 lets the drive's ramp bring the motor to rest first: a safety relay opens the
drive's stop input at once, and enable and coil after a delay.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from phasewright.papers.wiring.draft import Sheet
from phasewright.papers.wiring.model import Device, Pairs
from phasewright.papers.wiring.parts import button, emergency_stop
from phasewright.quantities.units import format as shown

Contact = tuple[Device, str, tuple[str, str]]
"""A device, the shape of its contact, its two terminals."""
ON_DRIVE, ON_CONTACTOR = 2, 1
"""Contacts of the head that a motor takes."""


@dataclass(frozen=True, slots=True)
class Halts:
    """The contacts an emergency stop opens: in the coil's circuit, in a drive's enable, and, at
    once, in its stop input."""

    coil: tuple[Contact, ...]
    enable: tuple[Contact, ...] = ()
    ramp: tuple[Contact, ...] = ()


def head_contacts(sheet: Sheet, machine: str, count: int) -> list[Contact]:
    """The next free contacts of a machine's emergency stop, whose head is put where its first
    motor is written."""
    draft = sheet.draft
    if machine not in draft.heads:
        most = max(count, draft.contacts.get(machine, count))
        draft.heads[machine] = (emergency_stop(sheet, contacts=most), 0)
    head, taken = draft.heads[machine]
    draft.heads[machine] = (head, taken + count)
    return [
        (head, "emergency_stop", (f"{k}1", f"{k}2")) for k in range(taken + 1, taken + count + 1)
    ]


def halted_at_once(contacts: Sequence[Contact]) -> Halts:
    """Category 0 of a motor on a drive: one contact for its enable, the other for the coil; of
    several heads each has two."""
    return Halts(coil=tuple(contacts[0::2]), enable=tuple(contacts[1::2]))


def halted_by_ramp(
    sheet: Sheet,
    rails: Sequence[tuple[str, str]],
    contacts: Sequence[Contact],
    volts: float | None,
    ramp_s: float | None,
    stops: int,
) -> Halts:
    """Category 1: the safety relay, its two channels through every head, and the contacts it
    gives: `stops` that open at once, two that open late."""
    at_once: Pairs = tuple((f"{k}3", f"{k}4") for k in range(1, stops + 1))
    late: Pairs = (("57", "58"), ("67", "68"))
    ramp = "the ramp" if ramp_s is None else f"the ramp of {shown(ramp_s, 's', 2)}"
    inputs: Pairs = (("S11", "S12"), ("S21", "S22"), ("S33", "S34"))
    relay = sheet.device(
        "safety_relay", 9,
        f"safety relay of the emergency stop; its late contacts open after {ramp} only",
        (end for pair in (*at_once, *late, *inputs, ("A1", "A2")) for end in pair),
        closed=(*at_once, *late), coil=("A1", "A2"), sources=tuple(first for first, _ in inputs),
        rated_v=volts, specification="" if volts is None else f"coil {shown(volts, 'V')}",
    )  # fmt: skip
    band = sheet.hang(rails, "Safety relay of the emergency stop", control=True)
    band.column().across(relay, "coil", ("A1", "A2"), (0, 1)).done()
    band.done()
    band = sheet.hang(
        tuple((relay.at(first), first) for first, _ in inputs), "Its two channels and its reset",
        control=True,
    )  # fmt: skip
    for channel in (0, 1):
        run = band.column(channel)
        for device, shape, pair in contacts[channel::2]:
            run.series(device, shape, (pair,))
        run.end(relay, "input", (inputs[channel][1],))
    reset = button(sheet, 6, "reset of the emergency stop; starts nothing")
    band.column(2).series(reset, "make_button", (("13", "14"),)).end(relay, "input", ("S34",))
    band.done()
    return Halts(
        coil=((relay, "late_make", late[1]),),
        enable=((relay, "late_make", late[0]),),
        ramp=tuple((relay, "make", pair) for pair in at_once),
    )
