"""What a feeder carries for ever, by how it is laid, its metal, and the air round it.

Copper by IEC 60364-5-52 (PVC 70 °C) or NEC 310.16 (75 °C), aluminium at its usual share of
copper. A conductor of a size in no table carries what the next smaller published size does, which
is never too much; one beyond the tables raises TableEnds.
"""

from __future__ import annotations

from phasewright.quantities.codes import Conductor, Method, Region
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value, figure
from phasewright.tables.ampacity import iec_ambient_factor, nec_ambient_factor
from phasewright.tables.published import table
from phasewright.tables.sizes import awg_mm2

SAME_SIZE = 0.03
"""An area is a standard size where it lies no further below it than this."""
IN_GROUND = ("D1", "D2")
Amps = tuple[tuple[float, float], ...]
"""(mm2, A) of copper, the smallest size first."""


def feeder_ampacity(
    area_m2: float, metal: Conductor, method: Method | None, region: Region, loaded: int,
    ambient_c: float | None = None,
) -> Value:  # fmt: skip
    """Lasting current of a feeder with so many loaded conductors (2 or 3) [A].

    `ambient_c` is the air at the place (30 °C where not told); the ground stays cool. Low and
    high: aluminium's usual shares, and where `method` is not told the ways a feeder may be laid.
    Raises TableEnds outside the tables.
    """
    area_mm2 = 1e6 * area_m2
    of = table("ampacity", "feeder")
    number, low, high, words = (
        _nec(area_mm2, ambient_c) if region == "NEC" else _iec(area_mm2, method, loaded, ambient_c)
    )
    if metal == "aluminium":
        number *= of.number("aluminium_share")
        low, high = low * of.number("aluminium_low"), high * of.number("aluminium_high")
        words = f"{words}; aluminium by its share of copper ({of.status})"
    inputs = {"conductor": (area_m2, "m2"), "loaded conductors": (float(loaded), "")}
    if ambient_c is not None:
        inputs["ambient"] = (ambient_c, "°C")
    return figure(
        number, "A", "tables.feeders.feeder_ampacity", inputs, words, low=low, high=high
    )  # fmt: skip


def _nec(area_mm2: float, ambient_c: float | None) -> tuple[float, float, float, str]:
    """NEC knows one table for raceway, cable and earth; free air carries more."""
    of = table("ampacity", "nec_310_16")
    sizes = (awg_mm2(str(size)) for size in of.rows["sizes"])
    amps = _within(area_mm2, tuple(zip(sizes, of.column("75"), strict=True)))
    amps *= 1.0 if ambient_c is None else nec_ambient_factor(ambient_c)
    return amps, amps, amps, f"{of.words}, 75 °C"


def _iec(
    area_mm2: float, method: Method | None, loaded: int, ambient_c: float | None
) -> tuple[float, float, float, str]:
    words = table("ampacity", "iec_pvc_two").words
    of = table("ampacity", "feeder")
    if method is not None:
        named = str(of.rows.get(method, method))
        amps = _laid(area_mm2, named, loaded, ambient_c)
        return amps, amps, amps, f"{words}, PVC, method {named}"
    names = [str(of.rows[key]) for key in ("not_told", "not_told_low", "not_told_high")]
    amps, *ends = (_laid(area_mm2, name, loaded, ambient_c) for name in names)
    return amps, min(amps, *ends), max(amps, *ends), f"{words}, PVC, method not told: {names[0]}"


def _laid(area_mm2: float, method: str, loaded: int, ambient_c: float | None) -> float:
    amps = _within(area_mm2, _rows(method, loaded))
    if ambient_c is None or method in IN_GROUND:
        return amps
    return amps * iec_ambient_factor(ambient_c)


def _rows(method: str, loaded: int) -> Amps:
    base = f"iec_pvc_{'two' if loaded == 2 else 'three'}"
    found: list[tuple[float, float]] = []
    for name in (base, f"{base}_more", f"{base}_large"):
        of = table("ampacity", name)
        if method in of.rows:
            found += zip(of.column("sizes"), of.column(method), strict=True)
    return tuple(sorted(found))


def _within(area_mm2: float, rows: Amps) -> float:
    """The amps of the largest size not above the area."""
    smallest, largest = rows[0][0], rows[-1][0]
    if not (1.0 - SAME_SIZE) * smallest <= area_mm2 <= (1.0 + SAME_SIZE) * largest:
        raise TableEnds(
            f"a feeder of {area_mm2:.3g} mm2 lies outside the ampacity tables "
            f"({smallest:.3g} to {largest:.3g} mm2)"
        )
    return max(amps for size, amps in rows if (1.0 - SAME_SIZE) * size <= area_mm2)
