"""The drives for one phase that could stand here, and how a motor is linked on one.

What a drive of its own and a shared one have in common before anything is computed of the motor's
loads. A drive made for three-phase input serves only at a share of its amps and where its maker
allows it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from phasewright.electronics.drive import three_phase_type_share
from phasewright.machines.frequency import base_point
from phasewright.machines.link import Link
from phasewright.machines.motor import Motor
from phasewright.quantities.codes import Buyable, WayName
from phasewright.quantities.finding import Reason
from phasewright.tables.sizes import (
    DRIVE_OUTPUT_A,
    DRIVE_SIZES_W,
    THREE_PHASE_DRIVE_OUTPUT_A,
    THREE_PHASE_DRIVE_SIZES_W,
)
from phasewright.tables.stepping_up import doubles, usual_input_v
from phasewright.ways.asked import Asked, condition, told
from phasewright.ways.chokes import Choke, choke_item
from phasewright.ways.driven import plate_hertz, reached
from phasewright.ways.motor_kind import kept_out
from phasewright.ways.purchase import Item, item
from phasewright.ways.site import Site
from phasewright.ways.surroundings import amps_share, boxes
from phasewright.ways.way import Task


@dataclass(frozen=True, slots=True)
class Drive:
    """A drive on the market or on the owner's shelf; `usable_a` is what it may give here."""

    rating_w: float
    usable_a: float
    three_phase_type: bool
    origin: Buyable = "new"
    owned_item: int | None = None


def kept_off_drives(task: Task, site: Site, way: WayName) -> tuple[Reason, ...]:
    """Why no drive of this supply's volts turns this motor at all."""
    against = kept_out(task.motor, task.machine, way)
    return against or no_drive_at(site.source.voltage_v)


def no_drive_at(supply_v: float) -> tuple[Reason, ...]:
    """Why no ordinary drive is made for this supply's volts; nothing where some are."""
    low, high = usual_input_v()
    if low <= supply_v <= high:
        return ()
    doubling = " Small ones that double 100 to 120 V inside are judged as drives that step up."
    return (
        Reason(
            "no_drive_at_these_volts",
            f"Drives for single-phase feed are made for {low:.0f} to {high:.0f} V (common "
            f"practice); this supply has {supply_v:.0f} V."
            + (doubling if doubles(supply_v) else ""),
        ),
    )


def drive_link(motor: Motor, site: Site) -> tuple[Link | None, Reason]:
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
        f"about {(reach / lowest) ** 2 if lowest else 0.0:.0%} of the plate's. A drive "
        "or transformer that steps up, a converter for its volts, or a winder are the ways.",
    )


def drives_from(need_a: float, site: Site) -> Iterator[Drive]:
    """Drives that may serve, the owner's first, then new ones from the smallest up."""
    air = amps_share(site.surroundings)
    for index, part in enumerate(site.owned):
        if part.kind == "drive" and part.current and part.power is not None:
            share = 1.0 if part.input_phases != 3 else three_phase_type_share()[0]
            usable = air * part.current[0].number * share
            if usable >= need_a:
                yield Drive(part.power.number, usable, part.input_phases == 3, "owned", index)
    for rating, amps in zip(DRIVE_SIZES_W, DRIVE_OUTPUT_A, strict=True):
        if air * amps >= need_a:
            yield Drive(rating, air * amps, False)
    share, _ = three_phase_type_share()
    for rating, amps in zip(THREE_PHASE_DRIVE_SIZES_W, THREE_PHASE_DRIVE_OUTPUT_A, strict=True):
        if air * share * amps >= need_a:
            yield Drive(rating, air * share * amps, True)


def of_size(drive: Drive, share: Reason, easy: bool) -> Asked:
    """What this size and make of drive asks: how its amps fit, and its maker's word."""
    words = share.words[0].upper() + share.words[1:]
    whole = (told if easy else condition)(share.code, f"{words}.")
    if drive.three_phase_type:
        whole += Asked(conditions=three_phase_type_share()[1])
    return whole


def drive_items(drive: Drive, choke: Choke, site: Site) -> list[Item]:
    """What is bought for a drive: itself, an isolator, a box and a choke where it has them."""
    kind = "three_phase_input_drive" if drive.three_phase_type else "drive_per_motor"
    items = [
        item(
            kind,
            drive.rating_w,
            "W",
            site.quotes,
            origin=drive.origin,
            quote_kind="drive_per_motor",
        ),
        item("isolator", 1.0, "", site.quotes),
        *boxes(site, drive.rating_w),
    ]
    if choke.fitted:
        items.append(choke_item(choke, drive.rating_w, site))
    return items
