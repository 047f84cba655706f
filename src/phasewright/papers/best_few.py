"""Which plans are laid side by side: the one that is drawn, then the cheapest that differ most."""

from __future__ import annotations

from phasewright.plan.study import PlanSide, Study

FEW = 4


def best_few(study: Study, drawn: PlanSide | None, most: int = FEW) -> tuple[PlanSide, ...]:
    """The plan that is drawn, the cheapest of every other mix of ways, then the cheapest left;
    none that leaves a motor without power but the one that is drawn."""
    able = sorted(
        (plan for plan in study.plans if plan.feasible),
        key=lambda plan: plan.lifetime_cost.expected.number,
    )
    found = [] if drawn is None else [drawn]
    for plan in able:
        if all(_mix(plan) != _mix(each) for each in found):
            found.append(plan)
    found += [plan for plan in able if plan not in found]
    first = found[:1] if drawn is not None else []
    few = found[len(first) : most]
    return (*first, *sorted(few, key=lambda plan: plan.lifetime_cost.expected.number))


def _mix(plan: PlanSide) -> frozenset[str | None]:
    return frozenset(motor.way for motor in plan.motors)
