"""Where machines stand, and where a thing they share may stand.

What is shared stands at the intake, or in one of the places where machines stand. In a place it
is fed over that place's feeder and serves the machines of that place alone. At the intake it
serves machines anywhere: three lines then run over their feeders. Where all machines stand in one
place, that is where it stands. A place of which no feeder is told counts as at the intake. A
three-phase service ends at the intake, wherever the machines are.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache

from phasewright.network.impedance import supply_impedance
from phasewright.plan.units import Unit
from phasewright.quantities.finding import Reason
from phasewright.quantities.identity import Same, the_same
from phasewright.quantities.words import place_words
from phasewright.shop.model import Shop
from phasewright.ways.catalogue import SHARED
from phasewright.ways.place_of import ambient_of, feeder_there, places_used
from phasewright.ways.shared_source import Shared, SharedWay, Work
from phasewright.ways.site import Site
from phasewright.ways.site_of import site_of

INTAKE = ""
"""The place of a machine of which no place is told."""


def sites_of(shop: Shop) -> tuple[Site, ...]:
    """The supply at every place where a machine stands, its own feeder and all."""
    return tuple(
        the_same(site_of(
            shop,
            supply_impedance(
                shop.supply, shop.region, feeder_there(place), ambient_c=ambient_of(place)
            ),
            place,
        ))
        for place in places_used(shop)
    )  # fmt: skip


def shared_things(
    intake: Site,
    sites: tuple[Site, ...],
    units: tuple[Unit, ...],
    groups: tuple[frozenset[int], ...],
) -> tuple[Shared, ...]:
    """Everything that could be shared, in every place where it may stand."""
    by_name = {INTAKE: intake} | {site.place: site for site in sites}
    ends = sorted({_end_of(by_name[unit.place], intake) for unit in units})
    tasks = tuple(unit.task for unit in units)
    if len(ends) <= 1:
        places = {unit.place for unit in units}
        site = by_name[places.pop()] if len(places) == 1 else intake
        work = Work(tasks, groups)
        return tuple(
            _placed(on, site.place) for way in SHARED for on in _tried(Same(way), site, work)
        )
    found: list[Shared] = []
    for way in SHARED:
        work = Work(tasks, groups, tuple(_behind(intake, by_name[u.place]) for u in units))
        found += [_named(_placed(on, INTAKE)) for on in _tried(Same(way), intake, work)]
        for name in ends:
            if name != INTAKE:
                found += [_named(on) for on in _in_place(way, by_name[name], units, groups)]
    return tuple(found)


@lru_cache(maxsize=64)
def _tried(way: Same[SharedWay], site: Site, work: Work) -> tuple[Shared, ...]:
    """What could be shared by a way; kept, for nothing but machines and supply bears on it."""
    return way.it.shared(site, work)


def _end_of(site: Site, intake: Site) -> str:
    """The place whose feeder ends here; the intake where there is none."""
    return site.place if _fed_apart(site, intake) else INTAKE


def _fed_apart(site: Site, intake: Site) -> bool:
    return site.source != intake.source or site.feeder is not None


def _behind(intake: Site, there: Site) -> Site:
    """The supply that reaches a place from a thing at the intake: its feeder lies behind it."""
    return replace(
        intake,
        source=there.source,
        resistance_ohm=there.resistance_ohm,
        reactance_ohm=there.reactance_ohm,
        place=there.place,
    )


def _in_place(
    way: SharedWay, site: Site, units: tuple[Unit, ...], groups: tuple[frozenset[int], ...]
) -> list[Shared]:
    """What could stand in a place for the machines that stand there; no operator's service."""
    there = [k for k, unit in enumerate(units) if unit.place == site.place]
    work = Work(tuple(units[k].task for k in there), _groups_of(there, groups))
    elsewhere = Reason(
        "stands_elsewhere",
        f"What stands in {place_words(site.place)} serves the machines there alone.",
    )
    found = []
    for on in _tried(Same(way), replace(site, phases=None), work):
        served = dict(zip(there, on.served, strict=True))
        whole = tuple(served.get(k, (elsewhere,)) for k in range(len(units)))
        found.append(replace(on, served=whole, place=site.place))
    return found


def _groups_of(
    there: list[int], groups: Iterable[frozenset[int]]
) -> tuple[frozenset[int], ...]:  # fmt: skip
    """The largest sets of some of the units, by their new numbers."""
    number = {k: at for at, k in enumerate(there)}
    sets = {frozenset(number[k] for k in group if k in number) for group in groups}
    largest = [s for s in sets if s and not any(s < other for other in sets)]
    return tuple(sorted(largest, key=sorted))


def _placed(on: Shared, place: str) -> Shared:
    """A thing where it stands: an operator's service ends at the intake."""
    return replace(on, place=INTAKE if on.phases is not None else place)


def fed_over_feeder(on: Shared, unit: Unit, site: Site, intake: Site) -> bool:
    """Whether what a motor gets of a shared thing runs over the feeder of its place as three
    lines. `site` is that of the motor's place."""
    return unit.place != on.place and _fed_apart(site, intake)


def _named(on: Shared) -> Shared:
    """A thing whose words say where it stands, for there are several places."""
    where = "at the intake" if on.place == INTAKE else f"in {place_words(on.place)}"
    if on.phases is not None:
        return on
    return replace(
        on, hads=tuple(replace(had, words=f"{had.words} {where}") for had in on.hads)
    )  # fmt: skip
