"""Harmonic currents against IEC 61000-3-2 and 61000-3-12, and the volts' distortion they make."""

from __future__ import annotations

import math
from collections.abc import Sequence

from phasewright.quantities.finding import Remedy
from phasewright.rules.register import KEPT, Findings, above, below, found, rule
from phasewright.tables.limits import (
    class_a_limit_a,
    harmonic_share_limits,
    short_circuit_ratios,
    voltage_distortion_limit,
)
from phasewright.tables.published import table

_CHOKE = Remedy(
    "A choke at the drive's input lowers them in part; a drive whose input shapes its current "
    "(power-factor correction) keeps within."
)
_HIGHEST_A = 75.0


@rule(
    "iec.61000_3_2",
    source="IEC 61000-3-2, class A",
    status="published",
    looks_at="equipment",
)
def class_a(
    harmonics_a: Sequence[float] | None, rated_a: float, professional: bool, subject: str
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
        "caution",
        subject,
        f"harmonic {order} is {amps:.3g} A: it would not meet the {class_a_limit_a(order):.3g} A "
        f"of class A ({len(over)} harmonics are over); equipment made for trades has no such limit "
        "above 1 kW; the network operator's rule decides",
        found=amps,
        allowed=class_a_limit_a(order),
        unit="A",
        remedy=_CHOKE,
    )


@rule(
    "iec.61000_3_12",
    source="IEC 61000-3-12, other than balanced three-phase equipment",
    status="from memory",
    looks_at="equipment",
)
def above_16_a(
    harmonics_a: Sequence[float] | None, current_a: float, fault_current_a: float | None,
    subject: str,
) -> Findings:  # fmt: skip
    """Harmonics of equipment of 16 to 75 A stay within the shares its short-circuit ratio allows.

    The ratio is the fault current between the two lines over the rms current; on a line and a
    neutral that is the standard's ratio or less, never more. Below the table's first ratio there
    is no limit: the network operator must agree. `current_a` is rms, the shares' reference.
    """
    if harmonics_a is None or fault_current_a is None:
        return None
    if not above(current_a, 16.0) or above(current_a, _HIGHEST_A):
        return None
    ratio = fault_current_a / current_a
    least = short_circuit_ratios()[0]
    if below(ratio, least):
        return found(
            "caution",
            subject,
            f"the supply's fault current is {ratio:.3g} times its current: a supply this soft is "
            f"below the {least:.3g} times from which limits are laid down; the network operator's "
            "rule decides",
            found=ratio,
            allowed=least,
            remedy=_CHOKE,
        )
    limits = harmonic_share_limits(ratio)
    shares = harmonic_shares(harmonics_a, current_a)
    over = [
        (shares[name] / limits[name], name) for name in limits if above(shares[name], limits[name])
    ]
    if not over:
        return KEPT
    _, name = max(over)
    what = {"total": "all harmonics together are", "weighted": "the high harmonics are"}.get(
        name, f"harmonic {name} is"
    )
    return found(
        "caution",
        subject,
        f"{what} {shares[name]:.0%} of its current: it would not meet the {limits[name]:.0%} "
        f"allowed at a fault current of {ratio:.3g} times its own; the network operator's rule "
        "decides",
        found=shares[name],
        allowed=limits[name],
        remedy=_CHOKE,
    )


def harmonic_shares(harmonics_a: Sequence[float], current_a: float) -> dict[str, float]:
    """Orders 2 to 13, "total" (2 to 40) and "weighted" (14 to 40) over the rms current."""
    orders = list(enumerate(harmonics_a, start=1))
    shares = {str(n): amps / current_a for n, amps in orders if 2 <= n <= 13}
    total = math.sqrt(sum(amps * amps for n, amps in orders if n >= 2))
    weighted = math.sqrt(sum(n * amps * amps for n, amps in orders if n >= 14))
    return shares | {"total": total / current_a, "weighted": weighted / current_a}


@rule(
    "en.50160.distortion",
    source="EN 50160: total harmonic distortion up to 8 % of the fundamental",
    status="published",
    looks_at="supply",
)
def voltage_distortion(distortion: float | None, subject: str) -> Findings:
    """What the loads here add to the distortion of the volts is less than a supply may have."""
    if distortion is None:
        return None
    limit = voltage_distortion_limit()
    if not above(distortion, limit):
        return KEPT
    return found(
        "caution",
        subject,
        f"it distorts the volts by up to {distortion:.1%} of the fundamental, on top of what is "
        f"there already; a public supply has up to {limit:.0%}: lamps and electronics may hum or "
        "fail, motors get warmer; the network operator's rule decides",
        found=distortion,
        allowed=limit,
        remedy=_CHOKE,
    )


@rule(
    "iec.60364_5_52.neutral",
    source="IEC 60364-5-52, 524 and annex E: harmonics of order three in four-wire circuits",
    status="from memory",
    looks_at="circuit",
)
def harmonics_in_the_neutral(
    neutral_a: float | None, line_a: float, third_share: float, subject: str
) -> Findings:
    """A neutral of three phases is sized for the multiples of three that add in it.

    `third_share` is the third harmonic over the line's rms current. Up to 15 % the lines' size
    serves; above, the neutral counts as loaded; above 33 % its own current sizes the cable, above
    45 % alone. Does not apply to one phase, whose neutral carries what its line does (None).
    """
    if neutral_a is None:
        return None
    of = table("limits", "neutral")
    if not above(third_share, of.number("counts_from")):
        return KEPT
    alone = above(third_share, of.number("alone_from"))
    factor = 1.0 if alone else of.number("factor")
    governs = above(third_share, of.number("governs_from"))
    least = (neutral_a if governs else line_a) / factor
    why = "which is more than its lines carry" if neutral_a > line_a else "beside its lines'"
    return found(
        "condition",
        subject,
        f"the third harmonic is {third_share:.0%} of the current: the neutral carries "
        f"{neutral_a:.3g} A, {why}; its cable is chosen for {least:.3g} A, with a neutral no "
        "thinner than its lines",
        found=third_share,
        allowed=of.number("counts_from"),
        remedy=Remedy(
            "Use a cable of that size, its neutral as thick as its lines; chokes before the drives "
            "lower the third harmonic."
        ),
    )
