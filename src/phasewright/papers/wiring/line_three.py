"""The generated line: where its volts stand, and what keeps the outlets dead until it is proved."""

from __future__ import annotations

import math

from phasewright.papers.wiring.draft import Draft, Sheet
from phasewright.papers.wiring.model import Device, Phasor
from phasewright.papers.wiring.parts import LINES, contactor
from phasewright.quantities.units import format as shown

SUPPLY = "supply"
"""The system of volts to which the generated line belongs."""


def third_line(draft: Draft, terminal: str) -> tuple[Phasor, ...]:
    """Line 3 at equal volts to lines 1 and 2, against line 2, as three lines in sequence stand."""
    if draft.supply_v is None:
        return ()
    return ((terminal, 0.5 * draft.supply_v, 0.5 * math.sqrt(3.0) * draft.supply_v),)


def blocking(sheet: Sheet, *, priced: bool) -> tuple[Device, Device]:
    """The contactor before the outlets, and the phase-sequence relay that lets it in."""
    volts = sheet.draft.supply_v
    outlets = contactor(
        sheet, 4, "outlets, blocked until the sequence is proved", 3, makes=0, coil_v=volts
    )
    proof = sheet.device(
        "phase_sequence_relay", 2, "phase-sequence relay: lines present, in order, balanced",
        (*LINES, "11", "14"), closed=(("11", "14"),), priced=priced, rated_v=volts,
        specification="" if volts is None else shown(volts, "V"),
    )  # fmt: skip
    return outlets, proof
