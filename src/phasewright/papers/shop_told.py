"""Sentences of the shop's drawing, with where the figures in them stand in the result file."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from phasewright.papers.shop_parts import Told
from phasewright.plan.study import PlanSide, Study
from phasewright.quantities.codes import WayName
from phasewright.quantities.finding import Said, joined

Piece = str | Said
Phrase = Piece | tuple[Piece, ...]
"""What stands between two commas of a sentence."""


def sentence(lead: str, phrases: Iterable[Phrase]) -> Told:
    """A sentence of what is not empty among some phrases, with commas between them."""
    pieces: list[Piece] = [lead]
    for phrase in phrases:
        parts = phrase if isinstance(phrase, tuple) else (phrase,)
        if joined(*parts):
            pieces += [", "] if len(pieces) > 1 else []
            pieces += parts
    words = joined(*pieces)
    return Told(words[:1].upper() + words[1:] + ".", _figures(pieces))


def told(*pieces: Piece) -> Told:
    """A sentence of words and figures."""
    return Told(joined(*pieces), _figures(pieces))


def both(one: Told, other: Told | None) -> Told:
    """Two sentences as one."""
    if other is None:
        return one
    return Told(f"{one.words} {other.words}", (*one.figures, *other.figures))


def _figures(pieces: Iterable[Piece]) -> tuple[Said, ...]:
    return tuple(piece for piece in pieces if isinstance(piece, Said))


@dataclass(frozen=True, slots=True)
class Where:
    """Where the parts of a study and of one of its plans stand in the result file."""

    study: Study
    plan: PlanSide | None

    def of_plan(self, *names: str | int) -> str:
        """A place within the plan."""
        if self.plan is None:
            raise ValueError("no plan is drawn")
        return "/".join(map(str, ("/plans", self.study.plans.index(self.plan), *names)))

    def motor(self, id: str, *names: str | int) -> str:
        """A place within what is told of a motor by itself."""
        seat = [motor.id for motor in self.study.motors].index(id)
        return "/".join(map(str, ("/motors", seat, *names)))

    def volts(self, id: str, way: WayName) -> str:
        """The volts a way gives a motor."""
        motor = next(motor for motor in self.study.motors if motor.id == id)
        return self.motor(
            id, "ways", [each.way for each in motor.ways].index(way), "line_voltage_v"
        )
