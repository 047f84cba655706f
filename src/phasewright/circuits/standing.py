"""What stands there of one circuit already, by the keys of the shop file.

Everything may be untold (None, or an empty text). `paths` says where in the shop file a key
stands, so that a remedy can be put there.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from typing import Literal

from phasewright.circuits.installation import Device
from phasewright.quantities.codes import EarthWire, Region
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value
from phasewright.shop.standing import (
    IsolatorThere,
    ResidualCurrent,
    SocketThere,
    read_breaker,
)


@dataclass(frozen=True, slots=True)
class Standing:
    """The facts of a circuit that stands there, in the shop file's own words and values."""

    breaker: str = ""
    breaking: Value | None = None
    residual_current: ResidualCurrent | Literal["none"] | None = None
    conductor: Value | None = None
    protective_conductor: Value | None = None
    earth_wire: EarthWire | None = None
    socket: SocketThere | None = None
    isolator: IsolatorThere | Literal["none"] | None = None
    overload: Value | Literal["none"] | None = None
    overload_units: int | None = None
    capacitors_behind_overload: bool | None = None
    capacitor_fuses: bool | None = None
    undervoltage_release: bool | None = None
    phase_relay: bool | None = None
    discharge_resistor: Value | Literal["none"] | None = None
    paths: Mapping[str, str] = field(default_factory=dict)

    @property
    def told(self) -> tuple[str, ...]:
        """The keys that are told."""
        return tuple(
            each.name
            for each in fields(self)
            if each.name != "paths" and getattr(self, each.name) not in (None, "")
        )


NOTHING = Standing()


def device_of(of: Standing, region: Region) -> Device | None:
    """The breaker or fuse that is told; TableEnds for a marking that names none."""
    if not of.breaker:
        return None
    read = read_breaker(of.breaker, region)
    if read is None:
        raise TableEnds(f"no breaker is marked {of.breaker!r}")
    letter, amps = read
    return Device("fuse" if letter == "gG" else "breaker", amps, letter)
