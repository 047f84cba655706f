"""What a copper cable carries, by IEC 60364-5-52 and by NEC 310.16 (`data/ampacity.toml`)."""

from __future__ import annotations

from typing import Literal

from phasewright.quantities.errors import TableEnds
from phasewright.tables.published import Table, table

Insulation = Literal["pvc", "xlpe"]


def iec_ampacity_a(
    size_mm2: float, method: str, loaded: int = 3, insulation: Insulation = "pvc"
) -> float:
    """Current-carrying capacity at 30 °C in air, single circuit.

    Raises TableEnds for a size, method or pairing the tables at hand do not hold.
    """
    name = f"iec_{insulation}_{'two' if loaded == 2 else 'three'}"
    if loaded not in (2, 3) or name == "iec_xlpe_two":
        raise TableEnds(f"no ampacities for {loaded} loaded conductors with {insulation}")
    of = table("ampacity", name)
    sizes = of.column("sizes")
    if method not in of.rows or method in ("sizes",):
        raise TableEnds(f"no ampacities for installation method {method!r} with {insulation}")
    if size_mm2 not in sizes:
        raise TableEnds(f"no ampacity for {size_mm2:g} mm2")
    return of.column(method)[sizes.index(size_mm2)]


def iec_ambient_factor(ambient_c: float, insulation: Insulation = "pvc") -> float:
    """Factor by air temperature: that of the next warmer row (1 to 30 °C); TableEnds above 50."""
    return _warmer(table("ampacity", "iec_ambient"), ambient_c, insulation)


def iec_grouping_factor(circuits: int) -> float:
    """Factor for circuits bunched together: that of the next larger row; TableEnds above 9."""
    of = table("ampacity", "iec_grouping")
    for count, factor in zip(of.column("circuits"), of.column("factor"), strict=True):
        if 1 <= circuits <= count:
            return factor
    raise TableEnds(f"no grouping factor for {circuits} circuits")


def nec_ampacity_a(size: str, rating_c: int = 75) -> float:
    """Ampacity by table 310.16, copper, 30 °C, at most three current-carrying conductors."""
    of = table("ampacity", "nec_310_16")
    sizes: list[str] = of.rows["sizes"]
    if size not in sizes or str(rating_c) not in of.rows:
        raise TableEnds(f"NEC 310.16 has no row for {size} AWG at {rating_c} °C")
    return of.column(str(rating_c))[sizes.index(size)]


def nec_ambient_factor(ambient_c: float, rating_c: int = 75) -> float:
    """Correction by ambient: that of the next warmer row (1 to 30 °C); TableEnds above 50."""
    return _warmer(table("ampacity", "nec_ambient"), ambient_c, str(rating_c))


def nec_bundling_factor(conductors: int) -> float:
    """Adjustment for more than three current-carrying conductors; TableEnds above 20."""
    for least, most, factor in table("ampacity", "nec_bundling").rows["rows"]:
        if least <= conductors <= most:
            return float(factor)
    raise TableEnds(f"no adjustment for {conductors} current-carrying conductors")


def _warmer(of: Table, ambient_c: float, column: str) -> float:
    if column not in of.rows:
        raise TableEnds(f"no ambient factors for {column}")
    for warmest, factor in zip(of.column("ambient_c"), of.column(column), strict=True):
        if ambient_c <= warmest:
            return factor
    raise TableEnds(f"no ambient factor for {ambient_c:g} °C")
