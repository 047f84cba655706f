"""A machine's brake: a spring brake's coil on lines 1 and 2, a direct-current unit beside them."""

from __future__ import annotations

from collections.abc import Sequence

from phasewright.papers.wiring.draft import Sheet
from phasewright.papers.wiring.halting import Contact
from phasewright.papers.wiring.hanging import HOLDS, Hanging
from phasewright.papers.wiring.model import Device, Pairs
from phasewright.quantities.units import format as shown

BOTH: Pairs = (("1", "2"), ("3", "4"))


def has_coil(of: Hanging) -> bool:
    """Whether this motor's brake is let go by a coil."""
    brake = of.machine.brake
    return of.braked and brake is not None and brake.kind == "spring_electric"


def has_unit(of: Hanging) -> bool:
    """Whether this motor is braked by direct current from a unit of the machine's own."""
    brake = of.machine.brake
    return of.braked and brake is not None and brake.kind == "dc_injection"


def braking(
    sheet: Sheet,
    of: Hanging,
    rails: Sequence[tuple[str, str]],
    line_v: float | None,
    switch: tuple[Device, tuple[str, str]],
    relay: Device | None,
) -> tuple[Contact, ...]:
    """The brake of a motor on two lines with `line_v` between them; `switch` is what lets its coil
    draw while the motor is on, `relay` the overload relay behind which a direct-current unit feeds
    the winding (None on a drive, which brakes by itself). Contacts that must be closed before the
    motor's contactor goes in."""
    brake = of.machine.brake
    if not of.braked or brake is None:
        return ()
    if has_coil(of):
        _coil(sheet, of, rails, line_v, switch)
    elif relay is not None:
        return (_unit(sheet, rails, relay, switch[0]),)
    else:
        sheet.notes.append(
            "The machine's own direct-current brake is taken off the motor: it would feed into "
            "the drive, which brakes by itself."
        )
    return ()


def _coil(
    sheet: Sheet,
    of: Hanging,
    rails: Sequence[tuple[str, str]],
    line_v: float | None,
    switch: tuple[Device, tuple[str, str]],
) -> None:
    brake = of.machine.brake
    volts = None if brake is None or brake.coil is None else brake.coil.number
    fuse = sheet.device("fuse", 7, "fuses of the brake, both lines", ("1", "2", "3", "4"),
                        closed=BOTH)  # fmt: skip
    run = sheet.hang(rails, "Brake, on lines 1 and 2").column()
    run.series(fuse, "fuse", BOTH)
    run.series(switch[0], "make", (switch[1],))
    low, high = HOLDS
    if volts is not None and line_v is not None and not low <= line_v / volts <= high:
        said = shown(volts, "V")
        rectifier = sheet.device(
            "rectifier", 7, f"rectifier or transformer of the brake, {said} out",
            ("P1", "P2", "S1", "S2"), coil=("P1", "P2"), windings=(("P1", "P2"), ("S1", "S2")),
            sources=("S1", "S2"), rating=volts, rating_unit="V", specification=said,
            phasors_v=(("S1", volts, 0.0), ("S2", 0.0, 0.0)),
        )  # fmt: skip
        run.box(rectifier, "rectifier", ("P1", "P2"), (("S1", "1"), ("S2", "2")))
    elif volts is None:
        sheet.notes.append(
            "The volts of the brake's coil are not known: read them on it before it is wired; "
            "where they are not those of lines 1 and 2, a rectifier or transformer goes before it."
        )
    coil = sheet.device(
        "brake", 7, "spring brake, let go by its coil; falls in without power", ("A1", "A2"),
        coil=("A1", "A2"), rated_v=volts,
        specification="" if volts is None else f"coil {shown(volts, 'V')}",
    )  # fmt: skip
    run.end(coil, "brake", ("A1", "A2"))
    run.band.done()
    sheet.notes.append(
        "The brake's coil hangs on lines 1 and 2, never on the motor's terminals or line 3."
    )


def _unit(sheet: Sheet, rails: Sequence[tuple[str, str]], relay: Device, main: Device) -> Contact:
    """The unit begins when the contactor has let go, which its break contact tells, and keeps it
    out until it is done."""
    unit = sheet.device(
        "brake_unit", 8, "the machine's direct-current brake; blocks the contactor meanwhile",
        ("L1", "L2", "1", "2", "11", "12", "S1", "S2"), closed=(("11", "12"),), sources=("S1",),
    )  # fmt: skip
    feeds = (*rails, (relay.at("2"), "L1"), (relay.at("4"), "L2"))
    band = sheet.hang(feeds, "Direct-current brake, fed from lines 1 and 2")
    band.column().end(unit, "load", ("L1", "L2", "1", "2"))
    band.done()
    band = sheet.hang(((unit.at("S1"), "S1"),), "Brakes once the contactor is out", control=True)
    band.column().series(main, "break", (("61", "62"),)).end(unit, "input", ("S2",))
    band.done()
    return unit, "make", ("11", "12")
