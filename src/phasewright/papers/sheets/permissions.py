"""Pages for those whose leave is asked: insurer, landlord, inspector."""

from __future__ import annotations

from phasewright.papers.sheets.others import CIRCUITS, CONFIRM, confirm, counted, from_the_board
from phasewright.papers.sheets.paper import BY_CODE, Paper
from phasewright.papers.sheets.sheet import Paragraph, Section, Sheet, Table

INSURER = "For the insurer"


def insurer(of: Paper) -> Sheet | str:
    """What stands there, what it was tested by, what runs unattended."""
    rows = _things(of)
    if not rows:
        return "the plan adds no equipment with a rating"
    return Sheet(
        "insurer",
        INSURER,
        (
            Section("What is added", (_thing_table(rows),)),
            Section(
                "What is asked of you",
                (
                    Paragraph(
                        "Please confirm in writing that this equipment is covered, whether it must "
                        "be listed or certified, and whether it may run unattended. Self-built "
                        "equipment bears no maker's mark."
                    ),
                    Paragraph(
                        "What runs while nobody is there, to be written in by the owner: "
                        "________. What the site must still show is on the inspector's page."
                    ),
                    Paragraph(f"Value of what is bought: {of.money(of.plan.purchase.number)}."),
                ),
            ),
        ),
    )


def landlord(of: Paper) -> Sheet | str:
    """What is altered and how it is undone."""
    rows = _things(of)
    if not rows:
        return "the plan adds no equipment with a rating"
    fixed = from_the_board(of.plan.circuits or ())
    lengths = sum(each.length_m.number for each in fixed)
    noise = of.plan.noise_dba
    loud = "" if noise is None else (
        f" What is shared is heard with about {noise.number:.0f} dB(A) at one metre."
    )  # fmt: skip
    return Sheet(
        "landlord",
        "For the landlord",
        (
            Section("What comes into the building", (_thing_table(rows),), INSURER),
            Section(
                "What is altered, and how it is undone",
                (
                    Paragraph(
                        f"{counted(fixed)} from the board, {of.amount(lengths, 'm')} of cable "
                        "in all, by whoever the law lets do it. When the shop leaves, machines and "
                        "boxes go with it; the circuits are disconnected at the board and either "
                        f"left labelled or taken out.{loud}"
                    ),
                    Paragraph("Please allow this in writing before work begins."),
                ),
            ),
        ),
    )


def inspector(of: Paper) -> Sheet | str:
    """Rules that were held against the plan, what to confirm, and what was measured."""
    circuits = of.plan.circuits or ()
    if not circuits:
        return "the circuits of this plan are not laid out"
    rows = tuple(
        (
            of.named(each.id),
            "" if each.ampacity_a is None else of.amount(each.ampacity_a.number, "A"),
            "" if each.loop_ohm is None else of.amount(each.loop_ohm.number, "ohm"),
            "" if each.earth_fault_a is None else of.amount(each.earth_fault_a.number, "A"),
            "" if each.disconnects_s is None else of.amount(each.disconnects_s.number, "s"),
            "" if each.within_s is None else of.amount(each.within_s, "s"), "",
        )
        for each in circuits
    )  # fmt: skip
    why = tuple(
        Paragraph(f"{of.named(each.id)}: {each.why_it_trips}.")
        for each in circuits
        if each.why_it_trips
    )
    return Sheet(
        "inspector",
        "For the inspector",
        (
            Section("", (Paragraph(f"Computed, not measured. {BY_CODE}", "caution"),)),
            Section(
                "Circuits",
                (
                    Table(
                        ("circuit", "ampacity", "loop", "earth fault", "opens in", "asked",
                         "measured"), rows, ("measured",), (8, 3, 3, 3, 3, 3, 3),
                    ),
                    *why,
                ),
                CIRCUITS,
            ),
            Section("To be confirmed on site", confirm(of), CONFIRM),
        ),
    )  # fmt: skip


def _things(of: Paper) -> tuple[tuple[str, ...], ...]:
    origins = {(each.kind, each.serves): each for each in of.plan.buys if each.year == 0}
    rows = []
    for each in of.plan.equipment:
        if not each.unit:
            continue
        buy = origins.get((each.way, each.serves))
        idle = each.figures.idle_power_w
        rows.append((
            of.named(each.id), of.amount(each.rating, each.unit), each.place or "the intake",
            "" if buy is None else buy.origin.replace("_", "-"),
            "" if idle is None else of.amount(idle.number, "W"),
        ))  # fmt: skip
    return tuple(rows)


def _thing_table(rows: tuple[tuple[str, ...], ...]) -> Table:
    return Table(
        ("what", "rating", "where", "new, self-built, used", "heat at idle"), rows, (),
        (7, 3, 4, 4, 3),
    )  # fmt: skip
