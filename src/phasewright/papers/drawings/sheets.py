"""All drawings of a wiring, sheet after sheet."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from phasewright.papers.drawings.bank_layout import bank_drawing, banks_of
from phasewright.papers.drawings.grid import Cell, grid, grid_pages
from phasewright.papers.drawings.measures import References, Writer
from phasewright.papers.drawings.overview import overview
from phasewright.papers.drawings.pages import Frame, Page, notes_height, unit_pages
from phasewright.papers.drawings.rows import Placed, paged, room, rows_of
from phasewright.papers.drawings.single_line import SHOP
from phasewright.papers.drawings.terminal_boxes import box_drawing, like_boxes
from phasewright.papers.wiring.model import Unit, Wiring
from phasewright.quantities.plain import plain

SETTLES = 4
"""Passes after which every reference to another sheet stands: the first ones may move sheets."""
BOX_NOTES = (
    "Ends in one column are joined by links. An end marked apart stays alone and insulated; one "
    "marked ? is joined as measuring or the lid tells, before anything is switched on. "
    "L3* is the generated line. Photograph the box before a link is moved.",
)
BANK_NOTES = (
    "Seen from above. A can needs room above its cover for its interrupter to open, 10 mm or more "
    "(from memory). The resistor stays across the bank; it does not help while an idler turns. "
    "Wait for standstill, then for the discharge, then prove dead.",
)


def sheets_of(wiring: Wiring, plan_title: str) -> list[Page]:
    """Every sheet: the whole shop in one line, then unit by unit. Pure; the same wiring gives the
    same sheets."""
    first, whole = overview(wiring)
    units = (first, *wiring.units)
    pages = References({}, {})
    for _ in range(SETTLES):
        laid = [(unit, *_laid(whole, unit, pages)) for unit in units]
        found = _references([(unit, rows) for unit, _, rows in laid])
        if found == pages:
            break
        pages = found
    else:
        raise RuntimeError("the references between the sheets do not settle")
    extra = [
        (each.name, each.title, each.notes, grid(each.cells)) for each in small_drawings(wiring)
    ]
    count = sum(len(rows) for _, _, rows in laid) + sum(len(pages) for *_, pages in extra)
    frame = Frame(wiring.shop, plan_title, revision_of(wiring), count)
    made: list[Page] = []
    for unit, writer, rows in laid:
        made += unit_pages(writer, unit, rows, frame, len(made) + 1)
    for name, title, notes, pages_of_cells in extra:
        made += grid_pages(name, title, notes, pages_of_cells, frame, len(made) + 1)
    return made


@dataclass(frozen=True, slots=True)
class Small:
    """Small drawings of one sort with what is said of all of them."""

    name: str
    title: str
    notes: tuple[str, ...]
    cells: tuple[Cell, ...]


def small_drawings(wiring: Wiring) -> Iterator[Small]:
    """The terminal boxes and the capacitor banks, where there are any."""
    boxes = tuple(partial(box_drawing, wiring, motors) for motors in like_boxes(wiring))
    banks = tuple(partial(bank_drawing, bank) for bank in banks_of(wiring))
    if boxes:
        yield Small("terminals", "Terminal boxes: the links to fit", BOX_NOTES, boxes)
    if banks:
        yield Small("banks", "Capacitor banks: how the cans stand", BANK_NOTES, banks)


def revision_of(wiring: Wiring) -> str:
    """A mark that changes with the wiring and with nothing else."""
    return hashlib.sha256(repr(plain(wiring)).encode()).hexdigest()[:8]


def _laid(wiring: Wiring, unit: Unit, pages: References) -> tuple[Writer, list[list[Placed]]]:
    writer = Writer(wiring, unit.id, pages, single=unit.id == SHOP)
    return writer, paged(rows_of(writer, unit, room()), notes_height(unit.notes))


def _references(laid: list[tuple[Unit, list[list[Placed]]]]) -> References:
    """Where every device stands first, and on which other sheets something hangs on it."""
    stands: dict[str, int] = {}
    hangs: dict[str, list[int]] = {}
    number = 0
    for unit, pages in laid:
        for spots in pages:
            number += 1
            if unit.id == SHOP:
                continue
            for row in (spot.row for spot in spots):
                for device in row.devices:
                    stands.setdefault(device, number)
                for terminal in row.terminals:
                    hangs.setdefault(terminal.partition(":")[0], []).append(number)
    others = {device: sorted({*on} - {stands.get(device, 0)}) for device, on in hangs.items()}
    to = {
        device: f"{'sheets' if len(on) > 1 else 'sheet'} {', '.join(map(str, on))}"
        for device, on in others.items()
        if on
    }
    return References({device: str(k) for device, k in stands.items()}, to)
