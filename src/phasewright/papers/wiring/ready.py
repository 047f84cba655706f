"""Sources bought as a box: a ready-made converter, an inverter with its battery, a generator."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.papers.wiring.control import ControlSupply, control_rails, held_contactor
from phasewright.papers.wiring.draft import Draft, Sheet
from phasewright.papers.wiring.drive_device import star
from phasewright.papers.wiring.line_three import SUPPLY, blocking, third_line
from phasewright.papers.wiring.model import Device, Pairs
from phasewright.papers.wiring.origin import BARE, Origin, begin
from phasewright.papers.wiring.parts import LINES, MAIN, POLES, contactor, strip
from phasewright.quantities.units import format as shown

Rails = tuple[tuple[str, str], ...]
UNIT = "=G1"
FOUR = (*LINES, "PE")
DIRECT = ("plus", "minus")


@dataclass(frozen=True, slots=True)
class Box:
    """A source bought whole. `generates` line 3 beside the supply's own two; else all its lines are
    its own, `neutral` with them where it brings one, at `line_v`. `proved`: the outlets wait for
    a phase-sequence relay."""

    words: str
    generates: bool
    line_v: float | None
    neutral: bool = False
    proved: bool = False
    proof_priced: bool = False
    battery_kwh: float | None = None
    inside: str = ""
    """What the plan buys for its inside."""
    origin: Origin = BARE

    @property
    def ends(self) -> tuple[str, ...]:
        """Its outlets."""
        return (*LINES, "N", "PE") if self.neutral else FOUR


def ready_box(draft: Draft, of: Box, rails: Rails) -> Rails:
    """Write the unit of a box fed from the supply; the rails of its outlets."""
    sheet = Sheet(draft, UNIT, of.words, "converter")
    main = contactor(
        sheet, 2, "input contactor, lets go when the supply fails", 2,
        makes=3 if of.proved else 2, priced=of.generates, coil_v=draft.supply_v,
    )  # fmt: skip
    whole = _box(sheet, of)
    out = strip(sheet, 4, "outlets to the machines", of.ends)
    run = sheet.hang(rails, "From the supply to the machines").column()
    _, last = begin(sheet, run, of.origin)
    run.series(main, "contactor", MAIN[:2])
    run.box(whole, "source_box", ("P1", "P2", "PE"), tuple((line, line) for line in of.ends))
    through = None
    if of.proved:
        outlets, proof = blocking(sheet, priced=of.proof_priced)
        run.series(outlets, "contactor", MAIN)
        through = ((proof, "make", ("11", "14")), outlets)
    run.end(out, "strip", of.ends)
    run.band.done()
    if of.proved:
        _sequence(sheet, whole, proof)
    if of.battery_kwh is not None:
        _battery(sheet, whole, of.battery_kwh)
    control = control_rails(
        sheet, ControlSupply((last.at("2"), last.at("4")), volts=draft.supply_v)
    )
    held_contactor(
        sheet, control, main, lamp_words="lamp: lines to the machines live", through=through
    )
    _notes(sheet, of)
    sheet.done()
    return tuple((out.at(line), line) for line in of.ends)


def _box(sheet: Sheet, of: Box) -> Device:
    ends = ("P1", "P2", *of.ends, *(DIRECT if of.battery_kwh is not None else ()))
    if of.generates:
        return sheet.device(
            "converter", 1, of.words, ends, positions=((("P1", "L1"), ("P2", "L2")),),
            sources=("L3",), generated="L3", priced=True, rated_v=of.line_v,
            phasors_v=third_line(sheet.draft, "L3"), system=SUPPLY,
        )  # fmt: skip
    live = (*LINES, "N") if of.neutral else LINES
    middle = (("N", 0.0, 0.0),) if of.neutral else ()
    said = "" if of.line_v is None else f"{shown(of.line_v, 'V')} out"
    return sheet.device(
        "electronic_source", 1, of.words, ends, sources=live, priced=True, specification=said,
        phasors_v=(*star(LINES, of.line_v), *middle), rated_v=sheet.draft.supply_v,
    )  # fmt: skip


def _sequence(sheet: Sheet, whole: Device, proof: Device) -> None:
    """The relay measures ahead of the outlets' contactor."""
    band = sheet.hang(tuple((whole.at(line), line) for line in LINES), "Proof of the sequence")
    band.column().end(proof, "sequence", LINES)
    band.done()


def _battery(sheet: Sheet, whole: Device, energy_kwh: float) -> None:
    """The battery on the inverter's direct-current side, behind fuses of its own."""
    pairs: Pairs = POLES[:2]
    battery = sheet.device(
        "battery", 2, "battery, live whatever is switched off", DIRECT, sources=DIRECT,
        rating=energy_kwh, rating_unit="kWh", specification=f"{energy_kwh:g} kWh", priced=True,
    )  # fmt: skip
    fuse = sheet.device(
        "fuse", 9, "fuses of the battery, for direct current, both poles", ("1", "2", "3", "4"),
        closed=pairs,
    )  # fmt: skip
    band = sheet.hang(tuple((whole.at(end), end) for end in DIRECT), "Battery")
    band.column().series(fuse, "fuse", pairs).end(battery, "battery", DIRECT)
    band.done()
    sheet.notes.append(
        "The battery is live at all times: its own fuses isolate it. Its earthing, ventilation "
        "and place are for its maker's sheet and the local code."
    )


def _notes(sheet: Sheet, of: Box) -> None:
    if of.generates:
        sheet.notes.append(
            "Its inside, with idler, capacitors and their discharge, is on its maker's own sheet. "
            "Line 3 stays live while the idler turns, whatever is switched off before it."
        )
    else:
        sheet.notes.append("Its inside is on its maker's own sheet.")
    if of.inside:
        sheet.notes.append(f"Inside it the plan has: {of.inside}.")


def generator(draft: Draft, of: Box, earth: tuple[str, str], subject: str) -> Rails:
    """A three-phase generator, its frame on the earth of the shop; the rails of its outlets."""
    sheet = Sheet(draft, UNIT, of.words, subject)
    live = tuple(end for end in of.ends if end != "PE")
    middle = (("N", 0.0, 0.0),) if of.neutral else ()
    source = sheet.device(
        "generator", 1, of.words, of.ends, sources=live, priced=True,
        phasors_v=(*star(LINES, of.line_v), *middle),
        specification="" if of.line_v is None else shown(of.line_v, "V"),
    )  # fmt: skip
    out = strip(sheet, 4, "outlets to the machines", of.ends)
    bond = sheet.hang((earth,), "Earth")
    bond.column().end(source, "generator", ("PE",))
    bond.done()
    band = sheet.hang(tuple((source.at(end), end) for end in of.ends), "From the generator")
    run = band.column()
    begin(sheet, run, Origin(of.origin.residual, isolated=False))
    run.end(out, "strip", of.ends)
    band.done()
    sheet.notes.append(
        "It never feeds the shop's own supply: nothing joins its lines to the intake. Whether its "
        "middle is earthed, and where, is for its maker's sheet and the local code."
    )
    sheet.done()
    return tuple((out.at(end), end) for end in of.ends)
