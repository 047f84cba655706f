"""What stands before the circuits of a plan: the supply's loops, earth, and devices that are there.

Least fault currents are told with the highest credible impedances, greatest ones with the lowest.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from phasewright.circuits.fault_source import FaultSource, Limit
from phasewright.circuits.need import Origin
from phasewright.network.impedance import machine_rating_va
from phasewright.plan.facts import Facts
from phasewright.plan.to_earth import earthed_of
from phasewright.quantities.codes import Earthing, ResidualType
from phasewright.quantities.value import Value, figure
from phasewright.running.line3_fault import EarthedPoint
from phasewright.shop.model import Shop
from phasewright.shop.supply import Supply
from phasewright.tables.circuits import electrode_ohm
from phasewright.tables.clauses import limit
from phasewright.tables.own_sources import battery_short_time, generator_sustained
from phasewright.tables.protection import disconnection_time_s
from phasewright.ways.site import Site


@dataclass(frozen=True, slots=True)
class Upstream:
    """A residual-current device the shop has already."""

    rating_ma: float
    type: ResidualType | None


@dataclass(frozen=True, slots=True)
class Ground:
    """How a place is earthed. `point` is None where no supply line is; `electrode` stands in
    every loop of a TT shop. `told` is False where the file does not say how it is earthed."""

    point: EarthedPoint | None
    earthing: Earthing
    told: bool
    electrode: Value | None
    upstream: Upstream | None
    every_circuit_ma: float | None = None
    """Coarsest residual-current device that every circuit here must stand behind; None for none."""

    @property
    def through_rods(self) -> bool:
        """Whether a fault goes back through the soil, so that only a residual device opens it."""
        return self.earthing == "TT"

    def within_s(self, *, final: bool = True) -> float:
        """Longest time to disconnect [s]."""
        return disconnection_time_s(self.earthing, final)


def ground_of(facts: Facts, place: str) -> Ground:
    """The earth of a place. Not told: TN in North America, where a service's neutral is bonded;
    else TT, which asks most."""
    shop, supply = facts.shop, facts.shop.supply
    point: EarthedPoint | None
    match earthed_of(supply):
        case "line_2" | "unknown":
            point = "line_2"
        case "centre":
            point = "centre"
        case _:
            point = None
    usual: Earthing = "TN-C-S" if shop.region == "NEC" else "TT"
    earthing = supply.earthing or usual
    there = next((each for each in shop.places if each.name == place), None)
    given = None if there is None else there.electrode
    electrode = None if earthing != "TT" else given or electrode_ohm()
    return Ground(
        None if earthing == "IT" else point,
        earthing,
        supply.earthing is not None,
        electrode,
        _upstream(facts, place),
        every_circuit_ma(shop, place),
    )


def every_circuit_ma(shop: Shop, place: str) -> float | None:
    """On a farm, and where dust may burn, every circuit of an IEC shop stands behind one [mA].

    Source: IEC 60364-7-705, 705.411.1; IEC 60364-4-42, 422.3.9 (from memory).
    """
    if shop.region == "NEC":
        return None
    asks = []
    if shop.supply.farm:
        asks.append(limit("farms", "everything_ma"))
    if place in dusty_places(shop):
        asks.append(limit("fire", "residual_ma"))
    return min(asks, default=None)


def dusty_places(shop: Shop) -> tuple[str, ...]:
    """Places in which dust may burn, in the order of the file."""
    return tuple(each.name for each in shop.places if each.dust)


def _upstream(facts: Facts, place: str) -> Upstream | None:
    """The device nearest ahead: the place's own, else the supply's."""
    there = next((each for each in facts.shop.places if each.name == place), None)
    for of in (
        None if there is None else there.residual_current,
        facts.shop.supply.residual_current,
    ):
        if of is not None and of.rating is not None:
            return Upstream(1000.0 * of.rating.number, of.type)
    return None


@dataclass(frozen=True, slots=True)
class Tap:
    """A place where circuits begin: its site, its earth, the loops between lines and to earth.

    `soft` and `stiff` are the loop between lines at its highest and lowest credible impedance;
    `three_phase` lines stand root three below their volts from earth, or `phase_v` where told.
    `own` is a source of the shop's own that they begin at, `limit` the most that a fault draws.
    """

    site: Site
    ground: Ground
    usual: complex
    soft: complex
    stiff: complex
    three_phase: bool = False
    phase_v: float | None = None
    own: FaultSource | None = None
    limit: Limit | None = None

    @property
    def line_to_earth_v(self) -> float | None:
        """Volts of a supply line to earth."""
        if self.ground.point is None:
            return None
        if self.phase_v is not None:
            return self.phase_v
        if self.three_phase:
            return self.site.source.voltage_v / math.sqrt(3.0)
        volts = self.site.source.voltage_v
        return volts if self.ground.point == "line_2" else volts / 2.0

    @property
    def earth_share(self) -> float:
        """Share of the loop between lines in that of a line to earth: half of it where the centre
        is earthed, else all of it (protective conductors as thick as a line)."""
        if self.own is not None and self.own.isolates:
            return self.own.earth_share
        return 0.5 if self.ground.point == "centre" else 1.0

    @property
    def electrode_high_ohm(self) -> float:
        of = self.ground.electrode
        return 0.0 if of is None else of.high

    def origin(self, more_ohm: complex = 0j) -> Origin:
        """What stands behind a circuit that begins here, behind `more_ohm` of cable (one way)."""
        volts = self.line_to_earth_v
        return Origin(
            lines_ohm=self.stiff + 2.0 * more_ohm,
            earth_ohm=None if volts is None else self.soft * self.earth_share + 2.0 * more_ohm,
            to_earth_v=volts,
            electrode_ohm=self.electrode_high_ohm,
            limit=self.limit,
        )


def tap_of(facts: Facts, place: str) -> Tap:
    """The place's own tap on the supply."""
    site = facts.site_at(place)
    r, x = site.resistance_ohm, site.reactance_ohm
    return Tap(
        site, ground_of(facts, place), complex(r.number, x.number), complex(r.high, x.high),
        complex(r.low, x.low), site.supply_kind == "three_phase",
        limit=limit_of_supply(facts.shop.supply),
    )  # fmt: skip


