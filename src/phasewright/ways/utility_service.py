"""A three-phase service from the network operator: every motor straight on three real lines.

It is paid for as a lump and a standing charge a year, the owner's quote first. The same
contract gives a phase a third of its power, so what hangs on one phase is looked at phase by
phase. Where the supply has three phases already it costs nothing.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from phasewright.quantities.codes import WayName
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value, figure
from phasewright.rules.supply import high_mains
from phasewright.tables.labour import hours, waiting_weeks
from phasewright.tables.prices import standing_per_year
from phasewright.ways.asked import Asked, by_rules, condition
from phasewright.ways.balanced import (
    Balanced,
    draw_at,
    greatest_draw,
    lines_of,
    motors_on,
)
from phasewright.ways.balanced_asks import asked_on_three_lines, on_lines
from phasewright.ways.figures import Buy, Figures, Range
from phasewright.ways.motor_kind import kept_out
from phasewright.ways.on_converter import deepest_dip
from phasewright.ways.phases import Phases
from phasewright.ways.purchase import Item, buy, item, total
from phasewright.ways.shared_source import Had, Said, Served, Shared, Turning, Work
from phasewright.ways.site import Site
from phasewright.ways.three_phase_supply import judged_on_three_lines
from phasewright.ways.way import Judgement, Offer, Service, Task, refused, verdict_of

NAME: WayName = "utility_service"
SERVICE = "three-phase service"
LICENSED = Reason(
    "service_licensed",
    "A new service, its meter board and everything ahead of your own switch is the operator's and "
    "a licensed installer's work, and so are protection and earthing for three phases.",
)
GIVES = (
    Reason(
        "three_real_lines",
        "three equal lines and a neutral, no converter to idle; any later three-phase machine "
        "runs as well.",
    ),
)


@dataclass(frozen=True, slots=True)
class OnService:
    """Several motors on the three lines of a service."""

    line_voltage_v: float
    frequency_hz: float

    def __call__(self, tasks: tuple[Task, ...]) -> Turning | None:
        """What they take together; None where one does not run there."""
        motors = motors_on(tasks, self.line_voltage_v, self.frequency_hz)
        if motors is None:
            return None
        return Turning(greatest_draw(motors), lines_of(motors), True)


def judge(task: Task, site: Site) -> Judgement:
    """Verdict, figures and offer of a three-phase service for this motor."""
    if site.supply_kind == "three_phase":
        return _there_already(task, site)
    served = serve(task, site)
    if not isinstance(served, Served):
        return refused(NAME, *served)
    had, phases = had_of(site), _phases(site)
    return Judgement(
        NAME,
        verdict_of(served.conditions),
        link=served.link,
        reasons=(
            Reason(
                "three_real_lines",
                f"Three real lines of {phases.line_voltage_v:.0f} V without a converter; taken "
                f"with {phases.limit_words} a phase.",
            ),
            Reason("link", served.link.words),
            *served.told,
        ),
        conditions=served.conditions,
        figures=replace(served.figures, price=total(had.items, SERVICE)),
        offers=(
            Offer(
                served.service,
                _buys(task, had, phases),
                had.items,
                had.labour_h,
                had.upkeep_h_per_year,
                yearly_cost=had.yearly_cost,
                last_resort=not _quoted(site),
            ),
        ),
    )


def _buys(task: Task, had: Had, phases: Phases) -> tuple[Buy, ...]:
    return (buy(NAME, phases.limit_a, "A", (task.motor.id,), had.items, origin=had.origin),)


def _there_already(task: Task, site: Site) -> Judgement:
    """The supply has three phases: nothing is asked of the operator, the motor runs direct."""
    if not task.motor.three_phase:
        return refused(
            NAME, Reason("single_phase_motor", "A single-phase motor needs no third line.")
        )
    against = kept_out(task.motor, task.machine, NAME)
    if against:
        return refused(NAME, *against)
    judged = judged_on_three_lines(NAME, task, site)
    if judged.verdict == "refused":
        return judged
    words = "Three phases are there already: nothing is to be bought, it runs straight on them."
    return replace(judged, reasons=(Reason("three_phases_there", words), *judged.reasons))


def _phases(site: Site) -> Phases:
    assert site.phases is not None  # every site of a shop has them
    return site.phases


def serve(task: Task, site: Site) -> Served | tuple[Reason, ...]:
    """This motor on the service: what it gets, or every reason why it must not be."""
    if site.phases is None:
        return (Reason("no_service", "Nothing is known of a three-phase service here."),)
    no_lines = _no_operator(site)
    if no_lines is not None:
        return (no_lines,)
    one = on_lines(task, NAME, site.phases.line_voltage_v, site.source.frequency_hz)
    if isinstance(one, tuple):
        return one
    asked = asked_on_three_lines(task, one, NAME, has_neutral=True, behind_converter=False)
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
        _figures(site, one, dip), asked.told,
    )  # fmt: skip


def _no_operator(site: Site) -> Reason | None:
    """A shop that lives on a generator or inverter has no operator's line, unless one offers."""
    if site.supply_kind not in ("generator", "inverter") or _quoted(site):
        return None
    return Reason(
        "no_operator",
        f"The supply is a {site.supply_kind}: whether the network operator has lines near is not "
        "known. Enter the operator's offer as a quote and it is weighed.",
    )


