"""All drawings of a wiring, sheet after sheet."""

from __future__ import annotations

import hashlib

from phasewright.papers.drawings.columns import References, Writer
from phasewright.papers.drawings.pages import Frame, Page, Shelf, paged, rows_of, unit_pages
from phasewright.papers.drawings.single_line import SHOP, single_line
from phasewright.papers.wiring.model import Unit, Wiring
from phasewright.quantities.plain import plain

SETTLES = 4
"""Passes after which every reference to another sheet stands: the first ones may move sheets."""


def sheets_of(wiring: Wiring, plan_title: str) -> list[Page]:
    """Every sheet: the whole shop in one line, then unit by unit. Pure; the same wiring gives the
    same sheets."""
    units = (single_line(wiring), *wiring.units)
    pages = References({}, {})
    for _ in range(SETTLES):
        laid = [(unit, *_laid(wiring, unit, pages)) for unit in units]
        found = _references([(unit, rows) for unit, _, rows in laid])
        if found == pages:
            break
        pages = found
    else:
        raise RuntimeError("the references between the sheets do not settle")
    count = sum(len(rows) for _, _, rows in laid)
    frame = Frame(wiring.shop, plan_title, revision_of(wiring), count)
    made: list[Page] = []
    for unit, writer, rows in laid:
        made += unit_pages(writer, unit, rows, frame, len(made) + 1)
    return made


def revision_of(wiring: Wiring) -> str:
    """A mark that changes with the wiring and with nothing else."""
    return hashlib.sha256(repr(plain(wiring)).encode()).hexdigest()[:8]


def _laid(wiring: Wiring, unit: Unit, pages: References) -> tuple[Writer, list[list[Shelf]]]:
    writer = Writer(wiring, unit.id, pages, single=unit.id == SHOP)
    return writer, paged(rows_of(writer, unit), unit.notes)


def _references(laid: list[tuple[Unit, list[list[Shelf]]]]) -> References:
    """Where every device stands first, and on which other sheets something hangs on it."""
    stands: dict[str, int] = {}
    hangs: dict[str, list[int]] = {}
    number = 0
    for unit, pages in laid:
        for shelves in pages:
            number += 1
            if unit.id == SHOP:
                continue
            for row in (row for shelf in shelves for row in shelf.rows):
                for device in row.devices:
                    stands.setdefault(device, number)
                for terminal in row.terminals:
                    hangs.setdefault(terminal.partition(":")[0], []).append(number)
    to = {
        device: ", ".join(str(k) for k in sorted({*numbers} - {stands.get(device, 0)}))
        for device, numbers in hangs.items()
    }
    return References({device: str(k) for device, k in stands.items()}, to)
