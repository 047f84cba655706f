"""Where the supply comes in, and consumers that are no motors."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.papers.wiring.draft import Draft, Sheet
from phasewright.papers.wiring.parts import LINES, MAIN, amps, breaker, isolator, strip

Rails = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Service:
    """What comes in: two lines or three, with a neutral or without, behind a main fuse [A]."""

    lines: int
    neutral: bool
    rating_a: float | None
    words: str


def intake(draft: Draft, title: str, of: Service) -> dict[str, tuple[str, str]]:
    """Write the intake; the rails of the distribution by what they carry."""
    sheet = Sheet(draft, "=G0", title, "intake")
    lines = LINES[: of.lines]
    live = (*lines, "N") if of.neutral else lines
    ends = (*live, "PE")
    come = strip(sheet, 0, "supply comes in", ends, sources=live)
    guard = sheet.device(
        "breaker", 0, of.words, tuple(end for pair in MAIN[: of.lines] for end in pair),
        closed=MAIN[: of.lines], rating=of.rating_a, rating_unit="A",
        specification=amps(of.rating_a),
    )  # fmt: skip
    spread = strip(sheet, 1, "distribution", ends)
    band = sheet.hang(tuple((come.at(end), end) for end in ends), "Intake")
    band.column().series(guard, "breaker", MAIN[: of.lines]).end(spread, "strip", ends)
    band.done()
    sheet.done()
    return {end: (spread.at(end), end) for end in ends}


def consumer(draft: Draft, number: int, words: str, rails: Rails, current_a: float | None) -> None:
    """A consumer that is no motor, on the pair of conductors that single-phase loads hang on."""
    sheet = Sheet(draft, f"=E{number}", words, words)
    guard, lock = breaker(sheet, 2), isolator(sheet, 2)
    load = sheet.device(
        "consumer", 1, words, ("1", "2", "PE"), rating=current_a, rating_unit="A",
        specification=amps(current_a),
    )  # fmt: skip
    band = sheet.hang(rails, "Power")
    band.column().series(guard, "breaker", MAIN[:2]).series(lock, "isolator", MAIN[:2]).end(
        load, "load", ("1", "2", "PE")
    )
    band.done()
    sheet.done()
