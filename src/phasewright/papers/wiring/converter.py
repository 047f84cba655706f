"""The shop's rotary converter: its idler, capacitors, start branch, and outlets that wait until
the sequence of the lines is proved."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from phasewright.papers.wiring.banks import Can, across_lines
from phasewright.papers.wiring.control import ControlSupply, control_rails
from phasewright.papers.wiring.draft import Draft, Run, Sheet
from phasewright.papers.wiring.halting import Contact
from phasewright.papers.wiring.hanging import left_open, line_ends, windings_of
from phasewright.papers.wiring.line_three import SUPPLY, blocking, third_line
from phasewright.papers.wiring.model import Device
from phasewright.papers.wiring.origin import BARE, Origin, begin
from phasewright.papers.wiring.parts import (
    LINES,
    MAIN,
    button,
    contactor,
    discharge,
    emergency_stop,
    lamp,
    overload,
    strip,
)
from phasewright.papers.wiring.pony import pony_motor
from phasewright.papers.wiring.terminals import TerminalBox
from phasewright.papers.wiring.windings import winding_share
from phasewright.quantities.units import format as shown

Rails = tuple[tuple[str, str], ...]
UNIT = "=G1"
FOUR = (*LINES, "PE")


@dataclass(frozen=True, slots=True)
class Idler:
    """One idler: shaft power [W], its overload setting [A], its terminal box."""

    power_w: float
    setting_a: float | None
    box: TerminalBox


@dataclass(frozen=True, slots=True)
class BuiltConverter:
    """A converter built from parts. `banks`: cans between 3 and 1, between 2 and 3."""

    words: str
    idlers: tuple[Idler, ...]
    banks: tuple[tuple[Can, ...], tuple[Can, ...]]
    start_cans: tuple[Can, ...]
    method: Literal["direct", "series_resistor", "pony_motor"]
    resistor_ohm: float | None
    contactor_a: float | None
    origin: Origin = BARE


def built_converter(draft: Draft, of: BuiltConverter, rails: Rails) -> Rails:
    """Write the unit; the rails of its outlets."""
    sheet = Sheet(draft, UNIT, of.words, "converter")
    coil_v = draft.supply_v
    main = contactor(
        sheet, 2, "input contactor, lets go when the supply fails", 2,
        makes=3 + (len(of.idlers) > 1), rating=of.contactor_a, priced=True, coil_v=coil_v,
    )  # fmt: skip
    inner = strip(sheet, 2, "converter terminals", FOUR)
    band = sheet.hang(rails, "From the supply to the converter")
    run = band.column()
    _, last = begin(sheet, run, of.origin)
    run.series(main, "contactor", MAIN[:2])
    bypass = _start_resistor(sheet, run, of)
    run.end(inner, "strip", ("L1", "L2", "PE"))
    band.done()
    bus = tuple((inner.at(line), line) for line in FOUR)
    relays, further = _idlers(sheet, of, bus)
    helper = _capacitors(sheet, of, bus)
    outlets, sequence, out = _outlets(sheet, bus)
    rest = control_rails(sheet, ControlSupply((last.at("2"), last.at("4")), volts=coil_v))
    locks = pony_motor(sheet, last, rest) if of.method == "pony_motor" else ()
    _control(sheet, rest, main, (relays, locks), (bypass, outlets), sequence, helper)
    if further:
        _further_idlers(sheet, rest, main, further)
    sheet.notes += [
        "Line 3 and every capacitor stay live while the idler turns, whatever is switched off "
        "before it. Wait for standstill, then for the discharge, then prove dead.",
        "The outlets come on only while the phase-sequence relay agrees.",
    ]
    if of.method == "pony_motor":
        sheet.notes.append(
            "Hold the pony motor's button until the idler is near full speed, let it go, then "
            "switch the converter on at once; the two contactors lock each other out."
        )
    sheet.done()
    return tuple((out.at(line), line) for line in FOUR)


def _start_resistor(sheet: Sheet, run: Run, of: BuiltConverter) -> Device | None:
    """The resistor in line 1, bridged by the contactor that is given back."""
    if of.method != "series_resistor":
        return None
    ohms = "" if of.resistor_ohm is None else shown(of.resistor_ohm, "ohm")
    resistor = sheet.device(
        "start_resistor", 1, "start resistor in line 1, bridged once the idler runs", ("1", "2"),
        closed=(("1", "2"),), rating=of.resistor_ohm, rating_unit="ohm", specification=ohms,
        priced=True,
    )  # fmt: skip
    bypass = contactor(
        sheet, 3, "contactor that bridges the start resistor", 1, makes=0,
        coil_v=sheet.draft.supply_v,
    )  # fmt: skip
    run.series(resistor, "resistor_in_line", (("1", "2"),))
    run.beside(bypass, "make", ("1", "2"))
    return bypass


def _idlers(
    sheet: Sheet, of: BuiltConverter, bus: Rails
) -> tuple[tuple[Device, ...], tuple[Device, ...]]:
    """Every idler behind its overload relay; all but the first, which the input contactor starts,
    behind a contactor of their own. The relays, then the contactors."""
    band = sheet.hang(bus, "Idler" if len(of.idlers) == 1 else "Idlers")
    relays, switches = [], []
    for number, each in enumerate(of.idlers, 1):
        run = band.column()
        if number > 1:
            switch = contactor(
                sheet, 10 + number, f"contactor of idler {number}", 3, makes=1,
                rating=each.setting_a, priced=True, coil_v=sheet.draft.supply_v,
            )  # fmt: skip
            run.series(switch, "contactor", MAIN)
            switches.append(switch)
        relay = overload(
            sheet, 10 + number, f"overload relay of idler {number}", each.setting_a, priced=True
        )
        run.series(relay, "overload", MAIN)
        idler = _idler(sheet, each, number)
        run.end(idler, "motor", (*line_ends(each.box), "PE"))
        relays.append(relay)
    band.done()
    return tuple(relays), tuple(switches)


def _idler(sheet: Sheet, of: Idler, number: int) -> Device:
    box, volts = of.box, sheet.draft.supply_v
    third = line_ends(box)[2]
    share = winding_share(box)
    idler = sheet.device(
        "idler", number, f"idler {number}, {shown(of.power_w, 'W')}, no load on its shaft",
        (*box.terminals, "PE"), windings=windings_of(box), sources=(third,), generated=third,
        left_open=left_open(box), note=box.words, links_known=box.sure,
        rating=of.power_w, rating_unit="W", specification=shown(of.power_w, "W"),
        priced=True, system=SUPPLY, phasors_v=third_line(sheet.draft, third),
        winding_v=None if volts is None or share is None else volts * share,
    )  # fmt: skip
    for one, other in box.links:
        sheet.wire(idler.at(one), idler.at(other), "link", "link")
    return idler


def _capacitors(sheet: Sheet, of: BuiltConverter, bus: Rails) -> Device | None:
    """Run and start capacitors; the relay that drops the start capacitor out."""
    band = sheet.hang(bus, "Capacitors")
    if any(of.banks):
        across_lines(sheet, band.column(0, 1, 2), of.banks, priced=False)
    helper = None
    if of.start_cans:
        helper = sheet.device(
            "drop_out_relay", 1, "drops the start capacitor out near full speed",
            ("1", "2", "A1", "A2", "M1", "M2"), closed=(("1", "2"),), coil=("A1", "A2"),
            priced=True, rated_v=sheet.draft.supply_v,
        )  # fmt: skip
        band.column(2, 0).end(helper, "measuring", ("M1", "M2"))
        run = band.column(2, 0).series(helper, "break", (("1", "2"),))
        for number, can in enumerate(of.start_cans, 1):
            device = sheet.device(
                "start_capacitor", f"s.{number}", "start capacitor, lines 3 and 1", ("1", "2"),
                rating=can.capacitance_f, rating_unit="F", specification=can.words, priced=True,
                rated_v=can.class_v,
            )  # fmt: skip
            bleeder = discharge(sheet, f"s.{number}", "discharge resistor of its can", priced=True)
            run.across(device, "capacitor", ("1", "2"), (0, 1))
            run.across(bleeder, "resistor", ("1", "2"), (0, 1))
        run.done()
    band.done()
    return helper


def _outlets(sheet: Sheet, bus: Rails) -> tuple[Device, Device, Device]:
    """The contactor before the outlets, the relay that proves the sequence, the outlets."""
    outlets, proof = blocking(sheet, priced=True)
    out = strip(sheet, 4, "outlets to the machines", FOUR)
    band = sheet.hang(bus, "To the machines")
    band.column(0, 1, 2).end(proof, "sequence", LINES)
    band.column().series(outlets, "contactor", MAIN).end(out, "strip", FOUR)
    band.done()
    return outlets, proof, out


def _control(
    sheet: Sheet,
    rails: Rails,
    main: Device,
    before: tuple[tuple[Device, ...], Sequence[Contact]],
    switched: tuple[Device | None, Device],
    proof: Device,
    helper: Device | None,
) -> None:
    bypass, outlets = switched
    band = sheet.hang(rails, "Control, on lines 1 and 2 only", control=True)
    run = band.column().series(emergency_stop(sheet), "emergency_stop", (("11", "12"),))
    run.series(button(sheet, 1, "converter off", breaks=True), "break_button", (("11", "12"),))
    for relay in before[0]:
        run.series(relay, "overload_contact", (("95", "96"),))
    for device, shape, pair in before[1]:
        run.series(device, shape, (pair,))
    start = button(sheet, 2, "converter on")
    run.series(start, "make_button", (("13", "14"),)).beside(main, "make", ("13", "14"))
    run.across(main, "coil", ("A1", "A2"), (0, 1)).done()
    shine = lamp(sheet, "lamp: converter on, line 3 live", main.rated_v)
    band.column().series(main, "make", (("23", "24"),)).across(
        shine, "lamp", ("X1", "X2"), (0, 1)
    ).done()
    column = band.column().series(main, "make", (("33", "34"),))
    if helper is not None:
        column.across(helper, "coil", ("A1", "A2"), (0, 1))
    column.series(proof, "make", (("11", "14"),))
    column.across(outlets, "coil", ("A1", "A2"), (0, 1))
    if bypass is not None:
        column.across(bypass, "coil", ("A1", "A2"), (0, 1))
    column.done()
    band.done()


def _further_idlers(sheet: Sheet, rails: Rails, main: Device, switches: tuple[Device, ...]) -> None:
    """Each further idler has a button of its own and holds while the converter is on."""
    band = sheet.hang(rails, "Further idlers, one after the other", control=True)
    inner = strip(sheet, 7, "control of the further idlers", ("1", "2"))
    feed = band.column().series(main, "make", (("43", "44"),))
    feed.end(inner, "strip", ("1", "2"))
    band.done()
    band = sheet.hang(
        tuple((inner.at(end), mark) for end, (_, mark) in zip(("1", "2"), rails, strict=True)),
        "On while the converter is on", control=True,
    )  # fmt: skip
    for number, switch in enumerate(switches, 2):
        start = button(sheet, 10 + number, f"idler {number} on")
        run = band.column().series(start, "make_button", (("13", "14"),))
        run.beside(switch, "make", ("13", "14")).across(switch, "coil", ("A1", "A2"), (0, 1))
        run.done()
    band.done()
