"""One motor on one rotary converter: what it gets and takes, or every reason why it must not be."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache

from phasewright.quantities.codes import WayName
from phasewright.quantities.errors import NoOperatingPoint, NotComputable
from phasewright.quantities.finding import Reason
from phasewright.rules.generated_line import over_excitation, unbalance
from phasewright.running.network import Settled
from phasewright.starts.on_converter import LONGEST_S
from phasewright.tables.loads import LoadWay
from phasewright.tables.sizes import motor_size
from phasewright.tables.surroundings import heat_share
from phasewright.tables.usage import (
    default_hours_per_year,
    default_idle_ratio,
    default_plan_years,
)
from phasewright.ways import wishes
from phasewright.ways.asked import Asked, by_rules, condition, refusal
from phasewright.ways.conditions import (
    demand_ratio,
    has_electronics,
    of_direction,
    of_kind,
    on_three_lines,
    typical_ratio,
)
from phasewright.ways.converter_design import Design
from phasewright.ways.converter_drive_inside import has_drive_inside
from phasewright.ways.converter_drive_inside import serve as serve_drive
from phasewright.ways.converter_figures import figures_of
from phasewright.ways.converter_origins import capacitor_words
from phasewright.ways.converter_parts import capacitor_class_v, least_volts
from phasewright.ways.converter_rectifier import Rectified, beside_motor, rulings, unbalances
from phasewright.ways.converter_rectifier import asked_of as rectifier_asked
from phasewright.ways.converter_rectifier import figures_of as rectifier_figures
from phasewright.ways.converter_rectifier import of_volts as of_rectifier_volts
from phasewright.ways.lasting import Lasting, lasting, of_lasting, weakest
from phasewright.ways.mains import over_room, over_surge, surge_not_known, volts_on
from phasewright.ways.motor_kind import of_motor_kind
from phasewright.ways.on_converter import (
    USUAL_START_S,
    Hung,
    deepest_dip,
    draw_of,
    hang,
    idler_refusals,
    refusals,
    state_of,
    weakest_start,
)
from phasewright.ways.on_two_lines import Linked, linked
from phasewright.ways.rectified import rectifier_of
from phasewright.ways.shared_source import Served
from phasewright.ways.site import Site
from phasewright.ways.surroundings import of_idler_there
from phasewright.ways.travelling_capacitors import (
    asked_by_brought,
    offer_of_brought,
    too_small_for_brought,
)
from phasewright.ways.way import Service, Task

NAME: WayName = "rotary_converter"
LOADED: LoadWay = "rotary_converter"


STARTS_TOO_HARD = ("idler_start_too_hard", "surge_too_small")
"""Refusals that two idlers started one after the other may mend."""


def starts_too_hard(site: Site, of: Design) -> bool:
    """Whether the supply does not bear the start of this converter's idler."""
    return any(each.code in STARTS_TOO_HARD for each in own_refusals(site, of))


def idler_heat_share(site: Site) -> float:
    """Share of its rated losses that an idler bears in the air where it stands."""
    air = site.surroundings
    return heat_share(air.ambient_c, air.altitude_m, None)


def own_refusals(site: Site, of: Design) -> list[Reason]:
    """Why this converter cannot stand here at all, before anything hangs on it."""
    found = []
    if of.start.dip_ratio > deepest_dip() or not of.start.runs_up:
        how = (
            f"pulls the supply down by {of.start.dip_ratio:.0%} ({of.start.supply_a:.0f} A)"
            if of.start.runs_up
            else "does not run up"
        )
        found.append(
            Reason(
                "idler_start_too_hard",
                f"Neither through a series resistor nor with a pony motor is there a start that "
                f"this supply bears: {_idlers_in_words(site, of)} {how}.",
            )
        )
    elif not of.start.settles:
        found.append(
            Reason(
                "converter_swings",
                "Computed in time, volts, amps and speed swing for ever on this supply and do not "
                "settle: its resistance is too high for this converter.",
            )
        )
    found += over_room(site, of.idle.supply_current_a, "Idling alone the converter draws")
    return found + over_surge(site, of.start.supply_a, "Its idler")


def _idlers_in_words(site: Site, of: Design) -> str:
    size = motor_size(of.idlers[-1].power_w, site.region)
    if len(of.idlers) == 1:
        return f"a {size} idler"
    return f"the start of {len(of.idlers)} idlers one after the other, the largest of {size},"


