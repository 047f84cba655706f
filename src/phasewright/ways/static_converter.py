"""A start capacitor only: it brings one motor up to speed and drops out; the motor then runs on
two lines.

The same box with a run capacitor left in is another thing with another figure: both are given,
the second as `tuned_usable_power_w`.
"""

from __future__ import annotations

from dataclasses import replace

from phasewright.quantities.codes import WayName
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value, figure
from phasewright.running.network import Settled
from phasewright.running.usable import Usable, usable
from phasewright.tables.labour import hours
from phasewright.ways.conditions import (
    demand_ratio,
    kind_limits,
    three_line_conditions,
    typical_ratio,
)
from phasewright.ways.figures import Figures, Range
from phasewright.ways.on_two_lines import (
    Linked,
    Start,
    best_run_capacitor,
    choose_start,
    draw_of,
    linked,
    loaded,
    network_of,
)
from phasewright.ways.purchase import buy, item, total
from phasewright.ways.site import Site
from phasewright.ways.way import Judgement, Offer, Service, Task, refused, verdict_of

NAME: WayName = "static_converter"


def judge(task: Task, site: Site) -> Judgement:
    """Verdict, figures and offer of a start-only static converter for this motor."""
    motor = linked(task.motor)
    if isinstance(motor, Reason):
        return refused(NAME, motor)
    use = usable(
        network_of(site.source, motor, 0.0), motor.motor.id,
        windings="delta" if motor.link.delta else "star",
    )  # fmt: skip
    start = choose_start(site.source, motor, 0.0, motor.load.breakaway_torque.number)
    ratio = use.torque_ratio
    points = tuple(
        loaded(site.source, motor, 0.0, share)
        for share in (0.0, typical_ratio(motor.load), min(demand_ratio(motor.load), ratio))
    )
    figures = _figures(motor, site, use, start, points)
    refusals, conditions = kind_limits(motor.load, "static_start_only", motor.rated_w)
    refusals += _refusals(motor, ratio, start)
    if refusals:
        return refused(NAME, *refusals, figures=figures)
    return _judged(task, site, motor, ratio, start, points, conditions, figures)


def _refusals(motor: Linked, ratio: float, start: Start) -> list[Reason]:
    found = []
    typical, breakaway = typical_ratio(motor.load), motor.load.breakaway_torque.number
    if ratio < typical:
        found.append(
            Reason(
                "too_little_torque",
                f"On two lines it may give {ratio:.0%} of its torque for ever; the machine "
                f"usually asks for {typical:.0%}.",
            )
        )
    if start.torque_ratio < breakaway:
        found.append(
            Reason(
                "does_not_start",
                f"At standstill it gives {start.torque_ratio:.0%} of rated torque with the best "
                f"start capacitor; the machine needs {breakaway:.0%}.",
            )
        )
    return found


def _judged(
    task: Task, site: Site, motor: Linked, ratio: float, start: Start,
    points: tuple[Settled | None, ...], conditions: list[Reason], figures: Figures,
) -> Judgement:  # fmt: skip
    if any(point is None for point in points):
        return refused(NAME, Reason("stalls", "It does not hold its load."), figures=figures)
    draws = [draw_of(point) for point in points if point is not None]
    over = draws[2].current_a(site.source.voltage_v)
    if over > site.room_a:
        return refused(
            NAME,
            Reason(
                "supply_too_small",
                f"It draws {over:.1f} A; {site.limit.words} leaves {site.room_a:.1f} A.",
            ),
            figures=figures,
        )
    conditions = conditions + three_line_conditions(task.machine, motor.load)
    if ratio < demand_ratio(motor.load):
        conditions.append(
            Reason(
                "less_power",
                f"The motor runs on two lines and may give {ratio:.0%} of its torque for ever.",
            )
        )
    items = [
        item("static_converter", motor.rated_w, "W", site.quotes),
        item("overload_relay", motor.circuit.rated_current_a, "A", site.quotes),
    ]
    return Judgement(
        NAME,
        verdict_of(tuple(conditions)),
        link=motor.link,
        reasons=(
            Reason("runs_on_two_lines", "It starts by a capacitor and runs on two lines."),
            Reason("link", motor.link.words),
        ),
        conditions=tuple(conditions),
        figures=replace(figures, price=total(items, "static converter")),
        offers=(
            Offer(
                Service(draws[0], draws[1], draws[2], start.supply_a, start.dip_ratio),
                (buy(NAME, motor.rated_w, "W", (motor.motor.id,), items),),
                tuple(items),
                hours("capacitor_run"),
                hours("upkeep_capacitors").number,
            ),
        ),
    )


def _figures(
    motor: Linked, site: Site, use: Usable, start: Start, points: tuple[Settled | None, ...]
) -> Figures:
    words = "two-sequence network of the motor on two lines"
    inputs = {
        "supply": (site.source.voltage_v, "V"),
        "start capacitance": (start.capacitance_f, "F"),
    }

    def out(number: float, unit: str) -> Value:
        return figure(number, unit, "running.settle.settle", inputs, words)

    idle, _, demand = points
    relay = use.by_relay.highest if use.by_relay is not None else 0.0
    tuned_f, tuned = best_run_capacitor(site.source, motor)
    return Figures(
        input_current_a=None
        if demand is None
        else Range(
            demand.supply_current_a, out(demand.supply_current_a, "A"), demand.supply_current_a
        ),
        input_power_w=None if demand is None else out(demand.supply_power_w, "W"),
        input_power_factor=None if demand is None else out(demand.power_factor, ""),
        usable_power_w=out(use.torque_ratio * motor.rated_w, "W"),
        usable_by_heat_w=out(min(1.0, use.by_heat) * motor.rated_w, "W"),
        usable_by_overload_w=out(min(1.0, relay) * motor.rated_w, "W"),
        starting_torque_ratio=out(start.torque_ratio, ""),
        starting_current_a=out(start.supply_a, "A"),
        voltage_dip_ratio=out(start.dip_ratio, ""),
        idle_power_w=None if idle is None else out(idle.supply_power_w, "W"),
        start_capacitance_f=out(start.capacitance_f, "F"),
        tuned_run_capacitance_f=out(tuned_f, "F") if tuned_f > 0.0 else None,
        tuned_usable_power_w=out(tuned * motor.rated_w, "W") if tuned_f > 0.0 else None,
    )
