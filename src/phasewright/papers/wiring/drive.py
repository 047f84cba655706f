"""The circuit of a motor on a drive: nothing between drive and motor opens under power; the
machine's old switches go to the drive's inputs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from phasewright.papers.wiring.control import Contact
from phasewright.papers.wiring.draft import Draft, Run, Sheet
from phasewright.papers.wiring.drive_inputs import EARLY, Inputs, drive_control, early_isolator
from phasewright.papers.wiring.machine import Hanging, line_ends, motor_device
from phasewright.papers.wiring.model import Device, Pairs
from phasewright.papers.wiring.parts import (
    MAIN,
    breaker,
    contactor,
    isolator,
    overload,
    strip,
)
from phasewright.quantities.units import format as shown

Rails = Sequence[tuple[str, str]]
OUT = ("U", "V", "W")


@dataclass(frozen=True, slots=True)
class DriveFeed:
    """A drive as it is bought: rated power [W], and what stands before it."""

    power_w: float
    choke: bool
    transformer_v: float | None = None
    steps_up: bool = False
    isolator_priced: bool = True


def own_drive(draft: Draft, of: Hanging, feed: DriveFeed, rails: Rails) -> None:
    """Write the unit of a motor with a drive of its own; `rails` are lines 1, 2 and PE."""
    sheet = Sheet(draft, of.id, f"Motor {of.motor.id} on its drive", of.motor.id)
    inputs = Inputs(of.machine.starter, of.reverses, of.speed_wanted)
    drive, run, guard, main = _to_drive(sheet, feed, rails, inputs)
    lock = early_isolator(sheet, priced=feed.isolator_priced)
    run.series(lock, "isolator", MAIN)
    motor = motor_device(sheet, of)
    # the screen's clamp at the motor is its frame, which is its earth terminal
    run.end(motor, "motor", (*line_ends(of.box), "PE", "PE"))
    run.band.done()
    drive_control(sheet, drive, guard, main, inputs, ((lock, "make", EARLY),))
    _notes(sheet)
    sheet.done()


def shared_drive(
    draft: Draft, words: str, feed: DriveFeed, motors: Sequence[Hanging], rails: Rails
) -> None:
    """Write the unit of one drive with a selector, and a unit for each motor behind it."""
    sheet = Sheet(draft, "=G1", words[0].upper() + words[1:], "shared drive")
    inputs = Inputs(None, False, any(of.speed_wanted for of in motors))
    drive, run, guard, main = _to_drive(sheet, feed, rails, inputs)
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
    run.box(selector, "switch_box", (*OUT, "PE", "PE"), (*letters, ("PE", "PE")))
    run.end(out, "strip", (*flat, "PE"))
    run.band.done()
    contacts: list[Contact] = [(selector, "make", ("11", "12"))]
    for of, end in zip(motors, ends, strict=True):
        relay, lock = _behind_selector(draft, of, out, end)
        contacts += [(relay, "overload_contact", ("95", "96")), (lock, "make", EARLY)]
    drive_control(sheet, drive, guard, main, inputs, contacts)
    _notes(sheet)
    sheet.done()


def _behind_selector(
    draft: Draft, of: Hanging, out: Device, ends: Sequence[str]
) -> tuple[Device, Device]:
    """The unit of a motor behind the selector: its overload relay and its isolator."""
    sheet = Sheet(draft, of.id, f"Motor {of.motor.id} on the shared drive", of.motor.id)
    rails = (*((out.at(end), letter) for end, letter in zip(ends, OUT, strict=True)),
             (out.at("PE"), "PE"))  # fmt: skip
    relay = overload(
        sheet, 2, f"overload relay of {of.motor.id}", of.setting_a,
        priced="overload_relay" in of.parts,
    )  # fmt: skip
    lock = early_isolator(sheet, priced=False)
    motor = motor_device(sheet, of)
    band = sheet.hang(rails, "Power, from the selector")
    run = band.column().series(relay, "overload", MAIN).series(lock, "isolator", MAIN)
    run.end(motor, "motor", (*line_ends(of.box), "PE"))
    band.done()
    sheet.notes.append(
        "The contacts of overload relay and isolator stand in the drive's enable circuit."
    )
    sheet.done()
    return relay, lock


def _to_drive(
    sheet: Sheet, feed: DriveFeed, rails: Rails, inputs: Inputs
) -> tuple[Device, Run, Device, Device]:
    """The power circuit up to and with the drive: the drive, the column, breaker and contactor."""
    guard = breaker(sheet, 2)
    lock = isolator(sheet, 2)
    main = contactor(sheet, 2, "input contactor, lets go when the supply fails", 2)
    drive = _drive(sheet, feed, inputs)
    band = sheet.hang(rails, "Power")
    run = band.column().series(guard, "breaker", MAIN[:2]).series(lock, "isolator", MAIN[:2])
    run.series(main, "contactor", MAIN[:2])
    if feed.transformer_v is not None:
        _transformer(sheet, run, feed.transformer_v)
    if feed.choke:
        choke = sheet.device(
            "choke", 1, "choke before the drive", ("1", "2"), closed=(("1", "2"),),
            specification=f"for {shown(feed.power_w, 'W')}", priced=True,
        )  # fmt: skip
        run.series(choke, "choke", (("1", "2"),))
    run.box(
        drive, "drive_box", ("L1", "L2", "PE"),
        (*((end, end) for end in OUT), ("PE", "PE"), ("SH", "screen")),
    )  # fmt: skip
    return drive, run, guard, main


def _drive(sheet: Sheet, feed: DriveFeed, inputs: Inputs) -> Device:
    kind = "drive that steps up" if feed.steps_up else "drive"
    return sheet.device(
        "drive", 1, f"{kind}, single-phase input, {shown(feed.power_w, 'W')}",
        ("L1", "L2", "PE", *OUT, "SH", *inputs.names),
        sources=(*OUT, "common", *(("10V",) if inputs.speed else ())),
        rating=feed.power_w, rating_unit="W", specification=shown(feed.power_w, "W"), priced=True,
    )  # fmt: skip


def _transformer(sheet: Sheet, run: Run, volts: float) -> None:
    transformer = sheet.device(
        "power_transformer", 2, f"isolating transformer, {shown(volts, 'V')} out, centre to earth",
        ("P1", "P2", "PE", "S1", "S2"), windings=(("P1", "P2"), ("S1", "S2")),
        sources=("S1", "S2"), rating=volts, rating_unit="V", specification=shown(volts, "V"),
        priced=True,
    )  # fmt: skip
    run.box(
        transformer, "transformer", ("P1", "P2", "PE"), (("S1", "L1"), ("S2", "L2"), ("PE", "PE"))
    )
    second: Pairs = (("1", "2"), ("3", "4"))
    guard = sheet.device(
        "breaker", 2, "protective device behind the transformer, 2 poles", ("1", "2", "3", "4"),
        closed=second, priced=True,
    )  # fmt: skip
    run.series(guard, "breaker", second)


def _notes(sheet: Sheet) -> None:
    sheet.notes += [
        "Nothing between drive and motor may open under power: the isolator there stops the drive "
        "by its early contact first. "
        "The motor cable's screen is clamped to earth at both ends.",
        "The emergency stop has two contacts, on one head: one opens the drive's enable, one the "
        "input contactor. The link stays charged: wait as the drive's plate says.",
        "Drawn so, it takes the torque away at once (category 0). Where category 1 is asked for, "
        "a safety relay stops the drive by its ramp first and opens both contacts after it.",
    ]
