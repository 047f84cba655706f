"""The supply in the answer: what it is, how far its lines stand from earth, what is never tied.

Which point of it is earthed is told or read with a meter; where the two contradict, both are said.
"""

from __future__ import annotations

import math

from phasewright.network.impedance import fault_current
from phasewright.plan.circuit_supply import fault_of_supply
from phasewright.plan.facts import Facts
from phasewright.plan.study import Impedance, PlanSide, SupplySide
from phasewright.plan.to_earth import earthed_of
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value, figure
from phasewright.shop.supply import Supply

NO_NEUTRAL = (
    "No neutral is made from line 3, from an idler's star point or from half of a winding: a "
    "neutral comes with the supply, or from an isolating source whose star point is earthed once."
)
ONE_BOND = (
    "Neutral and earth are joined once, by whoever brings the supply. A second joint behind it "
    "makes residual-current devices trip or go blind, and lets the frames carry the neutral's amps."
)


def supply_side(facts: Facts, best: PlanSide) -> SupplySide:
    """What is told of the supply, with the room that the answer's plan leaves."""
    impedance, site, supply = facts.impedance, facts.site, facts.shop.supply
    rooms = [case.room_left_a for case in best.cases if case.room_left_a is not None]
    room = figure(
        site.room_a, "A", "ways.site.Site.room_a",
        {"limit": (site.limit.current_a.number, "A"), "others": (site.others_a.number, "A")},
        "shop file",
    )  # fmt: skip
    return SupplySide(
        Impedance(impedance.resistance, impedance.reactance),
        fault_of_supply(supply, fault_current(impedance, site.source.voltage_v)),
        min(rooms, key=lambda of: of.number) if rooms else room,
        impedance.words,
        earthed_of(supply),
        lines_to_earth_of(supply, site.source.voltage_v),
        never_of(supply, site.source.voltage_v, generated=_generates(best)),
    )


def lines_to_earth_of(supply: Supply, voltage_v: float) -> tuple[Value, ...] | None:
    """Volts of the supply's own lines to earth; None where nothing of it is earthed.

    Three phases: taken with their star point at earth.
    """
    inputs = {"between its lines": (voltage_v, "V")}

    def out(volts: float, words: str) -> Value:
        return figure(volts, "V", "plan.supply_side.lines_to_earth_of", inputs, words)

    earthed = earthed_of(supply)
    if earthed == "none" or supply.earthing == "IT":
        return None
    if supply.kind == "three_phase":
        return (out(voltage_v / math.sqrt(3.0), "star point at earth"),) * 3
    if earthed == "centre":
        return (out(voltage_v / 2.0, "centre at earth"),) * 2
    if earthed == "line_2":
        return out(voltage_v, "line 2 at earth"), out(0.0, "line 2 at earth")
    return (
        out(voltage_v, "which point is earthed is not known: the higher of line 2 and centre"),
        out(voltage_v / 2.0, "which point is earthed is not known: the higher of both"),
    )


def never_of(supply: Supply, volts: float, *, generated: bool) -> tuple[Reason, ...]:
    """What must never be tied to earth or to the neutral; `volts` between lines 1 and 2."""
    first: tuple[Reason, ...]
    match earthed_of(supply):
        case "line_2":
            first = (
                Reason("line_1", f"Line 1 stands {volts:.0f} V from earth: it is never tied to "
                       "earth or to the neutral, which line 2 is."),
                Reason("one_bond", ONE_BOND),
            )  # fmt: skip
        case "centre":
            first = (
                Reason("lines_1_and_2", f"Lines 1 and 2 stand {volts / 2.0:.0f} V from earth each: "
                       "neither is ever tied to earth or to the neutral."),
                Reason("one_bond", ONE_BOND),
            )  # fmt: skip
        case "none":
            first = (
                Reason("floating", "Nothing of this supply is earthed: earth none of its lines, "
                       "or the first fault elsewhere becomes a short."),
            )  # fmt: skip
        case _:
            first = (
                Reason("not_known", "Which wire is earthed is not known: take each of them as live "
                       f"at up to {volts:.0f} V from earth, and tie none to earth."),
            )  # fmt: skip
    if not generated:
        return first
    third = Reason(
        "line_3", "Line 3 is never tied to earth or to the neutral, wherever it ends: that would "
        "short what makes it against the supply."
    )  # fmt: skip
    return (*first, third, Reason("no_neutral", NO_NEUTRAL))


def _generates(plan: PlanSide) -> bool:
    return any(motor.figures.line3_earth_fault_a is not None for motor in plan.motors) or any(
        each.way == "rotary_converter" for each in plan.equipment
    )