def _quoted(site: Site) -> bool:
    return any(quote.kind == NAME for quote in site.quotes)


def _of_volts(site: Site, one: Balanced) -> Asked:
    """The mains at their highest reading against the plate."""
    volts = site.voltage_v
    highest = volts.high if volts.origin == "measured" else volts.number
    line = _phases(site).line_voltage_v * highest / volts.number
    flux = one.link.flux_ratio(line, site.source.frequency_hz, one.circuit.frequency_hz)
    return by_rules(high_mains(flux, one.motor.id))


def _of_phases(site: Site, one: Balanced) -> Asked:
    """Its amps on each phase beside the other loads, spread as evenly as they go."""
    phases = _phases(site)
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
    return drop / _phases(site).phase_voltage_v


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
    if _quoted(site):
        return condition("operators_work", f"By the operator and a licensed installer; {wait}.")
    price = _lump(site).price
    return condition(
        "operators_offer",
        f"Ask the operator first: what a new service costs is not known ({price.low:,.0f} to "
        f"{price.high:,.0f} in illustrative units), and whether phases are in the street at all; "
        f"{wait}; the work is the operator's and a licensed installer's.",
    )


def _figures(site: Site, one: Balanced, dip: float) -> Figures:
    phases = _phases(site)
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


def _lump(site: Site) -> Item:
    return item(NAME, 1.0, "", site.quotes)


def had_of(site: Site) -> Had:
    """How the service is had: the operator's lump and standing charge."""
    quoted = next((each for each in site.quotes if each.kind == NAME), None)
    yearly = None if quoted is None else quoted.standing_per_year
    return Had(
        "new", (_lump(site),), hours(NAME), 0.0, words="a three-phase service",
        yearly_cost=standing_per_year(NAME).number if yearly is None else yearly,
    )  # fmt: skip


def shared(site: Site, work: Work) -> tuple[Shared, ...]:
    """The service, where any motor may hang on it."""
    if site.phases is None:
        return ()
    served = tuple(serve(task, site) for task in work.tasks)
    if not any(isinstance(one, Served) for one in served):
        return ()
    return (
        Shared(
            way=NAME,
            name=SERVICE,
            rating=site.phases.limit_a,
            unit="A",
            hads=(had_of(site),),
            served=served,
            turning=OnService(site.phases.line_voltage_v, site.source.frequency_hz),
            said=Said(
                idle="",
                gives=GIVES,
                gives_up=_gives_up(site.phases),
                cautions=(LICENSED,),
            ),
            phases=site.phases,
            generated_line=False,
            neutral=True,
        ),
    )


def _gives_up(phases: Phases) -> tuple[Reason, ...]:
    weeks = waiting_weeks(NAME)
    return (
        Reason(
            "amps_a_phase",
            f"One strong phase: each of three has {phases.limit_words} ({phases.limit_a:.0f} A), "
            "which every single-phase load must fit.",
        ),
        Reason(
            "waiting",
            f"{weeks.low:.0f} to {weeks.high:.0f} weeks of waiting, a standing charge every year, "
            "and the lump stays behind when you move.",
        ),
    )
