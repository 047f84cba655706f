"""What to buy part by part, what is paid in which year, and the wiring's list of parts."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

from phasewright.papers.lists import parts_csv
from phasewright.papers.plan_words import bought, origins, part_words
from phasewright.papers.report.answer_page import year_words
from phasewright.papers.report.balance import halves
from phasewright.papers.report.blocks import (
    Block,
    Column,
    Heading,
    Words,
    bullets,
    table,
)
from phasewright.papers.wiring.model import Wiring
from phasewright.plan.study import PlanSide
from phasewright.quantities.told import money
from phasewright.quantities.words import BUYABLE_WORDS


def buying(plan: PlanSide, currency: str | None) -> Iterator[Block]:
    """Every buy with its parts, the year it falls due and where its price comes from."""
    yield Heading("What to buy, part by part", 1, page=True)
    if not plan.buys:
        yield Words("Nothing has to be bought.")
    found = dict.fromkeys(origin for buy in plan.buys for origin in origins(buy))
    marks = {origin: str(place) for place, origin in enumerate(found, start=1)}
    columns = (
        Column("When"), Column("What", 2.0), Column("For", 1.6),
        Column(f"Price, {currency}" if currency else "Price", side="right"), Column("See"),
    )  # fmt: skip
    yield from table(columns, _buy_rows(plan, marks), small=True)
    yield from bullets(((f"{mark}.", origin) for origin, mark in marks.items()), "small")
    yield halves(tuple(_paid(plan)))


def _paid(plan: PlanSide) -> Iterator[Block]:
    yield Heading("What is paid when")
    columns = (
        Column("Year"), Column("Things", 1.0, "right"), Column("Work", 1.0, "right"),
        Column("Energy", 1.0, "right"), Column("Upkeep", 1.0, "right"),
    )  # fmt: skip
    yield from table(columns, _years(plan), small=True)
    yield Words("Expected payments, not discounted; below zero is what is got back.", look="small")


def _years(plan: PlanSide) -> Iterator[tuple[str, ...]]:
    """Years of the plan; those that follow each other with the same payments in one row."""
    rows: list[tuple[int, int, tuple[str, ...]]] = []
    for entry in plan.years:
        paid = tuple(
            money(each, None) if each else "–"
            for each in (entry.buys, entry.labour, entry.energy, entry.upkeep)
        )
        if rows and rows[-1][1:] == (entry.year - 1, paid) and rows[-1][0] > 0:
            rows[-1] = (rows[-1][0], entry.year, paid)
        else:
            rows.append((entry.year, entry.year, paid))
    for first, last, paid in rows:
        year = "today" if last == 0 else str(first) if first == last else f"{first} to {last}"
        yield year, *paid


def _buy_rows(plan: PlanSide, marks: dict[str, str]) -> Iterator[tuple[str, ...]]:
    for buy in sorted(plan.buys, key=lambda buy: buy.year):
        yield (
            year_words(buy.year), f"{bought(buy)}, {BUYABLE_WORDS[buy.origin]}",
            ", ".join(buy.serves), money(buy.price, None), marks[buy.price_origin],
        )  # fmt: skip
        for part in buy.parts:
            owned = ", already yours" if part.owned else ""
            yield (
                "", f"– {part_words(part)}{owned}", "", f"({money(part.price, None)})",
                marks[part.price_origin],
            )  # fmt: skip


def wiring_parts(wiring: Wiring) -> Iterator[Block]:
    """Every device of the wiring with its designations on the drawings."""
    rows = list(csv.reader(io.StringIO(parts_csv(wiring))))[1:]
    yield Heading("Parts on the drawings", 1)
    yield Words(
        "Everything the drawings show, with its designations there. What the price of the plan "
        "holds stands in the third column; wires, ducts, terminals and small parts it does not "
        "hold. Wires one by one and labels: lists/wires.csv and lists/labels.csv.",
        look="small",
    )
    columns = (
        Column("What", 1.1), Column("Specification", 1.9), Column("How many", side="right"),
        Column("Of these priced", 0.5, "right"), Column("Designations", 1.4),
        Column("Used for", 2.0),
    )  # fmt: skip
    yield from table(columns, rows, small=True)
