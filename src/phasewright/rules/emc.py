"""Radio filters and varistors of drives: what the supply's earthing does to them, where they must
stay in, and which radio category a drive at a dwelling's supply has."""

from __future__ import annotations

import math
from typing import Literal

from phasewright.quantities.finding import Remedy
from phasewright.rules.register import KEPT, Findings, above, found, rule
from phasewright.tables.published import table

Category = Literal["C1", "C2", "C3", "C4"]
"""Radio categories of drives in IEC 61800-3."""

Feed = Literal["line_2", "centre", "corner", "autotransformer", "impedance", "none"]
"""How what feeds a drive stands to earth: one of two lines earthed (a line and a neutral), the
centre of a split phase or of a transformer's secondary, a corner of three phases, one line of an
autotransformer that steps up, earthed through an impedance, or not earthed at all."""

_EARTHED = ("line_2", "centre", "corner", "autotransformer")


def highest_to_earth_v(line_voltage_v: float, feed: Feed) -> float | None:
    """Volts to earth of the line that stands highest; None where nothing holds the lines to earth.

    Without a fault: half the line volts where the centre is earthed, all of them where a line is.
    """
    if feed not in _EARTHED:
        return None
    return 0.5 * line_voltage_v if feed == "centre" else line_voltage_v


def borne_to_earth_v(rated_input_v: float, three_phase_type: bool) -> float:
    """Volts to earth that a drive's filter and varistors are made for.

    A drive for one phase is made for a line and a neutral: its input volts. One for three phases
    is made for those earthed at their star point: over root three. A tenth more each.
    """
    own = rated_input_v / math.sqrt(3.0) if three_phase_type else rated_input_v
    return table("drives", "filter").number("over_rated") * own


@rule(
    "emc.volts_to_earth",
    source="makers' manuals: filter and varistor of drives for three phases are disconnected on "
    "corner-earthed, one-line-earthed and autotransformer supplies",
    status="common practice",
    looks_at="equipment",
)
def filter_volts(highest_v: float | None, borne_v: float, subject: str) -> Findings:
    """No line of what feeds a drive stands further from earth than its filter and varistors bear.

    Does not apply to a supply that is not earthed (None).
    """
    if highest_v is None:
        return None
    if not above(highest_v, borne_v):
        return KEPT
    return found(
        "condition",
        subject,
        f"a line stands {highest_v:.0f} V from earth; filter and varistors of a drive made for "
        f"three phases are made for {borne_v:.0f} V: they may burn, at once or quietly",
        found=highest_v,
        allowed=borne_v,
        unit="V",
        remedy=Remedy(
            "Ask its maker for the setting for a supply of which one line is earthed (usually two "
            "marked screws or bridges for filter and varistor, changed with the drive dead and "
            "discharged), or take a drive made for one phase, or feed it from a transformer whose "
            "secondary is earthed at its centre."
        ),
    )


@rule(
    "emc.floating_supply",
    source="makers' manuals and IEC 60364-4-41, 411.6: capacitors to earth on a supply that is not "
    "earthed, or only through an impedance",
    status="common practice",
    looks_at="equipment",
)
def filter_on_floating_supply(
    feed: Feed | None, fitted: bool | None, subject: str
) -> Findings:  # fmt: skip
    """On a supply that is not earthed, or through an impedance, a drive's filter is taken out.

    Does not apply where it is not told how the supply is earthed, or whether a filter is in.
    """
    if feed is None or fitted is None:
        return None
    if feed in _EARTHED or not fitted:
        return KEPT
    return found(
        "condition",
        subject,
        "this supply is not solidly earthed: after a first fault to earth, which nothing switches "
        "off, the drive's filter and varistors stand at the full line volts and burn, and its "
        "capacitors blind the watch for such faults",
        found="filter to earth fitted",
        allowed="a drive for such a supply, or its filter and varistor disconnected",
        remedy=Remedy(
            "Take a drive whose maker allows a supply that is not earthed, and disconnect filter "
            "and varistor as its manual says, dead and discharged; a filter without capacitors to "
            "earth may be put before it."
        ),
    )


@rule(
    "emc.filter_stays",
    source="IEC 61800-3 (a drive keeps its category only with its filter); makers' manuals",
    status="from memory",
    looks_at="equipment",
)
def filter_stays(feed: Feed | None, fitted: bool | None, public: bool, subject: str) -> Findings:
    """On an earthed supply that others use too a drive's filter is never taken out.

    Not to stop a residual-current device from tripping either. Does not apply where it is not told
    how the supply is earthed or whether the filter is in, nor to a supply of the owner's own.
    """
    if feed is None or fitted is None or not public:
        return None
    if fitted or feed not in _EARTHED:
        return KEPT
    return found(
        "condition",
        subject,
        "its filter is out on an earthed supply that dwellings share: it disturbs radio, "
        "residual-current devices and controls, and no longer has the category it was sold with",
        found="filter out",
        allowed="filter in",
        remedy=Remedy(
            "Put it back. Where a residual-current device trips, give the drive a device of its "
            "own or shorten its lead."
        ),
    )


@rule(
    "iec.61800_3.category",
    source="IEC 61800-3: C1 anywhere, C2 at dwellings only fixed and fitted by professionals, C3 "
    "and C4 not on a network that feeds dwellings",
    status="from memory",
    looks_at="equipment",
)
def radio_category(
    category: Category | None, dwellings: bool | None, professional: bool, subject: str
) -> Findings:
    """A drive on a network that feeds dwellings has a radio category for it.

    `professional`: it is fixed, and fitted and set up by someone who knows its radio rules. Does
    not apply where the category or the network is not known, nor to a network of one's own.
    """
    if category is None or not dwellings:
        return None
    if category == "C1" or (category == "C2" and professional):
        return KEPT
    wants = "C1, or C2 where a professional fits it" if not professional else "C1 or C2"
    why = (
        "is for fixed drives fitted by a professional"
        if category == "C2"
        else "is not for a supply that dwellings share"
    )
    return found(
        "caution",
        subject,
        f"the radio category is likely {category}, which {why}: radio and neighbours' devices may "
        "be disturbed, and then it must stay off until they are not",
        found=category,
        allowed=wants,
        remedy=Remedy(
            f"Buy a drive whose papers say {wants}, with a screened motor lead clamped to metal at "
            "both ends, or put the filter its maker names before it.",
            *(("wishes.who_wires", "electrician") if category == "C2" else ()),
        ),
    )
