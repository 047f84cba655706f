"""The first page: what to do, what it costs, what to mind; for somebody who reads nothing else."""

from __future__ import annotations

from collections.abc import Iterator

from phasewright.papers.plan_words import bought, chosen
from phasewright.papers.report.blocks import Block, Column, Heading, Words, bullets, table
from phasewright.plan.study import PlanSide, Study
from phasewright.quantities.told import amount, money, spread
from phasewright.quantities.words import BUYABLE_WORDS, CONNECTION_WORDS, WAY_WORDS

MOST = 3
"""Reasons, questions and thresholds on the first page; all of them stand further back."""


def answer_page(study: Study) -> Iterator[Block]:
    """The first page's blocks."""
    plan = chosen(study)
    yield Words(study.answer.headline, look="headline")
    if study.made.quick:
        yield Words("A quick study: what takes longest was left out.", look="small")
    if study.answer.obstacles:
        yield Heading("What stands in the way")
        yield from bullets(reason.words for reason in study.answer.obstacles)
    if plan is not None:
        yield from _buys(plan, study.currency)
        yield from _costs(plan, study.currency)
        yield from _hangs_on(plan)
    yield Heading("Why")
    yield from bullets(reason.words for reason in study.answer.reasons[:MOST])
    yield from _care(study)
    yield from _changes(study)


def _buys(plan: PlanSide, currency: str | None) -> Iterator[Block]:
    yield Heading("What to buy")
    if not plan.buys:
        yield Words("Nothing.")
        return
    columns = (Column("When"), Column("What", 2.0), Column("For", 2.0),
               Column(f"Price, {currency}" if currency else "Price", side="right"))  # fmt: skip
    yield from table(
        columns,
        (
            (
                year_words(buy.year), f"{bought(buy)}, {BUYABLE_WORDS[buy.origin]}",
                ", ".join(buy.serves), money(buy.price, None),
            )
            for buy in sorted(plan.buys, key=lambda buy: buy.year)
        ),
    )  # fmt: skip


def year_words(year: int) -> str:
    """When something is bought."""
    return "now" if year == 0 else f"year {year}"


def _costs(plan: PlanSide, currency: str | None) -> Iterator[Block]:
    yield Heading("What it costs")
    yield from table((Column(""), Column("", 1.0)), cost_rows(plan, currency))


def cost_rows(plan: PlanSide, currency: str | None) -> Iterator[tuple[str, str]]:
    """What a plan costs and draws, line by line."""
    years = max((entry.year for entry in plan.years), default=0)
    life = plan.lifetime_cost
    yield "to buy", money(plan.purchase.number, currency)
    if plan.circuits_cost is not None:
        yield "its circuits, beside that", money(plan.circuits_cost.expected.number, currency)
    paid = money(plan.labour.number, currency) if plan.labour.number else "your own"
    yield "work", f"{spread(plan.hours_of_work)}, {paid}"
    idle = plan.idle_energy_per_year_kwh.number
    turning = f", of which {idle:,.0f} kWh turn an idling converter" if idle > 0.0 else ""
    yield "energy a year", money(plan.energy_per_year.number, currency) + turning
    yield (
        f"over {years} years" if years else "over the years planned",
        f"{money(life.expected.number, currency)} ({money(life.low, None)} to "
        f"{money(life.high, None)}), future money discounted",
    )
    if plan.supply_current_a.running is not None:
        yield "from the supply", f"{spread(plan.supply_current_a.running)} at the most"
    if plan.noise_dba is not None:
        yield "noise", f"{plan.noise_dba.number:.0f} dB(A)"


def _hangs_on(plan: PlanSide) -> Iterator[Block]:
    yield Heading("What each motor hangs on")
    columns = (Column("Motor", 1.2), Column("On", 1.6), Column("Link", 1.2),
               Column("Overload set to", side="right"))  # fmt: skip
    yield from table(
        columns,
        (
            (
                motor.motor,
                "nothing" if motor.way is None else WAY_WORDS[motor.way],
                "" if motor.connection is None else CONNECTION_WORDS[motor.connection],
                "" if motor.overload_setting_a is None
                else amount(motor.overload_setting_a.number, motor.overload_setting_a.unit),
            )
            for motor in plan.motors
        ),
    )  # fmt: skip


def _care(study: Study) -> Iterator[Block]:
    if study.answer.cautions:
        yield Heading("Take care")
        yield from bullets((reason.words for reason in study.answer.cautions), "small")


def _changes(study: Study) -> Iterator[Block]:
    """The facts most worth finding out, and the nearest thresholds."""
    worth = sorted((fact for fact in study.missing if fact.worth), key=lambda f: -(f.worth or 0.0))
    first = {fact.words: fact for fact in reversed(worth)}
    facts = sorted(first.values(), key=lambda fact: -(fact.worth or 0.0))[:MOST]
    if not facts and not study.answer.changes_if:
        return
    yield Heading("What could change this answer")
    yield from bullets(
        [
            f"{fact.words} {fact.how_to_measure} "
            f"Worth about {money(fact.worth or 0.0, study.currency)}."
            for fact in facts
        ]
        + [
            f"{change.what[:1].upper()}{change.what[1:]} from "
            f"{amount(change.from_, change.unit)} to {amount(change.to, change.unit)}: "
            f"{change.then}"
            for change in study.answer.changes_if[:MOST]
        ],
        "small",
    )
