"""A whole-shop electronic three-phase source: rectifier, link and inverter in one box."""

from __future__ import annotations

from dataclasses import replace

from phasewright.quantities.finding import Reason
from phasewright.ways.balanced import Balanced, balanced
from phasewright.ways.electronic_here import hads_of, shared, sources_of
from phasewright.ways.electronic_serve import NAME, serve
from phasewright.ways.electronic_source import ElectronicSource
from phasewright.ways.purchase import buy, total
from phasewright.ways.shared_source import Served
from phasewright.ways.site import Site
from phasewright.ways.way import Judgement, Offer, Task, refused, verdict_of

__all__ = ["NAME", "judge", "shared"]


def judge(task: Task, site: Site) -> Judgement:
    """Verdict, figures and offer of the smallest source that serves this motor's machine."""
    last: tuple[Reason, ...] = ()
    first: tuple[ElectronicSource, Served] | None = None
    for of in sources_of(site):
        served = serve(task, site, of)
        if not isinstance(served, Served):
            if first is None:
                last = served
            continue
        first = first or (of, served)
        if _whole_machine(task, site, of):
            first = (of, served)
            break
    if first is None:
        return refused(NAME, *(last or (_no_class(site),)))
    return _judged(task, site, *first)


def _whole_machine(task: Task, site: Site, of: ElectronicSource) -> bool:
    """Whether the machine's other motors that can hang there may do so, all together."""
    hertz = of.source.frequency_hz
    tasks = [task]
    for other in task.siblings:
        if isinstance(balanced(other, of.line_voltage_v, hertz), Balanced):
            tasks.append(Task(task.machine, other))
    turning = of(tuple(tasks))
    return turning is not None and turning.stands


def _no_class(site: Site) -> Reason:
    return Reason(
        "no_source_at_these_volts",
        f"The tables know no electronic three-phase source for a supply of "
        f"{site.source.voltage_v:.0f} V.",
    )


def _judged(task: Task, site: Site, of: ElectronicSource, served: Served) -> Judgement:
    had = hads_of(site, of)[0]
    return Judgement(
        NAME,
        verdict_of(served.conditions),
        link=served.link,
        reasons=(
            Reason(
                "source_serves",
                f"A source of {of.rating_w / 1000.0:g} kW gives it three equal lines of "
                f"{of.line_voltage_v:.0f} V.",
            ),
            Reason("link", served.link.words),
            *served.told,
            Reason(
                "other_sources",
                "A three-phase inverter with a battery, or a three-phase generator hired for one "
                "big job, gives three lines as well; neither is weighed here.",
            ),
        ),
        conditions=served.conditions,
        figures=replace(served.figures, price=total(had.items, "electronic source")),
        offers=(
            Offer(
                served.service,
                (buy(NAME, of.rating_w, "W", (task.motor.id,), had.items, origin=had.origin),),
                had.items,
                had.labour_h,
                had.upkeep_h_per_year,
                owned_item=had.owned_item,
            ),
        ),
    )
