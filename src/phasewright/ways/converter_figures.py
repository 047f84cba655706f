"""The figures of one motor on a rotary converter, from its settled networks."""

from __future__ import annotations

import math
from collections.abc import Callable

from phasewright.quantities.value import Value, exact, figure
from phasewright.starts.brief import Brief
from phasewright.ways.converter_design import Design
from phasewright.ways.figures import (
    Figures,
    IdleLoaded,
    LineCurrents,
    Range,
    RunCapacitance,
    TravellingCapacitance,
    UnbalanceIdleLoaded,
    UnbalancePair,
)
from phasewright.ways.lasting import Lasting
from phasewright.ways.on_converter import Hung, state_of
from phasewright.ways.on_two_lines import Linked
from phasewright.ways.site import Site
from phasewright.ways.start_figures import idler_start_figures, start_figures


def figures_of(
    site: Site, of: Design, motor: Linked, hung: Hung, weakest: Brief, lasts: Lasting,
    distortion_a: float = 0.0,
) -> Figures:  # fmt: skip
    """The figures of a motor on a converter, from its settled network.

    `weakest` is its start with the least torque; `distortion_a` are harmonics that a rectifier of
    its machine puts into the supply's lines.
    """
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

    taken_a = math.hypot(point.supply_current_a, distortion_a)
    me = state_of(point, motor.motor.id)
    idlers = [state_of(point, each.name) for each in of.converter.idlers]
    idler = max(idlers, key=lambda each: max(each.line_currents_a))
    run = of.converter.run_f
    return Figures(
        input_current_a=_range(
            taken_a, math.hypot(hung.typical.supply_current_a, distortion_a), out
        ),
        input_power_w=out(point.supply_power_w, "W"),
        input_power_factor=out(point.supply_power_w / (point.line_voltages_v[0] * taken_a), ""),
        usable_power_w=out(lasts.ratio * motor.rated_w, "W"),
        usable_by_heat_w=out(lasts.heat * motor.rated_w, "W"),
        usable_by_overload_w=out(lasts.relay * motor.rated_w, "W"),
        starting_torque_ratio=out(hung.starting_torque_ratio, ""),
        starting_current_a=out(hung.starting_a, "A"),
        voltage_dip_ratio=out(hung.dip_ratio, ""),
        idle_power_w=out(of.idle.supply_power_w, "W"),
        idler_power_w=exact(of.converter.idler_power_w, "W", "table", "standard motor sizes"),
        run_capacitance_f=RunCapacitance(out(run.c12, "F"), out(run.c23, "F"), out(run.c31, "F")),
        travelling_capacitance_f=_travelling(of, motor.motor.id, out),
        start_capacitance_f=out(of.converter.start_f, "F") if of.converter.start_f else None,
        line_voltages_v=IdleLoaded(of.idle.line_voltages_v, point.line_voltages_v),
        unbalance=UnbalanceIdleLoaded(
            UnbalancePair(of.idle.vuf, of.idle.nema), UnbalancePair(point.vuf, point.nema)
        ),
        line_currents_a=LineCurrents(idler.line_currents_a, me.line_currents_a),
        efficiency_loaded=out(
            (me.input_power_w + point.resistive_loads_w) / point.supply_power_w, ""
        ),
        starts=start_figures(hung.start, inputs, weakest),
        idler_start=idler_start_figures(of.start, of.converter.start_f, inputs),
    )


def _travelling(
    of: Design, motor: str, out: Callable[[float, str], Value]
) -> tuple[TravellingCapacitance, ...] | None:
    brought = of.brought_by(motor)
    if brought is None:
        return None
    bank = brought.capacitance_f
    return (TravellingCapacitance(motor, out(bank.c23, "F"), out(bank.c31, "F")),)


def _range(highest_a: float, typical_a: float, out: Callable[[float, str], Value]) -> Range:
    low, high = sorted((typical_a, highest_a))
    return Range(low, out(highest_a, "A"), high)
