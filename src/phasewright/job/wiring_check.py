"""The electrical check of the answer's plan told with the answer, as findings of that plan."""

from __future__ import annotations

from dataclasses import replace

from phasewright.papers.wiring.check import faults
from phasewright.papers.wiring.plan import wiring_of
from phasewright.plan.study import Study
from phasewright.quantities.finding import Finding
from phasewright.shop.model import Shop

SOURCE = "electrical check of the plan's wiring, in every position of its switches"


def with_wiring_checked(shop: Shop, study: Study) -> Study:
    """The answer with a finding for every fault of its plan's wiring; the same answer where the
    wiring is sound. What fails is written in `wiring.json` and not drawn."""
    plan = next((each for each in study.plans if each.id == study.answer.plan), None)
    if plan is None:
        return study
    found = tuple(
        Finding(
            f"{plan.id}:wiring.{fault.code}:{number}", f"wiring.{fault.code}", "stop",
            "the wiring of this plan", f"{fault.words} Do not wire by this plan: it is not drawn.",
            plan=plan.id, source=SOURCE,
        )
        for number, fault in enumerate(faults(wiring_of(shop, study, plan)), 1)
    )  # fmt: skip
    if not found:
        return study
    told = replace(plan, findings=(*plan.findings, *(each.id for each in found)))
    plans = tuple(told if each is plan else each for each in study.plans)
    return replace(study, plans=plans, findings=(*study.findings, *found))
