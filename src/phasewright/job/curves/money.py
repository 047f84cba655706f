"""What each of the best few plans has cost by the end of each year, with its spread."""

from __future__ import annotations

from phasewright.job.curves.chart import Chart, Curve, Sheet
from phasewright.papers.best_few import best_few
from phasewright.plan.study import PlanSide, Study

WORDS = (
    "Money is counted when it is paid, not discounted; the last year counts what is sold at the "
    "end. Of 100 futures 5 lie below the low curve and 5 above the high one.",
    "The plan in the drawing stands first, behind it the cheapest of each other kind.",
)


def money_sheet(study: Study, chosen: PlanSide) -> Sheet:
    """Paid so far, year by year: a chart a plan, the chosen one first."""
    charts = tuple(
        _chart(study, plan, chosen, number)
        for number, plan in enumerate(best_few(study, chosen), start=1)
    )
    return Sheet("What it costs year by year", WORDS, charts)


def _chart(study: Study, plan: PlanSide, chosen: PlanSide, number: int) -> Chart:
    curves = [
        Curve("expected", _paid(plan, "expected")),
        Curve("low", _paid(plan, "low"), broken=True),
        Curve("high", _paid(plan, "high"), broken=True),
    ]
    if plan is not chosen:
        curves.append(Curve("plan in the drawing", _paid(chosen, "expected")))
    return Chart(
        f"money-{number}", f"{plan.title}.", "", "end of year", "years", "paid so far",
        study.currency or "your money", tuple(float(row.year) for row in plan.years),
        tuple(curves), "plan.flows.years_of", (),
        "every payment of the ledger, over the futures (docs/calculations/plans-and-money.md)",
    )  # fmt: skip


def _paid(plan: PlanSide, which: str) -> tuple[float, ...]:
    return tuple(float(getattr(row.paid_so_far, which)) for row in plan.years)
