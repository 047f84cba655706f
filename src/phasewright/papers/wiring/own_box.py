"""A motor with a box of its own that makes line 3, and a generator."""

from __future__ import annotations

from phasewright.papers.wiring.draft import Draft, Sheet
from phasewright.papers.wiring.machine import Hanging, machine_circuit
from phasewright.papers.wiring.parts import LINES, MAIN, breaker, isolator, strip

Rails = tuple[tuple[str, str], ...]
GENERATOR = "generator"


def own_box(draft: Draft, of: Hanging, rails: Rails, words: str) -> None:
    """A static converter or a set of capacitors in a box before this motor's contactor."""
    sheet = Sheet(draft, of.id, f"Motor {of.motor.id} on its {words}", of.motor.id)
    guard, lock = breaker(sheet, 2), isolator(sheet, 2)
    box = sheet.device(
        "converter", 1, words, ("P1", "P2", *LINES, "PE"),
        positions=((("P1", "L1"), ("P2", "L2")),), sources=("L3",), generated="L3", priced=True,
    )  # fmt: skip
    band = sheet.hang(rails, "Power")
    run = band.column().series(guard, "breaker", MAIN[:2]).series(lock, "isolator", MAIN[:2])
    run.box(box, "source_box", ("P1", "P2", "PE"), tuple((end, end) for end in (*LINES, "PE")))
    machine_circuit(sheet, run, of, guard)
    sheet.notes.append("The box's inside, with the discharge of its capacitors, is on its maker's "
                       "own sheet.")  # fmt: skip
    sheet.done()


def generator(draft: Draft, words: str, earth: tuple[str, str]) -> Rails:
    """A three-phase generator, its frame on the earth of the shop; the rails of its outlets."""
    sheet = Sheet(draft, "=G1", words, GENERATOR)
    ends = (*LINES, "PE")
    source = sheet.device("electronic_source", 1, words, ends, sources=LINES, priced=True)
    guard = breaker(sheet, 3)
    out = strip(sheet, 4, "outlets to the machines", ends)
    bond = sheet.hang((earth,), "Earth")
    bond.column().end(source, "generator", ("PE",))
    bond.done()
    band = sheet.hang(tuple((source.at(end), end) for end in ends), "From the generator")
    band.column().series(guard, "breaker", MAIN).end(out, "strip", ends)
    band.done()
    sheet.done()
    return tuple((out.at(end), end) for end in ends)
