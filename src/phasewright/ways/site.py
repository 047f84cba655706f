"""What the shop offers every way of powering: the supply, its room, prices and owned things."""

from __future__ import annotations

import math
from dataclasses import dataclass

from phasewright.network.supply import Source
from phasewright.quantities.codes import Region, SupplyKind
from phasewright.quantities.identity import Hashed, hashed_once
from phasewright.quantities.value import Value
from phasewright.shop.model import OwnedPart, Quiet, Quote
from phasewright.ways.phases import Phases


@dataclass(frozen=True, slots=True)
class Limit:
    """What the service, the outlet or the contract lets through.

    `beside_others` is False for an outlet of its own: other loads do not hang on it.
    """

    current_a: Value
    words: str
    path: str
    beside_others: bool = True


@dataclass(frozen=True, slots=True)
class Surroundings:
    """The air, dust and damp of a place; None and False where nothing is told."""

    ambient_c: float | None = None
    altitude_m: float | None = None
    dust: bool = False
    damp: bool = False


@hashed_once
@dataclass(frozen=True, slots=True)
class Site(Hashed):
    """The supply as a motor meets it, and what money terms hold in this shop.

    `source` is the expected supply between lines 1 and 2 at the place where machines are fed;
    `voltage_v`, `resistance_ohm`, `reactance_ohm` carry its spread. `others_a` is what other
    loads take that cannot wait. `wiring_by_owner`: the owner builds and wires what the law lets
    an owner do. `limit` is the supply's that leaves least. `place` is where this is, empty at the
    intake; `feeder` is what its own feeder lets through, `feeder_three` the same with three
    loaded conductors, None where that is not known. `surge_a` is what a generator or inverter
    gives for a while, `crest_factor` the peakiness it bears (None where not told). `phases` is the
    three-phase service an operator would bring, None where it is there already or is not to be had.
    `fuel_price` is what the owner pays for a litre, None where not told;
    `quiet` how quiet it must be.
    """

    region: Region
    source: Source
    voltage_v: Value
    resistance_ohm: Value
    reactance_ohm: Value
    limit: Limit
    others_a: Value
    quotes: tuple[Quote, ...] = ()
    owned: tuple[OwnedPart, ...] = ()
    wiring_by_owner: bool = True
    supply_kind: SupplyKind = "single_phase"
    surge_a: float | None = None
    crest_factor: float | None = None
    phases: Phases | None = None
    place: str = ""
    feeder: Limit | None = None
    feeder_three: Limit | None = None
    surroundings: Surroundings = Surroundings()
    fuel_price: float | None = None
    quiet: Quiet | None = None

    def apparent_va(self, current_a: float) -> float:
        """Volt-amperes of a current in the fullest line, as a contract counts them."""
        return self.source.voltage_v * line_factor(self.supply_kind) * current_a

    @property
    def room_a(self) -> float:
        """Current left for machines under the least limit [A]; negative where others take it."""
        return room_under(self.least, self.others_a)

    @property
    def least(self) -> Limit:
        """The limit that leaves least: the supply's, or that of the place's own feeder."""
        if self.feeder is None:
            return self.limit
        return min((self.limit, self.feeder), key=lambda each: room_under(each, self.others_a))


def line_factor(kind: SupplyKind) -> float:
    """Volt-amperes over line volts times line amps: root three where there are three lines."""
    return math.sqrt(3.0) if kind == "three_phase" else 1.0


def room_under(limit: Limit, others_a: Value) -> float:
    """What a limit leaves beside other loads, where they hang on the same."""
    taken = others_a.number if limit.beside_others else 0.0
    return limit.current_a.number - taken