def limit_of_supply(supply: Supply) -> Limit | None:
    """The most that a fault draws from a generator or an inverter as the supply; None on the grid.

    An inverter gives its surge, where that is told for longer than a breaker needs.
    """
    if supply.kind not in ("generator", "inverter"):
        return None
    rated = machine_rating_va(supply) / supply.voltage.number
    if supply.kind == "generator":
        of = generator_sustained()
        return Limit(of.low * rated, of.number * rated, math.inf)
    if supply.surge is not None:
        surge = supply.surge.rating.number / supply.voltage.number
        return Limit(surge, surge, surge)
    of = battery_short_time()
    return Limit(of.low * rated, of.number * rated, of.high * rated)


def fault_of_supply(supply: Supply, behind_impedance: Value) -> Value:
    """The fault current of a supply: never more than a generator or an inverter gives."""
    of = limit_of_supply(supply)
    if of is None:
        return behind_impedance
    ends = zip(
        (behind_impedance.number, behind_impedance.low, behind_impedance.high),
        (of.usual_a, of.least_a, of.greatest_a), strict=True,
    )  # fmt: skip
    usual, low, high = (min(pair) for pair in ends)
    inputs = {"behind its impedance": (behind_impedance.number, "A"),
              "it goes on giving": (of.usual_a, "A")}  # fmt: skip
    words = "V/|Z|, never more than it gives; low: what a breaker may count on"
    return figure(
        usual, "A", "plan.circuit_supply.fault_of_supply", inputs, words, low=low, high=high
    )


def earth_values(
    tap: Tap, own_ohm: complex, more_ohm: complex = 0j
) -> tuple[Value | None, Value | None]:
    """(loop, earth-fault current) of a supply line at a circuit's end, each with its spread."""
    volts = tap.line_to_earth_v
    if volts is None:
        return None, None
    of = tap.ground.electrode
    ends = (
        (tap.usual, 0.0 if of is None else of.number),
        (tap.stiff, 0.0 if of is None else of.low),
        (tap.soft, 0.0 if of is None else of.high),
    )
    loops = [
        abs(line * tap.earth_share + 2.0 * more_ohm + own_ohm) + rod for line, rod in ends
    ]  # fmt: skip
    usual, least, most = loops
    of_limit = tap.limit or Limit(math.inf, math.inf, math.inf)
    faults = (
        min(volts / usual, of_limit.usual_a),
        min(volts / most, of_limit.least_a),
        min(volts / least, of_limit.greatest_a),
    )
    inputs = {
        "supply loop": (abs(tap.usual), "ohm"),
        "its share to earth": (tap.earth_share, ""),
        "this circuit": (abs(own_ohm), "ohm"),
        "electrode": (ends[0][1], "ohm"),
        "to earth": (volts, "V"),
    }
    words = "IEC 60364-4-41, loop of line and protective conductor; hot cable"
    if tap.limit is not None:
        inputs["the source gives"] = (tap.limit.usual_a, "A")
        words += "; never more than the source gives"
    where = "plan.circuit_supply.earth_values"
    return (
        figure(usual, "ohm", where, inputs, words, low=least, high=most),
        figure(faults[0], "A", where, inputs, words, low=faults[1], high=faults[2]),
    )
