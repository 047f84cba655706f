"""What each kind of motor can run on: refused or conditional ways, with the reason.

Common practice, no source (`data/motor_kinds.toml`).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Literal, get_args

from phasewright.quantities.codes import Severity, WayName
from phasewright.tables.published import table

MotorTrait = Literal[
    "single_phase", "capacitor", "rigged_with_capacitor", "slip_ring", "commutator", "dc",
    "hermetic", "submersible", "torque", "brake_motor", "two_speed",
]  # fmt: skip
MOTOR_TRAITS: tuple[MotorTrait, ...] = get_args(MotorTrait)


@dataclass(frozen=True, slots=True)
class KindLimit:
    """What a kind of motor means for one way, and why."""

    way: WayName
    verdict: Literal["with_conditions", "refused"]
    why: str


@dataclass(frozen=True, slots=True)
class MotorTraits:
    """A kind of motor: what it runs on, in words; `rule` names the finding made of it, if any."""

    name: MotorTrait
    runs_on: str
    remedy: str
    rule: str | None
    severity: Severity
    ways: tuple[KindLimit, ...]
    source: str

    def limit(self, way: WayName) -> KindLimit | None:
        """What holds for this way, or None where the kind makes no difference."""
        return next((limit for limit in self.ways if limit.way == way), None)


@cache
def motor_kind(name: MotorTrait) -> MotorTraits:
    """The kind of this name. Raises KeyError for a name that is no kind."""
    of = table("motor_kinds", name)
    return MotorTraits(
        name=name,
        runs_on=str(of.rows["runs_on"]),
        remedy=str(of.rows["remedy"]),
        rule=of.rows.get("rule"),
        severity=of.rows.get("severity", "condition"),
        ways=tuple(
            KindLimit(way, verdict, str(row["why"]))
            for row in of.rows["limits"]
            for verdict in (row["verdict"],)
            for way in row["ways"]
        ),
        source=of.words,
    )
