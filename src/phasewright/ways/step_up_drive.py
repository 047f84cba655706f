"""A drive with a 400 V class output on a low-voltage supply, or a transformer before such a drive.

For motors whose winding cannot be linked for the supply's own volts. The drive that raises the
volts inside comes first; the isolating transformer before a drive made for three-phase input is
its variant. Safety of the transformer's secondary (centre earthed, own residual-current device,
no autotransformer in a garage shop): NFPA 70 (NEC) 210.9 and 215.11, and common practice.
"""

from __future__ import annotations

from dataclasses import replace

from phasewright.electronics.drive import three_phase_type_share
from phasewright.machines.link import Link
from phasewright.machines.motor import Motor
from phasewright.quantities.codes import Buyable
from phasewright.quantities.errors import NotComputable, TableEnds
from phasewright.quantities.finding import Reason
from phasewright.tables.sizes import (
    DOUBLING_DRIVE_OUTPUT_A,
    DOUBLING_DRIVE_SIZES_W,
    DRIVE_400_OUTPUT_A,
    DRIVE_400_SIZES_W,
    DRIVE_OUTPUT_A,
    DRIVE_SIZES_W,
    STEP_UP_DRIVE_OUTPUT_A,
    STEP_UP_DRIVE_SIZES_W,
    breaker_sizes_a,
    next_size,
)
from phasewright.tables.stepping_up import (
    Transformer,
    boost_output_v,
    doubles,
    secondary_volts,
    usual_input_v,
)
from phasewright.ways.chokes import choke_item, usual
from phasewright.ways.conditions import demand_ratio, typical_ratio
from phasewright.ways.doubling import TIMES, doubled_conditions, doubled_duty
from phasewright.ways.drive_here import no_drive_at
from phasewright.ways.drive_winding import on_its_winding
from phasewright.ways.driven import LEAST_BASE_RATIO, drive_job, plate_hertz, reached
from phasewright.ways.motor_kind import kept_out
from phasewright.ways.owned_transformer import owned_transformers
from phasewright.ways.purchase import Item, item
from phasewright.ways.site import Site
from phasewright.ways.step_up_case import NAME as NAME
from phasewright.ways.step_up_case import Case, Drive, drives_for, judged_on, no_drive
from phasewright.ways.step_up_conditions import inside_conditions, transformer_conditions, winding
from phasewright.ways.stepping_up import boosted_duty, transformed_duty, transformer_of
from phasewright.ways.surroundings import boxes
from phasewright.ways.way import Judgement, Task, refused, verdict_of

INSIDE = "a drive that steps up inside"
DOUBLING = "a drive that doubles the supply's volts inside"
BEFORE = "a step-up transformer before a drive"
BEFORE_OWNED = "the transformer you own before a drive"


def judge(task: Task, site: Site) -> Judgement:
    """Verdict, figures and offers of the two ways to step up before this motor's drive."""
    against = kept_out(task.motor, task.machine, NAME)
    if against:
        return refused(NAME, *against)
    motor, of_winding = on_its_winding(task.motor, boost_output_v())
    task, load = replace(task, motor=motor), motor.load
    assert load is not None  # a motor without one was kept out
    found = _link(motor, site)
    if isinstance(found, Reason):
        return refused(NAME, found)
    case = Case(
        task, site, found, motor.circuit_at(found), load,
        (*winding(motor, found), *of_winding.conditions),
        load.breakaway_torque.number, typical_ratio(load), demand_ratio(load),
    )  # fmt: skip
    return _both([_inside(case), *_before(case)])


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


def _doubling(case: Case) -> Judgement:
    """The drive that doubles 100 to 120 V inside, for a winding of the 230 V class."""
    site, output_v = case.site, TIMES * case.site.source.voltage_v
    if not reached(case.link, plate_hertz(case.task.motor, site), output_v):
        return refused(NAME, _too_low("double their supply's volts inside", output_v, case))
    drive = next(drives_for(case, DOUBLING_DRIVE_SIZES_W, DOUBLING_DRIVE_OUTPUT_A, 1.0), None)
    if drive is None:
        what = "Drives that double their supply's volts inside"
        return refused(NAME, no_drive(case, what, DOUBLING_DRIVE_OUTPUT_A))
    try:
        duty = doubled_duty(
            site.source, case.circuit, drive.rating_w,
            typical=case.typical, demand=case.demand, room_a=site.room_a,
        )  # fmt: skip
    except NotComputable as refusal:
        return refused(NAME, Reason("supply_too_weak", f"{DOUBLING}: {refusal}."))
    quotes, told = site.quotes, doubled_conditions(duty, case.circuit, site.source.voltage_v)
    items = [
        item("drive_per_motor", drive.rating_w, "W", quotes, quote_kind=NAME),
        item("isolator", 1.0, "", quotes),
        *boxes(site, drive.rating_w),
    ]
    if duty.choke_fitted:
        items.append(choke_item(duty.choke, drive.rating_w, site))
    jobs = (drive_job(case.task.machine), "drive_settings")
    return judged_on(case, drive, duty, items, jobs, DOUBLING, output_v, told, 0.0)


def _too_low(what: str, output_v: float, case: Case) -> Reason:
    return Reason(
        "output_too_low",
        f"Drives that {what} give {output_v:.0f} V; this winding wants "
        f"{case.link.line_voltage_v:.0f} V.",
    )


def _inside(case: Case) -> Judgement:
    """The drive that raises the volts inside, to the class of the supply's."""
    if doubles(case.site.source.voltage_v):
        return _doubling(case)
    against = no_drive_at(case.site.source.voltage_v)
    return refused(NAME, *against) if against else _boosting(case)


