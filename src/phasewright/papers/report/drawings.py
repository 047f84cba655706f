"""The drawings of a wiring for the report: several to a page, without their frames.

A circuit that is wired exactly as one before it is not drawn again; what differs is said. Every
sheet stands whole, with frame and title block, in a file of its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from phasewright.papers.drawings.pages import Page, bare
from phasewright.papers.report.blocks import Heading, Picture, Plate
from phasewright.papers.report.looks import NOTE_PX, PLATES, PaperSize
from phasewright.papers.svg import svg, wrapped
from phasewright.papers.wiring.model import Column, Unit, Wiring

CAPTION, LINE, TOP, APART = 20.0, 13.0, 34.0, 14.0
"""Heights on a page [1/96 inch]: a caption, a line of notes, the part's heading, a gap."""
LEAST, MOST = 0.85, 1.25
"""A drawing is made no smaller than this so that another fits beside it, and no larger."""
PART = "Drawings"


@dataclass(frozen=True, slots=True)
class Drawn:
    """A drawing with what is said below it, its width and height [1/96 inch]."""

    page: Page
    drawing: str
    width: float
    height: float
    notes: tuple[str, ...]


@dataclass
class Filling:
    """A page that is being filled, and how much of its height is left."""

    left: float
    holds: list[Drawn] = field(default_factory=list)


def plates(wiring: Wiring, pages: Iterable[Page], paper: PaperSize) -> Iterator[Plate]:
    """Pages of drawings, each drawing on the first page that has room for it."""
    wide, high = PLATES[paper]
    filled = [Filling(high - TOP)]
    for each in _drawn(wiring, pages, wide):
        needs = _needs(each, wide)
        at = next((one for one in filled if one.left >= needs or not one.holds), None)
        if at is None:
            at = Filling(high)
            filled.append(at)
        at.left -= needs
        at.holds.append(each)
    for number, one in enumerate(filled):
        if one.holds:
            room = high - TOP if number == 0 else high
            yield Plate(tuple(_pictures(one.holds, wide, room)), _heading(number))


def _heading(number: int) -> Heading | None:
    return Heading(PART, 1) if number == 0 else None


def _needs(of: Drawn, wide: float) -> float:
    return of.height * min(LEAST, wide / of.width) + _said(of)


def _said(of: Drawn) -> float:
    return CAPTION + LINE * len(of.notes) + APART


def _pictures(holds: list[Drawn], wide: float, high: float) -> Iterator[Picture]:
    """The drawings of a page, all enlarged alike as far as they fit."""
    free = high - sum(_said(each) for each in holds)
    scale = min(MOST, free / sum(each.height for each in holds))
    for each in holds:
        width = each.width * min(scale, wide / each.width)
        title = f"Drawing {each.page.number}: {each.page.title}"
        yield Picture(each.drawing, title, title, width, each.notes)


def _drawn(wiring: Wiring, pages: Iterable[Page], wide: float) -> Iterator[Drawn]:
    like = alike(wiring)
    again = {unit.id for first, others in like.items() for unit in others}
    said = {first: tuple(_told(wiring, first, others)) for first, others in like.items()}
    for page in pages:
        unit = f"={page.name.partition('-')[2]}"
        if unit in again:
            continue
        marks, width, height = bare(page)
        notes = [line for note in said.get(unit, ()) for line in wrapped(note, NOTE_PX, wide)]
        yield Drawn(page, svg(marks), width, height, tuple(notes))


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
    devices = tuple(
        (own(each.id), each.kind, each.terminals, each.positions, each.windings, each.links_known,
         each.note)
        for each in wiring.of_unit(unit.id)
    )  # fmt: skip
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
