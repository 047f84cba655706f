"""What is asked before the papers of an answer: the questions on which safety rests."""

from __future__ import annotations

from phasewright.plan.safety import safety_questions
from phasewright.plan.study import Study
from phasewright.quantities.finding import Missing
from phasewright.shop.model import Shop


def asked_first(shop: Shop, study: Study) -> tuple[Missing, ...]:
    """The questions of safety that are open with the answer's plan."""
    plan = next((each for each in study.plans if each.id == study.answer.plan), None)
    if plan is None:
        return safety_questions(shop, None)
    return safety_questions(shop, {motor.motor: motor.way for motor in plan.motors})
