"""One drive for several like motors, one at a time, changed over at rest and interlocked.

Sized for the largest of them; each has its own overload relay. Several turn together only where
they are like and the drive carries the sum of their amps.
"""

from __future__ import annotations

from dataclasses import replace

from phasewright.quantities.finding import Reason
from phasewright.tables.labour import hours
from phasewright.ways.drive_here import Drive, drive_items, drives_from
from phasewright.ways.driven import drive_job, hours_of
from phasewright.ways.purchase import buy, total
from phasewright.ways.shared_drive_here import shared
from phasewright.ways.shared_drive_motor import NAME, Candidate, candidate
from phasewright.ways.shared_drive_serve import OnDrive, on_drive, serve, shown_on
from phasewright.ways.shared_source import Served
from phasewright.ways.site import Site
from phasewright.ways.way import Judgement, Offer, Task, refused, verdict_of

__all__ = ["NAME", "judge", "shared"]


def judge(task: Task, site: Site) -> Judgement:
    """Verdict, figures and offer of a shared drive sized for this motor alone."""
    one = candidate(task, site)
    if not isinstance(one, Candidate):
        return refused(NAME, *one)
    last: tuple[Reason, ...] = ()
    for drive in drives_from(one.amps, site):
        on = on_drive(one, drive, site, None)
        if not isinstance(on, OnDrive):
            last = last or on
            continue
        served = serve(one, one, on)
        if isinstance(served, Served):
            return _judged(one, site, drive, on, served)
        last = last or served
    return refused(NAME, *(last or (_none_fits(one, site),)))


def _none_fits(one: Candidate, site: Site) -> Reason:
    return Reason(
        "no_drive_fits",
        f"No drive for {site.source.voltage_v:.0f} V single-phase feed in the tables gives this "
        f"motor's {one.amps:.1f} A.",
    )


def _judged(one: Candidate, site: Site, drive: Drive, on: OnDrive, served: Served) -> Judgement:
    items = (*drive_items(drive, on.duty.choke, site), one.relay, *one.stop.items)
    return Judgement(
        NAME,
        verdict_of(served.conditions),
        link=served.link,
        reasons=(
            Reason(
                "place_beyond_the_first",
                f"As the motor the drive is sized for; on a drive sized for a larger one it takes "
                f"a place of its own, {one.place.amount:.0f} ({one.place.price.origin}).",
            ),
            Reason("link", served.link.words),
            *served.told,
        ),
        conditions=served.conditions,
        figures=replace(
            shown_on(one, drive, site, served.figures), price=total(items, "shared drive")
        ),
        offers=(
            Offer(
                served.service,
                (buy(NAME, drive.rating_w, "W", (one.task.motor.id,), items,
                     origin=drive.origin),),
                items,
                hours_of((drive_job(one.task.machine), "drive_settings")),
                hours("upkeep_drive").number,
                owned_item=drive.owned_item,
            ),
        ),
    )  # fmt: skip
