"""What the best few plans have cost by the end of each year, with the spread of the one chosen."""

from __future__ import annotations

from phasewright.job.curves.chart import Chart, Curve, Sheet
from phasewright.plan.study import PlanSide, Study

BEST = 4
"""Plans drawn beside each other."""
WORDS = (
    "Money is counted when it is paid, not discounted; the last year counts what is sold at the "
    "end. Of 100 futures 5 lie below the low curve and 5 above the high one."
)


def money_sheet(study: Study, chosen: PlanSide) -> Sheet:
    """Paid so far, year by year; the chosen plan first, then the cheapest others."""
    others = [plan for plan in study.plans if plan.feasible and plan.id != chosen.id]
    plans = (chosen, *others[: BEST - 1])
    years = tuple(float(row.year) for row in chosen.years)
    curves = [_curve("this plan", chosen, "expected")]
    curves += [
        _curve("this plan, low", chosen, "low", broken=True),
        _curve("this plan, high", chosen, "high", broken=True),
    ]
    curves += [_curve(f"plan {number}", plan, "expected") for number, plan in _numbered(plans)]
    named = tuple(f"Plan {number}: {plan.title}." for number, plan in _numbered(plans))
    chart = Chart(
        "money", "Paid so far, year by year", "", "end of year", "years", "paid so far",
        study.currency or "your money", years, tuple(curves), "plan.flows.years_of", (),
        "every payment of the ledger, over the futures (docs/calculations/plans-and-money.md)",
    )  # fmt: skip
    return Sheet("What it costs year by year", (f"This plan: {chosen.title}.", *named, WORDS),
                 (chart,))  # fmt: skip


def _numbered(plans: tuple[PlanSide, ...]) -> list[tuple[int, PlanSide]]:
    return list(enumerate(plans[1:], start=2))


def _curve(name: str, plan: PlanSide, which: str, *, broken: bool = False) -> Curve:
    return Curve(name, tuple(float(getattr(row.paid_so_far, which)) for row in plan.years), broken)
