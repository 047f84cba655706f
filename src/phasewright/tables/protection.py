"""Breakers and how fast they must act (`data/protection.toml`)."""

from __future__ import annotations

from typing import Literal

from phasewright.quantities.errors import TableEnds
from phasewright.tables.published import table

Curve = Literal["B", "C", "D"]


def greatest_loop_ohm(curve: str, rating_a: float, to_earth_v: float | None = None) -> float:
    """Largest earth-fault loop at which a breaker's magnetic part surely acts: 0.95 U0/(k In).

    BS 7671 table 41.3 by formula; raises TableEnds for an unknown curve or no rating.
    """
    bands, loop = table("protection", "iec_instantaneous"), table("protection", "loop")
    if curve not in bands.rows or not rating_a > 0.0:
        raise TableEnds(f"no instantaneous band for a breaker {curve}{rating_a:g}")
    volts = loop.number("to_earth_v") if to_earth_v is None else to_earth_v
    return loop.number("voltage_factor") * volts / (bands.number(curve) * rating_a)


def disconnection_time_s(earthing: str, final: bool = True) -> float:
    """Longest time to disconnect at 230 V to earth (TN-S and TN-C-S as TN; unknown as TT)."""
    family = "TN" if earthing.startswith("TN") else "TT"
    where = "final" if final else "distribution"
    return table("protection", "disconnection").number(f"{family}_{where}")


def share(clause: str, name: str) -> float:
    """A factor of a clause's table, as `nec_430_52`, `inverse_time`."""
    return table("protection", clause).number(name)
