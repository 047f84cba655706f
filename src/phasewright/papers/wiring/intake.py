"""Where the supply comes in, the boards of other places, and consumers that are no motors."""

from __future__ import annotations

import math
from dataclasses import dataclass

from phasewright.circuits.installation import ResidualCurrentDevice
from phasewright.papers.wiring.draft import Draft, Sheet
from phasewright.papers.wiring.drive_device import star
from phasewright.papers.wiring.line_three import SUPPLY
from phasewright.papers.wiring.model import Phasor
from phasewright.papers.wiring.origin import Origin, begin, residual
from phasewright.papers.wiring.parts import LINES, POLES, amps, breaker, strip

Rails = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Service:
    """What comes in: two lines or three, with a neutral or without, behind a main fuse [A], at so
    many volts between two lines, with the residual-current device that is there already."""

    lines: int
    neutral: bool
    rating_a: float | None
    words: str
    line_v: float
    residual: ResidualCurrentDevice | None = None

    @property
    def live(self) -> tuple[str, ...]:
        """What it brings beside the earth."""
        lines = LINES[: self.lines]
        return (*lines, "N") if self.neutral else lines

    @property
    def phasors(self) -> tuple[Phasor, ...]:
        """Volts of its lines: against the neutral where there is one, else against line 2."""
        if self.neutral:
            return (*star(LINES, self.line_v), ("N", 0.0, 0.0))
        third = ("L3", 0.5 * self.line_v, 0.5 * math.sqrt(3.0) * self.line_v)
        return (("L1", self.line_v, 0.0), ("L2", 0.0, 0.0), third)[: self.lines]


@dataclass(frozen=True, slots=True)
class Board:
    """The board of a place with a feeder of its own: its unit, what its feeder is, and the
    residual-current device that is there already."""

    id: str
    place: str
    conductor: str | None
    length_m: float | None
    residual: ResidualCurrentDevice | None = None
    words: str = ""
    marked: str = ""
    """What stands on the breaker of its feeder, where it was told; `breaker_a` are its amps."""
    breaker_a: float | None = None


def intake(draft: Draft, title: str, of: Service) -> dict[str, tuple[str, str]]:
    """Write the intake; the rails of the distribution by what they carry."""
    sheet = Sheet(draft, "=G0", title, "intake")
    ends = (*of.live, "PE")
    come = strip(sheet, 0, "supply comes in", ends, sources=of.live, phasors_v=of.phasors,
                 system=SUPPLY)  # fmt: skip
    poles = POLES[: of.lines]
    guard = sheet.device(
        "breaker", 0, of.words, tuple(end for pair in poles for end in pair),
        closed=poles, rating=of.rating_a, rating_unit="A", specification=amps(of.rating_a),
    )  # fmt: skip
    spread = strip(sheet, 1, "distribution", ends)
    band = sheet.hang(tuple((come.at(end), end) for end in ends), "Intake")
    run = band.column().series(guard, "breaker", poles)
    if of.residual is not None:
        leak = residual(sheet, len(of.live), of.residual, 5, "residual-current device, as it is")
        run.series(leak, "residual", POLES[: len(of.live)])
    run.end(spread, "strip", ends)
    band.done()
    sheet.done()
    return {end: (spread.at(end), end) for end in ends}


def board(draft: Draft, of: Board, comes: dict[str, tuple[str, str]]) -> dict[str, tuple[str, str]]:
    """Write the board of a place on its feeder from the intake; the rails of its distribution."""
    sheet = Sheet(draft, of.id, f"Board in {of.place}", of.place)
    live = tuple(end for end in comes if end != "PE")
    said = "protects the feeder, as it is" + ("" if of.marked else ": its rating stands on it")
    guard = breaker(sheet, len(live), 0, said, of.marked, of.breaker_a)
    spread = strip(sheet, 1, f"distribution in {of.place}{of.words}", tuple(comes))
    run = sheet.hang(tuple(comes.values()), f"Feeder to {of.place}").column()
    run.series(guard, "breaker", POLES[: len(live)])
    if of.residual is not None:
        leak = residual(sheet, len(live), of.residual, 5, "residual-current device, as it is")
        run.series(leak, "residual", POLES[: len(live)])
    run.end(spread, "strip", tuple(comes))
    run.band.done()
    sheet.done()
    return {end: (spread.at(end), end) for end in comes}


def consumer(
    draft: Draft, number: int, words: str, rails: Rails, current_a: float | None, origin: Origin
) -> None:
    """A consumer that is no motor, on the pair of conductors that single-phase loads hang on."""
    sheet = Sheet(draft, f"=E{number}", words, words)
    load = sheet.device(
        "consumer", 1, words, ("1", "2", "PE"), rating=current_a, rating_unit="A",
        specification=amps(current_a),
    )  # fmt: skip
    run = sheet.hang(rails, "Power").column()
    begin(sheet, run, origin)
    run.end(load, "load", ("1", "2", "PE"))
    run.band.done()
    sheet.done()
