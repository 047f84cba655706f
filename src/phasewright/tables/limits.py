"""Limits of voltage change, harmonics, unbalance and over-excitation (`data/limits.toml`)."""

from __future__ import annotations

import math

from phasewright.quantities.errors import TableEnds
from phasewright.tables.published import between, table


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
