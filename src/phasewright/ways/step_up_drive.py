"""A drive with a 400 V class output on a low-voltage supply, or a transformer before such a drive.

For motors whose winding cannot be linked for the supply's own volts. The drive that raises the
volts inside comes first; the isolating transformer before a drive made for three-phase input is
its variant. Safety of the transformer's secondary (centre earthed, own residual-current device,
no autotransformer in a garage shop): NFPA 70 (NEC) 210.9 and 215.11, and common practice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from phasewright.electronics.drive import motor_share, three_phase_type_share
from phasewright.machines.circuit import Circuit
from phasewright.machines.link import Link
from phasewright.machines.load import Load
from phasewright.machines.motor import Motor
from phasewright.quantities.codes import WayName
from phasewright.quantities.errors import NotComputable, TableEnds
from phasewright.quantities.finding import Reason
from phasewright.tables.labour import hours
from phasewright.tables.sizes import (
    DRIVE_400_OUTPUT_A,
    DRIVE_400_SIZES_W,
    STEP_UP_DRIVE_OUTPUT_A,
    STEP_UP_DRIVE_SIZES_W,
    breaker_sizes_a,
    next_size,
)
from phasewright.tables.stepping_up import Transformer, boost_output_v, secondary_volts
from phasewright.ways.conditions import demand_ratio, typical_ratio
from phasewright.ways.drive_duty import Duty, starting_torque_ratio
from phasewright.ways.driven import (
    LEAST_BASE_RATIO,
    asked_and_speeds,
    drive_job,
    driven_figures,
    hours_of,
    over_supply,
    plate_hertz,
    reached,
    unfit,
)
from phasewright.ways.purchase import Item, buy, item
from phasewright.ways.site import Site
from phasewright.ways.step_up_conditions import inside_conditions, transformer_conditions, winding
from phasewright.ways.stepping_up import boosted_duty, transformed_duty, transformer_of
from phasewright.ways.way import Judgement, Offer, Service, Task, refused, verdict_of

NAME: WayName = "step_up_drive"
INSIDE = "a drive that steps up inside"
BEFORE = "a step-up transformer before a drive"

SAID_HERE = ("old_winding", "one_winding")
"""What any drive asks and this one asks in words of its own, at the higher volts."""


@dataclass(frozen=True, slots=True)
class _Case:
    """What both variants need to know of the motor."""

    task: Task
    site: Site
    link: Link
    circuit: Circuit
    load: Load
    winding: tuple[Reason, ...]
    breakaway: float
    typical: float
    demand: float


@dataclass(frozen=True, slots=True)
class _Drive:
    """A size of drive and the amps it may give here, with what it means for this motor."""

    rating_w: float
    usable_a: float
    heave: float
    share: Reason
    easy: bool


def judge(task: Task, site: Site) -> Judgement:
    """Verdict, figures and offers of the two ways to step up before this motor's drive."""
    motor = task.motor
    why = unfit(motor)
    if why is not None:
        return refused(NAME, why)
    load = motor.load
    assert load is not None
    found = _link(motor, site)
    if isinstance(found, Reason):
        return refused(NAME, found)
    case = _Case(
        task, site, found, motor.circuit_at(found), load, winding(motor, found),
        load.breakaway_torque.number, typical_ratio(load), demand_ratio(load),
    )  # fmt: skip
    return _both([_inside(case), _before(case)])


def _both(variants: list[Judgement]) -> Judgement:
    """The first variant that can be leads; refused, with every reason, where neither can."""
    able = [each for each in variants if each.offers]
    if not able:
        reasons = tuple(dict.fromkeys(reason for each in variants for reason in each.reasons))
        figures = next((each.figures for each in variants if each.figures.price), None)
        return refused(NAME, *reasons, figures=figures)
    first = able[0]
    told = tuple(dict.fromkeys(reason for each in able for reason in each.conditions))
    return replace(
        first,
        verdict=verdict_of(told),
        conditions=told,
        reasons=tuple(dict.fromkeys(reason for each in variants for reason in each.reasons)),
        offers=tuple(offer for each in able for offer in each.offers),
    )


