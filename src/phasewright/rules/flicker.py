"""Voltage changes and flicker: IEC 61000-3-3, -3-11, and when the network operator is told.

Product standards: the words are "would not meet", and the network operator's rule decides.
"""

from __future__ import annotations

import math

from phasewright.network.flicker import HOURS_OF_SHORT_TERM, most_starts_an_hour
from phasewright.quantities.finding import Remedy
from phasewright.rules.families import iec
from phasewright.rules.register import KEPT, Findings, above, at_most, found, rule
from phasewright.tables.clauses import limit
from phasewright.tables.limits import reference_step
from phasewright.tables.operators import asked_from
from phasewright.tables.published import table

_OPERATOR = "; the network operator's rule decides"


@iec("61000-3-3", "5(c)", "equipment")
def steady_change(
    change_a: float | None, power_factor: float, rated_a: float, subject: str
) -> Findings:
    """Switching a thing of up to 16 A on moves the reference supply's voltage by 3.3 % at most.

    `change_a`: lasting change of its current, once it runs.
    """
    if change_a is None or above(rated_a, 16.0):
        return None
    return at_most(
        reference_step(change_a, power_factor), table("limits", "voltage_change").number("steady"),
        "condition", subject,
        "running, it lowers the reference supply's voltage by {found:.1%}: it would not meet the "
        "{allowed:.1%} of IEC 61000-3-3" + _OPERATOR,
        unit="", remedy=Remedy("Fewer watts at a time, or a supply the operator agrees to."),
    )  # fmt: skip


@iec("61000-3-3", "5(a)", "supply")
def short_term_flicker(
    severity_low: float | None, severity_high: float | None, dip: float | None, subject: str
) -> Findings:
    """Starts flicker the lamps no more than a short-term severity of 1.

    Low and high: the return after a start as a slow ramp, and as a step.
    """
    if severity_low is None or severity_high is None or dip is None:
        return None
    most = limit("flicker", "short")
    if not above(severity_high, most):
        return KEPT
    borne = most_starts_an_hour(dip, most)
    often = borne >= 1.0 / HOURS_OF_SHORT_TERM
    bears = (
        f"{borne:.2g} starts an hour of the deepest are borne"
        if often
        else "one such start is enough"
    )
    return found(
        "caution", subject,
        f"starts make the lamps flicker with a severity of up to {severity_high:.2g} in their "
        f"busiest ten minutes ({severity_low:.2g} where the volts come back slowly); most people "
        f"are disturbed from {most:.0f} on: {bears}{_OPERATOR}",
        found=severity_high, allowed=most, unit="",
        remedy=Remedy(
            "Start seldomer or more softly, or hang the lights on another circuit.",
            "starts_per_hour" if often else None, borne if often else None,
            "1/h" if often else None,
        ),
    )  # fmt: skip


@iec("61000-3-3", "5(b)", "supply")
def long_term_flicker(severity: float | None, subject: str) -> Findings:
    """Over two hours the severity of flicker of one piece of equipment stays at 0.65.

    Not of what a hand switches.
    """
    return at_most(
        severity, limit("flicker", "long"), "caution", subject,
        "over two hours of such work its starts flicker the lamps with a severity of {found:.2g}; "
        "{allowed:.2g} is what one piece of equipment is held to" + _OPERATOR,
        unit="", remedy=Remedy("Start it seldomer or more softly."),
    )  # fmt: skip


@rule(
    "en.50160.flicker", status="published", looks_at="supply",
    source="EN 50160: long-term severity of flicker up to 1 for 95 % of a week",
)  # fmt: skip
def flicker_of_supply(
    severity_low: float | None, severity_high: float | None, subject: str
) -> Findings:
    """What the starts here add to the flicker of a public supply is less than it may have."""
    if severity_low is None or severity_high is None:
        return None
    most = limit("supply_flicker", "long")
    if not above(severity_high, most):
        return KEPT
    return found(
        "condition" if above(severity_low, most) else "caution", subject,
        f"over two hours of such work its starts flicker the lamps at the intake with a severity "
        f"of {severity_low:.2g} to {severity_high:.2g}, and a public supply has up to {most:.0f}; "
        f"neighbours on the same line see a part of it{_OPERATOR}",
        found=severity_high, allowed=most, unit="",
        remedy=Remedy("Ask the network operator before buying; start more softly."),
    )  # fmt: skip


def greatest_impedance_ohm(change_on_reference: float, change_limit: float) -> float:
    """Supply impedance up to which a change keeps its limit, by proportion [ohm]."""
    of = table("limits", "reference_impedance")
    reference = math.hypot(of.number("resistance_ohm"), of.number("reactance_ohm"))
    return float(reference * change_limit / change_on_reference)


@iec("61000-3-11", "4", "supply")
def conditional_connection(
    supply_ohm: float | None, change_on_reference: float | None, change_limit: float,
    service_a: float | None, rated_a: float, subject: str, fall: float = 0.0,
    feeder_ohm: float = 0.0,
) -> Findings:  # fmt: skip
    """What would not meet IEC 61000-3-3 is connected only where the supply is stiff enough.

    For things of up to 75 A: at most the impedance at which the change is within its limit, or
    a service of 100 A a line or more. It does not apply to what meets its limit on the reference
    supply. `fall` is what the start lets the volts fall here: on a stiffer supply it draws as much
    more, so the remedy asks for so much less, and what the supply's feeder takes of it goes off.
    """
    if change_on_reference is None or above(
        rated_a, limit("conditional_connection", "most_rated_a")
    ):
        return None
    if not above(change_on_reference, change_limit):
        return None
    if service_a is not None and service_a >= limit("conditional_connection", "least_service_a"):
        return KEPT
    most = greatest_impedance_ohm(change_on_reference, change_limit)
    ahead = most * (1.0 - fall) - feeder_ohm
    path = "supply.loop_impedance" if ahead > 0.0 else None
    return at_most(
        supply_ohm, most, "condition", subject,
        "its starts need a stiffer supply, of {allowed:.2g} ohm or less; this one has {found:.2g} "
        "ohm, and the network operator must agree to them",
        unit="ohm",
        remedy=Remedy("Soften the start, or ask the operator for a stiffer supply.",
                      path, None if path is None else ahead, "ohm"),
    )  # fmt: skip


@rule(
    "operator.told", status="from memory", looks_at="supply",
    source="network operators' conditions of connection, by country",
)  # fmt: skip
def operator_told(
    starting_a: float | None, country: str, running_a: float, an_hour: float, dip: float,
    subject: str,
) -> Findings:  # fmt: skip
    """Starts that draw more than a country's operators take without asking are told to them.

    With the figures they ask for. Where no country's figure is known the rule does not apply.
    """
    return at_most(
        starting_a, asked_from(country), "condition", subject,
        f"its start draws {{found:.0f}} A, and in {country} a dwelling may draw {{allowed:.0f}} A "
        "without asking: tell the network operator. They will ask for the starting amps "
        f"({starting_a or 0.0:.0f}), how often ({an_hour:.2g} an hour), the running amps "
        f"({running_a:.0f}), the dip at the service ({dip:.1%}) and the way of starting",
        unit="A", remedy=Remedy("Ask before buying; or start more softly."),
    )  # fmt: skip
