"""The papers of an answer: the wiring of its plan."""

from __future__ import annotations

from phasewright.papers.wiring.model import Wiring
from phasewright.papers.wiring.plan import wiring_of
from phasewright.plan.study import PlanSide, Study
from phasewright.shop.model import Shop


def wiring(shop: Shop, study: Study, plan_id: str | None = None) -> tuple[Wiring, PlanSide]:
    """The wiring of a plan (the answer's, where none is named), and that plan; raises KeyError for
    a plan that is not listed."""
    wanted = study.answer.plan if plan_id is None else plan_id
    for plan in study.plans:
        if plan.id == wanted:
            return wiring_of(shop, study, plan), plan
    raise KeyError(f"no plan {wanted!r}")
