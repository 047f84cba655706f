"""When what happened in a run: contactors, start branch, bypass, load steps, loss of supply."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from phasewright.starts.halves import end_s
from phasewright.starts.waves import Waves

What = Literal[
    "machine_on", "machine_off", "machine_let_go", "load_step", "start_capacitor_out",
    "resistor_bridged", "supply_lost", "supply_back",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Instant:
    """Something was switched: what, when, and which machine, if one."""

    what: What
    at_s: float
    machine: str = ""


def opened_s(waves: Waves, of: int) -> float | None:
    """When the contactor of a machine that had closed opened or let go [s]; None: it did not."""
    released, opens = waves.released_s[of], waves.course.starters[of].opens_s
    if released is not None:
        return released
    closed = waves.closed_s[of]
    return opens if closed is not None and closed < opens < end_s(waves) else None


def instants(waves: Waves) -> tuple[Instant, ...]:
    """All that was switched, in the order of time."""
    found: list[Instant] = []
    for of, starter in enumerate(waves.course.starters):
        name = starter.machine.name
        found += _one("machine_on", waves.closed_s[of], name)
        gone: What = "machine_off" if waves.released_s[of] is None else "machine_let_go"
        found += _one(gone, opened_s(waves, of), name)
    for step in waves.course.load_steps:
        if step.at_s < end_s(waves):
            found += _one("load_step", step.at_s, step.machine)
    found += _one("start_capacitor_out", waves.dropped_s)
    found += _one("resistor_bridged", waves.bypassed_s)
    found += _one("supply_lost", waves.opened_s)
    found += _one("supply_back", waves.returned_s)
    return tuple(sorted(found, key=lambda each: each.at_s))


def load_share(waves: Waves, of: int, at_s: float) -> float:
    """What the load of a machine asks of its law at an instant, by the load steps before."""
    name = waves.course.starters[of].machine.name
    before = [step for step in waves.course.load_steps if step.machine == name]
    passed = [step for step in sorted(before, key=lambda step: step.at_s) if step.at_s <= at_s]
    return passed[-1].share if passed else 1.0


def _one(what: What, at_s: float | None, machine: str = "") -> list[Instant]:
    return [] if at_s is None else [Instant(what, at_s, machine)]
