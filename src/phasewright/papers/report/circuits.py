"""Circuits, starts and sets of machines of the plan, as tables."""

from __future__ import annotations

from collections.abc import Iterator

from phasewright.papers.designations import Designations
from phasewright.papers.plan_words import (
    INSIDE,
    cable_words,
    device_words,
    lengths_words,
    own_drives,
    residual_words,
    run_up_words,
    trip_words,
    yours,
)
from phasewright.papers.report.blocks import Block, Column, Heading, Words, bullets, table
from phasewright.papers.wiring.model import Wiring
from phasewright.plan.circuit_study import PlanCircuit
from phasewright.plan.study import PlanCase, PlanSide
from phasewright.quantities.told import amount
from phasewright.quantities.value import Value

PROPOSAL = (
    "Each with an earth conductor. The sizes are a proposal for whoever is allowed to wire, not a "
    "permission. Lengths are assumed where none was told (here {lengths}): pace them out before "
    "anything is bought."
)


def circuits(plan: PlanSide, wiring: Wiring) -> Iterator[Block]:
    """What is laid from where to where, what guards it, and that it opens on a fault."""
    laid = plan.circuits or ()
    if not laid:
        return
    own, at = own_drives(plan), Designations(wiring)
    yield Heading("Circuits", 1)
    yield Words(PROPOSAL.format(lengths=lengths_words(laid)))
    columns = (
        Column("From", 1.1), Column("To", 1.3), Column("Amps", side="right"),
        Column("Conductor", 1.3), Column("m", side="right"), Column("Bears", side="right"),
        Column("Drop, at start", 1.0, "right"), Column("Breaker", 1.2), Column("Residual", 0.9),
        Column("Overload", side="right"),
    )  # fmt: skip
    yield from table(columns, (_row(each, own, at) for each in laid), small=True)
    yield from _earth_faults(laid, own)


def _earth_faults(laid: tuple[PlanCircuit, ...], own: dict[str, str]) -> Iterator[Block]:
    """Loop, fault current and what opens it; circuits of which the same is to be said once."""
    yield Heading("What opens an earth fault")
    found: dict[tuple[str, ...], list[str]] = {}
    for each in laid:
        if each.role in INSIDE or each.earth_fault_a is None:
            continue
        asked = "" if each.within_s is None else amount(each.within_s, "s")
        told = (_told(each.loop_ohm), _told(each.earth_fault_a), _told(each.disconnects_s), asked,
                each.why_it_trips or "")  # fmt: skip
        found.setdefault(told, []).append(own.get(each.to, each.to))
    columns = (
        Column("To", 1.1), Column("Loop", side="right"), Column("Earth fault", 0.5, "right"),
        Column("Opens within", 0.5, "right"), Column("Asked", side="right"), Column("Why", 3.4),
    )  # fmt: skip
    yield from table(columns, ((", ".join(to), *told) for told, to in found.items()), small=True)


def _row(row: PlanCircuit, own: dict[str, str], at: Designations) -> tuple[str, ...]:
    guard = at.in_circuit(row.id, "breaker", "fuse")[:1] if row.device is not None else []
    return (
        "its drive" if row.from_ in own else row.from_,
        own.get(row.to, row.to),
        _told(row.design_current_a),
        yours(row, "conductor", cable_words(row)),
        f"{row.length_m.number:g}",
        _told(row.ampacity_a),
        _drop(row),
        yours(row, "breaker", " ".join((*guard, device_words(row.device)))),
        yours(row, "residual_current", residual_words(row.residual_current)),
        _told(row.overload_setting_a),
    )


def _drop(row: PlanCircuit) -> str:
    if row.voltage_drop is None:
        return ""
    both = (row.voltage_drop.running, row.voltage_drop.starting)
    return ", ".join(f"{each.number:.1%}" for each in both if each is not None)


def _told(value: Value | None) -> str:
    return "" if value is None else amount(value.number, value.unit)


def starts(plan: PlanSide) -> Iterator[Block]:
    """How each motor runs up in its hardest case, and in which order."""
    if not plan.starts:
        return
    yield Heading("Starts")
    columns = (
        Column("Motor", 1.4), Column("With", 1.4), Column("Runs up in", side="right"),
        Column("Dip", side="right"), Column("Supply peak", side="right"), Column("What trips", 1.4),
    )  # fmt: skip
    yield from table(
        columns,
        (
            (
                f"{row.motor} (to come)" if row.planned else row.motor,
                ", ".join(row.with_) or "nothing", run_up_words(row), f"{row.dip.number:.1%}",
                _told(row.supply_peak_a),
                ", ".join(trip_words(each) for each in row.trips) or "nothing",
            )
            for row in plan.starts
        ),
        small=True,
    )  # fmt: skip
    if len(plan.starting_order) > 1:
        yield Words(f"Start them in this order: {', then '.join(plan.starting_order)}.")
    for equipment in plan.equipment:
        wrong = equipment.wrong_direction
        if wrong is not None:
            harmed = ", ".join(each.motor for each in wrong.motors if each.harms)
            harm = f"Turning backwards harms {harmed}." if harmed else ""
            told = (wrong.not_turned.words, wrong.words, harm)
            yield from bullets(filter(None, told), "small")


def cases(plan: PlanSide) -> Iterator[Block]:
    """What the supply and the lines do for every set that turns together."""
    if not plan.cases:
        return
    yield Heading("Sets that turn together")
    columns = (
        Column("Running", 2.6), Column("Supply", side="right"), Column("Takes", side="right"),
        Column("Room left", side="right"), Column("At a start", side="right"),
        Column("Volts 1-2, 2-3, 3-1", side="right"), Column("Unbalance", side="right"),
    )  # fmt: skip
    yield from table(columns, (_case(case) for case in plan.cases), small=True)
    yield Words(
        "Lines 1 and 2 are the two supply lines; line 3 is the generated one. At a start: the room "
        "left at the hardest start of the set; below zero the main fuse has to bear it. "
        "Unbalance: the negative sequence over the positive.",
        look="small",
    )


def _case(case: PlanCase) -> tuple[str, ...]:
    volts = case.line_voltages_v
    return (
        ", ".join(case.running) or "nothing",
        _told(case.supply_current_a),
        _told(case.supply_power_w),
        _told(case.room_left_a),
        _told(case.room_left_starting_a),
        "" if volts is None else " / ".join(f"{each.number:.0f}" for each in volts),
        "" if case.unbalance is None else f"{case.unbalance.vuf.number:.1%}",
    )
