"""What it means to have a converter ready-made, second-hand or self-built. Common practice.

The clause is named where the code of the region has one; the insurer's and the landlord's view is
common practice, no source.
"""

from __future__ import annotations

from phasewright.quantities.codes import Region
from phasewright.quantities.finding import Reason
from phasewright.tables.capacitors import life_class_for, life_hours
from phasewright.tables.prices import price

USED_CONVERTER = Reason(
    "second_hand_converter",
    "Second-hand: half its life is taken as gone. Before you pay, spin the idler by hand, measure "
    "its windings to the frame, let it run half an hour; its run capacitors and start relay are "
    "replaced at once and counted in.",
)
OWN_CONVERTER = Reason(
    "own_converter_retuned",
    "Its capacitors are taken as those computed here: measure the three line volts idling and "
    "loaded and change the cans where they differ.",
)


def self_built(region: Region) -> Reason:
    """What a converter without a maker's plate gives up."""
    clause = (
        "NFPA 70-2023, 455.4 wants on its plate the volts in and out, frequency, single-phase "
        "amps, least and greatest single load, greatest total load and three-phase amps"
        if region == "NEC"
        else "write volts, hertz, input amps and the greatest loads on a plate of your own"
    )
    return Reason(
        "self_built_unlisted",
        "Self-built it has no maker's plate and is not listed: an inspector, insurer or landlord "
        f"may refuse it, so ask before you build; {clause}.",
    )


def ready_made_wears() -> Reason:
    """Which parts of a ready-made converter last less long than the whole."""
    cans, relay = price("run_capacitor", 50e-6).life_years, price("drop_out_relay", 1.0).life_years
    return Reason(
        "wearing_parts",
        f"Its run capacitors are good for about {cans:.0f} years and its start relay for about "
        f"{relay:.0f} (illustrative): measure the cans every year, change one that has lost a "
        "tenth or bulges.",
    )


def capacitor_words(class_v: float, needed_v: float, hours_a_year: float, years: float) -> Reason:
    """Voltage and life class of the run capacitors, for the hours this machine keeps them on."""
    hours = hours_a_year * years
    life = life_class_for(hours)
    if life is None:
        lasts = (
            f"none is made for the {hours:.0f} h of {years:.0f} years at {hours_a_year:.0f} h: of "
            f"class A ({life_hours('A'):.0f} h) change them after "
            f"{life_hours('A') / hours_a_year:.0f} years"
        )
    else:
        lasts = (
            f"class {life} or better ({life_hours(life):.0f} h, IEC 60252-1, from memory) outlasts "
            f"{years:.0f} years at {hours_a_year:.0f} h"
        )
    return Reason(
        "capacitor_class",
        f"Run capacitors for {class_v:.0f} V or more (they need {needed_v:.0f} V, 1.1 times the "
        f"highest line volts idling); {lasts}. Leave 10 mm above each can for its interrupter, "
        "and never take start capacitors for running (common practice, no source).",
    )
