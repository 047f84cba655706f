"""Pages for those who bring the power: the electrician's brief, the network operator's page."""

from __future__ import annotations

from phasewright.papers.sheets.paper import Paper
from phasewright.papers.sheets.sheet import Paragraph, Part, Section, Sheet, Step, Steps, Table
from phasewright.plan.circuit_study import PlanCircuit

WHO_MAY: dict[str, str] = {
    "AU": "In Australia fixed wiring is for licensed electricians alone (from memory).",
    "NZ": "In New Zealand fixed wiring is for registered electrical workers, but for narrow "
    "exemptions (from memory).",
    "DE": "In Germany a firm in the network operator's register connects to the supply (from "
    "memory).",
    "GB": "In England and Wales new circuits in a dwelling's buildings are notified under the "
    "building regulations (from memory).",
}
CIRCUITS, CONFIRM = "Circuits", "To confirm on the finished installation"
"""Parts of the report that hold the same."""
LAW = "Who may do fixed wiring differs from place to place: ask before you begin."


def electrician(of: Paper) -> Sheet | str:
    """Who may do what, the circuits, and words for a quotation."""
    circuits = of.plan.circuits or ()
    if not circuits:
        return "the circuits of this plan are not laid out"
    fixed = from_the_board(circuits)
    hours = of.amount(of.plan.hours_of_work.number, "h", 2)
    return Sheet(
        "electrician",
        "The electrician's brief",
        (
            Section(
                "Who does what",
                (
                    Paragraph(WHO_MAY.get(of.shop.supply.country, LAW), "caution"),
                    Paragraph(
                        "The owner may usually: build and wire machines and boxes behind an "
                        "outlet or isolator, enter settings, relink motors. Licensed: circuits "
                        "from the board, devices in it, earthing, the first test and its "
                        f"certificate. The plan takes about {hours} of work in all."
                    ),
                ),
            ),
            Section("Wording for a quotation", (Paragraph(_wording(of, fixed)),)),
            Section("The circuits", (_circuits(of, circuits),), CIRCUITS),
            Section("To be confirmed on site", confirm(of), CONFIRM),
        ),
    )


def from_the_board(circuits: tuple[PlanCircuit, ...]) -> list[PlanCircuit]:
    """Circuits that begin at a board of the shop, those of controls left out."""
    return [each for each in circuits if each.role.startswith("supply_to")]


def _wording(of: Paper, fixed: list[PlanCircuit]) -> str:
    supply = of.shop.supply
    told = "; ".join(
        f"{of.named(each.to)}: {_device(of, each)}, {each.conductor or 'conductor by you'}, "
        f"{of.amount(each.length_m.number, 'm')}"
        for each in fixed
    )
    fault = of.study.supply.fault_current_a
    earthing = "" if supply.earthing is None else f", earthing {supply.earthing}"
    return (
        f"Please quote for a supply of {of.amount(supply.voltage.number, 'V')} "
        f"{of.amount(supply.frequency.number, 'Hz')}{earthing}: {counted(fixed)} from the "
        f"board ({told}), each with a lockable isolator, test and certificate included. "
        f"Prospective fault current at the intake about {of.amount(fault.number, 'A')} "
        "(computed; please measure)."
    )


def counted(of: list[PlanCircuit]) -> str:
    """How many circuits, in words."""
    return "1 circuit" if len(of) == 1 else f"{len(of)} circuits"


def _circuits(of: Paper, circuits: tuple[PlanCircuit, ...]) -> Table:
    rows = tuple(
        (
            of.named(each.id), "" if each.design_current_a is None
            else of.amount(each.design_current_a.number, "A"),
            _there(each, "breaker", _device(of, each)),
            _there(each, "conductor", each.conductor or ""),
            "" if each.residual_current is None
            else f"{each.residual_current.rating_ma:.0f} mA type {each.residual_current.type}"
            + (" (there)" if _residual_there(each) else ""),
            "",
        )
        for each in circuits
    )  # fmt: skip
    return Table(
        ("circuit", "amps", "device", "conductor", "residual device", "agreed"), rows, ("agreed",),
        (8, 3, 3, 3, 5, 3),
    )  # fmt: skip


