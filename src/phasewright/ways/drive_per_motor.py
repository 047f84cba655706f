"""One variable-frequency drive wired straight to one motor.

Rated by the motor's amps; its input current comes from the rectifier's periodic state with the
spread of what makers build. A drive made for three-phase input serves only at a share of its
amps and where its maker allows it.
"""

from __future__ import annotations

from dataclasses import replace

from phasewright.electronics.drive import motor_share
from phasewright.machines.circuit import Circuit
from phasewright.machines.connection import Link
from phasewright.machines.performance import rated
from phasewright.quantities.codes import WayName
from phasewright.quantities.errors import NotComputable
from phasewright.quantities.finding import Reason
from phasewright.rules.drives import link_undervoltage, phase_watch
from phasewright.rules.stopping import isolation
from phasewright.tables.labour import hours
from phasewright.ways.asked import Asked, by_rules
from phasewright.ways.chokes import choke_told
from phasewright.ways.conditions import demand_ratio, typical_ratio
from phasewright.ways.drive_asks import asked_of_drive, base_of
from phasewright.ways.drive_case import Driven
from phasewright.ways.drive_duty import Duty, duty_of, starting_torque_ratio
from phasewright.ways.drive_here import (
    Drive,
    drive_items,
    drive_link,
    drives_from,
    kept_off_drives,
    of_size,
)
from phasewright.ways.drive_in_time import on_this_drive
from phasewright.ways.drive_norms import meets_norms, norm_rulings
from phasewright.ways.drive_settings import with_sheet
from phasewright.ways.drive_speed import Speeds, speeds_of
from phasewright.ways.drive_winding import on_its_winding
from phasewright.ways.driven import (
    drive_job,
    driven_figures,
    hours_of,
    over_supply,
)
from phasewright.ways.motor_lead import lead_items
from phasewright.ways.motor_side import Hung, with_motor_side
from phasewright.ways.purchase import Item, buy
from phasewright.ways.site import Site
from phasewright.ways.stopping import stop_of
from phasewright.ways.surroundings import heat_ratio
from phasewright.ways.way import Judgement, Offer, Service, Task, refused, verdict_of

NAME: WayName = "drive_per_motor"


def judge(task: Task, site: Site) -> Judgement:
    """Verdict, figures and offer of a drive for this motor."""
    against = kept_off_drives(task, site, NAME)
    if against:
        return refused(NAME, *against)
    motor, of_winding = on_its_winding(task.motor, site.source.voltage_v)
    task = replace(task, motor=motor)
    link, why = drive_link(motor, site)
    if link is None:
        return refused(NAME, why)
    circuit, load = motor.circuit_at(link), motor.load
    assert load is not None  # a motor without one was kept out
    speeds = speeds_of(task.machine, task.motor, circuit, load, base_of(link, circuit, site))
    asked = asked_of_drive(task, link, circuit, load, site, speeds) + of_winding
    if asked.refusals:
        return refused(NAME, *asked.refusals)
    judged: list[Judgement] = []
    for drive in drives_from(circuit.rated_current_a, site):
        verdict, share = motor_share(circuit.rated_current_a, drive.usable_a)
        if verdict == "refused":
            continue
        heave = starting_torque_ratio(circuit, drive.usable_a)
        if heave < load.breakaway_torque.number:
            continue
        asks = of_size(drive, share, verdict == "suits")
        judged.append(_judged(task, site, link, circuit, drive, heave, speeds, asked + asks))
        if drive.origin != "owned":
            break
    if judged:
        offers = tuple(offer for each in judged for offer in each.offers)
        return replace(judged[0], offers=offers)
    return refused(
        NAME,
        Reason(
            "no_drive_fits",
            f"No drive for {site.source.voltage_v:.0f} V single-phase feed in the tables gives "
            f"this motor's {circuit.rated_current_a:.1f} A and its starting torque.",
        ),
    )


def _judged(
    task: Task, site: Site, link: Link, circuit: Circuit, drive: Drive, heave: float,
    speeds: Speeds, asked: Asked,
) -> Judgement:  # fmt: skip
    load = task.motor.load
    assert load is not None
    try:
        duty = duty_of(
            site.source, circuit, drive.rating_w,
            typical=typical_ratio(load), demand=demand_ratio(load),
            choke=None, three_phase_type=drive.three_phase_type, room_a=site.room_a,
            heat_ratio=heat_ratio(task.motor, circuit), meets=meets_norms(task, site),
        )  # fmt: skip
    except NotComputable as refusal:
        return refused(NAME, Reason("supply_too_weak", f"A drive: {refusal}."))
    on = on_this_drive(task.motor, circuit, drive.usable_a, drive.rating_w, site.source.voltage_v)
    stop = stop_of(task.machine, task.motor, on, site)
    of_lead = lead_items(
        task.machine, task.motor, rated(circuit).shaft_power_w, site.source.voltage_v, site
    )
    items = [*drive_items(drive, duty.choke, site), *stop.items, *of_lead]
    lowest = None if duty.link_min_v is None else duty.link_min_v.number
    asked += by_rules(
        link_undervoltage(lowest, task.motor.id),
        phase_watch(duty.ripple_share, drive.three_phase_type, task.motor.id),
        *norm_rulings(duty, task, site),
        isolation(any(each.kind == "isolator" for each in items), task.motor.id),
    )  # fmt: skip
    figures = driven_figures(
        duty, link, circuit, rating_w=drive.rating_w, rating_a=drive.usable_a,
        output_v=site.source.voltage_v, heave=heave, speeds=speeds, items=items, what="drive",
    )  # fmt: skip
    figures, asked = stop.told_in(figures), asked + stop.asked
    hung = Hung(task, link, circuit, load, speeds, site.source.voltage_v, drive.usable_a)
    figures, of_motor = with_motor_side(figures, hung, site)
    asked += of_motor
    over = over_supply(duty, site, "the drive")
    if over:
        return refused(NAME, *over, figures=figures)
    figures = with_sheet(
        Driven(task.machine, task.motor, circuit, figures, site.quiet,
               three_phase_type=drive.three_phase_type)
    )  # fmt: skip
    return Judgement(
        NAME,
        verdict_of(asked.conditions),
        link=link,
        reasons=(
            Reason("link", link.words),
            *choke_told(duty.choke, site.source, drive.rating_w),
            *asked.told,
        ),
        conditions=asked.conditions,
        figures=figures,
        offers=(_offer(task, drive, duty, items),),
    )


def _offer(task: Task, drive: Drive, duty: Duty, items: list[Item]) -> Offer:
    return Offer(
        service=Service(duty.unloaded, duty.typical, duty.demand, duty.input_current_a.number, 0.0),
        buys=(buy(NAME, drive.rating_w, "W", (task.motor.id,), items, origin=drive.origin),),
        items=tuple(items),
        labour_h=hours_of((drive_job(task.machine), "drive_settings")),
        upkeep_h_per_year=hours("upkeep_drive").number,
        owned_item=drive.owned_item,
    )
