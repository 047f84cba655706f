"""What to buy part by part, what is paid in which year, and the wiring's list of parts."""

from __future__ import annotations

from collections.abc import Iterator

from phasewright.papers.parts_list import PartLine, part_lines
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
from phasewright.papers.spares import instruments, spares_of
from phasewright.papers.wiring.model import Wiring
from phasewright.plan.study import PlanSide
from phasewright.quantities.told import money
from phasewright.quantities.words import BUYABLE_WORDS
from phasewright.ways.figures import Buy


def buying(plan: PlanSide, currency: str | None) -> Iterator[Block]:
    """Every buy with its parts, the year it falls due and where its price comes from; then what is
    paid in which year."""
    yield Heading("What to buy, part by part", 1)
    if not plan.buys:
        yield Words("Nothing has to be bought.")
    found = dict.fromkeys(origin for buy in plan.buys for origin in origins(buy))
    marks = {origin: str(place) for place, origin in enumerate(found, start=1)}
    sign = f", {currency}" if currency else ""
    columns = (Column("What", 4.0), Column(f"Price{sign}", 1.0, "right"), Column("See"))
    tables = [
        each for buy in sorted(plan.buys, key=lambda buy: buy.year)
        for each in table(columns, _buy_rows(buy, marks), small=True)
    ]  # fmt: skip
    told = bullets(((f"{mark}.", origin) for origin, mark in marks.items()), "small")
    yield halves((*tables, *told, *_paid(plan)))


def _buy_rows(buy: Buy, marks: dict[str, str]) -> Iterator[tuple[str, ...]]:
    whole = f"{year_words(buy.year)}: {bought(buy)}, {BUYABLE_WORDS[buy.origin]}"
    serves = f", for {', '.join(buy.serves)}" if buy.serves else ""
    yield whole + serves, money(buy.price, None), marks[buy.price_origin]
    for part in buy.parts:
        owned = ", already yours" if part.owned else ""
        yield (
            f"– {part_words(part)}{owned}",
            f"({money(part.price, None)})",
            marks[part.price_origin],
        )


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


def wiring_parts(plan: PlanSide, wiring: Wiring, currency: str | None) -> Iterator[Block]:
    """Every device of the wiring with its designations on the drawings, and the cables."""
    yield Heading("Parts on the drawings", 1)
    yield Words(
        f"Everything the drawings show{f', prices in {currency}' if currency else ''}. No price: "
        "neither a price curve nor a quote of yours has one, so ask for it. Terminals, ducts and "
        "small parts are not counted. What each is used for, the standard to ask for, the figure "
        "it comes from and whose word its price is: lists/parts.csv; wires one by one and labels: "
        "wires.csv, labels.csv.",
        look="small",
    )
    columns = (
        Column("What", 2.2), Column("Number", 0.8), Column("Price", 0.9, "right"),
        Column("Designations", 1.5),
    )  # fmt: skip
    rows = [
        (", ".join(filter(None, (each.what, each.specification))),
         f"{each.quantity} {'' if each.getting == 'buy' else each.getting}".strip(),
         _price(each), " ".join(each.designations))
        for each in part_lines(wiring, plan)
    ]  # fmt: skip
    half = -(-len(rows) // 2)
    tables = [each for part in (rows[:half], rows[half:])
              for each in table(columns, part, small=True)]  # fmt: skip
    yield halves(tables)


def _price(of: PartLine) -> str:
    """The price, or in words that there is none."""
    if of.price is not None:
        return money(of.price, None)
    return "no price" if of.getting == "buy" else ""


def shelf(plan: PlanSide, wiring: Wiring) -> Iterator[Block]:
    """Spare parts, meters and tools, in two columns."""
    columns = (Column("What to keep", 1.6), Column("How many", side="right"), Column("For", 1.2))
    spares = (
        (", ".join(filter(None, (each.what, each.specification))), str(each.keep),
         " ".join(each.stands_for))
        for each in spares_of(wiring)
    )  # fmt: skip
    tools = (
        (each.what, each.reads, each.used) for each in instruments(plan.readings_expected or ())
    )
    yield Heading("Spare parts, meters and tools", 1)
    yield halves(
        (
            *table(columns, spares, small=True),
            *table((Column("Meter or tool", 1.6), Column("Must read", 1.2), Column("For", 1.3)),
                   tools, small=True),
        )
    )  # fmt: skip
