"""The small single-phase motor that turns an idler up to speed before it is switched on."""

from __future__ import annotations

from phasewright.papers.wiring.draft import Sheet
from phasewright.papers.wiring.halting import Contact
from phasewright.papers.wiring.model import Device
from phasewright.papers.wiring.parts import BOTH_LINES, MAIN, button, overload
from phasewright.papers.wiring.terminals import two_wire

LOCK = ("21", "22")


def pony_motor(
    sheet: Sheet, last: Device, rails: tuple[tuple[str, str], ...]
) -> tuple[Contact, ...]:
    """Contactor, overload relay and motor on lines 1 and 2 behind `last`, and the button that is
    held; the contact that keeps the idler out meanwhile."""
    volts = sheet.draft.supply_v
    switch = sheet.device(
        "contactor", 6, "contactor of the pony motor", ("1", "2", "3", "4", *LOCK, "A1", "A2"),
        closed=(*MAIN[:2], LOCK), coil=("A1", "A2"), rated_v=volts,
    )  # fmt: skip
    relay = overload(sheet, 19, "overload relay of the pony motor, its third pole in series", None)
    ends = two_wire(sheet.draft.region).terminals
    motor = sheet.device(
        "pony_motor", 9, "pony motor, single-phase, turns the idler up", (*ends, "PE"),
        windings=((ends[0], ends[1]),), rated_v=volts, priced=True,
    )  # fmt: skip
    earth = next(
        each.from_ for each in sheet.draft.conductors
        if each.unit == sheet.id and each.potential == "PE"
    )  # fmt: skip
    feeds = (*zip((last.at("2"), last.at("4")), BOTH_LINES, strict=True), (earth, "PE"))
    band = sheet.hang(feeds, "Pony motor")
    run = band.column().series(switch, "contactor", MAIN[:2]).series(relay, "overload", MAIN[:2])
    run.series(relay, "overload_pole", MAIN[2:], legs=(1,))
    run.end(motor, "motor", (*ends, "PE"))
    band.done()
    held = button(sheet, 6, "pony motor, held")
    control = sheet.hang(rails, "Pony motor, on lines 1 and 2 only", control=True)
    run = control.column().series(relay, "overload_contact", (("95", "96"),))
    run.series(held, "make_button", (("13", "14"),))
    run.across(switch, "coil", ("A1", "A2"), (0, 1)).done()
    control.done()
    return ((switch, "break", LOCK),)
