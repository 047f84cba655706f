"""The calendar of maintenance: what to measure, when, and when to replace."""

from __future__ import annotations

from phasewright.papers.sheets.paper import Paper
from phasewright.papers.sheets.sheet import Paragraph, Section, Sheet, Table
from phasewright.papers.wiring.model import DeviceKind
from phasewright.tables.circuits import residual

YEARLY, MONTHLY = "every year", "every three months"


def maintenance(of: Paper) -> Sheet | str:
    """What to measure, when, and when to replace."""
    rows = [*_cans(of), *_rotating(of), *_electronics(of), *_protection(of)]
    if not rows:
        return "nothing of this plan ages with a figure to watch"
    return Sheet(
        "maintenance",
        "Maintenance calendar",
        (
            Section(
                "",
                (
                    Paragraph("Dead, locked, discharged and proved so, but for the tests that "
                              "need volts.", "caution"),
                    Table(
                        ("what", "when", "measure", "replace or act", "found, date"), tuple(rows),
                        ("found, date",), (5, 3, 5, 5, 4),
                    ),
                    Paragraph("Intervals are common practice, no source."),
                ),
            ),
        ),
    )  # fmt: skip


Row = tuple[str, str, str, str, str]


def _cans(of: Paper) -> list[Row]:
    rows: list[Row] = []
    for each in of.plan.circuits or ():
        if each.role != "capacitor_branch" or each.capacitance_f is None:
            continue
        farads = each.capacitance_f.number
        least = of.amount(0.95 * farads, "F")
        name = each.id.removeprefix(f"{each.from_} to ")
        cans = _of_bank(of, each.id, name, "C")
        measure = f"{of.amount(farads, 'F')} in all; each can by its print"
        act = f"below {least}, or any bulged or leaking can"
        rows.append((f"{name} {cans}".strip(), YEARLY, measure, act, ""))
        if each.discharge_ohm is not None:
            ohm = of.amount(each.discharge_ohm.number, "ohm")
            what = f"resistor {_of_bank(of, each.id, name, 'R')} of {name}".replace("  ", " ")
            rows.append((what, YEARLY, f"at most {ohm}", "open or higher: replace", ""))
    return rows


def _of_bank(of: Paper, circuit: str, name: str, letter: str) -> str:
    """The devices of this letter of a bank between two lines, or ("s") of the start capacitors."""
    lines = "".join(each for each in name if each.isdigit()) or "s"
    kinds: tuple[DeviceKind, ...] = ("run_capacitor", "start_capacitor", "discharge_resistor")
    found = of.devices_in(circuit, *kinds).split()
    return " ".join(each for each in found if f"-{letter}{lines}" in each)


def _rotating(of: Paper) -> list[Row]:
    rows: list[Row] = []
    if of.converter:
        ratios = [each for each in of.readings if each.code == "line_volts_ratio"]
        told = "; ".join(f"{each.between.removeprefix('volts of ').split(' over')[0]} "
                         f"{of.expected(each)}" for each in ratios)  # fmt: skip
        rows.append(("volts of line 3 over lines 1-2, idling", MONTHLY, told,
                     "outside: measure the capacitors", ""))  # fmt: skip
        rows.append(
            (
                "phase-sequence and drop-out relay "
                + of.at("", "phase_sequence_relay", "drop_out_relay"),
                YEARLY,
                "outlets stay dead until the idler turns right; drops out with the supply",
                "does not: replace",
                "",
            )
        )
        rows.append(("idler bearings", YEARLY, "quiet, cool, no play", "noise or heat", ""))
    return rows


def _electronics(of: Paper) -> list[Row]:
    rows: list[Row] = []
    for each in of.drives:
        rows.append(
            (
                f"drive of {each.motor} {of.at(each.motor, 'drive')}".strip(),
                YEARLY,
                "dust out, fan turns, screws tight; its settings kept on paper",
                "fan after 3 to 5 years, link after 8 to 12",
                "",
            )
        )
    return rows


def _protection(of: Paper) -> list[Row]:
    rows: list[Row] = []
    for each in of.readings:
        if each.code == "residual_test":
            rows.append(
                (
                    f"residual-current device of {each.subject}",
                    MONTHLY,
                    "its button; yearly with a tester: at most "
                    f"{of.amount(residual('at_rating_s'), 's')}",
                    "slower: replace",
                    "",
                )
            )
    earths = [each for each in of.readings if each.code == "earth_continuity"]
    if earths:
        most = max(earths, key=lambda each: each.high)
        rows.append(("earth of every machine", YEARLY, f"at most {of.amount(most.high, 'ohm')} "
                     "(see commissioning for each)", "more: find the joint", ""))  # fmt: skip
        rows.append(("screws of all terminals, contactor tips", YEARLY, "tight; tips smooth",
                     "burnt or welded", ""))  # fmt: skip
    return rows