def _link(motor: Motor, site: Site) -> Link | Reason:
    """The link that wants more volts than the supply has; a reason where there is none."""
    hertz = plate_hertz(motor, site)
    low = [link for link in motor.links if reached(link, hertz, site.source.voltage_v)]
    if low:
        return Reason(
            "low_voltage_link",
            f"Its winding can be linked for {low[0].line_voltage_v:.0f} V: a drive without "
            "stepping up does the same for less, at lower volts on the winding.",
        )
    if not motor.links:
        return (*motor.link_reasons, Reason("no_link", "No connection of it is known."))[0]
    return min(motor.links, key=lambda link: link.line_voltage_v)


def _inside(case: _Case) -> Judgement:
    """The drive that raises the volts inside."""
    site, output_v = case.site, boost_output_v()
    hertz = plate_hertz(case.task.motor, site)
    if not reached(case.link, hertz, output_v):
        return refused(
            NAME,
            Reason(
                "output_too_low",
                f"Drives that step up inside give {output_v:.0f} V; this winding wants "
                f"{case.link.line_voltage_v:.0f} V.",
            ),
        )
    drive = next(_drives(case, STEP_UP_DRIVE_SIZES_W, STEP_UP_DRIVE_OUTPUT_A, 1.0), None)
    if drive is None:
        return refused(NAME, _no_drive(case, "Drives that step up inside", STEP_UP_DRIVE_OUTPUT_A))
    try:
        duty = boosted_duty(
            site.source, case.circuit, drive.rating_w,
            typical=case.typical, demand=case.demand, room_a=site.room_a,
        )  # fmt: skip
    except NotComputable as refusal:
        return refused(NAME, Reason("supply_too_weak", f"{INSIDE}: {refusal}."))
    items = [item(NAME, drive.rating_w, "W", site.quotes), item("isolator", 1.0, "", site.quotes)]
    if duty.choke_fitted:
        items.append(item("ac_choke", drive.rating_w, "W", site.quotes, quote_kind="choke"))
    jobs = (drive_job(case.task.machine), "drive_settings")
    return _judged(case, drive, duty, items, jobs, INSIDE, output_v, inside_conditions(), 0.0)


def _before(case: _Case) -> Judgement:
    """The isolating transformer before a drive made for three-phase input, used on one phase."""
    site = case.site
    hertz = plate_hertz(case.task.motor, site)
    base_v = case.circuit.line_voltage_v * case.circuit.frequency_hz / hertz
    share, terms = three_phase_type_share()
    drive = next(_drives(case, DRIVE_400_SIZES_W, DRIVE_400_OUTPUT_A, share), None)
    if drive is None:
        what = f"Drives for three-phase input, used on one phase at {share:.0%} of their amps,"
        return refused(NAME, _no_drive(case, what, [share * a for a in DRIVE_400_OUTPUT_A]))
    try:
        volts = secondary_volts(site.region, LEAST_BASE_RATIO * base_v)
        of = transformer_of(site.source, case.circuit, drive.rating_w, case.demand)
        duty = transformed_duty(
            site.source, of, case.circuit, drive.rating_w,
            typical=case.typical, demand=case.demand, room_a=site.room_a,
        )  # fmt: skip
    except NotComputable as refusal:
        return refused(NAME, Reason("supply_too_weak", f"{BEFORE}: {refusal}."))
    except TableEnds as refusal:
        return refused(NAME, Reason("no_transformer", f"{BEFORE}: {refusal}."))
    items = _transformer_items(case, of, drive, volts)
    jobs = (drive_job(case.task.machine), "drive_settings", "transformer")
    told = (
        *transformer_conditions(site, of, volts),
        *(Reason(term.code, f"With the transformer: {term.words}.") for term in terms),
    )
    idle_w = of.idle_power_w().number
    return _judged(case, drive, duty, items, jobs, BEFORE, volts, told, idle_w)


