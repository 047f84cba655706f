"""The shop's rotary converter: its idler, capacitors, start branch, and outlets that wait until
the sequence of the lines is proved."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from phasewright.papers.wiring.banks import Can, across_lines
from phasewright.papers.wiring.control import ControlSupply, control_rails, held_contactor
from phasewright.papers.wiring.draft import Draft, Run, Sheet
from phasewright.papers.wiring.machine import left_open, line_ends, windings_of
from phasewright.papers.wiring.model import Device
from phasewright.papers.wiring.parts import (
    LINES,
    MAIN,
    breaker,
    button,
    contactor,
    discharge,
    emergency_stop,
    isolator,
    lamp,
    overload,
    strip,
)
from phasewright.papers.wiring.terminals import TerminalBox
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


def built_converter(draft: Draft, of: BuiltConverter, rails: Rails) -> Rails:
    """Write the unit; the rails of its outlets."""
    sheet = Sheet(draft, UNIT, of.words, "converter")
    guard, lock = breaker(sheet, 2), isolator(sheet, 2)
    main = contactor(
        sheet, 2, "input contactor, lets go when the supply fails", 2, makes=3,
        rating=of.contactor_a, priced=True,
    )  # fmt: skip
    inner = strip(sheet, 2, "converter terminals", FOUR)
    band = sheet.hang(rails, "From the supply to the converter")
    run = band.column().series(guard, "breaker", MAIN[:2]).series(lock, "isolator", MAIN[:2])
    run.series(main, "contactor", MAIN[:2])
    bypass = _start_resistor(sheet, run, of)
    run.end(inner, "strip", ("L1", "L2", "PE"))
    band.done()
    bus = tuple((inner.at(line), line) for line in FOUR)
    relays = _idlers(sheet, of, bus)
    helper = _capacitors(sheet, of, bus)
    outlets, sequence, out = _outlets(sheet, bus)
    rest = control_rails(sheet, ControlSupply((guard.at("2"), guard.at("4"))))
    _control(sheet, rest, main, relays, (bypass, outlets), sequence, helper)
    sheet.notes += [
        "Line 3 and every capacitor stay live while the idler turns, whatever is switched off "
        "before it. Wait for standstill, then for the discharge, then prove dead.",
        "The outlets come on only while the phase-sequence relay agrees.",
    ]
    if of.method == "pony_motor":
        sheet.notes.append("The idler is brought up to speed by a pony motor before it is switched "
                           "on; the pony motor's own circuit is not drawn.")  # fmt: skip
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
    bypass = contactor(sheet, 3, "contactor that bridges the start resistor", 1, makes=0)
    run.series(resistor, "resistor_in_line", (("1", "2"),))
    run.beside(bypass, "make", ("1", "2"))
    return bypass


def _idlers(sheet: Sheet, of: BuiltConverter, bus: Rails) -> tuple[Device, ...]:
    band = sheet.hang(bus, "Idler" if len(of.idlers) == 1 else "Idlers")
    relays = []
    for number, each in enumerate(of.idlers, 1):
        relay = overload(
            sheet, 10 + number, f"overload relay of idler {number}", each.setting_a, priced=True
        )
        box = each.box
        lines = line_ends(box)
        third = lines[2]
        idler = sheet.device(
            "idler", number, f"idler {number}, {shown(each.power_w, 'W')}, no load on its shaft",
            (*box.terminals, "PE"), windings=windings_of(box), sources=(third,), generated=third,
            left_open=left_open(box), note=box.words, links_known=box.sure,
            rating=each.power_w, rating_unit="W", specification=shown(each.power_w, "W"),
            priced=True,
        )  # fmt: skip
        for one, other in box.links:
            sheet.wire(idler.at(one), idler.at(other), "link", "link")
        band.column().series(relay, "overload", MAIN).end(idler, "motor", (*lines, "PE"))
        relays.append(relay)
    band.done()
    return tuple(relays)


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
            priced=True,
        )  # fmt: skip
        band.column(2, 0).end(helper, "measuring", ("M1", "M2"))
        run = band.column(2, 0).series(helper, "break", (("1", "2"),))
        for number, can in enumerate(of.start_cans, 1):
            device = sheet.device(
                "start_capacitor", f"s.{number}", "start capacitor, lines 3 and 1", ("1", "2"),
                rating=can.capacitance_f, rating_unit="F", specification=can.words, priced=True,
            )  # fmt: skip
            run.across(device, "capacitor", ("1", "2"), (0, 1))
        bleeder = discharge(sheet, "s", "discharge resistor of the start capacitors", priced=True)
        run.across(bleeder, "resistor", ("1", "2"), (0, 1)).done()
    band.done()
    return helper


def _outlets(sheet: Sheet, bus: Rails) -> tuple[Device, Device, Device]:
    """The contactor before the outlets, the relay that proves the sequence, the outlets."""
    outlets = contactor(sheet, 4, "outlets, blocked until the sequence is proved", 3, makes=0)
    proof = sheet.device(
        "phase_sequence_relay", 2, "phase-sequence relay: lines present, in order, balanced",
        (*LINES, "11", "14"), closed=(("11", "14"),), priced=True,
    )  # fmt: skip
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
    relays: tuple[Device, ...],
    switched: tuple[Device | None, Device],
    proof: Device,
    helper: Device | None,
) -> None:
    bypass, outlets = switched
    band = sheet.hang(rails, "Control, on lines 1 and 2 only", control=True)
    run = band.column().series(emergency_stop(sheet), "emergency_stop", (("11", "12"),))
    run.series(button(sheet, 1, "converter off", breaks=True), "break_button", (("11", "12"),))
    for relay in relays:
        run.series(relay, "overload_contact", (("95", "96"),))
    start = button(sheet, 2, "converter on")
    run.series(start, "make_button", (("13", "14"),)).beside(main, "make", ("13", "14"))
    run.across(main, "coil", ("A1", "A2"), (0, 1)).done()
    shine = lamp(sheet, "lamp: converter on, line 3 live")
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


def ready_converter(
    draft: Draft, words: str, rails: Rails, *, resistor: bool, box_kind: str
) -> Rails:
    """A converter bought as a box: what is before and behind it; its inside is its maker's."""
    sheet = Sheet(draft, UNIT, words, "converter")
    guard, lock = breaker(sheet, 2), isolator(sheet, 2)
    main = contactor(sheet, 2, "input contactor, lets go when the supply fails", 2, priced=True)
    generated = "L3" if box_kind == "converter" else None
    whole = sheet.device(
        "converter" if box_kind == "converter" else "electronic_source", 1, words,
        ("P1", "P2", *FOUR), positions=((("P1", "L1"), ("P2", "L2")),)
        if box_kind == "converter" else (),
        sources=("L3",) if box_kind == "converter" else LINES,
        generated=generated, priced=True,
    )  # fmt: skip
    out = strip(sheet, 4, "outlets to the machines", FOUR)
    band = sheet.hang(rails, "From the supply to the machines")
    run = band.column().series(guard, "breaker", MAIN[:2]).series(lock, "isolator", MAIN[:2])
    run.series(main, "contactor", MAIN[:2])
    run.box(whole, "source_box", ("P1", "P2", "PE"), tuple((line, line) for line in FOUR))
    run.end(out, "strip", FOUR)
    band.done()
    control = control_rails(sheet, ControlSupply((guard.at("2"), guard.at("4"))))
    held_contactor(sheet, control, main, lamp_words="lamp: lines to the machines live")
    sheet.notes.append(
        "Its inside, with idler, capacitors and their discharge, is on its maker's own sheet."
    )
    if resistor:
        sheet.notes.append("It starts through a resistor that its maker fits and bridges.")
    sheet.done()
    return tuple((out.at(line), line) for line in FOUR)
