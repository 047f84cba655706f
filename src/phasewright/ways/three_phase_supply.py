"""A three-phase motor straight on a three-phase supply: balanced currents, start and dip."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass, replace

from phasewright.machines.performance import Operation, at_torque, locked, no_load
from phasewright.quantities.codes import WayName
from phasewright.quantities.errors import NoOperatingPoint
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value, exact, figure
from phasewright.tables.sizes import CONTACTORS_A
from phasewright.ways import wishes
from phasewright.ways.asked import Asked, condition
from phasewright.ways.conditions import demand_ratio, of_cautions, of_direction, typical_ratio
from phasewright.ways.figures import Figures, Range
from phasewright.ways.line_start import LineStarts, asked_of_start, followed, line_starts
from phasewright.ways.mains import over_room, volts_on
from phasewright.ways.motor_kind import of_motor_kind
from phasewright.ways.on_converter import deepest_dip
from phasewright.ways.on_two_lines import Linked, linked
from phasewright.ways.purchase import Item, buy, item, total
from phasewright.ways.site import Site
from phasewright.ways.star_delta_start import star_delta_starts
from phasewright.ways.start_figures import line_start_figures
from phasewright.ways.surroundings import heat_ratio, of_frost, of_heat
from phasewright.ways.way import Draw, Judgement, Offer, Service, Task, refused, verdict_of

SOURCE = "balanced motor circuit at the supply's volts"
STAR_SHARE = 1.0 / 3.0
"""Current and torque of a delta winding while it stands in star, over those in delta."""


@dataclass(frozen=True, slots=True)
class Start:
    """Standstill behind the supply's own impedance: line amps, dip, torque over the rated one."""

    current_a: float
    dip_ratio: float
    torque_ratio: float


def judged_on_three_lines(name: WayName, task: Task, site: Site) -> Judgement:
    """A three-phase motor on three lines of its volts: nothing to buy but what starts it."""
    motor = linked(task.motor)
    if isinstance(motor, Reason):
        return refused(name, *(task.motor.link_reasons or (motor,)))
    volts, hertz = site.source.voltage_v, site.source.frequency_hz
    typical, demand = typical_ratio(motor.load), demand_ratio(motor.load)
    try:
        unloaded, usual, highest = (
            no_load(motor.circuit, volts, hertz),
            at_torque(motor.circuit, typical * motor.rated_nm, volts, hertz),
            at_torque(motor.circuit, max(typical, demand) * motor.rated_nm, volts, hertz),
        )
    except NoOperatingPoint as refusal:
        return refused(name, Reason("stalls", str(refusal)))
    start = start_of(site, motor, star_delta=task.machine.starter == "star_delta")
    items = _items(task, motor, site)
    starts = starts_of(task, site, motor)
    figures = replace(
        _figures(site, motor, usual, highest, start),
        price=total(items, "starter"),
        starts=None if starts is None else line_start_figures(site.source, starts, None),
    )
    against = over_room(site, highest.current_a, "In each line it draws")
    if against:
        return refused(name, *against, figures=figures)
    asked = _asked(task, site, motor, start, starts)
    if asked.refusals:
        return refused(name, *asked.refusals, figures=figures)
    return Judgement(
        name,
        verdict_of(asked.conditions),
        link=motor.link,
        reasons=(
            Reason("three_lines_are_there", "The supply has the three lines of its volts."),
            Reason("link", motor.link.words),
            *asked.told,
        ),
        conditions=asked.conditions,
        figures=figures,
        offers=(
            Offer(
                service=Service(
                    draw_of(unloaded), draw_of(usual), draw_of(highest),
                    start.current_a, start.dip_ratio,
                ),
                buys=(buy(name, motor.rated_w, "W", (motor.motor.id,), items),),
                items=tuple(items),
                labour_h=exact(0.0, "h", "assumed", "an outlet or switch is there"),
                upkeep_h_per_year=0.0,
            ),
        ),
    )  # fmt: skip


def draw_of(at: Operation) -> Draw:
    """What a balanced motor takes: all of it evenly from the three lines."""
    return Draw(
        at.input_power_w, at.reactive_power_var,
        balanced_w=at.input_power_w, balanced_var=at.reactive_power_var,
    )  # fmt: skip


