"""The settings of every drive and overload relay."""

from __future__ import annotations

from collections.abc import Iterator

from phasewright.papers.drive_sheets import CAUTION, entered
from phasewright.papers.sheets.paper import Paper
from phasewright.papers.sheets.sheet import Paragraph, Section, Sheet, Table
from phasewright.plan.study import PlanMotor

RELAY = (
    "Set it on its scale, and let a relay that trips on a missing line see all three. Never raise "
    "it to stop a trip: find out why it trips."
)


def settings(of: Paper) -> Sheet | str:
    """The sheet, or why there is none."""
    sections = (*_relays(of), *(_drive(each) for each in of.drives))
    if not sections:
        return "the plan has neither a drive nor an overload relay of which the amps are known"
    return Sheet("settings", "Settings of drives and overload relays", sections)


def _relays(of: Paper) -> Iterator[Section]:
    rows = []
    by_circuit = {each.to: each for each in of.plan.circuits or ()}
    for each in of.served:
        if each.overload_setting_a is None or each.figures.settings:
            continue
        circuit = by_circuit.get(each.motor)
        device = None if circuit is None else circuit.device
        relay = None if circuit is None else circuit.phase_relay
        rows.append((
            each.motor, of.amount(each.overload_setting_a.number, "A"),
            "" if device is None
            else f"{device.curve or ''} {of.amount(device.rating_a, 'A')}".strip(),
            "" if relay is None
            else f"{of.amount(relay.undervoltage_v, 'V')}, {100 * relay.unbalance:.0f}%, "
            f"{of.amount(relay.delay_s, 's', 2)}",
            "",
        ))  # fmt: skip
    if rows:
        yield Section(
            "Overload relays",
            (
                Paragraph(RELAY, "caution"),
                Table(
                    ("motor", "overload relay", "device ahead of it",
                     "phase relay: lowest volts, unbalance, delay", "set on, by"),
                    tuple(rows), ("set on, by",), (5, 3, 3, 5, 3),
                ),
            ),
        )  # fmt: skip


def _drive(each: PlanMotor) -> Section:
    rows = tuple(
        (one.words, f"{entered(one)} {one.unit}".rstrip(), one.why, "")
        for one in each.figures.settings or ()
    )
    return Section(
        f"Drive of {each.motor}",
        (
            Paragraph(CAUTION, "caution"),
            Table(("setting", "value", "why", "entered"), rows, ("entered",), (5, 3, 8, 2)),
        ),
    )