def _transformer_items(case: _Case, of: Transformer, drive: _Drive, volts: float) -> list[Item]:
    quotes = case.site.quotes
    sizes_a = breaker_sizes_a(case.site.region)
    breaker_a = next_size(of.rating_va / volts, sizes_a, "breaker behind the transformer [A]")
    return [
        item("three_phase_input_drive", drive.rating_w, "W", quotes, quote_kind=NAME),
        item("isolating_transformer", of.rating_va, "VA", quotes, quote_kind="transformer"),
        item("ac_choke", drive.rating_w, "W", quotes, quote_kind="choke"),
        item("breaker_two_pole", breaker_a, "A", quotes, quote_kind="breaker"),
        item("residual_current_b", 1.0, "", quotes, quote_kind="residual_current_device"),
        item("isolator", 1.0, "", quotes),
    ]


def _drives(
    case: _Case, sizes_w: tuple[float, ...], amps: tuple[float, ...], share: float
) -> Iterator[_Drive]:
    """Drives that bear the motor and give its breakaway torque, from the smallest up."""
    for rating, amp in zip(sizes_w, amps, strict=True):
        usable = share * amp
        verdict, reason = motor_share(case.circuit.rated_current_a, usable)
        if verdict == "refused":
            continue
        heave = starting_torque_ratio(case.circuit, usable)
        if heave >= case.breakaway:
            yield _Drive(rating, usable, heave, reason, verdict == "suits")


def _no_drive(case: _Case, what: str, amps: tuple[float, ...] | list[float]) -> Reason:
    return Reason(
        "no_drive_fits",
        f"{what} give at most {max(amps):.1f} A; this motor wants "
        f"{case.circuit.rated_current_a:.1f} A and {case.breakaway:.2g} times its rated torque to "
        "break away.",
    )


def _judged(
    case: _Case, drive: _Drive, duty: Duty, items: list[Item], jobs: tuple[str, ...], what: str,
    output_v: float, conditions: tuple[Reason, ...], idle_w: float,
) -> Judgement:  # fmt: skip
    asked, speeds = asked_and_speeds(
        case.task, case.link, case.circuit, case.load, case.site, output_v
    )
    if asked.refusals:
        return refused(NAME, *asked.refusals)
    figures = driven_figures(
        duty, case.link, case.circuit, rating_w=drive.rating_w, rating_a=drive.usable_a,
        output_v=output_v, heave=drive.heave, speeds=speeds, items=items, what=what,
    )  # fmt: skip
    over = over_supply(duty, case.site, what)
    if over:
        return refused(NAME, *over, figures=figures)
    offer = Offer(
        service=Service(duty.unloaded, duty.typical, duty.demand, duty.input_current_a.number, 0.0),
        buys=(buy(NAME, drive.rating_w, "W", (case.task.motor.id,), items),),
        items=tuple(items),
        labour_h=hours_of(jobs),
        upkeep_h_per_year=hours("upkeep_drive").number,
        words=what,
        link=case.link,
        figures=figures,
        idle_power_w=idle_w,
    )
    fit = () if drive.easy else (drive.share,)
    stepped = Reason(
        "stepped_up",
        f"{what}: {output_v:.0f} V for a winding of {case.link.line_voltage_v:.0f} V that cannot "
        "be linked for less.",
    )
    told = tuple(reason for reason in asked.told if reason.code not in SAID_HERE)
    asks = tuple(reason for reason in asked.conditions if reason.code not in SAID_HERE)
    return Judgement(
        NAME,
        "with_conditions",
        link=case.link,
        reasons=(stepped, *told),
        conditions=(*fit, *asks, *case.winding, *conditions),
        figures=figures,
        offers=(offer,),
    )
