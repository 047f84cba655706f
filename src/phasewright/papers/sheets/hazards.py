"""One page before any box is opened: what can hurt here, with the figures of this shop."""

from __future__ import annotations

from phasewright.papers.sheets.paper import BY_CODE, Paper
from phasewright.papers.sheets.sheet import Paragraph, Part, Section, Sheet, Step, Steps
from phasewright.tables.circuits import capacitor_circuit

FIRST = Step("Stop every machine, then what makes the three lines. Wait until all shafts rest.")
THEN = (
    Step("Wait as long as is said above."),
    Step("Meter on something live, then on line to line and line to earth of every conductor, then "
         "on something live again: only then is it proved dead."),
    Step("Short and earth nothing that may still be charged; measure direct volts first."),
)  # fmt: skip


def hazards(of: Paper) -> Sheet | str:
    """The page, or why there is none."""
    if not of.served:
        return "the plan powers no motor"
    found: list[Part] = [Paragraph(words, "caution") for words in _dangers(of)]
    return Sheet(
        "before-you-open",
        "Before you open the box",
        (
            Section("What can hurt here", tuple(found)),
            Section("Making it dead, in this order", (Steps((FIRST, _lock(of), *THEN)),)),
            Section("", (Paragraph(BY_CODE),)),
        ),
    )


def _lock(of: Paper) -> Step:
    """Which isolators are switched off and locked: what is shared first."""
    shared = of.at("", "isolator")
    own = "; ".join(
        f"{each.motor} {at}" for each in of.served if (at := of.at(each.motor, "isolator"))
    )
    named = "; ".join(filter(None, (shared, own)))
    return Step(
        f"Switch off the isolator of what you open{f' ({named})' if named else ''}, lock it, keep "
        "the key, hang a tag with your name."
    )


def _dangers(of: Paper) -> list[str]:
    found = []
    volts = [each for each in of.readings if each.code == "volts_to_earth"]
    if volts:
        told = ", ".join(f"{each.between.removesuffix(' and earth')} "
                         f"{of.amount(each.value.number, 'V')}" for each in volts)  # fmt: skip
        found.append(
            f"Shock. With the converter idling the lines stand from earth: {told}. Line 3 is live "
            "whenever the idler turns, also with the supply unplugged."
        )
    else:
        supply = of.amount(of.shop.supply.voltage.number, "V")
        found.append(f"Shock. Between lines 1 and 2 stand {supply} or a little more.")
    if of.generates:
        found.append(_bank(of))
    if of.drives:
        found.append(_links(of))
    if of.own_source:
        found.append(f"A source of its own. {of.own_source}")
    lost = next((each.supply_lost for each in of.plan.equipment if each.supply_lost), None)
    if lost is not None and lost.self_excites.high > 0.0:
        found.append(
            "After a power cut the turning idler can hold up to "
            f"{of.amount(lost.self_excites.high, 'V')} on all three lines until it has slowed: "
            "a dead supply is no proof."
        )
    fault = of.study.supply.fault_current_a
    found.append(
        f"Arc and burn. A short at the intake draws about {of.amount(fault.number, 'A')}: no metal "
        "ring, insulated tools, cover bars that stay live."
    )
    names = ", ".join(dict.fromkeys(each.motor.partition("/")[0] for each in of.served))
    found.append(
        f"Movement. {names}: belt off or tool out at a first run, guards on, nothing that can "
        "restart by itself; a threaded chuck can unscrew when the motor brakes or reverses."
    )
    return found


def _bank(of: Paper) -> str:
    safe, wait = capacitor_circuit("safe_v"), capacitor_circuit("within_s")
    banks = [each for each in of.plan.circuits or () if each.role == "capacitor_branch"]
    sizes = [each.capacitance_f for each in banks if each.capacitance_f is not None]
    told = ", ".join(of.amount(each.number, "F") for each in sizes)
    kept = f" ({told})" if told else ""
    return (
        f"Stored charge. The capacitors{kept} stay charged after switching off. Shaft at rest, "
        f"then wait {wait:.0f} s, then measure less than {safe:.0f} V. A resistor may be open: the "
        "wait alone is no proof."
    )


def _links(of: Paper) -> str:
    volts = [each.figures.dc_link_v for each in of.drives if each.figures.dc_link_v is not None]
    highest = max((each.mean.number for each in volts), default=None)
    at = "" if highest is None else f" at about {of.amount(highest, 'V')} direct"
    return (
        f"Drives of {', '.join(each.motor for each in of.drives)}: their links stay charged{at} "
        "for minutes after switching off. Wait as marked on the drive, then measure."
    )
