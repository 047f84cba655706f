"""What plans have cost by the end of each year: a panel a plan, all on one scale of money.

A band reaches from the 5th to the 95th percentile over the futures, the line in it is what is
expected; the plan that is drawn stands in every other panel as a broken line.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from phasewright.papers.axes import Axis, round_step, value_axis
from phasewright.papers.svg import Mark, Point, drawing, group, line, mark, polyline, words, wrapped
from phasewright.plan.study import PlanSide, YearSide
from phasewright.quantities.told import money

LEAST_PANEL = 250.0
_SIZE, _LEADING = 12.0, 15.0
_LEFT, _RIGHT, _TALL, _FOOT, _GAP = 48.0, 62.0, 150.0, 42.0, 14.0


@dataclass(frozen=True, slots=True)
class _Frame:
    """Where a panel's curves are drawn."""

    across: Axis
    up: Axis

    def at(self, row: YearSide, which: str) -> Point:
        return self.across.place(row.year), self.up.place(getattr(row.paid_so_far, which))


def years_picture(
    plans: Sequence[PlanSide], currency: str | None, drawn: str, width: float
) -> Mark:
    """A panel for each plan, as many beside each other as fit `width`; `drawn` is the id of the
    plan in the drawing."""
    beside = max(1, min(len(plans), int((width + _GAP) // (LEAST_PANEL + _GAP))))
    wide = (width - _GAP * (beside - 1)) / beside
    heads = [wrapped(plan.title, _SIZE, wide - 4.0) for plan in plans]
    every = [row.paid_so_far for plan in plans for row in plan.years]
    least, most = min(each.low for each in every), max(each.high for each in every)
    of_drawn = next((plan for plan in plans if plan.id == drawn), None)
    panels: list[Mark] = []
    top = 0.0
    for first in range(0, len(plans), beside):
        rows = heads[first : first + beside]
        head = 4.0 + _LEADING * max(len(row) for row in rows) + 8.0
        for place, (plan, title) in enumerate(zip(plans[first:], rows, strict=False)):
            left = place * (wide + _GAP)
            last = float(plan.years[-1].year)
            frame = _Frame(
                Axis(0.0, last, left + _LEFT, left + wide - _RIGHT, round_step(last, 5)),
                value_axis(least, most, top + head + _TALL, top + head, 4),
            )
            other = None if of_drawn is None or plan.id == drawn else of_drawn
            told = [
                words(text, (left, top + _LEADING * (k + 1)), _SIZE, look="words chosen")
                for k, text in enumerate(title)
            ]
            panels.append(group(*told, *_panel(plan, other, frame, currency)))
        top += head + _TALL + _FOOT
    about = " ".join(_said(plan, currency) for plan in plans)
    return drawing(width, top, "Paid so far, year by year", about, *panels, look="costs years")


def _panel(plan: PlanSide, drawn: PlanSide | None, of: _Frame, currency: str | None) -> list[Mark]:
    """Axes, band, line and what their ends stand at."""
    rows = plan.years
    low, middle, high = (
        [of.at(row, which) for row in rows] for which in ("low", "expected", "high")
    )
    band = " ".join(f"{x:.1f},{y:.1f}" for x, y in (*high, *reversed(low)))
    found = [
        *_axes(of), mark("polygon", points=band, look="band"),
        polyline(low, "edge"), polyline(high, "edge"),
    ]  # fmt: skip
    if drawn is not None:
        found.append(polyline([of.at(row, "expected") for row in drawn.years], "other-plan"))
    found.append(polyline(middle, "middle"))
    found += _ends(of, (high[-1], middle[-1], low[-1]), rows[-1])
    return [*found, *(_year(of, row, currency) for row in rows)]


def _axes(of: _Frame) -> list[Mark]:
    left, right = of.across.start, of.across.end
    floor = of.up.place(max(0.0, of.up.low))
    found: list[Mark] = []
    for tick in of.up.ticks():
        y = of.up.place(tick)
        found.append(line((left, y), (right, y), "grid"))
        found.append(words(of.up.written(tick), (left - 5.0, y + 4.0), _SIZE, "end"))
    found.append(line((left, floor), (right, floor), "thin"))
    for tick in of.across.ticks():
        x = of.across.place(tick)
        found.append(line((x, of.up.start), (x, of.up.start + 4.0), "thin"))
        found.append(words(of.across.written(tick), (x, of.up.start + 18.0), _SIZE, "middle"))
    found.append(words("end of year", (left, of.up.start + 34.0), _SIZE))
    return found


def _ends(of: _Frame, at: Sequence[Point], last: YearSide) -> list[Mark]:
    """The amounts at the last year beside the ends of the curves, moved apart where they meet."""
    paid = last.paid_so_far
    places: list[float] = []
    for _, y in at:
        places.append(max(y + 4.0, places[-1] + 13.0) if places else y + 4.0)
    over = max(0.0, places[-1] - (of.up.start + 4.0))
    looks = ("words", "words chosen", "words")
    return [
        words(f"{amount:,.0f}", (of.across.end + 5.0, y - over), _SIZE, look=look)
        for amount, y, look in zip(
            (paid.high, paid.expected, paid.low), places, looks, strict=True
        )
    ]  # fmt: skip


def _year(of: _Frame, row: YearSide, currency: str | None) -> Mark:
    """The room over one year, which tells its amounts to a pointer that rests there."""
    step = (of.across.end - of.across.start) / max(1.0, of.across.high)
    x = of.across.place(row.year)
    paid = row.paid_so_far
    told = (
        f"End of year {row.year}: {money(paid.expected, currency)} expected, "
        f"{money(paid.low, None)} to {money(paid.high, None)}"
    )
    room = mark(
        "rect", x=x - 0.5 * step, y=of.up.end, width=step, height=of.up.start - of.up.end,
        look="hover",
    )  # fmt: skip
    return group(room, title=told)


def _said(plan: PlanSide, currency: str | None) -> str:
    last = plan.years[-1]
    paid = last.paid_so_far
    return (
        f"{plan.title}: by the end of year {last.year} {money(paid.expected, currency)}, "
        f"{money(paid.low, None)} to {money(paid.high, None)}."
    )
