"""The answer as it would be told of another of its plans, for the papers of that plan."""

from __future__ import annotations

from dataclasses import replace

from phasewright.job.curves.hung import choice_behind, solution_of
from phasewright.job.wiring_check import with_wiring_checked
from phasewright.plan.answer import Answered
from phasewright.plan.circuits import lengths_wanted
from phasewright.plan.currents import places_of
from phasewright.plan.missing import missing_of
from phasewright.plan.remedy_paths import rooted
from phasewright.plan.start_detail import looked_at
from phasewright.plan.study import Answer, PlanSide, Study
from phasewright.plan.supply_side import supply_side
from phasewright.plan.wording import cautions_of, obstacles_of
from phasewright.quantities.finding import Reason
from phasewright.quantities.identity import Same
from phasewright.quantities.told import money
from phasewright.readings.expected import with_readings
from phasewright.shop.model import Shop


def with_plan(shop: Shop, study: Study, plan: str) -> Study:
    """A study whose answer is this plan: its starts told closely, its readings, its cautions, what
    is worth finding out for it. What would turn the answer is not looked for.

    Raises UsageError for a plan that is not listed.
    """
    if plan == study.answer.plan:
        return study
    choice = choice_behind(Same(shop))
    solution = solution_of(choice, plan)
    bare = next(each for each in study.plans if each.id == plan)
    side, told = looked_at(choice, solution, bare, plan)
    sides = tuple(
        side if each is bare else replace(each, readings_expected=None) for each in study.plans
    )
    best = next(each for each in study.plans if each.id == study.answer.plan)
    answer = Answer(
        headline=_headline(study, side, best),
        plan=plan,
        reasons=(
            Reason("asked_for", "These are the papers of a plan you chose yourself. Why the answer "
                   f"is another stands in its own papers: {best.title}."),
        ),
        cautions=cautions_of(choice, solution),
        obstacles=obstacles_of(choice, solution),
        changes_if=(),
    )  # fmt: skip
    whole = replace(
        study,
        answer=answer,
        supply=supply_side(choice.facts, side),
        plans=sides,
        findings=(*study.findings, *rooted(told, shop)),
        missing=(*missing_of(choice, solution), *lengths_wanted(choice, solution, side)),
        places=places_of(choice, solution),
    )
    return with_wiring_checked(shop, with_readings(Answered(whole, choice, solution)))


def _headline(study: Study, side: PlanSide, best: PlanSide) -> str:
    def cost(of: PlanSide) -> str:
        return money(of.lifetime_cost.expected.number, study.currency)

    if not side.feasible:
        return f"{side.title}: not feasible. It is not the answer, which is: {best.title}."
    now = money(side.purchase.number, study.currency)
    return (
        f"{side.title}: {cost(side)} over the years, {now} to buy now. It is not the answer, which "
        f"is: {best.title}, {cost(best)}."
    )
