"""One motor alone on two lines with a run capacitor to its third terminal, tuned to its load.

The capacitor is the one with which the motor may give most for ever, with no line beyond its
rating, unloaded or loaded. At a power-factor angle of 60 degrees one
capacitor balances the motor exactly; at other loads it is a compromise.
"""

from __future__ import annotations

from dataclasses import replace

from phasewright.quantities.codes import WayName
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value, figure
from phasewright.running.usable import usable
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

NAME: WayName = "capacitor_run"
NOT_ADVISED_ABOVE_W = 1800.0
"""Above this shaft power the trade advises against it (common practice, no source)."""


def judge(task: Task, site: Site) -> Judgement:
    """Verdict, figures and offer of a run capacitor for this motor."""
    motor = linked(task.motor)
    if isinstance(motor, Reason):
        return refused(NAME, motor)
    run_f, ratio = best_run_capacitor(site.source, motor)
    if run_f == 0.0:
        return refused(
            NAME, Reason("no_capacitor_fits", "No run capacitor keeps every line within rating.")
        )
    start = choose_start(site.source, motor, run_f, motor.load.breakaway_torque.number)
    figures = _figures(motor, site, run_f, ratio, start)
    reasons = _refusals(motor, ratio, start)
    refusals, conditions = kind_limits(motor.load, "capacitor_run", motor.rated_w)
    if reasons or refusals:
        return refused(NAME, *reasons, *refusals, figures=figures)
    return _judged(task, site, motor, run_f, ratio, start, conditions, figures)


def _refusals(motor: Linked, ratio: float, start: Start) -> list[Reason]:
    found = []
    typical = typical_ratio(motor.load)
    if ratio < typical:
        found.append(
            Reason(
                "too_little_torque",
                f"For ever it may give {ratio:.0%} of its torque; the machine usually asks for "
                f"{typical:.0%}.",
            )
        )
    breakaway = motor.load.breakaway_torque.number
    if start.torque_ratio < breakaway:
        found.append(
            Reason(
                "does_not_start",
                f"With the best start capacitor it gives {start.torque_ratio:.0%} of rated torque "
                f"at standstill; the machine needs {breakaway:.0%} to break away.",
            )
        )
    return found


def _judged(
    task: Task, site: Site, motor: Linked, run_f: float, ratio: float, start: Start,
    conditions: list[Reason], figures: Figures,
) -> Judgement:  # fmt: skip
    conditions = conditions + three_line_conditions(task.machine, motor.load)
    if ratio < demand_ratio(motor.load):
        conditions.append(
            Reason(
                "less_power",
                f"It may give {ratio:.0%} of its torque for ever; set the overload relay for it "
                "and do not lean on it longer.",
            )
        )
    if motor.rated_w > NOT_ADVISED_ABOVE_W:
        conditions.append(
            Reason(
                "not_advised_at_this_power",
                "At this power a run capacitor alone is not advised (common practice).",
            )
        )
    if task.machine.starter == "reversing_drum" or any(
        each.wants.reverse for each in task.machine.motors
    ):
        conditions.append(
            Reason(
                "reverse_from_rest",
                "Reverse from standstill only, the capacitor on the supply side of the switch: "
                "a turning motor keeps its direction.",
            )
        )
    demand = min(demand_ratio(motor.load), ratio)
    points = [
        loaded(site.source, motor, run_f, share)
        for share in (0.0, typical_ratio(motor.load), demand)
    ]
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
    items = [
        item("capacitor_run", motor.rated_w, "W", site.quotes),
        item("overload_relay", motor.circuit.rated_current_a, "A", site.quotes),
    ]
    return Judgement(
        NAME,
        verdict_of(tuple(conditions)),
        link=motor.link,
        reasons=(
            Reason("balanced_by_one_capacitor", "One capacitor makes the third line's share."),
            Reason("link", motor.link.words),
        ),
        conditions=tuple(conditions),
        figures=replace(figures, price=total(items, "run capacitor kit")),
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


def _figures(motor: Linked, site: Site, run_f: float, ratio: float, start: Start) -> Figures:
    exact_use = usable(
        network_of(site.source, motor, run_f), motor.motor.id,
        windings="delta" if motor.link.delta else "star",
    )  # fmt: skip
    share = exact_use.torque_ratio
    source_words = "two-sequence network of motor and capacitor"
    inputs = {"run capacitance": (run_f, "F"), "supply": (site.source.voltage_v, "V")}
    demand = min(demand_ratio(motor.load), ratio)
    point = loaded(site.source, motor, run_f, demand)
    idle = loaded(site.source, motor, run_f, 0.0)
    volts = max(
        (each.line_voltages_v[2] for each in (point, idle) if each is not None), default=0.0
    )

    def out(number: float, unit: str) -> Value:
        return figure(number, unit, "running.settle.settle", inputs, source_words)

    return Figures(
        input_current_a=None
        if point is None
        else Range(
            point.supply_current_a, out(point.supply_current_a, "A"), point.supply_current_a
        ),
        input_power_w=None if point is None else out(point.supply_power_w, "W"),
        input_power_factor=None if point is None else out(point.power_factor, ""),
        usable_power_w=out(share * motor.rated_w, "W"),
        usable_by_heat_w=out(min(1.0, exact_use.by_heat) * motor.rated_w, "W"),
        usable_by_overload_w=out(
            min(1.0, exact_use.by_relay.highest if exact_use.by_relay else 0.0) * motor.rated_w,
            "W",
        ),
        starting_torque_ratio=out(start.torque_ratio, ""),
        starting_current_a=out(start.supply_a, "A"),
        voltage_dip_ratio=out(start.dip_ratio, ""),
        idle_power_w=None if idle is None else out(idle.supply_power_w, "W"),
        run_capacitance_f=out(run_f, "F"),
        start_capacitance_f=out(start.capacitance_f, "F"),
        capacitor_voltage_v=out(volts, "V"),
    )