@lru_cache(maxsize=2048)
def serve(task: Task, site: Site, of: Design) -> Served | tuple[Reason, ...]:
    """This motor on this converter: what it gets, or every reason why it must not be."""
    motor = linked(task.motor)
    if isinstance(motor, Reason):
        return (motor,)
    early = before_any_network(task, motor) + of_idler_there(site)
    barred = early.refusals or tuple(own_refusals(site, of) + too_small_for_brought(of, motor))
    if barred:
        return barred
    if has_drive_inside(task):
        return serve_drive(task, site, of, motor, idler_heat_share(site))
    typical, demand = typical_ratio(motor.load), demand_ratio(motor.load)
    try:
        hung = hang(site.source, of.converter, motor, typical, demand)
    except NoOperatingPoint as refusal:
        return (Reason("stalls", str(refusal)),)
    service = Service(
        unloaded=draw_of(hung.unloaded),
        typical=draw_of(hung.typical),
        demand=draw_of(_highest(hung)),
        starting_current_a=hung.starting_a,
        dip_ratio=hung.dip_ratio,
    )
    rectifier = rectifier_of(task.machine, site.source.voltage_v)
    beside: Rectified | None = None
    if rectifier is not None:
        bare = _highest(hung).nema
        try:
            hung, beside = beside_motor(
                site.source, of.converter, motor, hung, (typical, demand), rectifier
            )
        except (NoOperatingPoint, NotComputable) as refusal:
            return (Reason("rectifier_not_served", str(refusal)),)
        against = unbalances(beside, bare)
        if against:
            return tuple(against)
    lasts = lasting(hung.use, motor.load)
    asked = early + _asked(task, site, of, motor, hung, lasts, beside)
    if asked.refusals:
        return asked.refusals
    start = weakest_start(site.source, of.converter, motor, typical)
    figures = figures_of(
        site, of, motor, hung, start, lasts, 0.0 if beside is None else beside.distortion_a
    )
    if beside is not None:
        figures = replace(figures, rectifier=rectifier_figures(beside))
    brought = of.brought_by(motor.motor.id)
    return Served(
        motor.link, motor.circuit.rated_current_a, service, asked.conditions,
        figures, (weakest(lasts), *asked.told), (hung.typical.vuf, hung.typical.nema),
        rulings=() if beside is None else rulings(beside, task.machine.name, site.source.voltage_v),
        own=None if brought is None else offer_of_brought(site, brought, service),
    )  # fmt: skip


def _highest(hung: Hung) -> Settled:
    return hung.demand if hung.demand is not None else hung.typical


def before_any_network(task: Task, motor: Linked) -> Asked:
    """What load, motor, machine and wishes say of any converter, before one is computed."""
    if has_drive_inside(task):
        return Asked()  # the drive's own figures say it
    return (
        of_kind(motor.load, LOADED, motor.rated_w)
        + of_motor_kind(motor.motor, task.machine, NAME)
        + on_three_lines(task.machine, idler=True)
        + of_direction(motor.load, motor.motor.id)
        + wishes.without_drive(task.machine, motor.motor, lone=False)
    )


def _asked(
    task: Task, site: Site, of: Design, motor: Linked, hung: Hung, lasts: Lasting,
    beside: Rectified | None,
) -> Asked:  # fmt: skip
    """What the computed networks say of this motor on this converter."""
    typical, demand = typical_ratio(motor.load), demand_ratio(motor.load)
    highest = _highest(hung).supply_current_a if beside is None else beside.supply_a
    against = refusals(motor, hung) + idler_refusals(
        of.converter, hung.typical, idler_heat_share(site)
    )
    against += over_room(site, highest, "Converter and motor draw")
    against += over_surge(site, max(of.start.supply_a, hung.starting_a), "Idler or motor")
    idle_a = max(state_of(hung.unloaded, motor.motor.id).line_currents_a)
    point, id, point_v = hung.typical, motor.motor.id, site.source.voltage_v
    return (
        Asked(refusals=tuple(against))
        + of_lasting(lasts, typical, demand, motor.circuit.rated_current_a, idle_a)
        + by_rules(
            unbalance(point.vuf, point.nema, has_electronics(task.machine), id),
            over_excitation(_highest_flux(of, hung), "converter"),
        )
        + _asked_by_brought(task, site, of, motor, hung)
        + Asked(told=(_capacitor_class(task, of),))
        + of_idler(motor, of.converter.idler_power_w, point.vuf)
        + (Asked() if against else of_start(site, of, motor, hung))
        + of_shocks(motor, hung)
        + volts_on(site, motor)
        + surge_not_known(site, max(of.start.supply_a, hung.starting_a))
        + of_rectifier_volts(task.machine, point_v)
        + (Asked() if beside is None else rectifier_asked(beside, task.machine.name, point_v))
    )


