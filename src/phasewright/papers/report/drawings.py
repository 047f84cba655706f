"""The drawings of a wiring for the report, gathered on pages that circuits share.

A circuit that is wired exactly as one before it is not drawn again; what differs is said. Every
sheet stands whole, with frame and title block, in a file of its own.
"""

from __future__ import annotations

from collections.abc import Iterator

from phasewright.papers.drawings.gathered import Room, gathered
from phasewright.papers.report.blocks import Block, Heading, Picture
from phasewright.papers.report.looks import ROOM, PaperSize
from phasewright.papers.svg import svg
from phasewright.papers.wiring.model import Column, Device, Unit, Wiring

TOP = 34.0
"""Height of the part's heading [1/96 inch]."""
PART = "Drawings"


def drawings(wiring: Wiring, paper: PaperSize) -> Iterator[Block]:
    """Pages of drawings; only what is larger than a page is made smaller."""
    wide, high = ROOM[paper]
    like = alike(wiring)
    again = frozenset(unit.id for others in like.values() for unit in others)
    said = {first: tuple(_told(wiring, first, others)) for first, others in like.items()}
    yield Heading(PART, 1, page=True)
    for page in gathered(wiring, Room(wide, high, TOP), said, again):
        of = dict(page.marks.attributes)
        width, height = float(of["width"]), float(of["height"])
        about = f"Drawings: {'; '.join(page.titles)}"
        yield Picture(svg(page.marks), about, width * min(1.0, wide / width, high / height))


def alike(wiring: Wiring) -> dict[str, list[Unit]]:
    """Units that are wired exactly as one before them, by the id of that one."""
    first: dict[object, str] = {}
    found: dict[str, list[Unit]] = {}
    for unit in wiring.units:
        before = first.setdefault(_form(wiring, unit), unit.id)
        if before != unit.id:
            found.setdefault(before, []).append(unit)
    return found


def _form(wiring: Wiring, unit: Unit) -> object:
    """What of a unit's wiring and of its drawing does not depend on its number, its ratings and
    what is noted below it."""

    def own(name: str) -> str:
        return name.removeprefix(unit.id)

    def column(of: Column) -> object:
        stands = tuple(
            (own(e.device), e.shape, e.how, e.legs, e.ins, e.outs, e.potentials)
            for e in of.elements
        )
        return of.rails, stands

    bands = tuple(
        (
            band.title, band.control,
            tuple((own(rail.terminal), rail.potential) for rail in band.rails),
            tuple(map(column, band.columns)),
        )
        for band in unit.bands
    )  # fmt: skip
    used = {end for each in wiring.conductors if each.unit == unit.id
            for end in (each.from_, each.to)}  # fmt: skip

    def device(of: Device) -> object:
        """A device as far as this unit wires it: a head may have contacts for other circuits."""
        here = {name for name in of.terminals if of.at(name) in used}
        positions = tuple(
            tuple(pair for pair in joined if here.issuperset(pair)) for joined in of.positions
        )
        return (own(of.id), of.kind, tuple(sorted(here)), positions, of.windings, of.links_known,
                of.note)  # fmt: skip

    devices = tuple(map(device, wiring.of_unit(unit.id)))
    wires = tuple(
        (own(each.from_), own(each.to), each.potential, each.colour, each.kind)
        for each in wiring.conductors
        if each.unit == unit.id
    )
    return bands, devices, wires


def _told(wiring: Wiring, first: str, others: list[Unit]) -> Iterator[str]:
    """Of each unit that is wired alike: in which ratings and notes it differs."""
    ratings = {own: said for own, said in _ratings(wiring, first)}
    notes = next(unit.notes for unit in wiring.units if unit.id == first)
    for unit in others:
        differs = [
            f"{own} {said or 'without a rating'}"
            for own, said in _ratings(wiring, unit.id)
            if ratings.get(own) != said
        ]
        but = f"; other there: {', '.join(differs)}" if differs else ", with the same ratings"
        own = f" Its notes: {' '.join(unit.notes) or 'none'}" if unit.notes != notes else ""
        yield f"Wired alike: {unit.id} {unit.title}{but}.{own}"


def _ratings(wiring: Wiring, unit: str) -> Iterator[tuple[str, str]]:
    for each in wiring.of_unit(unit):
        yield each.id.removeprefix(unit), each.specification
    sizes = {each.size for each in wiring.conductors if each.unit == unit and each.size}
    yield "wires", ", ".join(sorted(sizes))