def _boosting(case: Case) -> Judgement:
    """The drive with a 400 V class output on 200 to 240 V."""
    site, output_v = case.site, boost_output_v()
    hertz = plate_hertz(case.task.motor, site)
    if not reached(case.link, hertz, output_v):
        return refused(NAME, _too_low("step up inside", output_v, case))
    drive = next(drives_for(case, STEP_UP_DRIVE_SIZES_W, STEP_UP_DRIVE_OUTPUT_A, 1.0), None)
    if drive is None:
        return refused(NAME, no_drive(case, "Drives that step up inside", STEP_UP_DRIVE_OUTPUT_A))
    try:
        duty = boosted_duty(
            site.source, case.circuit, drive.rating_w,
            typical=case.typical, demand=case.demand, room_a=site.room_a,
        )  # fmt: skip
    except NotComputable as refusal:
        return refused(NAME, Reason("supply_too_weak", f"{INSIDE}: {refusal}."))
    items = [item(NAME, drive.rating_w, "W", site.quotes), item("isolator", 1.0, "", site.quotes)]
    items += boxes(site, drive.rating_w)
    if duty.choke_fitted:
        items.append(choke_item(duty.choke, drive.rating_w, site))
    jobs = (drive_job(case.task.machine), "drive_settings")
    return judged_on(case, drive, duty, items, jobs, INSIDE, output_v, inside_conditions(), 0.0)


def _before(case: Case) -> list[Judgement]:
    """The isolating transformer before a drive: one made for three-phase input and used on one
    phase; for a winding of the 230 V class an ordinary one."""
    site = case.site
    hertz = plate_hertz(case.task.motor, site)
    base_v = case.circuit.line_voltage_v * case.circuit.frequency_hz / hertz
    share, sizes, amps = three_phase_type_share()[0], DRIVE_400_SIZES_W, DRIVE_400_OUTPUT_A
    what = f"Drives for three-phase input, used on one phase at {share:.0%} of their amps,"
    if _low_class(case):
        share, sizes, amps, what = 1.0, DRIVE_SIZES_W, DRIVE_OUTPUT_A, "Drives for one phase"
    drive = next(drives_for(case, sizes, amps, share), None)
    if drive is None:
        return [refused(NAME, no_drive(case, what, [share * a for a in amps]))]
    try:
        volts = secondary_volts(site.region, LEAST_BASE_RATIO * base_v)
        new = transformer_of(
            site.source, case.circuit, drive.rating_w, case.demand,
            three_phase_type=not _low_class(case),
        )  # fmt: skip
    except NotComputable as refusal:
        return [refused(NAME, Reason("supply_too_weak", f"{BEFORE}: {refusal}."))]
    except TableEnds as refusal:
        return [refused(NAME, Reason("no_transformer", f"{BEFORE}: {refusal}."))]
    had = owned_transformers(site, new, LEAST_BASE_RATIO * base_v)
    return [
        refused(NAME, each) if isinstance(each, Reason) else _behind(case, drive, *each)
        for each in (*had, (new, volts, None))
    ]


def _low_class(case: Case) -> bool:
    """Whether ordinary drives of the 230 V class feed this winding."""
    return reached(case.link, plate_hertz(case.task.motor, case.site), usual_input_v()[1])


def _behind(
    case: Case, drive: Drive, of: Transformer, volts: float, owned: int | None
) -> Judgement:
    """The drive behind this transformer; `owned` is its place among the owner's parts."""
    site, what = case.site, BEFORE if owned is None else BEFORE_OWNED
    try:
        duty = transformed_duty(
            site.source, of, case.circuit, drive.rating_w,
            typical=case.typical, demand=case.demand, room_a=site.room_a, secondary_v=volts,
            three_phase_type=not _low_class(case),
        )  # fmt: skip
    except NotComputable as refusal:
        return refused(NAME, Reason("supply_too_weak", f"{what}: {refusal}."))
    items = _transformer_items(case, of, drive, volts, "new" if owned is None else "owned")
    jobs = (drive_job(case.task.machine), "drive_settings", "transformer")
    low = _low_class(case)
    terms = () if low else three_phase_type_share()[1]
    told = (
        *transformer_conditions(site, of, volts),
        *(Reason(term.code, f"With the transformer: {term.words}.") for term in terms),
    )
    idle_w = of.idle_power_w().number
    return judged_on(
        case,
        drive,
        duty,
        items,
        jobs,
        what,
        volts,
        told,
        idle_w,
        owned,
        three_phase_type=not low,
    )


def _transformer_items(
    case: Case, of: Transformer, drive: Drive, volts: float, origin: Buyable
) -> list[Item]:
    quotes = case.site.quotes
    kind = "drive_per_motor" if _low_class(case) else "three_phase_input_drive"
    sizes_a = breaker_sizes_a(case.site.region)
    breaker_a = next_size(of.rating_va / volts, sizes_a, "breaker behind the transformer [A]")
    return [
        item(kind, drive.rating_w, "W", quotes, quote_kind=NAME),
        item(
            "isolating_transformer",
            of.rating_va,
            "VA",
            quotes,
            origin=origin,
            quote_kind="transformer",
        ),
        choke_item(usual(), drive.rating_w, case.site),
        item("breaker_two_pole", breaker_a, "A", quotes, quote_kind="breaker"),
        item("residual_current_b", 1.0, "", quotes, quote_kind="residual_current_device"),
        item("isolator", 1.0, "", quotes),
        *boxes(case.site, drive.rating_w),
    ]
