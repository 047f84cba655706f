"""Resistance of the conductors of a cable, by size, metal and temperature.

Sizes are the standard ones: mm2 by IEC 60228 (resistance at 20 degC), AWG by the National
Electrical Code, chapter 9, table 8 (stranded, 75 degC). An area is taken for a standard size
where it lies within 3 % of it; any other raises TableEnds.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value, figure
from phasewright.tables.published import Table, table
from phasewright.tables.sizes import awg_mm2

Metal = Literal["copper", "aluminium"]

# Change of resistance a kelvin at 20 degC (IEC 60028, IEC 60889; from memory).
PER_KELVIN: dict[str, float] = {"copper": 0.00393, "aluminium": 0.00403}

_MM2: dict[str, tuple[str, ...]] = {
    "copper": ("copper_mm2", "copper_mm2_more"),
    "aluminium": ("aluminium_mm2",),
}
_AWG: dict[str, tuple[str, ...]] = {
    "copper": ("copper_awg", "copper_awg_more"),
    "aluminium": ("aluminium_awg",),
}
_SAME_SIZE = 0.03
RATED_AIR_C = 30.0
_KFT_M = 304.8


@dataclass(frozen=True, slots=True)
class Row:
    """One published size: its name, its resistance and at which temperature."""

    size: str
    area_mm2: float
    resistance_ohm_per_m: float
    at_c: float
    of: Table


def standard_row(area_m2: float, metal: Metal) -> Row:
    """The published row of a conductor area; raises TableEnds where there is none."""
    area_mm2 = 1e6 * area_m2
    near = [
        (abs(math.log(area_mm2 / row.area_mm2)), row)
        for row in rows(metal)
        if abs(area_mm2 / row.area_mm2 - 1.0) <= _SAME_SIZE
    ]
    if not near:
        known = ", ".join(row.size for row in rows(metal))
        raise TableEnds(
            f"no {metal} conductor of {area_mm2:.3g} mm2 in the tables; known sizes: {known}"
        )
    return min(near, key=lambda pair: pair[0])[1]


def _row(area_m2: float, metal: Metal) -> Row:
    """The published row of an area; of a size in no table, the nearest one's taken by area.

    R A of the nearest published size holds: a wire's resistance goes with one over its area.
    """
    try:
        return standard_row(area_m2, metal)
    except TableEnds:
        area_mm2 = 1e6 * area_m2
        near = min(rows(metal), key=lambda row: abs(math.log(area_mm2 / row.area_mm2)))
        ohm = near.resistance_ohm_per_m * near.area_mm2 / area_mm2
        name = f"{area_mm2:.3g} mm2 (by area from {near.size})"
        return Row(name, area_mm2, ohm, near.at_c, near.of)


def rows(metal: Metal) -> tuple[Row, ...]:
    """Every published size of a metal, mm2 before AWG."""
    found = []
    for name in _MM2[metal]:
        of = table("conductors", name)
        for size, ohm in zip(of.column("sizes"), of.column("ohm_per_km"), strict=True):
            found.append(Row(f"{size:g} mm2", size, ohm / 1000.0, 20.0, of))
    for name in _AWG[metal]:
        of = table("conductors", name)
        sizes = tuple(str(size) for size in of.rows["sizes"])
        for gauge, ohm in zip(sizes, of.column("ohm_per_kft"), strict=True):
            found.append(Row(f"{gauge} AWG", awg_mm2(gauge), ohm / _KFT_M, 75.0, of))
    return tuple(found)


def resistance_ohm_per_m(area_m2: float, metal: Metal = "copper", at_c: float = 40.0) -> float:
    """Resistance of one conductor a metre at a temperature [ohm/m].

    R = R_table (1 + alpha (t - 20))/(1 + alpha (t_table - 20)). Raises TableEnds for a size
    that stands in no table.
    """
    return _warm(standard_row(area_m2, metal), metal, at_c)


def _warm(row: Row, metal: Metal, at_c: float) -> float:
    alpha = PER_KELVIN[metal]
    warmth = (1.0 + alpha * (at_c - 20.0)) / (1.0 + alpha * (row.at_c - 20.0))
    return row.resistance_ohm_per_m * warmth


def reactance_ohm_per_m() -> float:
    """Reactance of one conductor of a cable a metre at 50 or 60 Hz (common practice) [ohm/m]."""
    return table("conductors", "laid").number("reactance_ohm_per_km") / 1000.0


def working_temperature_c() -> float:
    """Temperature at which a cable in ordinary use is taken (common practice) [degC]."""
    return table("conductors", "laid").number("working_temperature_c")


def cable_temperature_c(ambient_c: float) -> float:
    """Temperature of a cable in ordinary use in air of so many degrees [degC].

    Warmer air than the 30 degC that cables are rated in warms the cable by as much (common
    practice); cooler air is not counted on, for it does not last.
    """
    return working_temperature_c() + max(0.0, ambient_c - RATED_AIR_C)


def feeder_impedance(
    length_m: float, area_m2: float, metal: Metal = "copper", at_c: float | None = None
) -> tuple[Value, Value]:
    """(resistance, reactance) of both conductors of a two-wire feeder, there and back [ohm].

    Spread of the resistance: the cable at 20 and at 70 degC. A feeder that is there may be of a
    size in no table: its resistance then goes by area from the nearest published size.
    """
    warm = working_temperature_c() if at_c is None else at_c
    row = _row(area_m2, metal)
    inputs = {"length": (length_m, "m"), "conductor": (area_m2, "m2"), "temperature": (warm, "°C")}
    both = 2.0 * length_m
    resistance = figure(
        both * _warm(row, metal, warm), "ohm",
        "network.conductors.feeder_impedance", inputs,
        f"{row.size} {metal}: {row.of.words}",
        low=both * _warm(row, metal, min(20.0, warm)),
        high=both * _warm(row, metal, max(70.0, warm)),
    )  # fmt: skip
    reactance = figure(
        both * reactance_ohm_per_m(), "ohm", "network.conductors.feeder_impedance", inputs,
        table("conductors", "laid").words,
        low=0.8 * both * reactance_ohm_per_m(), high=1.5 * both * reactance_ohm_per_m(),
    )  # fmt: skip
    return resistance, reactance
