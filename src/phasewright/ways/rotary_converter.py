"""An idler motor with run and start capacitors that makes the third line for the whole shop."""

from __future__ import annotations

from dataclasses import replace

from phasewright.quantities.codes import WayName
from phasewright.quantities.errors import NoOperatingPoint, TableEnds
from phasewright.quantities.finding import Reason
from phasewright.tables.sizes import motor_size
from phasewright.ways.conditions import demand_ratio
from phasewright.ways.converter_design import Design, design, screened, sizes_w
from phasewright.ways.converter_drive_inside import has_drive_inside
from phasewright.ways.converter_here import shared
from phasewright.ways.converter_parts import ways_to_have
from phasewright.ways.converter_serve import before_any_network, serve
from phasewright.ways.motor_kind import on_supply_volts
from phasewright.ways.on_two_lines import Linked, linked
from phasewright.ways.purchase import buy, total
from phasewright.ways.shared_source import Had, Served
from phasewright.ways.site import Site
from phasewright.ways.way import Judgement, Offer, Task, refused, verdict_of

__all__ = ["NAME", "judge", "shared"]

NAME: WayName = "rotary_converter"


def judge(task: Task, site: Site) -> Judgement:
    """Verdict, figures and offer of the smallest converter that serves this motor's machine."""
    motor = on_supply_volts(task, NAME)
    if isinstance(motor, tuple):
        return refused(NAME, *motor)
    early = before_any_network(task, motor)
    if early.refusals:
        return refused(NAME, *early.refusals)
    others = [each for each in map(linked, task.siblings) if isinstance(each, Linked)]
    behind_drive = has_drive_inside(task)
    direct = () if behind_drive else (motor, *others)
    workday = tuple((one.connected(demand_ratio(one.load)),) for one in direct)
    first: Judgement | None = None
    last: list[Reason] = []
    for size in sizes_w(site):
        if not behind_drive and screened(site.source, size, motor):
            continue
        try:
            of = design(site.source, size, workday)
        except (NoOperatingPoint, TableEnds) as refusal:
            last = [Reason("no_converter", str(refusal))]
            continue
        served = serve(task, site, of)
        if isinstance(served, Served):
            judged = _judged(task, site, of, served)
            first = first or judged
            if all(_serves_too(task, other, site, of) for other in others):
                return judged
        else:
            if served[0].code in _BIGGER_IS_WORSE:
                last += served
                break
            last = list(served)
    return first or refused(NAME, *(last or [_no_size(site)]))


def _serves_too(task: Task, other: Linked, site: Site, of: Design) -> bool:
    """Whether another motor of the same machine may hang on this converter as well."""
    return isinstance(serve(Task(task.machine, other.motor), site, of), Served)


def _no_size(site: Site) -> Reason:
    largest = sizes_w(site)[-1] / 1000.0
    return Reason(
        "no_converter",
        f"Not even the largest idler in the tables ({largest:g} kW) is enough for it.",
    )


_BIGGER_IS_WORSE = ("dip_too_deep", "supply_too_small", "idler_start_too_hard", "surge_too_small")
"""Refusals that no larger idler mends."""


def cheapest(hads: tuple[Had, ...]) -> Had:
    """The way to have a converter with the least to pay."""
    return min(hads, key=lambda had: (sum(item.amount for item in had.items), had.origin))


def _judged(task: Task, site: Site, of: Design, served: Served) -> Judgement:
    had = next(
        (had for had in ways_to_have(site, of) if had.origin == "new"),
        None,
    ) or cheapest(ways_to_have(site, of))
    rating = of.converter.idler_power_w
    return Judgement(
        NAME,
        verdict_of(served.conditions),
        link=served.link,
        reasons=(
            Reason(
                "converter_serves",
                f"A converter with a {motor_size(rating, site.region)} idler serves it: "
                f"{_serves(served)}.",
            ),
            *(() if has_drive_inside(task) else (Reason("link", served.link.words),)),
            *served.told,
        ),
        conditions=served.conditions,
        figures=replace(served.figures, price=total(had.items, "rotary converter")),
        offers=(
            Offer(
                served.service,
                (buy(NAME, rating, "W", (task.motor.id,), had.items, origin=had.origin),),
                had.items,
                had.labour_h,
                had.upkeep_h_per_year,
                owned_item=had.owned_item,
            ),
        ),
    )


def _serves(served: Served) -> str:
    """What it gives at the start: torque straight on; behind a drive inside, nothing is asked."""
    ratio = served.figures.starting_torque_ratio
    if ratio is None:
        return "the drive inside starts the motor"
    return f"{ratio.number:.0%} of its torque at standstill"
