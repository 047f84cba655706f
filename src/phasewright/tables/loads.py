"""What each kind of driven machine asks of its motor.

Common practice, no source (`data/loads.toml`): every figure is a `Value` with its spread, and
the owner's own numbers come first.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from phasewright.quantities.codes import LOAD_KINDS, LoadKindName
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value, spread
from phasewright.tables.published import Table, table

TorqueLaw = Literal["constant", "fan", "viscous"]
LoadWay = Literal[
    "static_start_only", "static_tuned", "capacitor_run", "rotary_converter", "drive_per_motor"
]


@dataclass(frozen=True, slots=True)
class WayLimit:
    """What a kind of load means for one way of powering, and why, in words.

    `refused` or `with_conditions`. Where `above_w` is given it holds for motors above that
    power only, where `loaded` for machines that start with work in them only; `torque` is the
    greatest running torque (share of rated) the way serves; `idler_ratio` the least idler power
    over motor power; `lowest_hz` the lowest output frequency of a drive; `speed_max` the
    greatest speed over the original; `unbalance` the greatest voltage unbalance. None where the
    trade names no figure.
    """

    way: LoadWay
    verdict: Literal["with_conditions", "refused"]
    why: str
    above_w: float | None = None
    loaded: bool = False
    torque: float | None = None
    idler_ratio: float | None = None
    lowest_hz: float | None = None
    speed_max: float | None = None
    unbalance: float | None = None


@dataclass(frozen=True, slots=True)
class LoadKind:
    """A kind of driven machine. Torques are shares of the motor's rated torque.

    `law` is how the running torque follows the speed (`fan`: with its square). `inertia_ratio`
    is the load's inertia, reflected to the motor, over the rotor's own. `peak` (short shocks)
    and `breakaway_loaded` are None where the trade names no figure apart from the others.
    `by_itself`: pressure, cold or level switch it, not a hand.
    """

    name: LoadKindName
    law: TorqueLaw
    running: Value
    peak: float | None
    breakaway: Value
    breakaway_loaded: Value | None
    inertia_ratio: Value
    duty: Value
    starts_per_hour: Value
    wrong_direction_harms: bool
    wrong_direction: str
    stopping: str
    asks: tuple[str, ...]
    cautions: tuple[str, ...]
    ways: tuple[WayLimit, ...]
    source: str
    by_itself: bool = False

    def breakaway_for(self, start: str | None) -> Value:
        """Breakaway torque: the loaded one where the machine starts `loaded` and it is told."""
        if start == "loaded" and self.breakaway_loaded is not None:
            return self.breakaway_loaded
        return self.breakaway

    def limits(self, way: LoadWay, power_w: float, *, loaded: bool = False) -> tuple[WayLimit, ...]:
        """What holds for this way and a motor of this power, started `loaded` or not."""
        return tuple(
            limit
            for limit in self.ways
            if limit.way == way
            and (limit.above_w is None or power_w > limit.above_w)
            and (loaded or not limit.loaded)
        )


def load_kind(name: str | None) -> LoadKind:
    """The kind of load of this name; None means `other`. Raises TableEnds for no known kind."""
    wanted = name or "other"
    if wanted not in LOAD_KINDS:
        raise TableEnds(f"no load kind {wanted!r}; known: {', '.join(LOAD_KINDS)}")
    return _kind(wanted)


@cache
def _kind(name: LoadKindName) -> LoadKind:
    of = table("loads", name)
    loaded = of.rows.get("breakaway_loaded")
    return LoadKind(
        name=name,
        law=of.rows["law"],
        running=_value(of, of.rows["running"], "", "running torque"),
        peak=of.rows.get("peak"),
        breakaway=_value(of, of.rows["breakaway"], "", "breakaway torque"),
        breakaway_loaded=None if loaded is None else _value(of, loaded, "", "breakaway, loaded"),
        inertia_ratio=_value(of, of.rows["inertia"], "", "inertia"),
        duty=_value(of, of.rows["duty"], "", "duty"),
        starts_per_hour=_value(of, of.rows["starts"], "1/h", "starts"),
        wrong_direction_harms=of.rows["wrong_direction_harms"],
        wrong_direction=of.rows["wrong_direction"],
        stopping=of.rows["stopping"],
        asks=tuple(of.rows["asks"]),
        cautions=tuple(of.rows["cautions"]),
        ways=tuple(WayLimit(**_limit(row)) for row in of.rows["ways"]),
        source=of.words,
        by_itself=of.rows.get("by_itself", False),
    )


def _limit(row: dict[str, Any]) -> dict[str, Any]:
    return dict(row)


def _value(of: Table, row: list[float], unit: str, what: str) -> Value:
    number, low, high = (float(entry) for entry in row)
    return spread(number, low, high, unit, of.origin, f"{what} of a {of.name}: {of.words}")
