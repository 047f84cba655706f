"""What the best few plans cost over the years, with the spread of each: one line a plan."""

from __future__ import annotations

from collections.abc import Sequence

from phasewright.papers.axes import value_axis
from phasewright.papers.svg import Mark, drawing, group, line, mark, words, wrapped
from phasewright.plan.study import PlanSide
from phasewright.quantities.told import money

BEST = 5
"""Plans shown beside each other."""
_SIZE = 12.0
_LEADING = 15.0


def cost_picture(
    plans: Sequence[PlanSide], currency: str | None, marked: str, width: float
) -> Mark:
    """Each plan's cost over the years: a bar from its 5th to its 95th percentile, a stroke where
    it is expected; `marked` is the id of the plan that is drawn strongly."""
    costs = [plan.lifetime_cost for plan in plans]
    axis = value_axis(
        0.0, max(cost.high for cost in costs), 10.0, width - 34.0, 4 if width < 500 else 6
    )
    rows: list[Mark] = []
    y = 6.0
    for plan, cost in zip(plans, costs, strict=True):
        title = f"{plan.title}: {money(cost.expected.number, currency)}"
        strong = " chosen" if plan.id == marked else ""
        told: list[Mark] = []
        for row in wrapped(title, _SIZE, width - 8.0):
            y += _LEADING
            told.append(words(row, (4.0, y), _SIZE, look=f"words{strong}"))
        y += 12.0
        low, high = axis.place(cost.low), axis.place(cost.high)
        middle = axis.place(cost.expected.number)
        spread = f"{money(cost.low, None)} to {money(cost.high, currency)}"
        told += [
            line((low, y), (high, y), f"cost-spread{strong}"),
            line((low, y - 4.0), (low, y + 4.0), "thin"),
            line((high, y - 4.0), (high, y + 4.0), "thin"),
            mark("circle", cx=middle, cy=y, r=5.0, look=f"cost-middle{strong}"),
        ]
        rows.append(group(*told, title=f"{title}, {spread}"))
        y += 10.0
    y += 8.0
    rows.append(line((axis.place(axis.low), y), (axis.place(axis.high), y), "thin"))
    for tick in axis.ticks():
        x = axis.place(tick)
        rows.append(line((x, y), (x, y + 4.0), "thin"))
        rows.append(words(axis.written(tick), (x, y + 18.0), _SIZE, "middle"))
    unit = f"{currency} over the years planned" if currency else "over the years planned"
    rows.append(words(unit, (4.0, y + 36.0), _SIZE))
    about = "; ".join(
        f"{plan.title}: {money(plan.lifetime_cost.expected.number, currency)}, "
        f"{money(plan.lifetime_cost.low, None)} to {money(plan.lifetime_cost.high, None)}"
        for plan in plans
    )
    return drawing(width, y + 44.0, "Cost over the years", about, *rows, look="costs")
