"""Capacitor banks: cans between two lines, each bank with a resistor that discharges it."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from phasewright.papers.wiring.draft import Run, Sheet
from phasewright.papers.wiring.parts import discharge
from phasewright.quantities.units import format as shown
from phasewright.ways.figures import Part
from phasewright.ways.shelf import NEAR

ROUNDED = 1e-6
"""What the nine digits of a figure may add to the share by which cans may miss their bank."""


@dataclass(frozen=True, slots=True)
class Can:
    """One capacitor of a bank [F], the volts of its class where they are known, and whether it is
    the owner's."""

    capacitance_f: float
    class_v: float | None = None
    owned: bool = False
    priced: bool = True

    @property
    def words(self) -> str:
        """What it is, by specification."""
        volts = "" if self.class_v is None else f" {shown(self.class_v, 'V')} class"
        return f"{shown(self.capacitance_f, 'F')}{volts}"


def across_lines(
    sheet: Sheet, run: Run, banks: tuple[tuple[Can, ...], tuple[Can, ...]], *, priced: bool
) -> None:
    """The cans between lines 3 and 1, then between 2 and 3, on a column that has these lines; the
    column is done."""
    leg = {potential: k for k, (_, potential) in enumerate(run.legs)}
    for pair, cans in (("31", banks[0]), ("23", banks[1])):
        if not cans:
            continue
        legs = (leg["L1" if pair == "31" else "L2"], leg["L3"])
        for number, can in enumerate(cans, 1):
            device = sheet.device(
                "run_capacitor", f"{pair}.{number}",
                f"run capacitor, lines {'3 and 1' if pair == '31' else '2 and 3'}",
                ("1", "2"), rating=can.capacitance_f, rating_unit="F",
                specification=can.words, priced=can.priced, rated_v=can.class_v,
            )  # fmt: skip
            run.across(device, "capacitor", ("1", "2"), legs)
        bleeder = discharge(sheet, pair, "discharge resistor of this bank", priced=priced)
        run.across(bleeder, "resistor", ("1", "2"), legs)
    run.done()


def lines_of(banks: tuple[tuple[Can, ...], tuple[Can, ...]]) -> tuple[str, ...]:
    """The lines the banks hang on."""
    first, second = banks
    return (*(("L1",) if first else ()), *(("L2",) if second else ()), "L3")


def cans_of(parts: Iterable[Part]) -> tuple[Can, ...]:
    """The run capacitors among some parts, in their order."""
    return tuple(
        Can(part.rating, 600.0 if part.kind.endswith("600") else 450.0, part.owned)
        for part in parts
        if part.kind.startswith("run_capacitor")
        for _ in range(part.quantity)
    )


def parted(
    cans: tuple[Can, ...], first_f: float, second_f: float
) -> tuple[tuple[Can, ...], tuple[Can, ...]]:
    """The cans in the order of the list, parted where both banks come nearest to what was tuned;
    one nameless can a bank where the list does not make them up."""
    cuts = [(_miss(cans[:k], first_f), _miss(cans[k:], second_f), k) for k in range(len(cans) + 1)]
    worst, cut = min((max(one, other), k) for one, other, k in cuts)
    if worst <= NEAR + ROUNDED:
        return cans[:cut], cans[cut:]
    one, other = (
        (Can(farads, priced=False),) if farads > 0.0 else () for farads in (first_f, second_f)
    )
    return one, other


def _miss(cans: tuple[Can, ...], wanted_f: float) -> float:
    """By what share the cans miss their bank; a bank of none is missed by any can at all."""
    got = sum(can.capacitance_f for can in cans)
    if wanted_f == 0.0:
        return 0.0 if got == 0.0 else math.inf
    return abs(got / wanted_f - 1.0)
