"""The idler motors a converter may be built of: those on the market, and those the owner has.

An owned one must be linked for the supply's volts; its poles come from its speed, its year of
make from the owner. Several in parallel make one converter, each started when the one before it
runs.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations

from phasewright.machines.circuit import Circuit
from phasewright.machines.connection import link_for, linking
from phasewright.machines.speed import poles_for
from phasewright.machines.standard import standard_motor
from phasewright.network.supply import Source
from phasewright.quantities.codes import Region
from phasewright.quantities.finding import Reason
from phasewright.shop.model import OwnedPart
from phasewright.shop.plate import Plate
from phasewright.tables.sizes import idler_sizes_w, motor_size
from phasewright.ways.site import Site

USUAL_IDLER_V = 230.0
USUAL_POLES = 4
IDLER_YEAR = 2005
"""Year of make taken for an idler bought today, new or used (common practice, no source)."""
MOST_IN_PARALLEL = 3
"""Owned idlers that are tried together; more contactors and relays than that nobody wires."""


@dataclass(frozen=True, slots=True, order=True)
class Idler:
    """One idler motor: shaft power [W], poles, year of make."""

    power_w: float
    poles: int = USUAL_POLES
    year: int = IDLER_YEAR


Idlers = tuple[Idler, ...]
"""The idlers of one converter, the one that is started first in front."""


@dataclass(frozen=True, slots=True)
class OwnedIdler:
    """An idler of the owner's, with its place among the owned parts."""

    place: int
    idler: Idler


def idler_voltage_v(source: Source) -> float:
    """Volts the idler is linked for: the usual low voltage where it fits, else the supply's."""
    return USUAL_IDLER_V if 0.87 <= source.voltage_v / USUAL_IDLER_V <= 1.15 else source.voltage_v


@lru_cache(maxsize=256)
def circuit_of(source: Source, idler: Idler) -> Circuit:
    """A usual motor of this size, linked for this supply."""
    return standard_motor(
        idler.power_w, idler_voltage_v(source), source.frequency_hz, idler.poles, idler.year
    )


def power_of(idlers: Idlers) -> float:
    """Shaft power of all of them together [W]."""
    return sum(idler.power_w for idler in idlers)


def on_the_market(idlers: Idlers, region: Region) -> bool:
    """Whether every one of these can be bought."""
    sizes = idler_sizes_w(region)
    return all(
        (each.poles, each.year) == (USUAL_POLES, IDLER_YEAR) and each.power_w in sizes
        for each in idlers
    )


def idlers_of(site: Site) -> tuple[Idlers, ...]:
    """Everything to try, smallest first: single ones of the market, the owner's alone and
    together."""
    found: set[Idlers] = {(Idler(size),) for size in idler_sizes_w(site.region)}
    found |= {(each,) for _, each in owned_converters(site)} | set(owned_sets(site))
    return tuple(sorted(found, key=lambda idlers: (power_of(idlers), idlers)))


def pair_for(site: Site, idlers: Idlers) -> Idlers | None:
    """Two idlers of half the size or just above, to start one after the other; None where this is
    no single one of the market or nobody would build the converter."""
    if not site.wiring_by_owner or len(idlers) != 1 or not on_the_market(idlers, site.region):
        return None
    sizes = idler_sizes_w(site.region)
    half = next(size for size in sizes if size >= 0.5 * idlers[0].power_w)
    return (Idler(half), Idler(half)) if half < idlers[0].power_w else None


def owned_sets(site: Site) -> tuple[Idlers, ...]:
    """The owner's idlers, each alone and in parallel, the smallest of a set started first."""
    owned = sorted(each.idler for each in owned_idlers(site)[0])
    sets = (
        chosen for count in range(1, MOST_IN_PARALLEL + 1) for chosen in combinations(owned, count)
    )
    return tuple(dict.fromkeys(sets))


def is_owned(site: Site, idlers: Idlers) -> bool:
    """Whether the owner has all of these, or a converter with this one."""
    return idlers in owned_sets(site) or idlers in [(each,) for _, each in owned_converters(site)]


def owned_converters(site: Site) -> tuple[tuple[int, Idler], ...]:
    """The owner's whole converters for these volts, by the power of their idler, with the place
    among the owned parts; within the sizes that are sold."""
    sizes, volts = idler_sizes_w(site.region), idler_voltage_v(site.source)
    return tuple(
        (place, Idler(part.power.number))
        for place, part in enumerate(site.owned)
        if part.kind == "rotary_converter"
        and part.power is not None
        and sizes[0] <= part.power.number <= sizes[-1]
        and (not part.voltage or any(0.85 <= v.number / volts <= 1.15 for v in part.voltage))
    )


def owned_idlers(site: Site) -> tuple[tuple[OwnedIdler, ...], tuple[Reason, ...]]:
    """Those that can be linked for this supply, one entry a piece, and why others cannot."""
    found: list[OwnedIdler] = []
    told: list[Reason] = []
    for place, part in enumerate(site.owned):
        if part.kind != "idler_motor" or part.power is None:
            continue
        name = f"Your idler motor of {motor_size(part.power.number, site.region)}"
        if not site.wiring_by_owner:
            told.append(
                Reason(
                    "owned_idler_not_built",
                    f"{name} is not weighed: round it a converter must be built, and you want an "
                    "electrician to do the wiring.",
                )
            )
            continue
        refusal = _volts_refused(site, part)
        if refusal is not None:
            told.append(Reason("owned_idler_volts", f"{name} cannot be the idler here: {refusal}"))
            continue
        if not part.voltage:
            told.append(
                Reason(
                    "owned_idler_volts_not_known",
                    f"{name} is taken as one that can be linked for "
                    f"{idler_voltage_v(site.source):.0f} V: read its plate.",
                )
            )
        poles = _poles(site, part)
        if poles is None:
            told.append(
                Reason(
                    "owned_idler_speed",
                    f"{name}: its speed is that of no motor on {site.source.frequency_hz:g} Hz.",
                )
            )
            continue
        idler = Idler(part.power.number, poles, part.year or IDLER_YEAR)
        found += [OwnedIdler(place, idler)] * part.count
    return tuple(found), tuple(told)


def _volts_refused(site: Site, part: OwnedPart) -> str | None:
    """Why its winding does not fit the supply; None where it does or its volts are not told."""
    if not part.voltage:
        return None
    plate = Plate(voltage=part.voltage, current=part.current, leads=part.leads)
    of = linking(plate, site.region)
    hertz = site.source.frequency_hz
    link, reasons = link_for(of.links, idler_voltage_v(site.source), hertz, hertz)
    if link is not None:
        return None
    return (reasons if of.links else of.reasons)[0].words


def _poles(site: Site, part: OwnedPart) -> int | None:
    if part.speed is None:
        return USUAL_POLES
    return poles_for(part.speed.number, site.source.frequency_hz)
