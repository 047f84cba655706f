"""Cables of a circuit: standard sizes, what they carry as they are laid, their ohms, their drop.

Copper only: a circuit that is laid anew is copper. SI units; a size keeps its trade's name.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from phasewright.network.conductors import reactance_ohm_per_m, resistance_ohm_per_m
from phasewright.quantities.codes import Method, Region
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value
from phasewright.tables.ampacity import iec_grouping_factor, nec_bundling_factor
from phasewright.tables.feeders import feeder_ampacity
from phasewright.tables.sizes import AWG_SIZES, CABLES_MM2, awg_mm2


@dataclass(frozen=True, slots=True)
class Size:
    """A standard conductor: its name in the trade and its area."""

    name: str
    area_m2: float


@dataclass(frozen=True, slots=True)
class Laid:
    """How a cable is laid. `loaded` conductors carry current (2 or 3), `grouped` circuits are
    bunched, itself counted; `method` by IEC 60364-5-52, which NEC's table does not ask for."""

    region: Region
    loaded: int
    method: Method | None = None
    ambient_c: float | None = None
    grouped: int = 1


@lru_cache(maxsize=4)
def sizes(region: Region) -> tuple[Size, ...]:
    """The sizes sold in a region, smallest first: 1.5 to 35 mm2, or 14 AWG to 4/0."""
    if region == "NEC":
        return tuple(Size(f"{name} AWG", 1e-6 * awg_mm2(name)) for name in AWG_SIZES)
    return tuple(Size(f"{mm2:g} mm2", 1e-6 * mm2) for mm2 in CABLES_MM2)


@lru_cache(maxsize=1024)
def ampacity(size: Size, laid: Laid) -> Value:
    """What it carries for ever as it is laid, grouped with others [A]; TableEnds outside."""
    alone = feeder_ampacity(
        size.area_m2, "copper", laid.method, laid.region, laid.loaded, laid.ambient_c
    )
    if laid.grouped == 1:
        return alone
    if laid.region == "NEC":
        return alone.scaled(nec_bundling_factor(laid.loaded * laid.grouped))
    return alone.scaled(iec_grouping_factor(laid.grouped))


@lru_cache(maxsize=512)
def ohm_per_m(area_m2: float, at_c: float) -> complex:
    """Impedance of one conductor a metre [ohm/m]; TableEnds for a size in no table."""
    return complex(resistance_ohm_per_m(area_m2, "copper", at_c), reactance_ohm_per_m())


def between_lines(loaded: int) -> float:
    """Conductors in series between two lines: there and back, or root three of three lines."""
    return 2.0 if loaded == 2 else math.sqrt(3.0)


def drop_ratio(
    current_a: float, power_factor: float, one_way_ohm: complex, loaded: int, voltage_v: float
) -> float:
    """Voltage drop along a cable as a share of its volts: k I (R cos + X sin)/V.

    `one_way_ohm` is one conductor's impedance; k is 2 for two lines, root three for three.
    Source: IEC 60364-5-52 annex G.
    """
    reactive = math.sqrt(max(0.0, 1.0 - power_factor * power_factor))
    volts = current_a * (one_way_ohm.real * power_factor + one_way_ohm.imag * reactive)
    return between_lines(loaded) * volts / voltage_v


def standard_size(area_m2: float, region: Region) -> Size | None:
    """The thickest standard size that is no thicker; None of what is thinner than any."""
    fits = [size for size in sizes(region) if size.area_m2 <= area_m2 * (1.0 + 1e-3)]
    return fits[-1] if fits else None


def size_named(name: str, region: Region) -> Size:
    """The size of this name (`2.5 mm2`, `12 AWG`, `12`); raises TableEnds without one."""
    for size in sizes(region):
        if name in (size.name, size.name.split()[0]):
            return size
    raise TableEnds(f"no conductor {name!r} is sold here")
