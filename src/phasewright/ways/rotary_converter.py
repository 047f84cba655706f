"""An idler motor with run and start capacitors that makes the third line for the whole shop."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from phasewright.quantities.codes import WayName
from phasewright.quantities.errors import NoOperatingPoint, TableEnds
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value, exact, figure
from phasewright.running.network import Settled
from phasewright.ways.conditions import (
    demand_ratio,
    kind_limits,
    three_line_conditions,
    typical_ratio,
)
from phasewright.ways.converter_design import (
    LEAST_START_RATIO,
    Design,
    Had,
    design,
    screened,
    sizes_w,
    ways_to_have,
)
from phasewright.ways.figures import (
    Figures,
    IdleLoaded,
    LineCurrents,
    Range,
    RunCapacitance,
    UnbalanceIdleLoaded,
    UnbalancePair,
)
from phasewright.ways.on_converter import (
    LONGEST_DIP,
    Hung,
    draw_of,
    hang,
    idler_refusals,
    refusals,
    state_of,
)
from phasewright.ways.on_two_lines import Linked, linked
from phasewright.ways.purchase import buy, total
from phasewright.ways.site import Site
from phasewright.ways.way import Judgement, Offer, Service, Task, refused, verdict_of

NAME: WayName = "rotary_converter"
OVER_EXCITED = 1.1
"""Generated volts over rated ones from which a converter is called over-excited."""


@dataclass(frozen=True, slots=True)
class Served:
    """A motor that may hang on a converter, with what it gets and takes there."""

    motor: Linked
    hung: Hung
    service: Service
    conditions: tuple[Reason, ...]
    figures: Figures


def judge(task: Task, site: Site) -> Judgement:
    """Verdict, figures and offer of the smallest converter that serves this motor's machine."""
    motor = linked(task.motor)
    if isinstance(motor, Reason):
        return refused(NAME, motor)
    limits, _ = kind_limits(motor.load, "rotary_converter", motor.rated_w)
    if limits:
        return refused(NAME, *limits)
    others = [each for each in map(linked, task.siblings) if isinstance(each, Linked)]
    workday = tuple((one.connected(typical_ratio(one.load)),) for one in (motor, *others))
    first: Judgement | None = None
    last: list[Reason] = []
    for size in sizes_w(site):
        if screened(site.source, size, motor):
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
            last = list(served)
            if last[0].code in _BIGGER_IS_WORSE:
                break
    return first or refused(NAME, *(last or [_no_size(site)]))


def _serves_too(task: Task, other: Linked, site: Site, of: Design) -> bool:
    """Whether another motor of the same machine may hang on this converter as well."""
    return isinstance(serve(Task(task.machine, other.motor), site, of), Served)


def _no_size(site: Site) -> Reason:
    largest = sizes_w(site)[-1] / 1000.0
    return Reason(
        "no_converter",
        f"Not even the largest idler in the tables ({largest:g} kW) starts it.",
    )


_BIGGER_IS_WORSE = ("dip_too_deep", "supply_too_small", "idler_start_too_hard")
"""Refusals that no larger idler mends."""


def own_refusals(site: Site, of: Design) -> list[Reason]:
    """Why this converter cannot stand here at all, before anything hangs on it."""
    found = []
    if of.start.dip_ratio > LONGEST_DIP or of.start.torque_ratio < LEAST_START_RATIO:
        found.append(
            Reason(
                "idler_start_too_hard",
                f"Even through a series resistor a {of.converter.idler_power_w / 1000:g} kW idler "
                f"pulls the supply down by {of.start.dip_ratio:.0%} ({of.start.supply_a:.0f} A) "
                f"with {of.start.torque_ratio:.0%} of its torque: it would need a pony motor.",
            )
        )
    idle_a = of.idle.supply_current_a
    if idle_a > site.room_a:
        found.append(
            Reason(
                "supply_too_small",
                f"Idling alone it draws {idle_a:.1f} A of {site.room_a:.1f} A.",
            )
        )
    return found


