"""What the supply lets through and what its volts do to a motor that hangs on it directly."""

from __future__ import annotations

from phasewright.quantities.finding import Reason
from phasewright.rules.supply import high_mains
from phasewright.ways.asked import Asked, by_rules, condition
from phasewright.ways.on_two_lines import Linked
from phasewright.ways.site import Site

LOW_VOLTS = ("flux_low_condition", "other_frequency")


def over_room(site: Site, current_a: float, what: str, could: str = "") -> list[Reason]:
    """A refusal where a lasting current is more than the supply has left."""
    if current_a <= site.room_a:
        return []
    return [
        Reason(
            "supply_too_small",
            f"{what} {current_a:.1f} A; {site.least.words} leaves {site.room_a:.1f} A."
            + (f" {could}" if could else ""),
        )
    ]


def over_surge(site: Site, starting_a: float, what: str) -> list[Reason]:
    """A refusal where a start asks for more than a generator or inverter gives for a while."""
    if site.surge_a is None or starting_a <= site.surge_a:
        return []
    return [
        Reason(
            "surge_too_small",
            f"{what} takes {starting_a:.0f} A at the start; the source gives {site.surge_a:.1f} A "
            "for a while.",
        )
    ]


def surge_not_known(site: Site, starting_a: float) -> Asked:
    """A condition where a generator or inverter does not say what it gives for a while."""
    if site.supply_kind not in ("generator", "inverter") or site.surge_a is not None:
        return Asked()
    return condition(
        "surge_not_known",
        f"The start takes {starting_a:.0f} A: ask what the {site.supply_kind} gives for a second.",
    )


def volts_on(site: Site, motor: Linked) -> Asked:
    """What the supply's volts and hertz, at their highest reading, mean for this motor's iron."""
    volts = site.voltage_v
    highest = volts.high if volts.origin == "measured" else volts.number
    hertz = motor.circuit.frequency_hz
    flux = motor.link.flux_ratio(highest, site.source.frequency_hz, hertz)
    whole = by_rules(high_mains(flux, motor.motor.id))
    for reason in motor.motor.link_reasons:
        if reason.code in LOW_VOLTS:
            whole += Asked(conditions=(reason,))
    return whole
