"""What goes to a drive's inputs: the machine's old switches, and what must be closed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from phasewright.papers.wiring.control import ControlSupply, control_rails, held_contactor
from phasewright.papers.wiring.draft import Hung, Sheet
from phasewright.papers.wiring.halting import Contact, halted_at_once, halted_by_ramp
from phasewright.papers.wiring.model import Device
from phasewright.papers.wiring.parts import MAIN, button
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


@dataclass(frozen=True, slots=True)
class Stopping:
    """The emergency stops' contacts, two for each head, the category of the stop, the ramp [s],
    and further contacts that open the input contactor."""

    heads: tuple[Contact, ...]
    category: int
    ramp_s: float | None
    locks: tuple[Contact, ...] = ()


def drive_control(
    sheet: Sheet,
    drive: Device,
    main: Device,
    inputs: Inputs,
    supply: ControlSupply,
    stopping: Stopping,
    contacts: Sequence[Contact],
) -> None:
    """The input contactor's supply, the emergency stop, the drive's inputs and speed dial, the
    contactor's control. `contacts` stand in the enable circuit behind the emergency stop."""
    rails = control_rails(sheet, supply)
    if stopping.category == 1:
        halts = halted_by_ramp(
            sheet, rails, stopping.heads, supply.coil_v, stopping.ramp_s, 2 if inputs.drum else 1
        )
    else:
        halts = halted_at_once(stopping.heads)
    band = sheet.hang(
        ((drive.at("common"), "24V"),), "Drive inputs: the machine's own switches", control=True
    )
    if inputs.drum:
        _drum(sheet, band, drive, halts.ramp)
    else:
        _buttons(sheet, band, drive, inputs, halts.ramp)
    if inputs.starter == "two_speed_switch":
        switch = sheet.device(
            "speed_selector", 7, "the machine's speed switch, moved to the drive",
            ("13", "14"), closed=(EARLY,),
        )  # fmt: skip
        band.column().series(switch, "make", (EARLY,)).end(drive, "input", ("preset",))
    run = band.column()
    for device, shape, pair in (*halts.enable, *contacts):
        run.series(device, shape, (pair,))
    run.end(drive, "input", ("enable",))
    band.done()
    if inputs.speed:
        _speed(sheet, drive)
    held_contactor(
        sheet, rails, main, lamp_words="lamp: drive on", halts=halts.coil, locks=stopping.locks,
        words=("supply of the drive off", "supply of the drive on"),
    )  # fmt: skip


def _drum(sheet: Sheet, band: Hung, drive: Device, ramp: Sequence[Contact]) -> None:
    """One contact of the drum for each direction; in the middle neither is closed."""
    ahead, back = ("13", "14"), ("23", "24")
    drum = sheet.device(
        "reversing_switch", 5, "forward, off, reverse: the machine's drum, moved to the drive",
        (*ahead, *back), positions=((ahead,), (back,)),
    )  # fmt: skip
    for way, (pair, name) in enumerate(((ahead, "forward"), (back, "reverse"))):
        run = band.column()
        for device, shape, contact in ramp[way : way + 1]:
            run.series(device, shape, (contact,))
        run.series(drum, "make", (pair,)).end(drive, "input", (name,))


def _buttons(
    sheet: Sheet, band: Hung, drive: Device, inputs: Inputs, ramp: Sequence[Contact]
) -> None:
    stop = button(sheet, 3, "stop, moved to the drive", breaks=True)
    run = band.column()
    for device, shape, contact in ramp:
        run.series(device, shape, (contact,))
    run.series(stop, "break_button", (("11", "12"),)).end(drive, "input", ("stop",))
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
