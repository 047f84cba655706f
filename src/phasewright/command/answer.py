"""The answer on the screen: what to do first, then what it costs, then why and how sure."""

from __future__ import annotations

from collections.abc import Sequence

from rich.console import Console
from rich.table import Table
from rich.text import Text

from phasewright.command.circuits import circuits
from phasewright.command.drives import drives
from phasewright.command.facts import assumed, findings, missing
from phasewright.command.motors import motors
from phasewright.command.notes import listed, numbered, seen
from phasewright.command.screen import amount, draws, heading, line, money, spread, tabled
from phasewright.command.site import confirm
from phasewright.command.starts import starts
from phasewright.command.supply import supply
from phasewright.papers.plan_words import bought, chosen, findings_of, origins, part_words
from phasewright.plan.study import PlanSide, Study
from phasewright.quantities.finding import Reason
from phasewright.quantities.words import (
    BUYABLE_WORDS,
    CONNECTION_WORDS,
    WAY_WORDS,
    place_words,
)


def show(console: Console, study: Study, *, reasons: bool = False) -> None:
    """Print the answer; with `reasons` also why each motor may or may not run on each way."""
    _headline(console, study)
    plan = chosen(study)
    if plan is not None:
        _buys(console, plan, study.currency)
        _costs(console, plan, study)
        _hangs_on(console, plan)
        supply(console, study, plan)
        circuits(console, plan, study.currency)
        drives(console, plan)
        starts(console, plan, study.region)
    _other_plans(console, study)
    motors(console, study.motors, study.currency, reasons=reasons)
    findings(console, findings_of(study, plan))
    _reasons(console, "Take care", study.answer.cautions)
    if plan is not None:
        confirm(console, plan)
    assumed(console, study.assumed)
    missing(console, study.missing, study.currency)
    _changes(console, study)


def _headline(console: Console, study: Study) -> None:
    console.print(Text(study.shop, style="bold"))
    console.print(Text(("═" if draws(console) else "=") * len(study.shop)))
    line(console, study.answer.headline, inset=0)
    if study.made.quick:
        line(console, "A quick study: what takes longest was left out.", inset=0)
    _reasons(console, "What stands in the way", study.answer.obstacles)
    _reasons(console, "Why", study.answer.reasons)


def _reasons(console: Console, title: str, reasons: Sequence[Reason]) -> None:
    if not reasons:
        return
    heading(console, title)
    for reason in reasons:
        line(console, reason.words, mark=Text("-"))


def _table(*columns: tuple[str, str]) -> Table:
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="italic")
    for name, side in columns:
        if side == "right":
            table.add_column(name, justify="right", no_wrap=True)
        else:
            table.add_column(name, overflow="fold")
    return table


def _buys(console: Console, plan: PlanSide, currency: str | None) -> None:
    heading(console, "What to buy")
    if not plan.buys:
        line(console, "Nothing.")
        return
    found = [origin for buy in plan.buys for origin in origins(buy)]
    marks = {origin: f" [{n + 1}]" for n, origin in enumerate(dict.fromkeys(found))}
    if len(marks) == 1:
        marks = dict.fromkeys(marks, "")
    table = _table(("When", "left"), ("What", "left"), ("For", "left"), ("Price", "right"))
    for buy in sorted(plan.buys, key=lambda buy: buy.year):
        table.add_row(
            "now" if buy.year == 0 else f"year {buy.year}",
            f"{bought(buy)}, {BUYABLE_WORDS[buy.origin]}",
            ", ".join(buy.serves),
            money(buy.price, None) + marks[buy.price_origin],
        )
        for part in buy.parts:
            owned = ", already yours" if part.owned else ""
            table.add_row(
                "",
                Text(f"  {part_words(part)}{owned}"),
                "",
                Text(money(part.price, None) + marks[part.price_origin], style="dim"),
            )
    tabled(console, table)
    told = f"Prices in {currency}" if currency else "Prices"
    if len(marks) == 1:
        line(console, f"{told}: {next(iter(marks))}.")
        return
    line(console, f"{told}:")
    for origin, mark in marks.items():
        line(console, origin, mark=Text(mark.strip()), inset=4)


