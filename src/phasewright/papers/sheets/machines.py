"""Sheets of the motors themselves: the test of an unknown one, and what was changed on each."""

from __future__ import annotations

from collections.abc import Iterator

from phasewright.papers.sheets.paper import Paper
from phasewright.papers.sheets.sheet import (
    Kept,
    Measure,
    Paragraph,
    Record,
    Section,
    Sheet,
    Step,
    Steps,
    Table,
)
from phasewright.plan.study import MotorSide, PlanMotor
from phasewright.quantities.words import CONNECTION_WORDS, WAY_WORDS
from phasewright.tables.clauses import limit

PARTS_CHANGED = {
    "links in the terminal box": "links as on the photograph, label off",
    "heaters or setting of the overload": "the amps found",
    "coil of the contactor": "the coil found, kept in a bag in the box",
    "tap of the control transformer": "the tap found",
    "brake coil and fan at the motor's terminals": "their wires where they were",
    "pulleys": "the pulley found, kept with the machine",
    "plug and lead": "the plug found; never a plug of other volts",
}
"""What may be changed on a machine, and how it is put back."""


def unknown_motor(of: Paper) -> Sheet | str:
    """The test of a motor before it is bought or used, with this shop's motors to compare."""
    rows = tuple(_rows(of))
    if not rows:
        return "no motor of this shop has a computed winding to compare with"
    least = of.amount(limit("machine_tests", "insulation_ohm"), "ohm")
    volts = limit("machine_tests", "insulation_test_v")
    steps = (
        Step("Turn the shaft by hand: free, quiet, no play. Smell the box: burnt varnish ends it.",
             "Nothing connected."),
        Step("Photograph plate and terminal box. Count leads, links, and whether three meet in a "
             "star point that can be opened."),
        Step("Ohms of every pair of leads.", measures=(
            Measure("three pairs", "multimeter on its lowest ohms, leads subtracted",
                    "alike within 3%", "One other: a broken joint or turns that touch."),)),
        Step("Each winding against the frame.", "The tester gives hundreds of volts.", (
            Measure("leads joined and frame", "insulation tester",
                    f"at least {least} at {volts:.0f} V (an old one at 250 V first)",
                    "Less: dry it warm and measure again; still less: leave it."),)),
        Step("Run it without a load on three lines of its own volts; clamp each line. Note the "
             "direction.", "Clamp the motor down: it jumps. Guard the shaft, key taped or out.", (
            Measure("three lines", "true-rms clamp ammeter", "alike within a tenth on even volts; "
                    "usual amps below", "Far more: wrong link or shorted turns, switch off."),)),
        Step("After half an hour without a load the frame is hand-warm, not hot.", measures=(
            Measure("frame", "thermometer", "below about 60 °C", "Hot unloaded: volts too high for "
                    "its link, shorted turns, or a dry bearing."),)),
    )  # fmt: skip
    return Sheet(
        "unknown-motor",
        "Testing an unknown or second-hand motor",
        (
            Section("", (Steps(steps),)),
            Section(
                "Your own motors, to compare with one of like power",
                (
                    Table(
                        ("motor", "power", "line volts", "rated amps", "ohms of a pair, cold",
                         "measured"),
                        rows, ("measured",), (5, 3, 3, 3, 5, 3),
                    ),
                ),
            ),
        ),
    )  # fmt: skip


def _rows(of: Paper) -> Iterator[tuple[str, ...]]:
    for each in of.readings:
        if each.code != "winding_ohms":
            continue
        side = _motor(of, each.subject)
        yield (
            side.id,
            "" if side.rated_power_w is None else of.amount(side.rated_power_w.number, "W"),
            "" if side.line_voltage_v is None else of.amount(side.line_voltage_v.number, "V"),
            "" if side.full_load_current_a is None
            else of.amount(side.full_load_current_a.number, "A"),
            of.expected(each), "",
        )  # fmt: skip


def record(of: Paper) -> Sheet | str:
    """Each machine as found and as changed, with how to put it back."""
    machines = tuple(_machine(of, each) for each in of.served)
    if not machines:
        return "the plan powers no motor"
    parts = Record(tuple(PARTS_CHANGED), tuple(PARTS_CHANGED.values()), machines)
    return Sheet(
        "machine-record",
        "The machines as found and as changed",
        (
            Section(
                "",
                (
                    Paragraph(
                        "Photograph every box before a link is moved. Whoever sells, borrows or "
                        "repairs the machine needs this page: keep it with the machine."
                    ),
                    Paragraph(
                        "A machine changed for one voltage is destroyed on another: hang a label "
                        "with its volts at its plug.",
                        "caution",
                    ),
                    parts,
                ),
            ),
        ),
    )


def _machine(of: Paper, each: PlanMotor) -> Kept:
    new = _changes(of, each)
    return Kept(
        f"{each.motor} {of.at(each.motor, 'motor')}".strip(),
        "" if each.way is None else WAY_WORDS[each.way],
        _motor(of, each.motor).connection_words,
        tuple(new.get(part, "") for part in PARTS_CHANGED),
    )


def _changes(of: Paper, each: PlanMotor) -> dict[str, str]:
    """What this plan changes, of the parts on the list."""
    found = {}
    if each.connection is not None:
        volts = _volts(of, each)
        found["links in the terminal box"] = CONNECTION_WORDS[each.connection] + (
            f", {volts}" if volts else ""
        )
    if each.overload_setting_a is not None:
        found["heaters or setting of the overload"] = of.amount(each.overload_setting_a.number, "A")
    return found


def _volts(of: Paper, each: PlanMotor) -> str:
    if each.figures.motor_on_drive is not None:
        return of.amount(each.figures.motor_on_drive.voltage_v.number, "V")
    side = _motor(of, each.motor)
    if side.line_voltage_v is None or side.connection != each.connection:
        return ""
    return of.amount(side.line_voltage_v.number, "V")


def _motor(of: Paper, name: str) -> MotorSide:
    return next(each for each in of.study.motors if each.id == name)
