"""An idler motor with run and start capacitors that makes the third line for the whole shop."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from phasewright.quantities.codes import WayName
from phasewright.quantities.errors import NoOperatingPoint, TableEnds
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value, spread
from phasewright.tables.sizes import motor_size
from phasewright.ways.conditions import demand_ratio
from phasewright.ways.converter_design import Design, design, screened
from phasewright.ways.converter_drive_inside import has_drive_inside
from phasewright.ways.converter_here import shared
from phasewright.ways.converter_parts import ways_to_have
from phasewright.ways.converter_serve import before_any_network, serve, starts_too_hard
from phasewright.ways.idlers import Idlers, idlers_of, owned_idlers, pair_for, power_of
from phasewright.ways.motor_kind import on_supply_volts
from phasewright.ways.on_two_lines import Linked, linked
from phasewright.ways.purchase import buy, total
from phasewright.ways.shared_source import Had, Served
from phasewright.ways.site import Site
from phasewright.ways.travelling_capacitors import travelling_design
from phasewright.ways.way import Judgement, Offer, Task, refused, verdict_of

__all__ = ["NAME", "judge", "shared"]

NAME: WayName = "rotary_converter"


def judge(task: Task, site: Site) -> Judgement:
    """Verdict, figures and offer of the smallest converter that serves this motor's machine.

    With a fixed bank where one serves; else with capacitors that each motor brings.
    """
    motor = on_supply_volts(task, NAME)
    if isinstance(motor, tuple):
        return refused(NAME, *motor)
    early = before_any_network(task, motor)
    if early.refusals:
        return refused(NAME, *early.refusals)
    others = [each for each in map(linked, task.siblings) if isinstance(each, Linked)]
    motors, behind_drive = (motor, *others), has_drive_inside(task)
    direct = () if behind_drive else motors
    workday = tuple((one.connected(demand_ratio(one.load)),) for one in direct)
    fixed = _smallest(task, site, motors, lambda idlers: design(site.source, idlers, workday))
    if fixed.verdict != "refused" or behind_drive:
        return fixed
    here = tuple((each, site) for each in motors)
    own = _smallest(task, site, motors, lambda idlers: travelling_design(site, idlers, here))
    return fixed if own.verdict == "refused" else own


def _smallest(
    task: Task, site: Site, motors: tuple[Linked, ...], designed: Callable[[Idlers], Design | None]
) -> Judgement:
    """The smallest converter so designed that serves the first motor, and the others if any can."""
    motor, *others = motors
    first: Judgement | None = None
    last: list[Reason] = []
    for idlers in idlers_of(site):
        if not has_drive_inside(task) and screened(site.source, power_of(idlers), motor):
            continue
        try:
            of = designed(idlers)
            pair = None if of is None or not starts_too_hard(site, of) else pair_for(site, idlers)
            of = of if pair is None else designed(pair)
        except (NoOperatingPoint, TableEnds) as refusal:
            last = [Reason("no_converter", str(refusal))]
            continue
        if of is None:
            break
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
    largest = power_of(idlers_of(site)[-1]) / 1000.0
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
    own = () if served.own is None else served.own.items
    hours = had.labour_h if served.own is None else _both(had.labour_h, served.own.labour_h)
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
            *owned_idlers(site)[1],
        ),
        conditions=served.conditions,
        figures=replace(served.figures, price=total((*had.items, *own), "rotary converter")),
        offers=(
            Offer(
                served.service,
                (
                    buy(NAME, rating, "W", (task.motor.id,), had.items, origin=had.origin),
                    *(() if served.own is None else served.own.buys),
                ),
                (*had.items, *own),
                hours,
                had.upkeep_h_per_year,
                owned_item=had.owned_item,
            ),
        ),
    )


def _both(one: Value, other: Value) -> Value:
    """Hours of two jobs together."""
    return spread(
        one.number + other.number, one.low + other.low, one.high + other.high, "h", one.origin,
        f"{one.source}; {other.source}",
    )  # fmt: skip


def _serves(served: Served) -> str:
    """What it gives at the start: torque straight on; behind a drive inside, nothing is asked."""
    ratio = served.figures.starting_torque_ratio
    if ratio is None:
        return "the drive inside starts the motor"
    return f"{ratio.number:.0%} of its torque at standstill"
