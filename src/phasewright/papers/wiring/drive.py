"""The circuit of a motor on a drive: nothing between drive and motor opens under power; the
machine's old switches go to the drive's inputs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from phasewright.papers.wiring.braking import braking
from phasewright.papers.wiring.control import ControlSupply
from phasewright.papers.wiring.draft import Draft, Run, Sheet
from phasewright.papers.wiring.drive_device import (
    OUT,
    RELAY,
    DriveFeed,
    drive_device,
    link_choke,
    resistor,
    through_transformer,
)
from phasewright.papers.wiring.drive_inputs import (
    EARLY,
    Inputs,
    Stopping,
    drive_control,
    early_isolator,
)
from phasewright.papers.wiring.halting import ON_DRIVE, Contact, head_contacts
from phasewright.papers.wiring.hanging import Hanging, line_ends, motor_device
from phasewright.papers.wiring.model import Device, Pairs
from phasewright.papers.wiring.origin import Origin, begin
from phasewright.papers.wiring.parts import MAIN, contactor, overload, strip

Rails = Sequence[tuple[str, str]]


@dataclass(frozen=True, slots=True)
class ToDrive:
    """The power circuit up to and with the drive: the column that goes on, the last device that
    isolates it, its contactor."""

    drive: Device
    run: Run
    last: Device
    main: Device


def own_drive(draft: Draft, of: Hanging, feed: DriveFeed, rails: Rails) -> None:
    """Write the unit of a motor with a drive of its own; `rails` are its lines and PE."""
    sheet = Sheet(draft, of.id, f"Motor {of.motor.id} on its drive", of.motor.id)
    inputs = Inputs(of.machine.starter, of.reverses, of.speed_wanted)
    to = _to_drive(sheet, feed, rails, inputs, of.origin, f"motor {of.motor.id}")
    if feed.output_filter:
        _output_filter(sheet, to.run, feed)
    lock = early_isolator(sheet, priced=feed.isolator_priced)
    to.run.series(lock, "isolator", MAIN)
    motor = motor_device(sheet, of)
    # the screen's clamp at the motor is its frame, which is its earth terminal
    to.run.end(motor, "motor", (*line_ends(of.box), "PE", "PE"))
    to.run.band.done()
    thermal = (*link_choke(sheet, to.drive, feed), *resistor(sheet, to.drive, feed))
    braking(sheet, of, _behind(to.last), to.drive.rated_v, (to.drive, RELAY), None)
    heads = head_contacts(sheet, of.machine.name, ON_DRIVE)
    stopping = Stopping(tuple(heads), of.category, of.ramp_s, thermal)
    drive_control(sheet, to.drive, to.main, inputs, _supply(sheet, to), stopping,
                  ((lock, "make", EARLY),))  # fmt: skip
    _notes(sheet, of.category, (of.halt_words,))
    sheet.done()


def shared_drive(
    draft: Draft, words: str, feed: DriveFeed, motors: Sequence[Hanging], rails: Rails
) -> None:
    """Write the unit of one drive with a selector, and a unit for each motor behind it."""
    sheet = Sheet(draft, "=G1", words[0].upper() + words[1:], "shared drive")
    inputs = Inputs(None, False, any(of.speed_wanted for of in motors))
    to = _to_drive(sheet, feed, rails, inputs, feed.origin, words)
    ends = [tuple(f"{of.id[2:]}{letter}" for letter in OUT) for of in motors]
    positions: tuple[Pairs, ...] = tuple(tuple(zip(OUT, end, strict=True)) for end in ends)
    flat = tuple(one for end in ends for one in end)
    selector = sheet.device(
        "motor_selector", 7, "selector, changed over at rest; its early contact stops the drive",
        (*OUT, "PE", *flat, "11", "12"),
        positions=tuple((*pairs, ("11", "12")) for pairs in positions),
    )  # fmt: skip
    out = strip(sheet, 4, "to the motors, one at a time", (*flat, "PE"))
    letters = [(one, letter) for end in ends for one, letter in zip(end, OUT, strict=True)]
    to.run.box(selector, "switch_box", (*OUT, "PE", "PE"), (*letters, ("PE", "PE")))
    to.run.end(out, "strip", (*flat, "PE"))
    to.run.band.done()
    thermal = (*link_choke(sheet, to.drive, feed), *resistor(sheet, to.drive, feed))
    contacts: list[Contact] = [(selector, "make", ("11", "12"))]
    heads: list[Contact] = []
    for of, end in zip(motors, ends, strict=True):
        priced = feed.isolator_priced and of is motors[0]
        relay, lock, head = _behind_selector(draft, of, out, end, priced=priced)
        contacts += [(relay, "overload_contact", ("95", "96")), (lock, "make", EARLY)]
        heads += head
    worst = max(of.category for of in motors)
    ramps = [of.ramp_s for of in motors if of.ramp_s is not None and of.category == worst]
    stopping = Stopping(tuple(heads), worst, max(ramps, default=None), thermal)
    drive_control(sheet, to.drive, to.main, inputs, _supply(sheet, to), stopping, contacts)
    _notes(sheet, worst, [f"{of.motor.id}: {of.halt_words}" for of in motors if of.halt_words])
    sheet.notes.append("The emergency stop of every machine on this drive stops the drive.")
    sheet.done()


def _behind_selector(
    draft: Draft, of: Hanging, out: Device, ends: Sequence[str], *, priced: bool
) -> tuple[Device, Device, list[Contact]]:
    """The unit of a motor behind the selector: its overload relay, its isolator, and the contacts
    of its machine's emergency stop."""
    sheet = Sheet(draft, of.id, f"Motor {of.motor.id} on the shared drive", of.motor.id)
    rails = (*((out.at(end), letter) for end, letter in zip(ends, OUT, strict=True)),
             (out.at("PE"), "PE"))  # fmt: skip
    relay = overload(
        sheet, 2, f"overload relay of {of.motor.id}", of.setting_a,
        priced="overload_relay" in of.parts,
    )  # fmt: skip
    lock = early_isolator(sheet, priced=priced)
    motor = motor_device(sheet, of)
    band = sheet.hang(rails, "Power, from the selector")
    run = band.column().series(relay, "overload", MAIN).series(lock, "isolator", MAIN)
    run.end(motor, "motor", (*line_ends(of.box), "PE"))
    band.done()
    heads = head_contacts(sheet, of.machine.name, ON_DRIVE)
    if of.braked:
        sheet.notes.append(
            "The machine's own brake is not drawn: on a drive that changes over it needs a feed "
            "that goes with the selector."
        )
    sheet.notes.append(
        "The contacts of overload relay, isolator and emergency stop stand in the drive's circuits."
    )
    sheet.done()
    return relay, lock, heads


