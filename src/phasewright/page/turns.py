"""The facts that turn the answer, each with the stretches in which one plan is best.

All of it is the answer's own; nothing is computed.
"""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.plan.study import ChangesIf, Study

BEYOND = 1.25
"""How far a slider goes beyond the last turning point that is known."""


@dataclass(frozen=True, slots=True)
class Zone:
    """A stretch of a slider and the plan that is best there; `here` is where the shop stands,
    elsewhere `change` is the turning point that leads to it."""

    start: float
    end: float
    plan: str
    id: str
    here: bool
    change: ChangesIf | None = None


@dataclass(frozen=True, slots=True)
class Turn:
    """One fact that turns the answer: its value now, how far its slider goes, its stretches."""

    what: str
    path: str
    unit: str
    value: float
    low: float
    high: float
    zones: tuple[Zone, ...]


def turns_of(study: Study) -> tuple[Turn, ...]:
    """A slider for each fact with a turning point, the nearest first."""
    by_path: dict[str, list[ChangesIf]] = {}
    for change in study.answer.changes_if:
        by_path.setdefault(change.path, []).append(change)
    ids = {plan.title: plan.id for plan in study.plans}
    best = next(plan for plan in study.plans if plan.id == study.answer.plan)
    return tuple(_turn(changes, best.title, ids) for changes in by_path.values())


def _turn(changes: list[ChangesIf], today: str, ids: dict[str, str]) -> Turn:
    first = changes[0]
    below = max((c for c in changes if c.to < c.from_), key=lambda c: c.to, default=None)
    above = min((c for c in changes if c.to > c.from_), key=lambda c: c.to, default=None)
    ends = [first.from_, *(c.to for c in changes)]
    # few digits: a browser does not take its own lowest value back where it has too many
    low, high = (float(f"{end:.4g}") for end in (min(ends) / BEYOND, max(ends) * BEYOND))
    if first.path.endswith(".chance"):
        high = min(high, 1.0)
    zones = [
        Zone(low if below is None else below.to, high if above is None else above.to, today,
             ids.get(today, ""), here=True)
    ]  # fmt: skip
    if below is not None:
        there = ids.get(below.then, "")
        zones.insert(0, Zone(low, below.to, below.then, there, here=False, change=below))
    if above is not None:
        there = ids.get(above.then, "")
        zones.append(Zone(above.to, high, above.then, there, here=False, change=above))
    return Turn(first.what, first.path, first.unit, first.from_, low, high, tuple(zones))
