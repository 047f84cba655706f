"""What both ways of stepping up share: the motor's case, a drive that fits, the judgement of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from phasewright.electronics.drive import motor_share
from phasewright.machines.circuit import Circuit
from phasewright.machines.link import Link
from phasewright.machines.load import Load
from phasewright.machines.performance import rated
from phasewright.quantities.codes import WayName
from phasewright.quantities.finding import Reason
from phasewright.tables.labour import hours
from phasewright.ways.asked import by_rules
from phasewright.ways.drive_case import Driven
from phasewright.ways.drive_duty import Duty, starting_torque_ratio
from phasewright.ways.drive_in_time import on_this_drive
from phasewright.ways.drive_norms import norm_rulings
from phasewright.ways.drive_settings import with_sheet
from phasewright.ways.driven import asked_and_speeds, driven_figures, hours_of, over_supply
from phasewright.ways.motor_lead import lead_items
from phasewright.ways.motor_side import Hung, with_motor_side
from phasewright.ways.purchase import Item, buy
from phasewright.ways.site import Site
from phasewright.ways.stopping import stop_of
from phasewright.ways.surroundings import amps_share
from phasewright.ways.way import Judgement, Offer, Service, Task, refused

NAME: WayName = "step_up_drive"
SAID_HERE = ("old_winding", "motor_kind_two_speed")
"""What any drive asks and this one asks in words of its own, at the higher volts."""


@dataclass(frozen=True, slots=True)
class Case:
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
class Drive:
    """A size of drive and the amps it may give here, with what it means for this motor."""

    rating_w: float
    usable_a: float
    heave: float
    share: Reason
    easy: bool


def drives_for(
    case: Case, sizes_w: tuple[float, ...], amps: tuple[float, ...], share: float
) -> Iterator[Drive]:
    """Drives that bear the motor and give its breakaway torque, from the smallest up."""
    for rating, amp in zip(sizes_w, amps, strict=True):
        usable = amps_share(case.site.surroundings) * share * amp
        verdict, reason = motor_share(case.circuit.rated_current_a, usable)
        if verdict == "refused":
            continue
        heave = starting_torque_ratio(case.circuit, usable)
        if heave >= case.breakaway:
            yield Drive(rating, usable, heave, reason, verdict == "suits")


def no_drive(case: Case, what: str, amps: tuple[float, ...] | list[float]) -> Reason:
    """Why no drive of a kind serves: the most it gives and what the motor wants."""
    return Reason(
        "no_drive_fits",
        f"{what} give at most {max(amps):.1f} A; this motor wants "
        f"{case.circuit.rated_current_a:.1f} A and {case.breakaway:.2g} times its rated torque to "
        "break away.",
    )


def judged_on(
    case: Case, drive: Drive, duty: Duty, items: list[Item], jobs: Sequence[str], what: str,
    output_v: float, conditions: tuple[Reason, ...], idle_w: float, owned: int | None = None,
    *, three_phase_type: bool = False,
) -> Judgement:  # fmt: skip
    """The judgement of one variant on this drive; no offer where something stands against it.

    `three_phase_type`: the drive was made for three-phase input.
    """
    asked, speeds = asked_and_speeds(
        case.task, case.link, case.circuit, case.load, case.site, output_v
    )
    if asked.refusals:
        return refused(NAME, *asked.refusals)
    on = on_this_drive(
        case.task.motor, case.circuit, drive.usable_a, drive.rating_w, case.site.source.voltage_v
    )
    stop = stop_of(case.task.machine, case.task.motor, on, case.site)
    of_lead = lead_items(
        case.task.machine, case.task.motor, rated(case.circuit).shaft_power_w, output_v, case.site
    )
    asked, items = asked + stop.asked, [*items, *stop.items, *of_lead]
    figures = driven_figures(
        duty, case.link, case.circuit, rating_w=drive.rating_w, rating_a=drive.usable_a,
        output_v=output_v, heave=drive.heave, speeds=speeds, items=items, what=what,
    )  # fmt: skip
    figures = stop.told_in(figures)
    hung = Hung(
        case.task, case.link, case.circuit, case.load, speeds, output_v, drive.usable_a
    )  # fmt: skip
    figures, of_motor = with_motor_side(figures, hung, case.site)
    asked += of_motor
    over = over_supply(duty, case.site, what)
    if over:
        return refused(NAME, *over, figures=figures)
    motor = case.task.motor
    figures = with_sheet(
        Driven(case.task.machine, motor, case.circuit, figures, case.site.quiet,
               three_phase_type=three_phase_type)
    )  # fmt: skip
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
        owned_item=owned,
    )
    fit = () if drive.easy else (drive.share,)
    stepped = Reason(
        "stepped_up",
        f"{what}: {output_v:.0f} V for a winding of {case.link.line_voltage_v:.0f} V that cannot "
        "be linked for less.",
    )
    asked += by_rules(*norm_rulings(duty, case.task, case.site))
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
