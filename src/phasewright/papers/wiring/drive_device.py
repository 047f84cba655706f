"""A drive as a device, with what stands before it, in its link and at its output."""

from __future__ import annotations

import math
from dataclasses import dataclass

from phasewright.circuits.installation import ResidualCurrentDevice
from phasewright.papers.wiring.draft import Run, Sheet
from phasewright.papers.wiring.halting import Contact
from phasewright.papers.wiring.model import Device, Pairs, Phasor
from phasewright.papers.wiring.origin import BARE, Origin, residual
from phasewright.papers.wiring.parts import LINES, isolator
from phasewright.quantities.units import format as shown

OUT = ("U", "V", "W")
RELAY = ("R1", "R2")
"""The drive's own relay contact: closed while the motor is fed."""
CHOPPER, LINK = ("B1", "B2"), ("DC1", "DC2")


@dataclass(frozen=True, slots=True)
class Transformer:
    """An isolating transformer before a drive: volts out, rated power [VA], and the
    residual-current device behind it."""

    out_v: float
    power_va: float | None
    residual: ResidualCurrentDevice | None = None
    residual_priced: bool = False
    guard_priced: bool = False
    isolated: bool = False


@dataclass(frozen=True, slots=True)
class DriveFeed:
    """A drive as it is bought: rated power [W], volts in and out, and what goes with it."""

    power_w: float
    choke: bool
    choke_h: float | None = None
    dc_choke: bool = False
    transformer: Transformer | None = None
    steps_up: bool = False
    isolator_priced: bool = True
    input_v: float | None = None
    output_v: float | None = None
    output_filter: str = ""
    resistor_ohm: float | None = None
    resistor_w: float | None = None
    relay: bool = False
    """Whether its relay contact lets a brake go."""
    origin: Origin = BARE

    @property
    def power_words(self) -> str:
        """Its rated power in words."""
        return shown(self.power_w, "W")

    @property
    def choke_words(self) -> str:
        """Its choke by specification."""
        inductance = "" if self.choke_h is None else f"{shown(self.choke_h, 'H')}, "
        return f"{inductance}for {self.power_words}"


def drive_device(
    sheet: Sheet, feed: DriveFeed, inputs: tuple[str, ...], poles: int, what: str
) -> Device:
    """The drive with the terminals that are used."""
    kind = "drive that steps up" if feed.steps_up else "drive"
    phases = "three-phase" if poles == len(LINES) else "single-phase"
    own = (
        *(RELAY if feed.relay else ()), *(CHOPPER if feed.resistor_w else ()),
        *(LINK if feed.dc_choke else ()),
    )  # fmt: skip
    volts = "" if feed.input_v is None else f", {shown(feed.input_v, 'V')} in"
    return sheet.device(
        "drive", 1, f"{kind} of {what}, {phases} input",
        (*LINES[:poles], "PE", *OUT, "SH", *inputs, *own),
        positions=((RELAY,),) if feed.relay else (),
        sources=(*OUT, "common", *(("10V",) if "10V" in inputs else ()),
                 *(CHOPPER[:1] if feed.resistor_w else ()), *(LINK[:1] if feed.dc_choke else ())),
        rating=feed.power_w, rating_unit="W", specification=f"{feed.power_words}{volts}",
        priced=True, rated_v=feed.input_v, phasors_v=star(OUT, feed.output_v),
    )  # fmt: skip


def star(ends: tuple[str, ...], line_v: float | None) -> tuple[Phasor, ...]:
    """Three equal volts to a middle, the second a third of a turn after the first."""
    if line_v is None:
        return ()
    third = 2.0 * math.pi / 3.0
    volts = line_v / math.sqrt(3.0)
    return tuple(
        (end, volts * math.cos(third * k), -volts * math.sin(third * k))
        for k, end in enumerate(ends)
    )


def link_choke(sheet: Sheet, drive: Device, feed: DriveFeed) -> tuple[Contact, ...]:
    """The choke in the drive's link, where one was chosen: its factory link is taken out."""
    if not feed.dc_choke:
        return ()
    pair: Pairs = (("1", "2"),)
    choke = sheet.device(
        "choke", 2, "choke in the drive's link; the maker's bridge is taken out", ("1", "2"),
        closed=pair, rating=feed.choke_h, rating_unit="H", specification=feed.choke_words,
        priced=True,
    )  # fmt: skip
    band = sheet.hang(((drive.at(LINK[0]), LINK[0]),), "Choke in the link")
    band.column().series(choke, "choke", pair).end(drive, "input", (LINK[1],))
    band.done()
    return ()


def resistor(sheet: Sheet, drive: Device, feed: DriveFeed) -> tuple[Contact, ...]:
    """The brake resistor; its thermal contact, which opens the input contactor."""
    if not feed.resistor_w:
        return ()
    ohm = "" if feed.resistor_ohm is None else f"{shown(feed.resistor_ohm, 'ohm', 2)}, "
    device = sheet.device(
        "brake_resistor", 4, "brake resistor, hot: free air round it, nothing that burns near",
        ("1", "2", "95", "96"), closed=(("95", "96"),), windings=(("1", "2"),),
        rating=feed.resistor_ohm, rating_unit="ohm",
        specification=f"{ohm}{shown(feed.resistor_w, 'W')}", priced=True,
    )  # fmt: skip
    band = sheet.hang(tuple((drive.at(end), end) for end in CHOPPER), "Brake resistor")
    band.column().across(device, "resistor", ("1", "2"), (0, 1)).done()
    band.done()
    return ((device, "overload_contact", ("95", "96")),)


def through_transformer(sheet: Sheet, run: Run, of: Transformer) -> None:
    """The transformer, what protects behind it, and the earth that makes its fault seen."""
    volts = shown(of.out_v, "V")
    power = "" if of.power_va is None else f"{shown(of.power_va, 'VA')}, "
    transformer = sheet.device(
        "power_transformer", 2, f"isolating transformer, {volts} out, one end or centre to earth",
        ("P1", "P2", "PE", "S1", "S2"), windings=(("P1", "P2"), ("S1", "S2")),
        sources=("S1", "S2"), rating=of.power_va, rating_unit="VA",
        specification=f"{power}{volts} out", priced=True, rated_v=sheet.draft.supply_v,
        phasors_v=(("S1", of.out_v, 0.0), ("S2", 0.0, 0.0)),
    )  # fmt: skip
    run.box(
        transformer, "transformer", ("P1", "P2", "PE"), (("S1", "L1"), ("S2", "L2"), ("PE", "PE"))
    )
    second: Pairs = (("1", "2"), ("3", "4"))
    guard = sheet.device(
        "breaker", 2, "protective device behind the transformer, 2 poles", ("1", "2", "3", "4"),
        closed=second, priced=of.guard_priced,
    )  # fmt: skip
    run.series(guard, "breaker", second)
    if of.residual is not None or of.residual_priced:
        leak = residual(sheet, 2, of.residual, 8, "residual-current device behind the transformer",
                        priced=of.residual_priced)  # fmt: skip
        run.series(leak, "residual", second)
    if of.isolated:
        lock = isolator(sheet, 2, number=8, words="isolator before the drive, lockable, 2 poles")
        run.series(lock, "isolator", second)
