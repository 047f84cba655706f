"""What the shop offers every way of powering: the supply, its room, prices and owned things."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.network.supply import Source
from phasewright.quantities.codes import Region
from phasewright.quantities.value import Value
from phasewright.shop.model import OwnedPart, Quote


@dataclass(frozen=True, slots=True)
class Limit:
    """The smallest of what the service, the outlet and the contract let through."""

    current_a: Value
    words: str
    path: str


@dataclass(frozen=True, slots=True)
class Site:
    """The supply as a motor meets it, and what money terms hold in this shop.

    `source` is the expected supply between lines 1 and 2 at the place where machines are fed;
    `voltage_v`, `resistance_ohm`, `reactance_ohm` carry its spread. `others_a` is what other
    loads take that cannot wait. `wiring_by_owner`: the owner builds and wires what the law lets
    an owner do.
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

    @property
    def room_a(self) -> float:
        """Current left for machines under the limit [A]; negative where others take it all."""
        return self.limit.current_a.number - self.others_a.number
