"""One motor on a three-phase service: what it gets and takes, or why it must not hang there."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache

from phasewright.network.supply import Source
from phasewright.quantities.codes import WayName
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value, figure
from phasewright.rules.supply import high_mains
from phasewright.tables.labour import waiting_weeks
from phasewright.ways.asked import Asked, by_rules, condition
from phasewright.ways.balanced import (
    Balanced,
    draw_at,
)
from phasewright.ways.balanced_asks import asked_on_three_lines, on_lines
from phasewright.ways.figures import Figures, Range, StartFigures
from phasewright.ways.line_start import LineStarts, as_linked, followed, line_starts
from phasewright.ways.on_converter import deepest_dip
from phasewright.ways.phases import Phases
from phasewright.ways.purchase import Item, item
from phasewright.ways.shared_source import Served
from phasewright.ways.site import Site
from phasewright.ways.start_figures import line_start_figures
from phasewright.ways.way import Service, Task

NAME: WayName = "utility_service"


@lru_cache(maxsize=2048)
def serve(task: Task, site: Site) -> Served | tuple[Reason, ...]:
    """This motor on the service: what it gets, or every reason why it must not be."""
    if site.phases is None:
        return (
            Reason(
                "only_an_outlet",
                "Only an outlet may be used here: a new service is for the owner of the place to "
                "ask for. Enter the operator's offer as a quote and it is weighed.",
            ),
        )
    no_lines = _no_operator(site)
    if no_lines is not None:
        return (no_lines,)
    one = on_lines(task, NAME, site.phases.line_voltage_v, site.source.frequency_hz)
    if isinstance(one, tuple):
        return one
    lines = service_lines(site.phases.line_voltage_v, site.source)
    starts = line_starts(lines, as_linked(one)) if followed(task) else None
    asked = asked_on_three_lines(task, one, NAME, starts, has_neutral=True, behind_converter=False)
    asked += _of_volts(site, one) + _of_phases(site, one) + _of_start(site, one)
    asked += _offer_first(site)
    if asked.refusals:
        return asked.refusals
    dip = start_dip_ratio(site, one)
    service = Service(
        unloaded=draw_at(one.unloaded),
        typical=draw_at(one.typical),
        demand=draw_at(one.highest),
        starting_current_a=one.start.current_a,
        dip_ratio=dip,
    )
    return Served(
        one.link, one.circuit.rated_current_a, service, asked.conditions,
        replace(_figures(site, one, dip), starts=_starts(lines, starts)), asked.told,
    )  # fmt: skip


def service_lines(line_voltage_v: float, today: Source) -> Source:
    """The service's three lines: two of them have the loop's impedance that today's supply has."""
    return replace(today, voltage_v=line_voltage_v)


def _starts(lines: Source, starts: LineStarts | None) -> StartFigures | None:
    return None if starts is None else line_start_figures(lines, starts, None)


def _no_operator(site: Site) -> Reason | None:
    """A shop that lives on a generator or inverter has no operator's line, unless one offers."""
    if site.supply_kind not in ("generator", "inverter") or is_quoted(site):
        return None
    return Reason(
        "no_operator",
        f"The supply is a {site.supply_kind}: whether the network operator has lines near is not "
        "known. Enter the operator's offer as a quote and it is weighed.",
    )


def is_quoted(site: Site) -> bool:
    """Whether the operator has made an offer."""
    return any(quote.kind == NAME for quote in site.quotes)


def _of_volts(site: Site, one: Balanced) -> Asked:
    """The mains at their highest reading against the plate."""
    volts = site.voltage_v
    highest = volts.high if volts.origin == "measured" else volts.number
    line = phases_of(site).line_voltage_v * highest / volts.number
    flux = one.link.flux_ratio(line, site.source.frequency_hz, one.circuit.frequency_hz)
    return by_rules(high_mains(flux, one.motor.id))


def _of_phases(site: Site, one: Balanced) -> Asked:
    """Its amps on each phase beside the other loads, spread as evenly as they go."""
    phases = phases_of(site)
    amps, alone = one.highest.current_a, phases.heaviest_a((), 0.0)
    if alone + amps <= phases.limit_a:
        return Asked()
    words = (
        f"It takes {amps:.1f} A on each phase; {phases.limit_words} gives a phase "
        f"{phases.limit_a:.1f} A"
    )
    if alone > 0.0:
        words += (
            f", and the other loads, spread as evenly as they go, take {alone:.1f} A of the "
            "heaviest: what ran on one strong phase must now fit a third of it"
        )
    return Asked(refusals=(Reason("phase_too_small", f"{words}. A larger contract mends it."),))


def start_dip_ratio(site: Site, one: Balanced) -> float:
    """Fall of a phase's volts while it starts straight on; half of today's loop is one line's."""
    source, start = site.source, one.start
    share = min(1.0, start.power_factor)
    drop = start.current_a * 0.5 * (
        source.resistance_ohm * share + source.reactance_ohm * math.sqrt(1.0 - share * share)
    )  # fmt: skip
    return drop / phases_of(site).phase_voltage_v


def _of_start(site: Site, one: Balanced) -> Asked:
    dip = start_dip_ratio(site, one)
    if dip <= deepest_dip():
        return Asked()
    words = (
        f"Straight on its start pulls the three phases down by {dip:.0%}; a contactor needs "
        f"{1.0 - deepest_dip():.0%} of its volts to pull in: a star-delta or soft starter, or a "
        "stronger line."
    )
    return condition("starts_eased", words)


def _offer_first(site: Site) -> Asked:
    weeks = waiting_weeks(NAME)
    wait = f"{weeks.low:.0f} to {weeks.high:.0f} weeks of waiting"
    if is_quoted(site):
        return condition("operators_work", f"By the operator and a licensed installer; {wait}.")
    price = lump_of(site).price
    return condition(
        "operators_offer",
        f"Ask the operator first: what a new service costs is not known ({price.low:,.0f} to "
        f"{price.high:,.0f} in illustrative units), and whether phases are in the street at all; "
        f"{wait}; the work is the operator's and a licensed installer's.",
    )


def _figures(site: Site, one: Balanced, dip: float) -> Figures:
    phases = phases_of(site)
    inputs = {
        "volts between lines": (phases.line_voltage_v, "V"),
        "supply resistance": (site.source.resistance_ohm, "ohm"),
        "supply reactance": (site.source.reactance_ohm, "ohm"),
    }

    def out(number: float, unit: str) -> Value:
        return figure(
            number, unit, "ways.balanced.balanced", inputs, "motor circuit on three equal lines"
        )

    low, high = sorted((one.typical.current_a, one.highest.current_a))
    return Figures(
        input_current_a=Range(low, out(one.highest.current_a, "A"), high),
        input_power_w=out(one.highest.input_power_w, "W"),
        input_power_factor=out(one.highest.power_factor, ""),
        usable_power_w=out(one.usable_w, "W"),
        starting_torque_ratio=out(one.starting_ratio, ""),
        starting_current_a=out(one.start.current_a, "A"),
        voltage_dip_ratio=out(dip, ""),
    )


def phases_of(site: Site) -> Phases:
    """The service's phases."""
    assert site.phases is not None  # every site of a shop has them
    return site.phases


def lump_of(site: Site) -> Item:
    """What the operator asks for once."""
    return item(NAME, 1.0, "", site.quotes)
