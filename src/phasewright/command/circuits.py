"""The circuits of a plan on the screen: what is laid from where to where, and what guards it."""

from __future__ import annotations

from rich.console import Console
from rich.table import Table
from rich.text import Text

from phasewright.command.screen import amount, heading, line, money, tabled
from phasewright.papers.plan_words import (
    INSIDE,
    cable_words,
    circuit_parts_words,
    device_words,
    lengths_words,
    own_drives,
    residual_words,
    yours,
)  # fmt: skip
from phasewright.plan.circuit_study import PlanCircuit
from phasewright.plan.study import PlanSide


def circuits(console: Console, plan: PlanSide, currency: str | None = None) -> None:
    """Every circuit but those inside a box, then those in a line each; nothing without any."""
    laid = plan.circuits or ()
    if not laid:
        return
    heading(console, "Circuits")
    _table(console, [each for each in laid if each.role not in INSIDE], own_drives(plan))
    line(console, "Each with an earth conductor. Lengths are assumed where you told none (here "
         f"{lengths_words(laid)}): pace them out before you buy. The sizes are a proposal for "
         "whoever is allowed to wire, not a permission.")  # fmt: skip
    _inside(console, laid)
    _line3(console, plan)
    _parts(console, plan, currency)


def _parts(console: Console, plan: PlanSide, currency: str | None) -> None:
    """What is to be bought for them, like pieces together."""
    cost, rows = plan.circuits_cost, circuit_parts_words(plan)
    if not rows:
        return
    whole = "" if cost is None else (
        f", about {money(cost.expected.number, currency)} ({money(cost.low, None)} to "
        f"{money(cost.high, None)}, from the shortest lengths to the longest)"
    )  # fmt: skip
    origins = " and ".join(sorted({each.price_origin for each in plan.circuit_parts or ()}))
    line(console, f"To buy for them{whole}; {origins}:")
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), show_header=False)
    table.add_column(overflow="fold")
    table.add_column(justify="right", no_wrap=True)
    for words, price in rows:
        table.add_row(words, "not priced" if price is None else money(price, None))
    tabled(console, table)


def _table(console: Console, rows: list[PlanCircuit], own: dict[str, str]) -> None:
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="italic")
    for name in ("From", "To"):
        table.add_column(name, overflow="fold")
    for name in ("Conductor", "Breaker", "Residual", "Overload"):
        table.add_column(name, no_wrap=True)
    for row in rows:
        table.add_row(
            "its drive" if row.from_ in own else row.from_,
            own.get(row.to, row.to),
            yours(row, "conductor", cable_words(row)),
            yours(row, "breaker", device_words(row.device)),
            yours(row, "residual_current", residual_words(row.residual_current)),
            "" if row.overload_setting_a is None else amount(row.overload_setting_a.number, "A"),
        )
    tabled(console, table)


def _inside(console: Console, rows: tuple[PlanCircuit, ...]) -> None:
    """Leads to capacitors, and what feeds the controls."""
    branches = [row for row in rows if row.role == "capacitor_branch" and row.conductor]
    if branches:
        thick = max(branches, key=lambda row: row.conductor_m2 or 0.0)
        ohms = min(row.discharge_ohm.number for row in branches if row.discharge_ohm is not None)
        line(
            console,
            f"Leads to capacitors: {thick.conductor} or thicker; across each a resistor of at "
            f"most {amount(ohms, 'ohm')}. They recharge while the idler spins.",
            mark=Text("-"),
        )
    controls = [row for row in rows if row.role == "control" and row.conductor]
    if controls:
        one = controls[0]
        line(
            console,
            f"Controls of {', '.join(row.to.removesuffix(' controls') for row in controls)}: from "
            f"lines 1 and 2 behind {device_words(one.device)}, {one.conductor}.",
            mark=Text("-"),
        )


def _line3(console: Console, plan: PlanSide) -> None:
    """What an earth fault on the generated line draws, and what opens it."""
    on_3 = [row for row in plan.circuits or () if row.first_cycles_a is not None]
    if not on_3:
        return
    worst = min(on_3, key=lambda row: row.earth_fault_a.low if row.earth_fault_a else 0.0)
    if worst.why_it_trips:
        line(console, f"{worst.to}: {worst.why_it_trips}.", mark=Text("-"))
