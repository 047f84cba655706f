"""Rules over the supply: what service, outlet and contract let through, and how volts move."""

from __future__ import annotations

import math
from typing import Literal

from phasewright.quantities.codes import Region
from phasewright.quantities.finding import Remedy
from phasewright.rules.register import KEPT, Findings, above, below, found, rule
from phasewright.tables.published import table


@rule(
    "supply.service_rating",
    source="the main fuse or breaker bounds what may flow",
    status="common practice",
    looks_at="supply",
)
def service_rating(current_a: float, rating_a: float | None, subject: str = "supply") -> Findings:
    """The supply current, other loads included, stays within the service rating."""
    advice = "Ask the network operator for a larger service, or let fewer machines run together."
    return _within(current_a, rating_a, subject, "service", advice)


@rule(
    "supply.outlet_rating",
    source="the outlet's breaker bounds what may flow",
    status="common practice",
    looks_at="supply",
)
def outlet_rating(current_a: float, rating_a: float | None, subject: str = "supply") -> Findings:
    """Where only an outlet may be used, the current stays within its rating."""
    advice = "Have a circuit of its own laid from the board."
    return _within(current_a, rating_a, subject, "outlet", advice)


def _within(
    current_a: float,
    rating_a: float | None,
    subject: str,
    giver: Literal["service", "outlet"],
    advice: str,
) -> Findings:
    """What draws the current stays within what the giver is rated for."""
    if rating_a is None:
        return None
    if not above(current_a, rating_a):
        return KEPT
    return found(
        "stop",
        subject,
        f"draws {current_a:.3g} A where the {giver} gives {rating_a:.3g} A",
        found=current_a,
        allowed=rating_a,
        unit="A",
        remedy=Remedy(advice, f"supply.{giver}_rating", _up(current_a, 1.0, "A")),
    )


def _up(figure: float, step: float, unit: str) -> str | None:
    """The next step that is no less, as a shop file has it; None of what is no number."""
    return f"{step * math.ceil(figure / step):g} {unit}" if math.isfinite(figure) else None


@rule(
    "supply.contracted_power",
    source="the meter limits or trips at the contracted power",
    status="common practice",
    looks_at="supply",
)
def contracted_power(
    apparent_va: float, contracted_va: float | None, subject: str = "supply"
) -> Findings:
    """The apparent power of everything running stays within what is contracted."""
    if contracted_va is None:
        return None
    if not above(apparent_va, contracted_va):
        return KEPT
    return found(
        "stop",
        subject,
        f"takes {apparent_va / 1000.0:.3g} kVA where {contracted_va / 1000.0:.3g} kVA are "
        "contracted: the meter will trip",
        found=apparent_va,
        allowed=contracted_va,
        unit="VA",
        remedy=Remedy(
            "Raise the contract by its next step.",
            "supply.contracted_power",
            _up(apparent_va, 100.0, "VA"),
        ),
    )


@rule(
    "supply.voltage_drop",
    source="IEC 60364-5-52 annex G (5 %); NFPA 70-2023 455.6(A) informational note (3 %)",
    status="from memory",
    looks_at="circuit",
)
def voltage_drop(ratio: float | None, region: Region, subject: str = "supply") -> Findings:
    """The running voltage drop of the installation stays small enough to be told as none."""
    if ratio is None:
        return None
    limit = table("limits", "voltage_drop").number(region)
    if not above(ratio, limit):
        return KEPT
    return found(
        "caution",
        subject,
        f"the voltage falls {ratio:.1%} while it runs; {limit:.0%} is what is advised",
        found=ratio,
        allowed=limit,
        unit="",
        remedy=Remedy("Use a thicker or shorter cable."),
    )


@rule(
    "supply.start_dip",
    source="IEC 60947-4-1: a contactor coil must pull in at 85 % of its volts",
    status="from memory",
    looks_at="supply",
)
def start_dip(dip: float | None, subject: str = "supply") -> Findings:
    """At a start the voltage does not fall so far that contactors fail to pull in."""
    if dip is None:
        return None
    limit = 1.0 - table("limits", "coils").number("pull_in")
    if not above(dip, limit):
        return KEPT
    return found(
        "condition",
        subject,
        f"the voltage falls {dip:.0%} at the start: contactors must pull in at "
        f"{1.0 - limit:.0%}, below that they chatter",
        found=dip,
        allowed=limit,
        unit="",
        remedy=Remedy("Soften the start, or start the machines one after the other."),
    )


@rule(
    "supply.high_mains",
    source="volts per hertz above the plate's saturate an old motor",
    status="common practice",
    looks_at="motor",
)
def high_mains(flux_ratio: float | None, subject: str) -> Findings:
    """A motor's volts per hertz stay near those of its plate."""
    if flux_ratio is None:
        return None
    of = table("limits", "flux")
    if not above(flux_ratio, of.number("flag")):
        return KEPT
    severe = above(flux_ratio, of.number("condition"))
    limit = of.number("condition" if severe else "flag")
    return found(
        "condition" if severe else "caution",
        subject,
        f"{flux_ratio - 1.0:.0%} more volts per hertz than its plate: no-load current and heat "
        "rise steeply; a drive set to the plate's volts cures it",
        found=flux_ratio,
        allowed=limit,
        unit="",
    )


@rule(
    "supply.hold_in",
    source="IEC 60947-4-1: a closed contactor may drop out below 75 %",
    status="from memory",
    looks_at="supply",
)
def hold_in(lowest_ratio: float | None, subject: str = "supply") -> Findings:
    """While another machine starts, the voltage stays where closed contactors surely hold."""
    if lowest_ratio is None:
        return None
    limit = table("limits", "coils").number("drop_out_high")
    if not below(lowest_ratio, limit):
        return KEPT
    return found(
        "condition",
        subject,
        f"the voltage falls to {lowest_ratio:.0%}: closed contactors may drop out below "
        f"{limit:.0%}",
        found=lowest_ratio,
        allowed=limit,
        unit="",
    )
