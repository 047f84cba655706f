"""A motor with a box of its own that makes line 3."""

from __future__ import annotations

from phasewright.papers.wiring.draft import Draft, Sheet
from phasewright.papers.wiring.hanging import Hanging
from phasewright.papers.wiring.line_three import SUPPLY, third_line
from phasewright.papers.wiring.machine import machine_circuit
from phasewright.papers.wiring.origin import begin
from phasewright.papers.wiring.parts import LINES

Rails = tuple[tuple[str, str], ...]


def own_box(draft: Draft, of: Hanging, rails: Rails, words: str) -> None:
    """A static converter or a set of capacitors in a box before this motor's contactor."""
    sheet = Sheet(draft, of.id, f"Motor {of.motor.id} on its {words}", of.motor.id)
    run = sheet.hang(rails, "Power").column()
    ahead = begin(sheet, run, of.origin)
    box = sheet.device(
        "converter", 1, words, ("P1", "P2", *LINES, "PE"),
        positions=((("P1", "L1"), ("P2", "L2")),), sources=("L3",), generated="L3", priced=True,
        phasors_v=third_line(draft, "L3"), system=SUPPLY,
    )  # fmt: skip
    run.box(box, "source_box", ("P1", "P2", "PE"), tuple((end, end) for end in (*LINES, "PE")))
    machine_circuit(sheet, run, of, ahead)
    sheet.notes.append("The box's inside, with the discharge of its capacitors, is on its maker's "
                       "own sheet.")  # fmt: skip
    sheet.done()
