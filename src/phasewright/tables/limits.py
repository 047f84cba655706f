"""Limits of voltage change, harmonics, unbalance and over-excitation (`data/limits.toml`)."""

from __future__ import annotations

import math

from phasewright.quantities.errors import TableEnds
from phasewright.tables.published import between, table, within


def class_a_limit_a(order: int) -> float:
    """IEC 61000-3-2 class A limit of a harmonic current, orders 2 to 40, A rms."""
    of = table("limits", "class_a")
    kind, start, base = ("odd", 15, "odd_from_15") if order % 2 else ("even", 8, "even_from_8")
    listed = of.rows[kind]
    if str(order) in listed:
        return float(listed[str(order)])
    if start <= order <= 40:
        return of.number(base) * start / order
    raise TableEnds(f"IEC 61000-3-2 class A has no limit for harmonic {order}")


def short_circuit_ratios() -> tuple[float, float]:
    """The lowest and the highest short-circuit ratio that IEC 61000-3-12 has limits for."""
    points = table("limits", "unbalanced_above_16").column("ratio")
    return points[0], points[-1]


def harmonic_share_limits(short_circuit_ratio: float) -> dict[str, float]:
    """IEC 61000-3-12 limits as shares of the rms current, by order, "total" and "weighted".

    Linear between the rows, the last row above them (as the standard has it); TableEnds below.
    """
    of = table("limits", "unbalanced_above_16")
    points = of.column("ratio")
    at = min(short_circuit_ratio, points[-1])
    within("short-circuit ratio", at, points[0], points[-1], "")
    upper = next(k for k, point in enumerate(points) if k > 0 and at <= point)
    share = (at - points[upper - 1]) / (points[upper] - points[upper - 1])

    def of_row(name: str) -> float:
        low, high = of.column(name)[upper - 1 : upper + 1]
        return low + share * (high - low)

    named = ("3", "5", "7", "9", "11", "13", "total", "weighted")
    limits = {name: of_row(name) for name in named}
    return limits | {str(n): of.number("even") / n for n in range(2, 13, 2)}


def voltage_distortion_limit() -> float:
    """Total harmonic distortion of the volts at the service, a fraction of the fundamental."""
    return table("limits", "distortion").number("total")


def standing_leakage_share() -> float:
    """Standing leakage a residual-current device may carry, over its rating."""
    return table("limits", "standing_leakage").number("share")


def derating_factor(unbalance: float) -> float:
    """Share of rated power at this NEMA voltage unbalance; TableEnds above 5 %.

    A check beside the computed heat, never in its place. Linear between the rows.
    """
    of = table("limits", "derating")
    points, factors = of.column("unbalance"), of.column("factor")
    if 0.0 <= unbalance < points[1]:
        return 1.0
    return between(unbalance, points[1:], factors[1:], "unbalance derating", "")


def reference_step(current_a: float, power_factor: float) -> float:
    """Relative voltage change a current step makes on the reference impedance (IEC 61000-3-3)."""
    of = table("limits", "reference_impedance")
    reactive = math.sqrt(1.0 - power_factor * power_factor)
    drop_v = current_a * (
        of.number("resistance_ohm") * power_factor + of.number("reactance_ohm") * reactive
    )
    return float(drop_v / of.number("nominal_v"))
