"""The shared drives that could stand in a shop: each with the motor it is sized for.

The trade prices the places beyond the first. The first is the drive's own and belongs to the
motor it is sized for, the one whose place would cost most (of equal ones that of most amps): so
every drive stands here once for each motor that may be that one, with those that come after it.
Then the parts of a plan add up exactly: the drive, an overload relay for the first motor, a place
for every other.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from phasewright.quantities.errors import TableEnds
from phasewright.quantities.finding import Finding, Reason
from phasewright.quantities.units import format as printed
from phasewright.quantities.words import place_words
from phasewright.rules.drives import selector_interlocked
from phasewright.tables.drives import changeover_minutes
from phasewright.tables.labour import hours
from phasewright.ways.chokes import Choke
from phasewright.ways.drive_here import Drive, drive_items, drives_from
from phasewright.ways.driven import drive_job, hours_of
from phasewright.ways.shared_drive_motor import NAME, Candidate, candidate, like
from phasewright.ways.shared_drive_serve import OnDrive, Turns, figures_of, on_drive, serve
from phasewright.ways.shared_source import Had, Said, Served, Shared, Work
from phasewright.ways.site import Site

DRIVE = "shared drive"
Each = Served | tuple[Reason, ...]
Reach = tuple[frozenset[int], tuple[float, ...]]


@dataclass(slots=True)
class Shop:
    """The candidates of a shop by number, and what was computed of each on each drive."""

    site: Site
    work: Work
    known: dict[int, Candidate | tuple[Reason, ...]]
    tried: dict[tuple[int, Drive, Choke | None], OnDrive | tuple[Reason, ...]] = field(
        default_factory=dict
    )

    @property
    def able(self) -> dict[int, Candidate]:
        """Those that a drive of this supply turns."""
        return {k: one for k, one in self.known.items() if isinstance(one, Candidate)}

    def on(self, k: int, drive: Drive, choke: Choke | None) -> OnDrive | tuple[Reason, ...]:
        """A candidate on a drive, computed once."""
        key = (k, drive, choke)
        if key not in self.tried:
            one = self.tried[key] = on_drive(self.able[k], drive, self.site, choke)
            if choke is None and isinstance(one, OnDrive):
                self.tried[k, drive, one.duty.choke] = one
        return self.tried[key]

    def together(self, one: int, other: int) -> bool:
        """Whether two of them may turn at one time."""
        return any({one, other} <= group for group in self.work.groups)


def shared(site: Site, work: Work) -> tuple[Shared, ...]:
    """Every drive worth sharing, by the motor it is sized for."""
    known = {
        k: candidate(task, site) if there.place == site.place else (_elsewhere(site),)
        for k, (task, there) in enumerate(work.reached(site))
    }
    shop = Shop(site, work, known)
    able = shop.able
    order = sorted(able, key=lambda k: (-able[k].place.amount, -able[k].amps, k))
    found: list[Shared] = []
    for at, lead in enumerate(order):
        found += _sized_for(shop, lead, order[at + 1 :])
    return tuple(found)


def _elsewhere(site: Site) -> Reason:
    """A drive and its selector stand beside the machines that share it."""
    where = f"in {place_words(site.place)}" if site.place else "at the intake"
    return Reason(
        "stands_elsewhere", f"A shared drive with its selector {where} serves the machines there."
    )


def _sized_for(shop: Shop, lead: int, others: list[int]) -> Iterator[Shared]:
    """The drives sized for one motor: the owner's, then new ones, each larger than those before
    it and serving more."""
    kept: list[Reach] = []
    largest_a, enough_a = 0.0, _enough_a(shop, [lead, *others])
    for drive in drives_from(shop.able[lead].amps, shop.site):
        new = drive.origin != "owned"
        if new and drive.usable_a <= largest_a:
            continue
        one = _standing(shop, lead, others, drive)
        if one is None or not _worth_it(shop, one, lead, others):
            continue
        reach = _reach(shop, one, drive)
        if not new:
            yield one
        elif not any(_within(reach, before) for before in kept):
            kept.append(reach)
            largest_a = drive.usable_a
            yield one
        if new and drive.usable_a >= enough_a and not _starts_too_hard(one):
            break


def _enough_a(shop: Shop, those: list[int]) -> float:
    """Amps beyond which a drive carries nothing more of these, alone or together."""
    able = shop.able
    alone = max(able[k].amps for k in those)
    sums = (
        sum(able[j].amps for j in group & {*those} if like(able[j], able[k]))
        for group in shop.work.groups
        for k in group & {*those}
    )
    return max(alone, max(sums, default=0.0))


def _starts_too_hard(on: Shared) -> bool:
    """Whether a larger drive would start a motor that this one does not."""
    return any(one[0].code == "start_too_hard" for one in on.served if not isinstance(one, Served))


def _standing(shop: Shop, lead: int, others: list[int], drive: Drive) -> Shared | None:
    """This drive as something shared; None where its own motor does not fit it."""
    able, on = shop.able, shop.on(lead, drive, None)
    if not isinstance(on, OnDrive):
        return None
    choke = on.duty.choke
    try:
        items = tuple(drive_items(drive, choke, shop.site))
    except TableEnds:
        return None
    served = {k: _served(shop, k, lead, drive, choke, others) for k in shop.known}
    turns = Turns(
        drive, choke, shop.site,
        {able[k].task.motor.id: (able[k], one)
         for k, one in served.items() if isinstance(one, Served)},
    )  # fmt: skip
    mine = "your" if drive.origin == "owned" else "one"
    return Shared(
        way=NAME,
        name=DRIVE,
        rating=drive.rating_w,
        unit="W",
        hads=(
            Had(
                drive.origin,
                items,
                hours_of((drive_job(able[lead].task.machine), "drive_settings")),
                hours("upkeep_drive").number,
                drive.owned_item,
                f"{mine} drive of {drive.rating_w / 1000.0:.3g} kW with a selector",
            ),
        ),
        served=tuple(_told_together(shop, turns, k, served[k]) for k in sorted(served)),
        turning=turns,
        said=_said(),
        figures=figures_of(drive),
        findings=_selector(drive, served),
        generated_line=False,
        three_lines=False,
        in_time=turns.in_time,
    )


def _served(
    shop: Shop, k: int, lead: int, drive: Drive, choke: Choke, others: list[int]
) -> Each:  # fmt: skip
    one = shop.known[k]
    if not isinstance(one, Candidate):
        return one
    if k != lead and k not in others:
        words = f"With {shop.able[lead].task.motor.id} on it too, the drive is sized for this one."
        return (Reason("sized_for_another", words),)
    on = shop.on(k, drive, None if k == lead else choke)
    return serve(one, shop.able[lead], on) if isinstance(on, OnDrive) else on


def _told_together(shop: Shop, turns: Turns, k: int, one: Each) -> Each:
    """The motor with whom it may turn at one time, and how."""
    if not isinstance(one, Served):
        return one
    names = [
        other.task.motor.id
        for j, other in shop.able.items()
        if j != k and shop.together(j, k) and _stand(shop, turns, j, k)
    ]
    if not names:
        return one
    words = (
        f"With {', '.join(names)}, which is like it, only closed in together at rest and started "
        "by one ramp, never one onto the other."
    )
    return replace(one, conditions=(*one.conditions, Reason("together_from_rest", words)))


def _stand(shop: Shop, turns: Turns, one: int, other: int) -> bool:
    return turns.stand((shop.work.tasks[one], shop.work.tasks[other]))


def _worth_it(shop: Shop, on: Shared, lead: int, others: list[int]) -> bool:
    """Whether anything can share the drive with its own motor: at another time, or together."""
    turns = on.turning
    assert isinstance(turns, Turns)
    return any(
        on.serves(k) is not None
        and (not shop.together(k, lead) or _stand(shop, turns, k, lead))
        for k in others
    )  # fmt: skip


def _reach(shop: Shop, on: Shared, drive: Drive) -> Reach:
    """Whom it serves, and how many amps of each set of like motors it carries at one time."""
    able = frozenset(k for k in shop.able if on.serves(k) is not None)
    carried = []
    for group in shop.work.groups:
        for k in sorted(group):
            alike = [
                shop.able[j].amps
                for j in group & able
                if k in able and like(shop.able[j], shop.able[k])
            ]
            pair = sum(sorted(alike)[:2])
            fits = len(alike) > 1 and pair <= drive.usable_a
            carried.append(min(drive.usable_a, sum(alike)) if fits else 0.0)
    return able, tuple(carried)


def _within(one: Reach, other: Reach) -> bool:
    return one[0] <= other[0] and all(a <= b for a, b in zip(one[1], other[1], strict=True))


def _selector(drive: Drive, served: dict[int, Each]) -> tuple[Finding, ...]:
    """The selector that is to be built, as a step of the wiring."""
    motors = sum(isinstance(one, Served) for one in served.values())
    ruling = selector_interlocked(motors, False, f"{DRIVE} of {printed(drive.rating_w, 'power')}")
    return tuple(
        replace(
            each,
            severity="condition",
            words=f"to be wired before the drive is switched on: without it {each.words}",
        )
        for each in ruling.findings
    )


def _said() -> Said:
    minutes = changeover_minutes()
    return Said(
        idle="",
        gives=(
            Reason(
                "speed_one_at_a_time",
                "speed by a knob, a soft start and a set stop, for one machine at a time.",
            ),
        ),
        gives_up=(
            Reason(
                "one_at_a_time",
                f"One machine at a time on the shared drive, and about {minutes.number:.0f} min "
                f"({minutes.low:.0f} to {minutes.high:.0f}) to change over, at rest only.",
            ),
            Reason("one_drive", "If the shared drive fails, everything on it stands."),
        ),
        cautions=(
            Reason(
                "drive_selector",
                "Never change over, plug in or pull out between a running drive and a motor: the "
                "arc and the surge destroy the drive and can hurt you. The selector takes the "
                "enable away before it opens; try that with the machine's belt off.",
            ),
        ),
    )