def _costs(console: Console, plan: PlanSide, study: Study) -> None:
    heading(console, "What it costs")
    currency = study.currency
    years = max((entry.year for entry in plan.years), default=0)
    life = plan.lifetime_cost
    table = Table(box=None, pad_edge=False, show_header=False, padding=(0, 2, 0, 0))
    table.add_column()
    table.add_column(overflow="fold")
    table.add_row("to buy", money(plan.purchase.number, currency))
    circuits_cost = plan.circuits_cost
    if circuits_cost is not None:
        table.add_row(
            "its circuits",
            f"{money(circuits_cost.expected.number, currency)}  "
            f"({money(circuits_cost.low, None)} to {money(circuits_cost.high, None)}) beside that "
            "and beside the sums below",
        )
    paid = money(plan.labour.number, currency) if plan.labour.number else "your own"
    table.add_row("work", f"{spread(plan.hours_of_work)}, {paid}")
    idle = plan.idle_energy_per_year_kwh.number
    turning = f", of which {idle:,.0f} kWh turn an idling converter" if idle > 0.0 else ""
    table.add_row("energy a year", money(plan.energy_per_year.number, currency) + turning)
    table.add_row(
        f"over {years} years" if years else "over the years planned",
        f"{money(life.expected.number, currency)}  "
        f"({money(life.low, None)} to {money(life.high, None)}), future money discounted",
    )
    if plan.supply_current_a.running is not None:
        table.add_row("from the supply", f"{spread(plan.supply_current_a.running)} at the most")
    for place in study.places:
        if place.limit_a is not None and place.headroom_a is not None:
            taken = place.limit_a.number - place.headroom_a.number
            table.add_row(
                f"to {place_words(place.name)}",
                f"{amount(taken, 'A')} at the most over a feeder that carries "
                f"{amount(place.limit_a.number, 'A')}",
            )
    if plan.noise_dba is not None:
        table.add_row("noise", f"{plan.noise_dba.number:.0f} dB(A)")
    tabled(console, table)


def _hangs_on(console: Console, plan: PlanSide) -> None:
    heading(console, "What each motor hangs on")
    table = _table(
        ("Motor", "left"), ("On", "left"), ("Link", "left"), ("Overload set to", "right")
    )
    for motor in plan.motors:
        on = "nothing" if motor.way is None else WAY_WORDS[motor.way]
        setting = motor.overload_setting_a
        table.add_row(
            motor.motor,
            on,
            "" if motor.connection is None else CONNECTION_WORDS[motor.connection],
            "" if setting is None else amount(setting.number, setting.unit),
        )
    tabled(console, table)


def _other_plans(console: Console, study: Study) -> None:
    others = [plan for plan in study.plans if plan.id != study.answer.plan]
    if not others:
        return
    heading(console, "Other plans, for comparison")
    notes = numbered(reason.words for plan in others for reason in plan.gives_up)
    table = _table(("Plan", "left"), ("To buy", "right"), ("In all", "right"), ("Gives up", "left"))
    for plan in others:
        said = [reason.words for reason in plan.gives_up]
        told = [words for words in said if words not in notes]
        stops = [] if plan.feasible else ["not feasible:"]
        table.add_row(
            plan.title,
            money(plan.purchase.number, None),
            money(plan.lifetime_cost.expected.number, None),
            " ".join([*stops, *told, *seen(said, notes)]),
        )
    tabled(console, table)
    listed(console, notes)


def _changes(console: Console, study: Study) -> None:
    if not study.answer.changes_if:
        return
    heading(console, "What would change the answer")
    for change in study.answer.changes_if:
        start, end = amount(change.from_, change.unit), amount(change.to, change.unit)
        line(console, f"{change.what} from {start} to {end}: {change.then}", mark=Text("-"))
