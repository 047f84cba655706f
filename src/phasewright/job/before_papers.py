"""What is asked before the papers of an answer: the questions on which safety rests."""

from __future__ import annotations

from phasewright.plan.safety import safety_questions
from phasewright.plan.study import PlanSide
from phasewright.quantities.finding import Missing
from phasewright.shop.model import Shop


def asked_first(shop: Shop, plan: PlanSide | None) -> tuple[Missing, ...]:
    """The questions of safety that are open with a plan."""
    if plan is None:
        return safety_questions(shop, None)
    return safety_questions(shop, {motor.motor: motor.way for motor in plan.motors})
