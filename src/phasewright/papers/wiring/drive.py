"""The circuit of a motor on a drive: nothing between drive and motor opens under power; the
machine's old switches go to the drive's inputs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from phasewright.papers.wiring.control import ControlSupply, control_rails, held_contactor
from phasewright.papers.wiring.draft import Draft, Run, Sheet
from phasewright.papers.wiring.machine import Hanging, line_ends, motor_device
from phasewright.papers.wiring.model import Device, Pairs
from phasewright.papers.wiring.parts import (
    MAIN,
    breaker,
    button,
    contactor,
    emergency_stop,
    isolator,
    overload,
    strip,
)
from phasewright.quantities.units import format as shown

Rails = Sequence[tuple[str, str]]
OUT = ("U", "V", "W")
INPUTS = ("common", "start", "stop", "enable")


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
    reverse = of.machine.starter == "reversing_drum" or of.reverses
    drive, run, guard, main = _to_drive(sheet, feed, rails, of.speed_wanted, reverse)
    motor = motor_device(sheet, of)
    # the screen's clamp at the motor is its frame, which is its earth terminal
    run.end(motor, "motor", (*line_ends(of.box), "PE", "PE"))
    run.band.done()
    _drive_control(sheet, drive, guard, main, speed=of.speed_wanted, reverse=reverse)
    _notes(sheet)
    sheet.done()


def shared_drive(
    draft: Draft, words: str, feed: DriveFeed, motors: Sequence[Hanging], rails: Rails
) -> None:
    """Write the unit of one drive with a selector, and a unit for each motor behind it."""
    sheet = Sheet(draft, "=G1", words[0].upper() + words[1:], "shared drive")
    speed = any(of.speed_wanted for of in motors)
    drive, run, guard, main = _to_drive(sheet, feed, rails, speed, False)
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
    relays = []
    for of, end in zip(motors, ends, strict=True):
        relays.append(_behind_selector(draft, of, out, end))
    _drive_control(
        sheet, drive, guard, main, speed=speed, reverse=False, selector=selector, relays=relays
    )
    _notes(sheet)
    sheet.done()


def _behind_selector(draft: Draft, of: Hanging, out: Device, ends: Sequence[str]) -> Device:
    sheet = Sheet(draft, of.id, f"Motor {of.motor.id} on the shared drive", of.motor.id)
    rails = (*((out.at(end), letter) for end, letter in zip(ends, OUT, strict=True)),
             (out.at("PE"), "PE"))  # fmt: skip
    relay = overload(
        sheet, 2, f"overload relay of {of.motor.id}", of.setting_a,
        priced="overload_relay" in of.parts,
    )  # fmt: skip
    motor = motor_device(sheet, of)
    band = sheet.hang(rails, "Power, from the selector")
    band.column().series(relay, "overload", MAIN).end(motor, "motor", (*line_ends(of.box), "PE"))
    band.done()
    sheet.notes.append("The overload relay's contact stands in the drive's enable circuit.")
    sheet.done()
    return relay


def _to_drive(
    sheet: Sheet, feed: DriveFeed, rails: Rails, speed: bool, reverse: bool
) -> tuple[Device, Run, Device, Device]:
    """The power circuit up to and with the drive: the drive, the column, breaker and contactor."""
    guard = breaker(sheet, 2)
    lock = isolator(sheet, 2, priced=feed.isolator_priced)
    main = contactor(sheet, 2, "input contactor, lets go when the supply fails", 2)
    drive = _drive(sheet, feed, speed, reverse)
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


def _drive(sheet: Sheet, feed: DriveFeed, speed: bool, reverse: bool) -> Device:
    inputs = (
        *INPUTS,
        *(("reverse",) if reverse else ()),
        *(("10V", "speed", "0V") if speed else ()),
    )
    kind = "drive that steps up" if feed.steps_up else "drive"
    return sheet.device(
        "drive", 1, f"{kind}, single-phase input, {shown(feed.power_w, 'W')}",
        ("L1", "L2", "PE", *OUT, "SH", *inputs),
        sources=(*OUT, "common", *(("10V",) if speed else ())),
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


def _drive_control(
    sheet: Sheet,
    drive: Device,
    guard: Device,
    main: Device,
    *,
    speed: bool,
    reverse: bool,
    selector: Device | None = None,
    relays: Sequence[Device] = (),
) -> None:
    """The drive's inputs, then the input contactor's control with the emergency stop."""
    halt = emergency_stop(sheet, contacts=2)
    band = sheet.hang(((drive.at("common"), "24V"),), "Drive inputs: the machine's own switches",
                      control=True)  # fmt: skip
    band.column().series(
        button(sheet, 3, "stop, moved to the drive", breaks=True), "break_button", (("11", "12"),)
    ).end(drive, "input", ("stop",))
    band.column().series(
        button(sheet, 4, "start, moved to the drive"), "make_button", (("13", "14"),)
    ).end(drive, "input", ("start",))
    if reverse:
        turn = sheet.device(
            "reversing_switch", 5, "reverse, the machine's own switch moved to the drive",
            ("13", "14"), closed=(("13", "14"),),
        )  # fmt: skip
        band.column().series(turn, "make", (("13", "14"),)).end(drive, "input", ("reverse",))
    run = band.column().series(halt, "emergency_stop", (("21", "22"),))
    if selector is not None:
        run.series(selector, "break", (("11", "12"),))
    for relay in relays:
        run.series(relay, "overload_contact", (("95", "96"),))
    run.end(drive, "input", ("enable",))
    band.done()
    if speed:
        _speed(sheet, drive)
    held_contactor(
        sheet, control_rails(sheet, ControlSupply((guard.at("2"), guard.at("4")))), main,
        lamp_words="lamp: drive on", halt=halt,
        words=("supply of the drive off", "supply of the drive on"),
    )  # fmt: skip


def _speed(sheet: Sheet, drive: Device) -> None:
    dial = sheet.device(
        "potentiometer", 6, "speed", ("1", "2", "3"), windings=(("1", "2"), ("2", "3"))
    )
    band = sheet.hang(
        ((drive.at("10V"), "10V"), (drive.at("speed"), "speed"), (drive.at("0V"), "0V")),
        "Speed", control=True,
    )  # fmt: skip
    band.column().end(dial, "dial", ("1", "2", "3"))
    band.done()


def _notes(sheet: Sheet) -> None:
    sheet.notes += [
        "No contactor, drum or pressure switch between drive and motor may open under power. "
        "The motor cable's screen is clamped to earth at both ends.",
        "The emergency stop has two contacts, on one head: one opens the drive's enable, one the "
        "input contactor. The link stays charged: wait as the drive's plate says.",
    ]
