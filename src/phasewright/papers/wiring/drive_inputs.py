"""What goes to a drive's inputs: the machine's old switches, and what must be closed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from phasewright.papers.wiring.control import (
    Contact,
    ControlSupply,
    control_rails,
    held_contactor,
)
from phasewright.papers.wiring.draft import Hung, Sheet
from phasewright.papers.wiring.model import Device
from phasewright.papers.wiring.parts import MAIN, button, emergency_stop
from phasewright.quantities.codes import Starter

EARLY = ("13", "14")
"""The contact of an isolator that opens before its poles do."""


@dataclass(frozen=True, slots=True)
class Inputs:
    """What the machine's own switch was, and what else is wanted of the drive."""

    starter: Starter | None
    reverses: bool
    speed: bool

    @property
    def drum(self) -> bool:
        """Whether a drum gives both directions, in place of buttons."""
        return self.starter == "reversing_drum"

    @property
    def names(self) -> tuple[str, ...]:
        """The inputs that are used."""
        return (
            "common", "enable",
            *(("forward", "reverse") if self.drum else ("start", "stop")),
            *(("reverse",) if self.reverses and not self.drum else ()),
            *(("preset",) if self.starter == "two_speed_switch" else ()),
            *(("10V", "speed", "0V") if self.speed else ()),
        )  # fmt: skip


def early_isolator(sheet: Sheet, *, priced: bool) -> Device:
    """The lockable isolator at a motor on a drive."""
    pairs = (*MAIN, EARLY)
    return sheet.device(
        "isolator", 6, "isolator at the motor, lockable; its early contact stops the drive first",
        tuple(end for pair in pairs for end in pair), closed=pairs, priced=priced,
    )  # fmt: skip


def drive_control(
    sheet: Sheet,
    drive: Device,
    guard: Device,
    main: Device,
    inputs: Inputs,
    contacts: Sequence[Contact],
) -> None:
    """The drive's inputs, its speed dial, then the input contactor's control. `contacts` stand in
    the enable circuit behind the emergency stop."""
    halt = emergency_stop(sheet, contacts=2)
    band = sheet.hang(
        ((drive.at("common"), "24V"),), "Drive inputs: the machine's own switches", control=True
    )
    if inputs.drum:
        _drum(sheet, band, drive)
    else:
        _buttons(sheet, band, drive, inputs)
    if inputs.starter == "two_speed_switch":
        switch = sheet.device(
            "speed_selector", 7, "the machine's speed switch, moved to the drive",
            ("13", "14"), closed=(EARLY,),
        )  # fmt: skip
        band.column().series(switch, "make", (EARLY,)).end(drive, "input", ("preset",))
    run = band.column().series(halt, "emergency_stop", (("21", "22"),))
    for device, shape, pair in contacts:
        run.series(device, shape, (pair,))
    run.end(drive, "input", ("enable",))
    band.done()
    if inputs.speed:
        _speed(sheet, drive)
    held_contactor(
        sheet, control_rails(sheet, ControlSupply((guard.at("2"), guard.at("4")))), main,
        lamp_words="lamp: drive on", halt=halt,
        words=("supply of the drive off", "supply of the drive on"),
    )  # fmt: skip


def _drum(sheet: Sheet, band: Hung, drive: Device) -> None:
    """One contact of the drum for each direction; in the middle neither is closed."""
    ahead, back = ("13", "14"), ("23", "24")
    drum = sheet.device(
        "reversing_switch", 5, "forward, off, reverse: the machine's drum, moved to the drive",
        (*ahead, *back), positions=((ahead,), (back,)),
    )  # fmt: skip
    for pair, name in ((ahead, "forward"), (back, "reverse")):
        band.column().series(drum, "make", (pair,)).end(drive, "input", (name,))


def _buttons(sheet: Sheet, band: Hung, drive: Device, inputs: Inputs) -> None:
    stop = button(sheet, 3, "stop, moved to the drive", breaks=True)
    band.column().series(stop, "break_button", (("11", "12"),)).end(drive, "input", ("stop",))
    start = button(sheet, 4, "start, moved to the drive")
    band.column().series(start, "make_button", (("13", "14"),)).end(drive, "input", ("start",))
    if inputs.reverses:
        turn = sheet.device("reversing_switch", 5, "reverse", ("13", "14"), closed=(("13", "14"),))
        band.column().series(turn, "make", (("13", "14"),)).end(drive, "input", ("reverse",))


def _speed(sheet: Sheet, drive: Device) -> None:
    dial = sheet.device(
        "potentiometer", 8, "speed", ("1", "2", "3"), windings=(("1", "2"), ("2", "3"))
    )
    band = sheet.hang(
        ((drive.at("10V"), "10V"), (drive.at("speed"), "speed"), (drive.at("0V"), "0V")),
        "Speed", control=True,
    )  # fmt: skip
    band.column().end(dial, "dial", ("1", "2", "3"))
    band.done()
