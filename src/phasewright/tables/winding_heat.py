"""What windings, cages and start capacitors stand in a start (`data/winding_heat.toml`)."""

from __future__ import annotations

import math

from phasewright.quantities.errors import TableEnds
from phasewright.tables.published import Table, table


def heated_c(before_c: float, squares_a2s_mm4: float) -> float:
    """Temperature of copper [°C] after an integral of the square of the current density.

    No heat leaves: after = (before + beta) exp(integral / K^2) - beta, IEC 60949 (from memory),
    of which the factors 115 and 143 A s^0.5/mm2 of cables (IEC 60364-5-54) are cases.
    """
    of = table("winding_heat", "copper")
    beta = of.number("beta_c")
    return (before_c + beta) * math.exp(squares_a2s_mm4 / of.number("k") ** 2) - beta


def squares_to_a2s_mm4(before_c: float, after_c: float) -> float:
    """The integral of the square of the current density that heats copper so far: the inverse of
    `heated_c`, 0 where it is as hot already."""
    of = table("winding_heat", "copper")
    beta = of.number("beta_c")
    return of.number("k") ** 2 * max(0.0, math.log((after_c + beta) / (before_c + beta)))


def densities_a_mm2() -> tuple[float, float, float]:
    """Current density in a small motor's winding at its rated current: low, usual, high."""
    of = table("winding_heat", "density")
    return of.number("low"), of.number("usual"), of.number("high")


def greatest_winding_c(insulation_class: str) -> tuple[float, Table]:
    """What a winding of this class may reach in a fast overload [°C], and the table that says so.

    Raises TableEnds for a class of which nothing is at hand.
    """
    for name in ("winding_limit", "winding_limit_old"):
        of = table("winding_heat", name)
        if insulation_class in of.rows:
            return of.number(insulation_class), of
    raise TableEnds(f"nothing is printed of how hot class {insulation_class!r} may get in a start")


def stall_s() -> float:
    """Seconds that a motor stands its locked-rotor current, begun at running temperature."""
    return table("winding_heat", "stall").number("seconds")


def design_n_inertia_kg_m2(power_w: float, poles: int) -> float:
    """Load inertia that a design N motor of this size must start [kg m2] (IEC 60034-12)."""
    of = table("winding_heat", "start_inertia")
    return float(of.number("c") * (power_w / 1e3) ** of.number("a") * (poles / 2) ** of.number("b"))


def standing_cooling() -> tuple[float, float]:
    """Cooling of a fan-cooled motor at rest over that at speed: low, high."""
    of = table("winding_heat", "standing_cooling")
    return of.number("low"), of.number("high")


def capacitor_starts_an_hour(on_s: float) -> float:
    """Starts an hour that a start capacitor stands when each keeps it on so long.

    Raises TableEnds for a start longer than it is made for.
    """
    of = table("winding_heat", "start_capacitor")
    longest_s = of.number("longest_s")
    if not 0.0 < on_s <= longest_s:
        raise TableEnds(
            f"a start capacitor is made for {longest_s:g} s at a time, not for {on_s:.3g} s"
        )
    return of.number("seconds_an_hour") / on_s