def _to_drive(
    sheet: Sheet, feed: DriveFeed, rails: Rails, inputs: Inputs, origin: Origin, what: str
) -> ToDrive:
    poles = len(rails) - 1
    main = contactor(
        sheet, 2, "input contactor, lets go when the supply fails", poles,
        coil_v=sheet.draft.supply_v,
    )  # fmt: skip
    drive = drive_device(sheet, feed, inputs.names, poles, what)
    run = sheet.hang(rails, "Power").column()
    _, last = begin(sheet, run, origin)
    run.series(main, "contactor", MAIN[:poles])
    if feed.transformer is not None:
        through_transformer(sheet, run, feed.transformer)
    if feed.choke:
        pairs = MAIN[: 3 if poles == len(MAIN) else 1]
        choke = sheet.device(
            "choke", 1, "choke before the drive", (end for pair in pairs for end in pair),
            closed=pairs, rating=feed.choke_h, rating_unit="H", specification=feed.choke_words,
            priced=True,
        )  # fmt: skip
        run.series(choke, "choke", pairs)
    ends = ("L1", "L2", "L3")[:poles]
    run.box(
        drive, "drive_box", (*ends, "PE"),
        (*((end, end) for end in OUT), ("PE", "PE"), ("SH", "screen")),
    )  # fmt: skip
    return ToDrive(drive, run, last, main)


def _output_filter(sheet: Sheet, run: Run, feed: DriveFeed) -> None:
    """The choke or filter that the length of the motor's lead asks for."""
    words = feed.output_filter.replace("_", " ")
    device = sheet.device(
        "output_filter", 6, f"{words} at the drive's output, for the long lead",
        (end for pair in MAIN for end in pair), closed=MAIN,
        specification=f"for {feed.power_words}", priced=True,
    )  # fmt: skip
    run.series(device, "choke", MAIN)


def _behind(last: Device) -> Rails:
    return ((last.at("2"), "L1"), (last.at("4"), "L2"))


def _supply(sheet: Sheet, to: ToDrive) -> ControlSupply:
    (one, _), (other, _) = _behind(to.last)
    return ControlSupply((one, other), volts=sheet.draft.supply_v)


def _notes(sheet: Sheet, category: int, words: Sequence[str]) -> None:
    sheet.notes.append(
        "Nothing between drive and motor may open under power: the isolator there stops the drive "
        "by its early contact first. The motor cable's screen is clamped to earth at both ends."
    )
    sheet.notes.append(
        "The emergency stop opens the safety relay, which lets the ramp bring the motor to rest, "
        "then takes enable and supply away (category 1); its delay is set longer than the ramp. "
        "The link stays charged: wait as the drive's plate says."
        if category == 1
        else "The emergency stop opens the drive's enable and the input contactor, both at once "
        "(category 0). The link stays charged: wait as the drive's plate says."
    )
    sheet.notes += [each for each in words if each]