def serve(task: Task, site: Site, of: Design) -> Served | tuple[Reason, ...]:
    """This motor on this converter: what it gets, or every reason why it must not be."""
    motor = linked(task.motor)
    if isinstance(motor, Reason):
        return (motor,)
    limits, conditions = kind_limits(motor.load, "rotary_converter", motor.rated_w)
    if limits:
        return tuple(limits)
    own = own_refusals(site, of)
    if own:
        return tuple(own)
    typical, demand = typical_ratio(motor.load), demand_ratio(motor.load)
    try:
        hung = hang(site.source, of.converter, motor, typical, demand)
    except NoOperatingPoint as refusal:
        return (Reason("stalls", str(refusal)),)
    against = refusals(motor, hung, typical) + idler_refusals(of.converter, hung.typical)
    highest = hung.demand if hung.demand is not None else hung.typical
    if highest.supply_current_a > site.room_a:
        against.append(
            Reason(
                "supply_too_small",
                f"Converter and motor draw {highest.supply_current_a:.1f} A; {site.limit.words} "
                f"leaves {site.room_a:.1f} A.",
            )
        )
    if against:
        return tuple(against)
    conditions += _conditions(task, of, hung, motor)
    service = Service(
        unloaded=draw_of(hung.unloaded),
        typical=draw_of(hung.typical),
        demand=draw_of(highest),
        starting_current_a=hung.starting_a,
        dip_ratio=hung.dip_ratio,
    )
    return Served(motor, hung, service, tuple(conditions), figures_of(site, of, motor, hung))


def _conditions(task: Task, of: Design, hung: Hung, motor: Linked) -> list[Reason]:
    found = three_line_conditions(task.machine, motor.load)
    demand, use = demand_ratio(motor.load), hung.use
    if use.torque_ratio < demand:
        limit = "the overload relay" if use.governing == "relay" else "winding heat"
        found.append(
            Reason(
                "less_power",
                f"For ever it may give {use.torque_ratio:.0%} of its torque ({limit} decides); "
                "set the relay to the plate's amps on the highest line and never higher.",
            )
        )
    volts = max(of.idle.line_voltages_v) / of.converter.idler.line_voltage_v
    if volts > OVER_EXCITED:
        found.append(
            Reason(
                "over_excited",
                f"Idling, the generated line stands at {volts:.0%} of rated volts: electronics "
                "and varistors do not like it.",
            )
        )
    return found


def figures_of(site: Site, of: Design, motor: Linked, hung: Hung) -> Figures:
    """The figures of a motor on a converter, from its settled network."""
    point = hung.demand if hung.demand is not None else hung.typical
    inputs = {
        "idler": (of.converter.idler_power_w, "W"),
        "supply": (site.source.voltage_v, "V"),
        "supply resistance": (site.source.resistance_ohm, "ohm"),
        "supply reactance": (site.source.reactance_ohm, "ohm"),
        "C23": (of.converter.run_f.c23, "F"),
        "C31": (of.converter.run_f.c31, "F"),
    }

    def out(number: float, unit: str) -> Value:
        return figure(
            number, unit, "running.settle.settle", inputs, "two-sequence three-line network"
        )

    me = state_of(point, motor.motor.id)
    idler = state_of(point, "idler")
    relay = hung.use.by_relay.highest if hung.use.by_relay is not None else 0.0
    run = of.converter.run_f
    return Figures(
        input_current_a=_range(point, hung.typical, out),
        input_power_w=out(point.supply_power_w, "W"),
        input_power_factor=out(point.power_factor, ""),
        usable_power_w=out(hung.use.torque_ratio * motor.rated_w, "W"),
        usable_by_heat_w=out(min(1.0, hung.use.by_heat) * motor.rated_w, "W"),
        usable_by_overload_w=out(min(1.0, relay) * motor.rated_w, "W"),
        starting_torque_ratio=out(hung.starting_torque_ratio, ""),
        starting_current_a=out(hung.starting_a, "A"),
        voltage_dip_ratio=out(hung.dip_ratio, ""),
        idle_power_w=out(of.idle.supply_power_w, "W"),
        idler_power_w=exact(of.converter.idler_power_w, "W", "table", "standard motor sizes"),
        run_capacitance_f=RunCapacitance(out(run.c12, "F"), out(run.c23, "F"), out(run.c31, "F")),
        start_capacitance_f=out(of.converter.start_f, "F"),
        line_voltages_v=IdleLoaded(of.idle.line_voltages_v, point.line_voltages_v),
        unbalance=UnbalanceIdleLoaded(
            UnbalancePair(of.idle.vuf, of.idle.nema), UnbalancePair(point.vuf, point.nema)
        ),
        line_currents_a=LineCurrents(idler.line_currents_a, me.line_currents_a),
        efficiency_loaded=out(me.input_power_w / point.supply_power_w, ""),
    )


def _range(point: Settled, typical: Settled, out: Callable[[float, str], Value]) -> Range:
    low, high = sorted((typical.supply_current_a, point.supply_current_a))
    return Range(low, out(point.supply_current_a, "A"), high)


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
        link=served.motor.link,
        reasons=(
            Reason(
                "converter_serves",
                f"A converter with a {rating / 1000.0:g} kW idler serves it: "
                f"{served.hung.use.torque_ratio:.0%} of its torque for ever, "
                f"{served.hung.starting_torque_ratio:.0%} at standstill.",
            ),
            Reason("link", served.motor.link.words),
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