def _highest_flux(of: Design, hung: Hung) -> float:
    """The idler's flux over rated, idling and with this motor unloaded beside it."""
    return max(
        state_of(point, idler.name).flux_ratio
        for point in (of.idle, hung.unloaded)
        for idler in of.converter.idlers
    )


def _capacitor_class(task: Task, of: Design) -> Reason:
    """Voltage and life class for the hours this machine keeps the converter on."""
    machine = task.machine
    turning = machine.hours_per_year
    turning = default_hours_per_year().number if turning is None else turning
    idle = machine.idle_hours_per_year
    idle = default_idle_ratio().number * turning if idle is None else idle
    class_v = capacitor_class_v(max(of.idle.line_voltages_v))
    years = default_plan_years().number
    return capacitor_words(class_v, least_volts(of), max(1.0, turning + idle), years)


def _asked_by_brought(task: Task, site: Site, of: Design, motor: Linked, hung: Hung) -> Asked:
    brought = of.brought_by(motor.motor.id)
    if brought is None:
        return Asked()
    volts = max(hung.unloaded.line_voltages_v)
    return asked_by_brought(site, brought, task.machine, motor, volts)


def of_start(site: Site, of: Design, motor: Linked, hung: Hung) -> Asked:
    """A start longer than a usual overload relay lets pass, or one that hangs on how the motor's
    iron saturates at starting current."""
    whole = Asked()
    if hung.start.seconds > USUAL_START_S:
        takes = (
            f"about {hung.start.seconds:.0f} s"
            if math.isfinite(hung.start.seconds)
            else f"more than {LONGEST_S:.0f} s"
        )
        whole += condition(
            "slow_start",
            f"It takes {takes} to run up: an overload relay of class 20 or 30, and few starts "
            "an hour.",
        )
    typical = typical_ratio(motor.load)
    if not weakest_start(site.source, of.converter, motor, typical).runs_up:
        whole += condition(
            "start_not_sure",
            "It runs up with the usual leakage of its windings; a motor whose leakage saturates "
            "strongly would not. Have it tried, or take a larger idler.",
        )
    return whole


def of_shocks(motor: Linked, hung: Hung) -> Asked:
    """Shocks of the load beyond the torque at which the motor pulls out on this converter."""
    peak, running = motor.load.kind.peak, hung.use.running
    if peak is None or running is None or peak <= running.highest:
        return Asked()
    kind = motor.load.name.replace("_", " ")
    return condition(
        "shocks",
        f"Shocks of a {kind} reach {peak:.2g} times rated torque (common practice); here the motor "
        f"pulls out at {running.highest:.2f} times: feed it gently, or take a larger idler.",
    )


def of_idler(motor: Linked, idler_w: float, vuf: float) -> Asked:
    """The trade's least idler and greatest unbalance for this kind of load, beside the figures."""
    whole, kind = Asked(), motor.load.name.replace("_", " ")
    for limit in motor.load.kind.limits(LOADED, motor.rated_w):
        if limit.unbalance is not None and vuf > limit.unbalance:
            whole += refusal(
                "too_unbalanced",
                f"Its lines are {vuf:.1%} unbalanced at the usual load; a {kind} bears "
                f"{limit.unbalance:.0%} (common practice).",
            )
        if limit.idler_ratio is not None and idler_w < limit.idler_ratio * motor.rated_w:
            whole += condition(
                "idler_below_habit",
                f"The trade takes an idler of {limit.idler_ratio:g} times a {kind}'s motor; this "
                f"one has {idler_w / motor.rated_w:.1f} times, enough by the figures for its usual "
                "start, without room for a hard one.",
            )
    return whole
