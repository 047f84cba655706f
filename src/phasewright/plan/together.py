"""What may turn together: remembered answers, and the least cost that respects them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from phasewright.plan.problem import Flags, Floats, Problem, Running

Units = tuple[int, ...]
Groups = tuple[Units, ...]
INFINITE = float("inf")


@dataclass(slots=True, eq=False)
class Together:
    """The groups of a problem and every answer `admit` has given.

    `refused_alone` collects (state, unit, option) refused even with nothing else turning; the
    bounds drop them.
    """

    problem: Problem
    refused_alone: set[tuple[int, int, int]] = field(default_factory=set)
    _answers: dict[tuple[int, Running], bool] = field(default_factory=dict)
    _groups: dict[bytes, Groups] = field(default_factory=dict)
    _parts: dict[tuple[Groups, Units], tuple[Units, ...]] = field(default_factory=dict)

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

    def admits(self, state: int, chosen: Iterable[tuple[int, int]]) -> bool:
        """Whether these (unit, option) may turn together; units left without power do not."""
        unserved = self.problem.unserved
        running = tuple(sorted((u, a) for u, a in chosen if not unserved[u, a]))
        if not running:
            return True
        answer = self._answers.get((state, running))
        if answer is None:
            answer = bool(self.problem.admit(state, running))
            self._answers[state, running] = answer
            if not answer and len(running) == 1:
                self.refused_alone.add((state, *running[0]))
        return answer

    def admits_groups(self, state: int, groups: Groups, options: Sequence[int]) -> bool:
        """Whether every group may turn under these options (one a unit)."""
        return all(self.admits(state, [(u, options[u]) for u in group]) for group in groups)

    def admits_with(self, state: int, groups: Groups, unit: int, chosen: dict[int, int]) -> bool:
        """Whether the units chosen so far may turn together in every group of this unit."""
        return all(
            self.admits(state, [(u, chosen[u]) for u in group if u in chosen])
            for group in groups
            if unit in group
        )

    def parts(self, groups: Groups, units: Units) -> tuple[Units, ...]:
        """Units parted into sets that share no group with one another."""
        key = (groups, units)
        if key not in self._parts:
            parts: list[set[int]] = [{unit} for unit in units]
            for group in groups:
                joined = [part for part in parts if not part.isdisjoint(group)]
                parts = [part for part in parts if part.isdisjoint(group)]
                if joined:
                    parts.append(set[int]().union(*joined))
            self._parts[key] = tuple(sorted(tuple(sorted(part)) for part in parts))
        return self._parts[key]

    def least(
        self, state: int, groups: Groups, units: Units, costs: Floats, limit: float
    ) -> tuple[float, dict[int, int]] | None:
        """The least sum of costs[unit, option] over admissible choices, if below `limit`.

        `groups` must cover the units. Exact: a unit in most groups (a hub, as an extractor that
        turns with everything) is chosen first, after which the others fall apart into sets that
        are solved one by one.
        """
        order = {
            u: sorted((float(c), a) for a, c in enumerate(costs[u]) if c < INFINITE) for u in units
        }
        if any(not order[u] for u in units):
            return None
        return _Choice(self, state, groups, order).solve(units, {}, limit)


@dataclass(slots=True, eq=False)
class _Choice:
    together: Together
    state: int
    groups: Groups
    order: dict[int, list[tuple[float, int]]]

    def solve(
        self, units: Units, chosen: dict[int, int], limit: float
    ) -> tuple[float, dict[int, int]] | None:
        """The least admissible cost of these units beside those chosen, if below `limit`."""
        parts = self.together.parts(self.groups, units)
        floors = [sum(self.order[u][0][0] for u in part) for part in parts]
        total = sum(floors)
        choice: dict[int, int] = {}
        for part, floor in zip(parts, floors, strict=True):
            if total >= limit:
                return None
            found = self._part(part, chosen, limit - (total - floor))
            if found is None:
                return None
            total += found[0] - floor
            choice |= found[1]
        return (total, choice) if total < limit else None

    def _part(
        self, part: Units, chosen: dict[int, int], limit: float
    ) -> tuple[float, dict[int, int]] | None:
        cheapest = {u: self.order[u][0][1] for u in part}
        if self._all_admitted(part, chosen | cheapest):
            total = sum(self.order[u][0][0] for u in part)
            return (total, cheapest) if total < limit else None
        hub = max(part, key=lambda u: (sum(u in group for group in self.groups), -u))
        rest = tuple(u for u in part if u != hub)
        floor = sum(self.order[u][0][0] for u in rest)
        best: tuple[float, dict[int, int]] | None = None
        for cost, option in self.order[hub]:
            if cost + floor >= limit:
                break
            with_hub = chosen | {hub: option}
            if not self.together.admits_with(self.state, self.groups, hub, with_hub):
                continue
            found = self.solve(rest, with_hub, limit - cost)
            if found is not None:
                limit = cost + found[0]
                best = (limit, found[1] | {hub: option})
        return best

    def _all_admitted(self, part: Units, chosen: dict[int, int]) -> bool:
        touched = [group for group in self.groups if not set(group).isdisjoint(part)]
        return all(
            self.together.admits(self.state, [(u, chosen[u]) for u in group if u in chosen])
            for group in touched
        )
