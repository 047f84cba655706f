"""The control circuit of a contactor: always from lines 1 and 2, held by its own contact.

A contactor that holds itself lets go when the supply fails and stays out when it returns: that is
the undervoltage release. Control transformers hang on lines 1 and 2 as well.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from phasewright.circuits.installation import ResidualCurrentDevice
from phasewright.papers.wiring.draft import Sheet
from phasewright.papers.wiring.halting import Contact
from phasewright.papers.wiring.model import Device, Pairs
from phasewright.papers.wiring.origin import residual
from phasewright.papers.wiring.parts import button, emergency_stop, lamp, strip
from phasewright.quantities.units import format as shown


@dataclass(frozen=True, slots=True)
class ControlSupply:
    """Where a control circuit begins: two terminals behind lines 1 and 2 of the unit's own
    circuit, and the volts of the coils where they are not the line's."""

    lines: tuple[str, str]
    transformer_v: float | None = None
    ready: bool = False
    """True where `lines` are control terminals already, behind fuses and transformer."""
    carry: tuple[str, str] = ("L1", "L2")
    """What the two conductors are: a control circuit of a service with a neutral hangs on it."""
    own_circuit: bool = False
    """True where it is a circuit of its own from the intake."""
    volts: float | None = None
    """Between its two lines, where they are known."""
    residual: ResidualCurrentDevice | None = None
    """At the beginning of a circuit of its own."""
    plugged: bool = False
    """Whether the machine's power is on a plug, and its controls are not."""

    @property
    def coil_v(self) -> float | None:
        """Volts of the coils."""
        return self.volts if self.transformer_v is None else self.transformer_v


def control_rails(sheet: Sheet, supply: ControlSupply) -> tuple[tuple[str, str], ...]:
    """Fuses, and a transformer where the coils have volts of their own: the two control rails."""
    if supply.ready:
        marks = supply.carry if supply.transformer_v is None else ("1", "2")
        return ((supply.lines[0], marks[0]), (supply.lines[1], marks[1]))
    pairs: Pairs = (("1", "2"), ("3", "4"))
    if supply.own_circuit:
        sheet.notes.append(
            "The control circuit comes from the intake and is live while the isolator of this "
            "sheet is off: its own protective device, -F3, isolates it."
        )
    fuse = sheet.device(
        "breaker" if supply.own_circuit else "fuse", 3,
        "control circuit, both lines" if supply.own_circuit else "control fuses, both lines",
        ("1", "2", "3", "4"), closed=pairs,
    )  # fmt: skip
    rails = strip(sheet, 3, "control terminals", ("1", "2"))
    band = sheet.hang(
        tuple(zip(supply.lines, supply.carry, strict=True)),
        f"Control supply from {supply.carry[0]} and {supply.carry[1]}",
    )
    run = band.column().series(fuse, fuse.kind, pairs)
    if supply.residual is not None:
        run.series(residual(sheet, 2, supply.residual, 9), "residual", pairs)
    if supply.plugged:
        sheet.notes.append(
            "The plug is for the power alone: its controls stay live when it is pulled, until -F3 "
            "is off."
        )
    marks = supply.carry
    if supply.transformer_v is not None:
        marks = ("1", "2")
        volts = shown(supply.transformer_v, "V")
        transformer = sheet.device(
            "control_transformer", 3, f"control transformer, {volts} out",
            ("P1", "P2", "S1", "S2"), coil=("P1", "P2"), windings=(("P1", "P2"), ("S1", "S2")),
            sources=("S1", "S2"), rating=supply.transformer_v, rating_unit="V",
            specification=volts, rated_v=supply.volts,
            phasors_v=(("S1", supply.transformer_v, 0.0), ("S2", 0.0, 0.0)),
        )  # fmt: skip
        run.box(transformer, "transformer", ("P1", "P2"), (("S1", "1"), ("S2", "2")))
        second = sheet.device(
            "fuse", 6, "fuse behind the control transformer", ("1", "2"), closed=(("1", "2"),)
        )
        run.series(second, "fuse", (("1", "2"),))
        sheet.notes.append(
            "Whether the unfused side of the control transformer is earthed is for the local code "
            "to say; here it is not."
        )
    run.end(rails, "strip", ("1", "2"))
    band.done()
    return ((rails.at("1"), marks[0]), (rails.at("2"), marks[1]))


def held_contactor(
    sheet: Sheet,
    rails: Sequence[tuple[str, str]],
    main: Device,
    *,
    overloads: Sequence[Device] = (),
    locks: Sequence[Contact] = (),
    follows: Sequence[tuple[Device, tuple[str, str]]] = (),
    lamp_words: str = "lamp: machine on",
    words: tuple[str, str] = ("stop", "start"),
    halts: Sequence[Contact] = (),
    through: tuple[Contact, Device] | None = None,
) -> None:
    """Emergency stop, stop, start and hold of a contactor, its lamp, and coils that follow it.

    `locks` are contacts that must be closed before it goes in; `follows` pairs a coil's device
    with the make contact of the main contactor that switches it. `words` are for the two
    buttons; `halts` are the contacts of emergency stops that are there already; `through` a
    further coil that goes in while the contactor holds and a contact agrees.
    """
    band = sheet.hang(rails, "Control: stop, start, hold", control=True)
    struck = halts or [(emergency_stop(sheet), "emergency_stop", ("11", "12"))]
    stop = button(sheet, 1, words[0], breaks=True)
    run = band.column()
    for device, shape, pair in struck:
        run.series(device, shape, (pair,))
    run.series(stop, "break_button", (("11", "12"),))
    for relay in overloads:
        run.series(relay, "overload_contact", (("95", "96"),))
    for device, shape, pair in locks:
        run.series(device, shape, (pair,))
    start = button(sheet, 2, words[1])
    run.series(start, "make_button", (("13", "14"),)).beside(main, "make", ("13", "14"))
    run.across(main, "coil", ("A1", "A2"), (0, 1)).done()
    shine = lamp(sheet, lamp_words, main.rated_v)
    band.column().series(main, "make", (("23", "24"),)).across(
        shine, "lamp", ("X1", "X2"), (0, 1)
    ).done()
    if through is not None:
        (agrees, shape, pair), coil = through
        column = band.column().series(main, "make", (("33", "34"),)).series(agrees, shape, (pair,))
        column.across(coil, "coil", ("A1", "A2"), (0, 1)).done()
    for device, pair in follows:
        band.column().series(main, "make", (pair,)).across(
            device, "coil", ("A1", "A2"), (0, 1)
        ).done()
    band.done()
