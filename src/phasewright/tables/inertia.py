"""Densities of what wheels are made of, and how hard a motor speeds up: common practice."""

from __future__ import annotations

from phasewright.quantities.codes import WheelMaterial
from phasewright.quantities.value import Value, spread
from phasewright.tables.published import table


def density_kg_m3(material: WheelMaterial) -> Value:
    """Density of a wheel's material [kg/m3]."""
    return _value("density", material, "kg/m3")


def shape_ratio(*, rim: bool) -> Value:
    """True inertia over that of the plain disc, or (`rim`) of the rim alone."""
    return _value("shape", "rim" if rim else "disc", "")


def run_up_torque_ratio() -> Value:
    """Mean accelerating torque over rated torque of a direct start on a three-phase supply."""
    return _value("run_up", "torque", "")


def _value(name: str, key: str, unit: str) -> Value:
    of = table("inertia", name)
    number, low, high = of.column(key)
    return spread(number, low, high, unit, of.origin, f"{name.replace('_', '-')}: {of.words}")