def _there(each: PlanCircuit, key: str, words: str) -> str:
    """With a mark where it stands there already and is kept."""
    return f"{words} (there)" if key in each.there else words


def _residual_there(each: PlanCircuit) -> bool:
    ahead = each.residual_current is not None and each.residual_current.upstream
    return ahead or "residual_current" in each.there


def _device(of: Paper, each: PlanCircuit) -> str:
    if each.device is None:
        return "none of its own"
    kind = each.device.curve or each.device.kind.replace("_", " ")
    return f"{of.guard(each.id)} {kind} {of.amount(each.device.rating_a, 'A')}".strip()


def confirm(of: Paper) -> tuple[Part, ...]:
    """What only the finished installation shows."""
    asked = of.plan.to_confirm or ()
    if not asked:
        return (Paragraph("Nothing that only the site can tell."),)
    by_words: dict[str, list[str]] = {}
    for each in asked:
        by_words.setdefault(each.words, []).append(each.subject)
    return (
        Steps(tuple(Step(f"{words} ({', '.join(names)})") for words, names in by_words.items())),
    )


def operator(of: Paper) -> Sheet | str:
    """What the network operator asks: starting amps, changes of volts, how often, flicker."""
    effects = of.plan.network_effects
    if effects is None:
        return "no start of this plan draws on the network unsoftened"
    rows = tuple(
        (
            each.motor,
            "" if each.starting_current_a is None
            else of.amount(each.starting_current_a.number, "A"),
            of.amount(each.starts_per_hour.number, "an hour"),
            f"{100 * each.change_at_intake.number:.1f}%",
            "" if each.change_on_reference is None
            else f"{100 * each.change_on_reference.number:.1f}%",
        )
        for each in effects.starts
    )  # fmt: skip
    r, x = of.study.supply.impedance_ohm.r, of.study.supply.impedance_ohm.x
    running = of.plan.supply_current_a.running
    most = "" if running is None else (
        f"All motors that may turn together take at most {of.amount(running.number, 'A')}. "
    )  # fmt: skip
    limit = of.shop.supply.service_rating
    fuse = "" if limit is None else f"Main fuse {of.amount(limit.number, 'A')}. "
    flicker, long = effects.flicker_at_intake, effects.long_flicker_at_intake
    return Sheet(
        "network-operator",
        "For the network operator",
        (
            Section(
                "The shop",
                (
                    Paragraph(
                        f"{fuse}{most}Impedance of the supply loop reckoned with: "
                        f"{of.amount(r.number, 'ohm')} resistance, {of.amount(x.number, 'ohm')} "
                        "reactance. Please tell the value and the limits that hold here."
                    ),
                ),
            ),
            Section(
                "Starts",
                (
                    Table(
                        ("start", "amps", "how often", "change of volts at the intake",
                         "on the reference supply"), rows, (), (6, 3, 3, 5, 4),
                    ),
                    Paragraph(
                        "Flicker severity at the intake about "
                        f"{flicker.expected.number:.2g} ({flicker.low:.2g} to {flicker.high:.2g}) "
                        f"over ten minutes, {long.expected.number:.2g} ({long.low:.2g} to "
                        f"{long.high:.2g}) over two hours; "
                        "1 is where most people are disturbed. Reference supply: IEC 60725."
                    ),
                ),
            ),
            Section("", (Paragraph(_findings(of, ("network", "iec.61000", "en.50160"))),)),
        ),
    )  # fmt: skip


def _findings(of: Paper, beginnings: tuple[str, ...]) -> str:
    found = [
        f"{each.subject}: {each.words}."
        for each in of.study.findings
        if each.id in of.plan.findings and each.rule.startswith(beginnings)
    ]
    return " ".join(dict.fromkeys(found)) or "No rule of network or standard says more."
