"""The settings of every drive and overload relay."""

from __future__ import annotations

from collections.abc import Iterator

from phasewright.papers.drive_sheets import CAUTION, entered
from phasewright.papers.sheets.paper import Paper
from phasewright.papers.sheets.sheet import Paragraph, Section, Sheet, Table
from phasewright.ways.drive_sheet import Setting

RELAY = (
    "Set it on its scale, and let a relay that trips on a missing line see all three. Never raise "
    "it to stop a trip: find out why it trips."
)

WHY = "The reason for every value, and the steps of the wiring, stand in drives.txt."
ABREAST, ENTERED = 3, "entered"
"""Drives beside each other on a sheet; the column in which the owner ticks off."""


def settings(of: Paper) -> Sheet | str:
    """The sheet, or why there is none."""
    sections = (*_relays(of), *_drives(of))
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
        ahead = "" if circuit is None else of.guard(circuit.id)
        rows.append((
            f"{each.motor} {of.at(each.motor, 'overload_relay')}".strip(),
            of.amount(each.overload_setting_a.number, "A"),
            "" if device is None
            else f"{ahead} {device.curve or ''} {of.amount(device.rating_a, 'A')}".strip(),
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
                    ("motor and its relay", "set to", "device ahead of it",
                     "phase relay: lowest volts, unbalance, delay", "set on, by"),
                    tuple(rows), ("set on, by",), (5, 3, 3, 5, 3),
                ),
            ),
        )  # fmt: skip


def _drives(of: Paper) -> Iterator[Section]:
    """Drives side by side; a setting in a row, with a box to tick for each of them."""
    for place in range(0, len(of.drives), ABREAST):
        drives = of.drives[place : place + ABREAST]
        found = [{one.words: one for one in each.figures.settings or ()} for each in drives]
        names = dict.fromkeys(words for each in found for words in each)
        rows = tuple((words, *(_entered(each.get(words)) for each in found), "") for words in names)
        heads = tuple(f"{each.motor} {of.at(each.motor, 'drive')}".strip() for each in drives)
        yield Section(
            f"Drive of {', '.join(each.motor for each in drives)}",
            (
                Paragraph(f"{CAUTION} {WHY}", "caution"),
                Table(("setting", *heads, ENTERED), rows, (ENTERED,), (5, *(3 for _ in heads), 2)),
            ),
        )


def _entered(setting: Setting | None) -> str:
    return "–" if setting is None else f"{entered(setting)} {setting.unit}".rstrip()
