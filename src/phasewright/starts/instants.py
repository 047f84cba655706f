"""When what happened in a run: contactors, start branch, bypass, loss and return of supply."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from phasewright.starts.course import FOREVER
from phasewright.starts.halves import end_s
from phasewright.starts.waves import Waves

What = Literal[
    "machine_on", "machine_off", "start_capacitor_out", "resistor_bridged", "supply_lost",
    "supply_back",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Instant:
    """Something was switched: what, when, and which machine, if one."""

    what: What
    at_s: float
    machine: str = ""


def closed_s(waves: Waves, of: int) -> float | None:
    """When the contactor of a machine closed [s]; None where it did not in this run."""
    at = waves.course.starters[of].closes_s
    return at if at < end_s(waves) else None


def opened_s(waves: Waves, of: int) -> float | None:
    """When the contactor of a machine that had closed opened again [s]; None where it did not."""
    at = waves.course.starters[of].opens_s
    return at if closed_s(waves, of) is not None and at < end_s(waves) else None


def bypassed_s(waves: Waves) -> float | None:
    """When the series resistor was bridged [s]; None where it was not or there is none."""
    resistor = waves.course.resistor
    if resistor is None or not resistor.bypass_s < min(end_s(waves), FOREVER):
        return None
    return resistor.bypass_s


def instants(waves: Waves) -> tuple[Instant, ...]:
    """All that was switched, in the order of time."""
    found: list[Instant] = []
    for of, starter in enumerate(waves.course.starters):
        name = starter.machine.name
        found += _one("machine_on", closed_s(waves, of), name)
        found += _one("machine_off", opened_s(waves, of), name)
    found += _one("start_capacitor_out", waves.dropped_s)
    found += _one("resistor_bridged", bypassed_s(waves))
    found += _one("supply_lost", waves.opened_s)
    found += _one("supply_back", waves.returned_s)
    return tuple(sorted(found, key=lambda each: each.at_s))


def _one(what: What, at_s: float | None, machine: str = "") -> list[Instant]:
    return [] if at_s is None else [Instant(what, at_s, machine)]
