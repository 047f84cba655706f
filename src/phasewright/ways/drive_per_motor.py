"""One variable-frequency drive wired straight to one motor.

Rated by the motor's amps; its input current comes from the rectifier's periodic state with the
spread of what makers build. A drive made for three-phase input serves only at a share of its
amps and where its maker allows it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from phasewright.electronics.drive import motor_share, three_phase_type_share
from phasewright.machines.circuit import Circuit
from phasewright.machines.connection import Link
from phasewright.machines.frequency import base_point
from phasewright.machines.motor import Motor
from phasewright.quantities.codes import Buyable, WayName
from phasewright.quantities.errors import NotComputable
from phasewright.quantities.finding import Reason
from phasewright.rules.drives import link_undervoltage
from phasewright.tables.labour import hours
from phasewright.tables.sizes import (
    DRIVE_OUTPUT_A,
    DRIVE_SIZES_W,
    THREE_PHASE_DRIVE_OUTPUT_A,
    THREE_PHASE_DRIVE_SIZES_W,
)
from phasewright.ways.asked import Asked, by_rules, condition, told
from phasewright.ways.conditions import demand_ratio, typical_ratio
from phasewright.ways.drive_asks import asked_of_drive, base_of
from phasewright.ways.drive_duty import Duty, duty_of, starting_torque_ratio
from phasewright.ways.drive_speed import Speeds, speeds_of
from phasewright.ways.drive_winding import on_its_winding
from phasewright.ways.driven import (
    drive_job,
    driven_figures,
    hours_of,
    over_supply,
    plate_hertz,
    reached,
)
from phasewright.ways.motor_kind import kept_out
from phasewright.ways.purchase import Item, buy, item
from phasewright.ways.site import Site
from phasewright.ways.surroundings import amps_share, boxes, heat_ratio
from phasewright.ways.way import Judgement, Offer, Service, Task, refused, verdict_of

NAME: WayName = "drive_per_motor"
HIGHEST_INPUT_V = 265.0
"""Highest single-phase volts drives of the tables are made for: 240 V and a tenth."""


@dataclass(frozen=True, slots=True)
class _Drive:
    """A drive on the market or on the owner's shelf; `usable_a` is what it may give here."""

    rating_w: float
    usable_a: float
    three_phase_type: bool
    origin: Buyable = "new"
    owned_item: int | None = None


def judge(task: Task, site: Site) -> Judgement:
    """Verdict, figures and offer of a drive for this motor."""
    against = _kept_out(task, site)
    if against:
        return refused(NAME, *against)
    motor, of_winding = on_its_winding(task.motor, site.source.voltage_v)
    task = replace(task, motor=motor)
    link, why = _link(motor, site)
    if link is None:
        return refused(NAME, why)
    circuit, load = motor.circuit_at(link), motor.load
    assert load is not None  # a motor without one was kept out
    speeds = speeds_of(task.machine, circuit, load, base_of(link, circuit, site))
    asked = asked_of_drive(task, link, circuit, load, site, speeds) + of_winding
    if asked.refusals:
        return refused(NAME, *asked.refusals)
    judged: list[Judgement] = []
    for drive in _drives(circuit, site):
        verdict, share = motor_share(circuit.rated_current_a, drive.usable_a)
        if verdict == "refused":
            continue
        heave = starting_torque_ratio(circuit, drive.usable_a)
        if heave < load.breakaway_torque.number:
            continue
        asks = _drive_asks(drive, share, verdict == "suits")
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


def _drive_asks(drive: _Drive, share: Reason, easy: bool) -> Asked:
    """What this size and make of drive asks: how its amps fit, and its maker's word."""
    words = share.words[0].upper() + share.words[1:]
    whole = (told if easy else condition)(share.code, f"{words}.")
    if drive.three_phase_type:
        whole += Asked(conditions=three_phase_type_share()[1])
    return whole


def _kept_out(task: Task, site: Site) -> tuple[Reason, ...]:
    """Why no drive of this supply's volts turns this motor at all."""
    against = kept_out(task.motor, task.machine, NAME)
    if against or site.source.voltage_v <= HIGHEST_INPUT_V:
        return against
    return (
        Reason(
            "no_drive_at_these_volts",
            f"Drives for single-phase feed are made for up to {HIGHEST_INPUT_V:.0f} V (common "
            f"practice); this supply has {site.source.voltage_v:.0f} V.",
        ),
    )


