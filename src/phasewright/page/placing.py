"""Where what a page shows stands in the result file: to that place a figure leads."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from phasewright.papers.workings.places import figure_words, placed
from phasewright.plan.study import Study
from phasewright.quantities.finding import Assumed
from phasewright.quantities.identity import Same
from phasewright.quantities.plain import parts
from phasewright.shop.model import Shop


@dataclass(frozen=True, slots=True)
class Placing:
    """What templates ask of the places of one study."""

    study: Study
    shop: Shop

    def pointer(self, of: object) -> str:
        """Where a figure, or what holds some, stands; empty where it is not of the study."""
        return _pointers(Same(self.study)).get(id(of), "")

    def title_of(self, id: str) -> str:
        """Where the title of the plan of this id stands."""
        return f"/plans/{[plan.id for plan in self.study.plans].index(id)}/title"

    def change_at(self, path: str, to: float) -> str:
        """Where the turning point of a fact stands."""
        found = [(each.path, each.to) for each in self.study.answer.changes_if]
        return f"/answer/changes_if/{found.index((path, to))}"

    def taken(self, fact: Assumed) -> str:
        """What was taken for a fact, as it is written."""
        at = self.pointer(fact.value)
        return figure_words(placed(self.study, self.shop, at), self.study.currency)


def places(study: Study | None, shop: Shop) -> dict[str, Callable[..., Any]]:
    """The questions of a template; without a study nothing has a place."""
    if study is None:
        return {"pointer": lambda of: ""}
    of = Placing(study, shop)
    return {
        "pointer": of.pointer, "title_of": of.title_of, "change_at": of.change_at,
        "taken": of.taken,
    }  # fmt: skip


@lru_cache(maxsize=8)
def _pointers(study: Same[Study]) -> dict[int, str]:
    """Of every figure and every thing of this very study, by its `id`, its place."""
    found: dict[int, str] = {}
    for pointer, each in parts(study.it):
        found.setdefault(id(each), pointer)
    return found
