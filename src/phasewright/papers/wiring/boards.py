"""The intake and the boards of other places, and which conductors what is fed hangs on."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.papers.wiring.draft import Draft
from phasewright.papers.wiring.intake import Board, Rails, Service, board, intake
from phasewright.papers.wiring.job import Job, there_already
from phasewright.papers.wiring.parts import LINES
from phasewright.quantities.codes import Region
from phasewright.quantities.units import format as shown
from phasewright.shop.standing import read_breaker
from phasewright.shop.supply import Feeder


@dataclass(frozen=True, slots=True)
class Distribution:
    """The rails of every board by its place, the intake's under the empty name."""

    service: Service
    rails: dict[str, dict[str, tuple[str, str]]]
    feeders: tuple[Board, ...]

    def _of(self, place: str) -> dict[str, tuple[str, str]]:
        return self.rails.get(place) or self.rails[""]

    def lines(self, place: str) -> Rails:
        """All lines, the neutral where there is one, and PE."""
        return tuple(self._of(place).values())

    def pair(self, place: str) -> Rails:
        """The two conductors on which what is single-phase hangs, and PE."""
        comes = self._of(place)
        return (comes["L1"], comes["N" if self.service.neutral else "L2"], comes["PE"])

    def feed(self, place: str, three: bool) -> Rails:
        """What a drive hangs on: three lines where its circuit has them, else the pair."""
        comes = self._of(place)
        if three and self.service.lines == len(LINES):
            return (*(comes[line] for line in LINES), comes["PE"])
        return self.pair(place)


def distribution(draft: Draft, job: Job, service: Service) -> Distribution:
    """Write the intake and the boards from which the plan's circuits begin."""
    comes = intake(draft, f"Intake of {job.shop.shop}", service)
    rails, feeders = {"": comes}, []
    for name in job.boards():
        place = job.shop.place(name)
        number = next(k for k, each in enumerate(job.shop.places, 2) if each.name == name)
        feeder = place.feeder
        area = None if feeder is None or feeder.conductor is None else feeder.conductor
        length = None if feeder is None or feeder.length is None else feeder.length
        rod = place.electrode
        made = Board(
            f"=G{number}", name,
            None if area is None else shown(area.number, "area", region=job.shop.region),
            None if length is None else length.number,
            there_already(place.residual_current, job.plan.circuits or ()),
            "" if rod is None else f", earth electrode of {shown(rod.number, 'ohm')} there",
            *_breaker(feeder, job.shop.region),
        )  # fmt: skip
        rails[name] = board(draft, made, comes)
        feeders.append(made)
    return Distribution(service, rails, tuple(feeders))


def _breaker(feeder: Feeder | None, region: Region) -> tuple[str, float | None]:
    """What stands on the breaker of a feeder, and its amps, where it was told."""
    marked = "" if feeder is None else feeder.breaker
    read = read_breaker(marked, region) if marked else None
    if read is None:
        return "", None
    letter, rating_a = read
    kind = "" if letter is None else "gG " if letter == "gG" else letter
    return f"{kind}{rating_a:g} A", rating_a
