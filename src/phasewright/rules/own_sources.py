"""Rules over sources of the owner's own: a battery that must be filled."""

from __future__ import annotations

from phasewright.quantities.finding import Remedy
from phasewright.rules.register import KEPT, Findings, above, found, rule


@rule(
    "battery.fillings",
    source="a battery in a workshop is filled once a day",
    status="common practice",
    looks_at="equipment",
)
def one_filling_a_day(taken_kwh: float | None, most_kwh: float, subject: str) -> Findings:
    """What hangs on a battery takes no more in a year than one filling a day gives."""
    if taken_kwh is None:
        return None
    if not above(taken_kwh, most_kwh):
        return KEPT
    return found(
        "condition",
        subject,
        f"what hangs on it takes {taken_kwh:.0f} kWh a year; filled once a day its battery gives "
        f"{most_kwh:.0f} kWh: a larger battery",
        found=taken_kwh,
        allowed=most_kwh,
        unit="kWh",
        remedy=Remedy("Take the next larger battery, or fewer hours on it."),
    )
