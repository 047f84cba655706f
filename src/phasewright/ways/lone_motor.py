"""One three-phase motor alone on lines 1 and 2 with capacitors, judged: what the two ways without
an idler share (they differ in the run capacitor and in what the trade says of them).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from phasewright.network.supply import Source
from phasewright.quantities.codes import WayName
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value, figure
from phasewright.rules.generated_line import unbalance
from phasewright.running.network import Settled
from phasewright.running.usable import usable
from phasewright.tables.labour import hours
from phasewright.tables.loads import LoadWay
from phasewright.ways import wishes
from phasewright.ways.asked import Asked, by_rules, condition
from phasewright.ways.conditions import (
    demand_ratio,
    has_electronics,
    of_direction,
    of_kind,
    on_three_lines,
    typical_ratio,
)
from phasewright.ways.figures import Figures, Range
from phasewright.ways.lasting import Lasting, lasting, of_lasting, weakest
from phasewright.ways.mains import over_room, over_surge, surge_not_known, volts_on
from phasewright.ways.motor_kind import of_motor_kind
from phasewright.ways.on_two_lines import Linked, Start, draw_of, loaded, network_of, start_in_time
from phasewright.ways.purchase import buy, item, total
from phasewright.ways.site import Site
from phasewright.ways.start_figures import start_figures
from phasewright.ways.surroundings import of_frost
from phasewright.ways.way import Judgement, Offer, Service, Task, refused, verdict_of

SOURCE = "two-sequence network of motor and capacitor"
LEAST_SHARE = 0.8
"""A way that leaves less than this share of the torque a machine may ask for is weighed last
(our choice; the trade calls such a motor a derated one)."""


@dataclass(frozen=True, slots=True)
class Lone:
    """The motor with its run capacitor (0 for none): its start, its limits, its three loads."""

    motor: Linked
    run_f: float
    start: Start
    lasts: Lasting
    unloaded: Settled | None
    typical: Settled | None
    demand: Settled | None

    @property
    def idle_a(self) -> float:
        """The highest line current with the motor unloaded [A]; 0 where it does not run so."""
        return 0.0 if self.unloaded is None else max(self.unloaded.machines[0].line_currents_a)


def lone(source: Source, motor: Linked, run_f: float) -> Lone:
    """Settle the motor at its three loads, and find its start capacitor."""
    typical = typical_ratio(motor.load)
    use = usable(
        network_of(source, motor, run_f), motor.motor.id, windings=motor.windings,
        heat_share=motor.motor.heat_share,
    )  # fmt: skip
    lasts = lasting(use, motor.load)
    return Lone(
        motor=motor,
        run_f=run_f,
        start=start_in_time(source, motor, run_f, motor.load.breakaway_torque.high),
        lasts=lasts,
        unloaded=loaded(source, motor, run_f, 0.0),
        typical=loaded(source, motor, run_f, typical),
        demand=loaded(
            source, motor, run_f, max(typical, min(demand_ratio(motor.load), lasts.ratio))
        ),
    )


def asked_of(task: Task, site: Site, of: Lone, name: WayName, way: LoadWay) -> Asked:
    """Everything the load, the machine, the wishes and the supply ask of this way.

    `way` is what the table of loads calls the way of this `name`.
    """
    motor, load = of.motor, of.motor.load
    whole = of_kind(load, way, motor.rated_w) + of_motor_kind(motor.motor, task.machine, name)
    whole += Asked(refusals=_start_refusals(of) + _supply_refusals(site, of))
    whole += of_lasting(
        of.lasts, typical_ratio(load), demand_ratio(load), motor.circuit.rated_current_a, of.idle_a
    )
    whole += _stiff_start(of)
    whole += on_three_lines(task.machine, idler=False) + of_direction(load, motor.motor.id)
    whole += wishes.without_drive(task.machine, motor.motor, lone=True)
    whole += volts_on(site, motor) + surge_not_known(site, of.start.supply_a) + of_frost(site)
    if of.typical is not None:
        electronics = has_electronics(task.machine)
        whole += by_rules(unbalance(of.typical.vuf, of.typical.nema, electronics, motor.motor.id))
    return whole


def _short(of: Lone) -> Reason:
    """Told where a good part of what the machine may ask for is not given."""
    asked = demand_ratio(of.motor.load)
    return Reason(
        "weighed_last",
        f"It leaves the machine {of.lasts.ratio:.0%} of its torque where it may ask for "
        f"{asked:.0%}: the plan weighs it only where nothing else serves. If less is enough, say "
        "so in load.torque.",
    )


def _start_refusals(of: Lone) -> tuple[Reason, ...]:
    breakaway = of.motor.load.breakaway_torque.number
    if of.start.torque_ratio >= breakaway:
        return _run_up_refusals(of.start)
    return (
        Reason(
            "does_not_start",
            f"With the best start capacitor it gives {of.start.torque_ratio:.0%} of rated torque "
            f"at standstill; the machine needs {breakaway:.0%} to break away.",
        ),
    )


def _run_up_refusals(start: Start) -> tuple[Reason, ...]:
    """Why it does not run up although it breaks away."""
    if start.runs_up or start.in_time is None:
        return ()
    words = start.in_time.outcome.words
    if start.in_time.runs_up:
        words += " Its start capacitor never drops out on the way."
    return (Reason("does_not_run_up", f"Computed in time, {words}"),)


def _stiff_start(of: Lone) -> Asked:
    """Whether it starts on a bad morning too."""
    breakaway = of.motor.load.breakaway_torque
    if not breakaway.number <= of.start.torque_ratio < breakaway.high:
        return Asked()
    return condition(
        "stiff_start",
        f"It gives {of.start.torque_ratio:.0%} of rated torque at standstill: enough for the usual "
        f"{breakaway.number:.0%}, not for the {breakaway.high:.0%} of a cold or stiff machine.",
    )


def _supply_refusals(site: Site, of: Lone) -> tuple[Reason, ...]:
    found = []
    if of.demand is not None:
        found += over_room(site, of.demand.supply_current_a, "It draws")
    found += over_surge(site, of.start.supply_a, "The motor")
    return tuple(found)


def figures_of(site: Site, of: Lone) -> Figures:
    """What is computed of the motor, whether or not it may be run so."""
    motor = of.motor
    inputs = {
        "run capacitance": (of.run_f, "F"),
        "start capacitance": (of.start.capacitance_f, "F"),
        "supply": (site.source.voltage_v, "V"),
        "supply resistance": (site.source.resistance_ohm, "ohm"),
        "supply reactance": (site.source.reactance_ohm, "ohm"),
    }

    def out(number: float, unit: str) -> Value:
        return figure(number, unit, "running.settle.settle", inputs, SOURCE)

    point, run = of.demand, of.run_f > 0.0
    volts = capacitor_v(of.unloaded, point)
    return Figures(
        input_current_a=None if point is None else _range(point, of.typical, out),
        input_power_w=None if point is None else out(point.supply_power_w, "W"),
        input_power_factor=None if point is None else out(point.power_factor, ""),
        usable_power_w=out(of.lasts.ratio * motor.rated_w, "W"),
        usable_by_heat_w=out(of.lasts.heat * motor.rated_w, "W"),
        usable_by_overload_w=out(of.lasts.relay * motor.rated_w, "W"),
        starting_torque_ratio=out(of.start.torque_ratio, ""),
        starting_current_a=out(of.start.supply_a, "A"),
        voltage_dip_ratio=out(of.start.dip_ratio, ""),
        idle_power_w=None if of.unloaded is None else out(of.unloaded.supply_power_w, "W"),
        run_capacitance_f=out(of.run_f, "F") if run else None,
        start_capacitance_f=out(of.start.capacitance_f, "F"),
        capacitor_voltage_v=out(volts, "V") if run else None,
        starts=None if of.start.in_time is None else start_figures(of.start.in_time, inputs),
    )


def capacitor_v(*points: Settled | None) -> float:
    """The highest rms volts at the run capacitor, which stands from line 3 to line 1."""
    return max((p.line_voltages_v[2] for p in points if p is not None), default=0.0)


def _range(point: Settled, typical: Settled | None, out: Callable[[float, str], Value]) -> Range:
    amps = [p.supply_current_a for p in (point, typical) if p is not None]
    return Range(min(amps), out(point.supply_current_a, "A"), max(amps))


def judged(
    name: WayName, task: Task, site: Site, of: Lone, asked: Asked, reasons: tuple[Reason, ...],
    figures: Figures,
) -> Judgement:  # fmt: skip
    """The verdict, and the offer where it may be run so; the kit is bought by the way's name."""
    if asked.refusals:
        return refused(name, *asked.refusals, figures=figures)
    if of.unloaded is None or of.typical is None or of.demand is None:
        return refused(name, Reason("stalls", "It does not hold its load."), figures=figures)
    motor = of.motor
    short = of.lasts.ratio < LEAST_SHARE * demand_ratio(motor.load)
    conditions = asked.conditions + ((_short(of),) if short else ())
    items = [
        item(name, motor.rated_w, "W", site.quotes),
        item("overload_relay", motor.circuit.rated_current_a, "A", site.quotes),
    ]
    service = Service(
        draw_of(of.unloaded), draw_of(of.typical), draw_of(of.demand),
        of.start.supply_a, of.start.dip_ratio,
    )  # fmt: skip
    return Judgement(
        name,
        verdict_of(conditions),
        link=motor.link,
        reasons=(*reasons, Reason("link", motor.link.words), weakest(of.lasts), *asked.told),
        conditions=conditions,
        figures=replace(figures, price=total(items, name.replace("_", " "))),
        offers=(
            Offer(
                service,
                (buy(name, motor.rated_w, "W", (motor.motor.id,), items),),
                tuple(items),
                hours("capacitor_run"),
                hours("upkeep_capacitors").number,
                last_resort=short,
            ),
        ),
    )
