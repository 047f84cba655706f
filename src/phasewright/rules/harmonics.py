"""Harmonic currents against IEC 61000-3-2, class A."""

from __future__ import annotations

from phasewright.quantities.finding import Remedy
from phasewright.rules.register import KEPT, Findings, above, found, rule
from phasewright.tables.limits import class_a_limit_a


@rule(
    "iec.61000_3_2",
    source="IEC 61000-3-2, class A",
    status="published",
    looks_at="equipment",
)
def class_a(
    harmonics_a: tuple[float, ...] | None, rated_a: float, professional: bool, subject: str
) -> Findings:
    """Every harmonic of equipment up to 16 A stays within class A.

    `harmonics_a[n - 1]` is the rms amps of harmonic n = 1 to 40. Does not apply above 16 A, nor
    to professional equipment above 1 kW (from memory), which the caller tells.
    """
    if harmonics_a is None or professional or above(rated_a, 16.0):
        return None
    over = [
        (amps / class_a_limit_a(n), n, amps)
        for n, amps in enumerate(harmonics_a, start=1)
        if n >= 2 and above(amps, class_a_limit_a(n))
    ]
    if not over:
        return KEPT
    _, order, amps = max(over)
    return found(
        "condition",
        subject,
        f"harmonic {order} is {amps:.3g} A: it would not meet the {class_a_limit_a(order):.3g} A "
        f"of class A ({len(over)} harmonics are over); the network operator decides",
        found=amps,
        allowed=class_a_limit_a(order),
        unit="A",
        remedy=Remedy("Fit a choke at the drive's input."),
    )
