"""The electronic sources that could stand in a shop, and what every motor gets on each."""

from __future__ import annotations

from dataclasses import replace

from phasewright.quantities.errors import TableEnds
from phasewright.quantities.finding import Reason
from phasewright.tables.labour import hours
from phasewright.tables.shared_sources import (
    electronic_efficiency,
    electronic_standby_w,
)
from phasewright.tables.sizes import ELECTRONIC_CONVERTER_SIZES_W
from phasewright.ways.electronic_serve import NAME, serve
from phasewright.ways.electronic_source import ElectronicSource
from phasewright.ways.figures import Figures
from phasewright.ways.purchase import item
from phasewright.ways.shared_source import Had, Said, Served, Shared, Work
from phasewright.ways.site import Site
from phasewright.ways.surroundings import amps_share, boxes

SOURCE = "electronic source"
SAID = Said(
    idle="The electronic source alone takes",
    gives=(
        Reason(
            "original_controls",
            "the original switches and pumps work as they are, on three equal lines.",
        ),
    ),
    gives_up=(
        Reason("one_box", "One box for the whole shop: if it fails, everything on it stands."),
    ),
    cautions=(
        Reason(
            "source_charge",
            "The electronic source's capacitors stay charged for minutes after switching off: "
            "wait as marked, then prove dead. Its three lines have no neutral unless its maker "
            "says so, and their earth fault current is small: ask which protection it needs.",
        ),
    ),
)


def sizes_w(site: Site) -> tuple[float, ...]:
    """Sizes on the market and those the owner has."""
    owned = {
        part.power.number
        for part in site.owned
        if part.kind == NAME and part.power is not None
    }  # fmt: skip
    return tuple(sorted({*ELECTRONIC_CONVERTER_SIZES_W, *owned}))


def sources_of(site: Site) -> list[ElectronicSource]:
    """Every size, where they are made for the supply's volts."""
    found = [
        ElectronicSource(site.source, size, site.surge_a, air_share=amps_share(site.surroundings))
        for size in sizes_w(site)
    ]
    try:
        return [of for of in found if of.output_a > 0.0]
    except TableEnds:
        return []


def hads_of(site: Site, of: ElectronicSource) -> tuple[Had, ...]:
    """Every way to have a source of this size: bought new, or the owner's own."""
    words = f"electronic three-phase source of {of.rating_w / 1000.0:.3g} kW"
    work, upkeep = hours("converter_ready_made"), hours("upkeep_electronic").number
    found = []
    if of.rating_w in ELECTRONIC_CONVERTER_SIZES_W:
        things = (item(NAME, of.rating_w, "W", site.quotes), *boxes(site, of.rating_w))
        found.append(Had("new", things, work, upkeep, words=f"an {words}"))
    for index, part in enumerate(site.owned):
        if part.kind == NAME and part.power is not None and part.power.number == of.rating_w:
            try:
                things = (item(NAME, of.rating_w, "W", (), origin="owned"),)
            except TableEnds:
                continue
            found.append(Had("owned", things, work, upkeep, index, f"your {words}"))
    return tuple(found)


def shared(site: Site, work: Work) -> tuple[Shared, ...]:
    """Sources from the first that serves anything to the first that gives all that any can, and
    the owner's larger ones."""
    sources = sources_of(site)
    if not sources:
        return ()
    most = _reach(site, work, sources[-1])
    found, enough = [], False
    for of in sources:
        hads, served = hads_of(site, of), _served(site, work, of)
        if enough:
            hads = tuple(had for had in hads if had.origin == "owned")
        if not hads or not any(isinstance(one, Served) for one in served):
            continue
        found.append(
            Shared(
                way=NAME,
                name=SOURCE,
                rating=of.rating_w,
                unit="W",
                hads=hads,
                served=served,
                turning=replace(of, feeders=work.feeders()),
                said=SAID,
                idle_power_w=electronic_standby_w().number,
                figures=Figures(
                    idle_power_w=electronic_standby_w(), efficiency=electronic_efficiency()
                ),
                generated_line=False,
                fault_source=of.fault_source(SOURCE),
            )
        )
        enough = enough or _reach(site, work, of) == most
    return tuple(found)


def _served(
    site: Site, work: Work, of: ElectronicSource
) -> tuple[Served | tuple[Reason, ...], ...]:
    return tuple(
        serve(task, there, replace(of, source=there.source)) for task, there in work.reached(site)
    )


def _reach(site: Site, work: Work, of: ElectronicSource) -> tuple[frozenset[int], ...]:
    """Who may hang on it, and of every set that turns together who may if all of them may."""
    able = frozenset(
        k for k, one in enumerate(_served(site, work, of)) if isinstance(one, Served)
    )  # fmt: skip
    sets = []
    for group in work.groups:
        tasks = tuple(work.tasks[k] for k in sorted(group & able))
        turning = replace(of, feeders=work.feeders())(tasks) if tasks else None
        sets.append(group & able if turning is not None and turning.stands else frozenset())
    return (able, *sets)
