"""What may turn together: remembered answers, and the least cost that respects them."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from phasewright.plan.problem import Flags, Floats, Problem, Running

Units = tuple[int, ...]
Groups = tuple[Units, ...]
Ladder = list[tuple[float, int]]
"""(cost, option) of one unit, the cheapest first."""
Found = tuple[float, dict[int, int]]
"""A cost and the option of every unit that makes it."""
INFINITE = float("inf")
NEW_QUESTION = 20
"""Steps that a question not asked before counts for: behind it stands a network."""


def ladder(costs: Floats) -> Ladder:
    """(cost, option) of all that is to be had, the cheapest first."""
    return sorted((cost, option) for option, cost in enumerate(costs.tolist()) if cost < INFINITE)


class Enough(Exception):
    """The search has looked at as much as it was told to."""


@dataclass(frozen=True, slots=True)
class Part:
    """Units that hang together by groups, and all groups that touch them."""

    units: Units
    groups: Groups


@dataclass(frozen=True, slots=True)
class Hub:
    """A unit of a part, its groups, the other units, and those of them it shares groups with."""

    groups: Groups
    rest: Units
    companions: tuple[tuple[int, Groups], ...]


@dataclass(slots=True, eq=False)
class Together:
    """The groups of a problem and every answer `admit` has given.

    `refused_alone` collects (state, unit, option) refused even with nothing else turning; the
    bounds drop them. `steps` counts what was looked at; beyond `most_steps` comes `Enough`.
    """

    problem: Problem
    refused_alone: set[tuple[int, int, int]] = field(default_factory=set)
    steps: int = 0
    most_steps: int = 0
    _answers: dict[tuple[int, Running], bool] = field(default_factory=dict)
    _groups: dict[bytes, Groups] = field(default_factory=dict)
    _parts: dict[tuple[Groups, Units], tuple[Part, ...]] = field(default_factory=dict)
    _hubs: dict[tuple[Groups, Units, int], Hub] = field(default_factory=dict)
    _left: frozenset[tuple[int, int]] = field(init=False)

    def __post_init__(self) -> None:
        """Note the options that leave a unit without power."""
        self._left = frozenset((int(u), int(a)) for u, a in np.argwhere(self.problem.unserved))

    def groups(self, present: Flags) -> Groups:
        """The largest sets among the units present that may turn together, singles included."""
        key = present.tobytes()
        if key not in self._groups:
            there = frozenset(i for i, is_there in enumerate(present) if is_there)
            found = {group & there for group in self.problem.groups}
            covered = frozenset[int]().union(*found)
            found |= {frozenset({unit}) for unit in there - covered}
            largest = [g for g in found if g and not any(g < other for other in found)]
            self._groups[key] = tuple(sorted(tuple(sorted(group)) for group in largest))
        return self._groups[key]

    def admits(self, state: int, running: Running) -> bool:
        """Whether these (unit, option), in rising order of unit, may turn together."""
        answer = self._answers.get((state, running))
        if answer is None:
            self.steps += NEW_QUESTION
            answer = not running or bool(self.problem.admit(state, running))
            self._answers[state, running] = answer
            if not answer and len(running) == 1:
                self.refused_alone.add((state, *running[0]))
        return answer

    def admits_all(self, state: int, groups: Groups, chosen: dict[int, int]) -> bool:
        """Whether in every group those chosen may turn together; units without power do not."""
        self.steps += 1
        if self.steps > self.most_steps:
            raise Enough
        left = self._left
        for group in groups:
            pairs = [(u, chosen[u]) for u in group if u in chosen]
            if not self.admits(state, tuple([pair for pair in pairs if pair not in left])):
                return False
        return True

    def parts(self, groups: Groups, units: Units) -> tuple[Part, ...]:
        """Units parted into sets that share no group with one another."""
        key = (groups, units)
        if key not in self._parts:
            parts: list[set[int]] = [{unit} for unit in units]
            for group in groups:
                joined = [part for part in parts if not part.isdisjoint(group)]
                parts = [part for part in parts if part.isdisjoint(group)]
                if joined:
                    parts.append(set[int]().union(*joined))
            found = sorted(tuple(sorted(part)) for part in parts)
            self._parts[key] = tuple(_part(groups, part) for part in found)
        return self._parts[key]

    def hub(self, part: Part, unit: int) -> Hub:
        """A unit of a part as its hub."""
        key = (part.groups, part.units, unit)
        if key not in self._hubs:
            self._hubs[key] = _hub(part, unit)
        return self._hubs[key]

    def least(
        self, state: int, groups: Groups, ladders: dict[int, Ladder], limit: float
    ) -> Found | None:
        """The least sum of one step from each unit's ladder that is admissible, below `limit`.

        `groups` must cover the units. Exact: the unit in most of the groups that refuse the
        cheapest choice (a hub, as an extractor that turns with everything) is chosen first, after
        which the others fall apart into sets that are solved one by one. None where no choice
        stays below the limit.
        """
        if not all(ladders.values()):
            return None
        return _Choice(self, state, groups).solve(tuple(ladders), ladders, {}, limit)


@dataclass(slots=True, eq=False)
class _Choice:
    together: Together
    state: int
    groups: Groups

    def solve(
        self, units: Units, ladders: dict[int, Ladder], chosen: dict[int, int], limit: float
    ) -> Found | None:
        """The least admissible cost of these units beside those chosen, if below `limit`."""
        total = sum([ladders[u][0][0] for u in units])
        choice: dict[int, int] = {}
        for part in self.together.parts(self.groups, units):
            if total >= limit:
                return None
            floor = sum([ladders[u][0][0] for u in part.units])
            found = self._part(part, ladders, chosen, limit - (total - floor))
            if found is None:
                return None
            total += found[0] - floor
            choice |= found[1]
        return (total, choice) if total < limit else None

    def _part(
        self, part: Part, ladders: dict[int, Ladder], chosen: dict[int, int], limit: float
    ) -> Found | None:
        """As `solve`, of units that hang together."""
        cheapest = chosen | {u: ladders[u][0][1] for u in part.units}
        refused = [
            group
            for group in part.groups
            if not self.together.admits_all(self.state, (group,), cheapest)
        ]
        if not refused:
            total = sum([ladders[u][0][0] for u in part.units])
            return total, {u: cheapest[u] for u in part.units}
        unit = max(part.units, key=lambda u: (sum([u in group for group in refused]), -u))
        hub = self.together.hub(part, unit)
        floor = sum([ladders[u][0][0] for u in hub.rest])
        best: Found | None = None
        for cost, option in ladders[unit]:
            if cost + floor >= limit:
                break
            with_hub = chosen | {unit: option}
            if not self.together.admits_all(self.state, hub.groups, with_hub):
                continue
            left = self._beside(hub, ladders, with_hub, limit - cost)
            if left is None:
                continue
            found = self.solve(hub.rest, left, with_hub, limit - cost)
            if found is not None:
                limit = cost + found[0]
                best = (limit, found[1] | {unit: option})
        return best

    def _beside(
        self, hub: Hub, ladders: dict[int, Ladder], chosen: dict[int, int], limit: float
    ) -> dict[int, Ladder] | None:
        """The ladders without those first steps that cannot be taken beside the units chosen.

        None as soon as no choice can stay below the limit.
        """
        left = {u: ladders[u] for u in hub.rest}
        total = sum([ladder[0][0] for ladder in left.values()])
        for unit, groups in hub.companions:
            ladder = left[unit]
            n = 0
            while n < len(ladder) and not self.together.admits_all(
                self.state, groups, chosen | {unit: ladder[n][1]}
            ):
                n += 1
            if n == len(ladder):
                return None
            if n:
                left[unit] = ladder[n:]
                total += ladder[n][0] - ladder[0][0]
                if total >= limit:
                    return None
        return left


def _part(groups: Groups, units: Units) -> Part:
    """The part of these units."""
    return Part(units, tuple(group for group in groups if not set(group).isdisjoint(units)))


def _hub(part: Part, unit: int) -> Hub:
    """A unit of the part as its hub."""
    groups = tuple(group for group in part.groups if unit in group)
    rest = tuple(u for u in part.units if u != unit)
    shared = ((u, tuple(group for group in groups if u in group)) for u in rest)
    return Hub(groups, rest, tuple((u, common) for u, common in shared if common))