def _link(motor: Motor, site: Site) -> tuple[Link | None, Reason]:
    """The link of the highest volts the drive still reaches at the plate's speed."""
    hertz, reach = plate_hertz(motor, site), site.source.voltage_v
    within = [link for link in motor.links if reached(link, hertz, reach)]
    if within:
        best = max(within, key=lambda link: link.line_voltage_v)
        return best, Reason("link", best.words)
    lowest = min((link.line_voltage_v for link in motor.links), default=0.0)
    at = base_point(lowest, hertz, 4, reach).frequency_hz if lowest else 0.0
    return None, Reason(
        "volts_too_low",
        f"A drive on {reach:.0f} V gives at most {reach:.0f} V; this winding wants {lowest:.0f} V. "
        f"Full flux would end at {at:.1f} Hz and the breakdown torque at {hertz:g} Hz would be "
        f"about {(reach / lowest) ** 2 * 100.0 if lowest else 0.0:.0f} % of the plate's. A drive "
        "or transformer that steps up, a converter for its volts, or a winder are the ways.",
    )


def _drives(circuit: Circuit, site: Site) -> Iterator[_Drive]:
    """Drives that may serve, the owner's first, then new ones from the smallest up."""
    need, air = circuit.rated_current_a, amps_share(site.surroundings)
    for index, part in enumerate(site.owned):
        if part.kind == "drive" and part.current and part.power is not None:
            share = 1.0 if part.input_phases != 3 else three_phase_type_share()[0]
            usable = air * part.current[0].number * share
            if usable >= need:
                yield _Drive(part.power.number, usable, part.input_phases == 3, "owned", index)
    for rating, amps in zip(DRIVE_SIZES_W, DRIVE_OUTPUT_A, strict=True):
        if air * amps >= need:
            yield _Drive(rating, air * amps, False)
    share, _ = three_phase_type_share()
    for rating, amps in zip(THREE_PHASE_DRIVE_SIZES_W, THREE_PHASE_DRIVE_OUTPUT_A, strict=True):
        if air * share * amps >= need:
            yield _Drive(rating, air * share * amps, True)


def _judged(
    task: Task, site: Site, link: Link, circuit: Circuit, drive: _Drive, heave: float,
    speeds: Speeds, asked: Asked,
) -> Judgement:  # fmt: skip
    load = task.motor.load
    assert load is not None
    try:
        duty = duty_of(
            site.source, circuit, drive.rating_w,
            typical=typical_ratio(load), demand=demand_ratio(load),
            choke=drive.three_phase_type, room_a=site.room_a,
            heat_ratio=heat_ratio(task.motor, circuit),
        )  # fmt: skip
    except NotComputable as refusal:
        return refused(NAME, Reason("supply_too_weak", f"A drive: {refusal}."))
    items = _items(drive, duty.choke_fitted, site)
    lowest = None if duty.link_min_v is None else duty.link_min_v.number
    asked += by_rules(link_undervoltage(lowest, task.motor.id))
    figures = driven_figures(
        duty, link, circuit, rating_w=drive.rating_w, rating_a=drive.usable_a,
        output_v=site.source.voltage_v, heave=heave, speeds=speeds, items=items, what="drive",
    )  # fmt: skip
    over = over_supply(duty, site, "the drive")
    if over:
        return refused(NAME, *over, figures=figures)
    return Judgement(
        NAME,
        verdict_of(asked.conditions),
        link=link,
        reasons=(Reason("link", link.words), *asked.told),
        conditions=asked.conditions,
        figures=figures,
        offers=(_offer(task, drive, duty, items),),
    )


def _items(drive: _Drive, choke: bool, site: Site) -> list[Item]:
    kind = "three_phase_input_drive" if drive.three_phase_type else "drive_per_motor"
    items = [
        item(kind, drive.rating_w, "W", site.quotes, origin=drive.origin, quote_kind=NAME),
        item("isolator", 1.0, "", site.quotes),
        *boxes(site, drive.rating_w),
    ]
    if choke:
        items.append(item("ac_choke", drive.rating_w, "W", site.quotes, quote_kind="choke"))
    return items


def _offer(task: Task, drive: _Drive, duty: Duty, items: list[Item]) -> Offer:
    return Offer(
        service=Service(duty.unloaded, duty.typical, duty.demand, duty.input_current_a.number, 0.0),
        buys=(buy(NAME, drive.rating_w, "W", (task.motor.id,), items, origin=drive.origin),),
        items=tuple(items),
        labour_h=hours_of((drive_job(task.machine), "drive_settings")),
        upkeep_h_per_year=hours("upkeep_drive").number,
        owned_item=drive.owned_item,
    )
