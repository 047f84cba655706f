"""Where the supply comes in, and consumers that are no motors."""

from __future__ import annotations

from phasewright.papers.wiring.draft import Draft, Sheet
from phasewright.papers.wiring.parts import LINES, MAIN, amps, breaker, isolator, strip
from phasewright.quantities.units import format as shown

Rails = tuple[tuple[str, str], ...]


def intake(draft: Draft, title: str, rating_a: float | None, lines: int) -> Rails:
    """Write the intake; the rails of the distribution: the lines, then PE."""
    sheet = Sheet(draft, "=G0", title, "intake")
    names = LINES[:lines]
    come = strip(sheet, 0, "supply comes in", (*names, "PE"), sources=names)
    guard = sheet.device(
        "breaker", 0, "main fuse or breaker of the supply, as it is",
        tuple(end for pair in MAIN[:lines] for end in pair), closed=MAIN[:lines],
        rating=rating_a, rating_unit="A", specification=amps(rating_a),
    )  # fmt: skip
    spread = strip(sheet, 1, "distribution", (*names, "PE"))
    ends = (*names, "PE")
    band = sheet.hang(tuple((come.at(end), end) for end in ends), "Intake")
    band.column().series(guard, "breaker", MAIN[:lines]).end(spread, "strip", ends)
    band.done()
    sheet.done()
    return tuple((spread.at(end), end) for end in ends)


def consumer(draft: Draft, number: int, words: str, rails: Rails, current_a: float | None) -> None:
    """A consumer that is no motor, on lines 1 and 2."""
    sheet = Sheet(draft, f"=E{number}", words, words)
    guard, lock = breaker(sheet, 2), isolator(sheet, 2)
    load = sheet.device(
        "consumer", 1, words, ("1", "2", "PE"), rating=current_a, rating_unit="A",
        specification="" if current_a is None else shown(current_a, "A"),
    )  # fmt: skip
    band = sheet.hang(rails, "Power")
    band.column().series(guard, "breaker", MAIN[:2]).series(lock, "isolator", MAIN[:2]).end(
        load, "load", ("1", "2", "PE")
    )
    band.done()
    sheet.done()