def start_of(site: Site, motor: Linked, *, star_delta: bool) -> Start:
    """The motor at standstill behind one line's impedance, half of what lines 1 and 2 have.

    Its impedance is taken as at full volts. A star-delta starter gives a third of both.
    """
    source = site.source
    held = locked(motor.circuit, source.voltage_v, source.frequency_hz)
    share = STAR_SHARE if star_delta else 1.0
    phase_v = source.voltage_v / math.sqrt(3.0)
    its = cmath.rect(phase_v / (share * held.current_a), math.acos(held.power_factor))
    line = 0.5 * complex(source.resistance_ohm, source.reactance_ohm)
    kept = abs(its / (its + line))
    return Start(
        current_a=kept * share * held.current_a,
        dip_ratio=1.0 - kept,
        torque_ratio=kept**2 * share * held.airgap_torque_nm / motor.rated_nm,
    )


def starts_of(task: Task, site: Site, motor: Linked) -> LineStarts | None:
    """Its start in time, straight on or by its star-delta starter; None where another thing shapes
    it."""
    if not followed(task):
        return None
    if task.machine.starter == "star_delta":
        return star_delta_starts(site.source, motor)
    return line_starts(site.source, motor)


def usable_w(motor: Linked) -> Value | None:
    """What it may give for ever: its plate's power, less in warm or thin air."""
    ratio, rated = heat_ratio(motor.motor, motor.circuit), motor.motor.power_w
    if rated is None or ratio >= 1.0:
        return rated
    return figure(
        ratio * rated.number, "W", "ways.surroundings.heat_ratio",
        {"rated": (rated.number, "W"), "share of heat": (motor.motor.heat_share, "")}, SOURCE,
        low=ratio * rated.low, high=ratio * rated.high,
    )  # fmt: skip


def _asked(task: Task, site: Site, motor: Linked, start: Start, starts: LineStarts | None) -> Asked:
    """What kind, wishes, volts and start ask; a real supply is what the motor was made for."""
    return (
        of_cautions(motor.load)
        + of_motor_kind(motor.motor, task.machine, "utility_service")
        + of_direction(motor.load, motor.motor.id)
        + wishes.without_drive(task.machine, motor.motor, lone=None)
        + volts_on(site, motor)
        + of_heat(motor.motor, motor.circuit, motor.load)
        + of_frost(site)
        + _of_start(motor, start, starts)
    )


def _of_start(motor: Linked, start: Start, starts: LineStarts | None) -> Asked:
    """No start is a refusal here: the motor was made for such a supply, and may be eased."""
    whole = Asked()
    if starts is not None:
        asked = asked_of_start(motor, starts)
        whole += Asked(conditions=asked.conditions)
        for against in asked.refusals:
            whole += condition("hard_start", f"{against.words} Start it empty.")
    if start.dip_ratio > deepest_dip():
        whole += condition(
            "dip_too_deep",
            f"Its start pulls the supply down by {start.dip_ratio:.0%}; a contactor needs "
            f"{1.0 - deepest_dip():.0%} of its volts to pull in: a soft starter or a star-delta "
            "start, as its winding allows.",
        )
    return whole


def _items(task: Task, motor: Linked, site: Site) -> list[Item]:
    """An overload relay, and a contactor where no starter of its own is told."""
    amps = motor.circuit.rated_current_a
    items = [item("overload_relay", amps, "A", site.quotes)]
    if task.machine.starter is None:
        items.append(item("contactor", max(CONTACTORS_A[0], amps), "A", site.quotes))
    return items


def _figures(
    site: Site, motor: Linked, usual: Operation, highest: Operation, start: Start
) -> Figures:
    inputs = {
        "supply": (site.source.voltage_v, "V"),
        "supply resistance": (site.source.resistance_ohm, "ohm"),
        "supply reactance": (site.source.reactance_ohm, "ohm"),
        "rated torque": (motor.rated_nm, "Nm"),
    }

    def out(number: float, unit: str) -> Value:
        return figure(number, unit, "ways.three_phase_supply.judged_on_three_lines", inputs, SOURCE)

    low, high = sorted((usual.current_a, highest.current_a))
    return Figures(
        input_current_a=Range(low, out(highest.current_a, "A"), high),
        input_power_w=out(highest.input_power_w, "W"),
        input_power_factor=out(highest.power_factor, ""),
        usable_power_w=usable_w(motor),
        starting_torque_ratio=out(start.torque_ratio, ""),
        starting_current_a=out(start.current_a, "A"),
        voltage_dip_ratio=out(start.dip_ratio, ""),
        efficiency=out(highest.efficiency, ""),
    )
