"""What a half-made plan must cost at least, exact once every unit has its option.

For one shared state bought now. In every future the bound takes the least, over the states one
may have later, of the transition, the decided units and the undecided ones, as if an undecided
unit could wait and see which future comes; with the groups that may turn together respected.
The first reading of it leaves the groups out and is a few array sums; the second puts them in.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from phasewright.plan.problem import Flags, Floats, Integers, Later, Problem
from phasewright.plan.together import INFINITE, Together


@dataclass(frozen=True, slots=True, eq=False)
class Tables:
    """Costs as the search ranks them: barred options infinite, unserved ones with the penalty.

    extra (S, U, A) is what is added to the costs of an option under a state, hold (S,), move
    (E, S, S), first (E, S, U, A); cheapest (E, S, U, A + 1) is the least later cost of a unit by
    its option before.
    """

    problem: Problem
    extra: Floats
    hold: Floats
    move: Floats
    first: Floats
    cheapest: Floats

    def drop(self, refused: set[tuple[int, int, int]]) -> None:
        """Bar every (state, unit, option) that was refused even alone."""
        for state, unit, option in sorted(refused):
            self.extra[state, unit, option] = np.inf
            self.first[:, state, unit, option] = np.inf
        for state, unit in sorted({(state, unit) for state, unit, _ in refused}):
            costs = self.problem.later[:, state, unit] + self.extra[state, unit]
            self.cheapest[:, state, unit] = costs.min(axis=2)


def tables(problem: Problem, allowed: Flags | None, states: Flags | None) -> Tables:
    """The tables of a problem with only some options (U, A) and states (S,) to choose from."""
    own = np.where(problem.unserved, problem.penalty, 0.0)
    if allowed is not None:
        own = np.where(allowed, own, np.inf)
    extra = np.tile(own, (problem.hold.size, 1, 1))
    wall = np.zeros(problem.hold.size) if states is None else np.where(states, 0.0, np.inf)
    cheapest = np.stack([(part + own[:, None, :]).min(axis=3) for part in problem.later])
    return Tables(
        problem, extra, problem.hold + wall, problem.move + wall, problem.first + own, cheapest
    )


@dataclass(slots=True, eq=False)
class Bound:
    """Lower bounds on all plans that begin with one shared state."""

    tables: Tables
    together: Together
    state: int
    base: Floats = field(init=False)
    costs: Floats = field(init=False)
    order: tuple[int, ...] = field(init=False)
    rest: Floats = field(init=False)
    _rows: dict[tuple[int, int], Floats] = field(default_factory=dict)
    _likely: tuple[int, ...] = field(init=False)

    def __post_init__(self) -> None:
        """Lay out what does not change while the units are decided.

        base (F, S): transition and machines to come; costs (E, S, U, A): both stages of a unit by
        its option now; rest (N + 1, E, S): least cost of the units from the n-th of `order` on.
        """
        problem, state = self.tables.problem, self.state
        units = np.flatnonzero(problem.now)
        first = self.tables.first[:, state, None]
        cheapest = self.tables.cheapest[..., :-1]
        still = ~problem.second
        self.costs = first + np.where(still[:, None, None, None], 0.0, cheapest)
        move = np.where(still[:, None], np.inf, self.tables.move[:, state])
        move[still, state] = 0.0
        coming = problem.present & ~problem.now
        fresh = self.tables.cheapest[..., -1]
        self.base = self.tables.hold[state] + move[problem.epoch]
        for unit in np.flatnonzero(coming.any(axis=0)):
            there = coming[:, unit]
            self.base[there] += fresh[problem.epoch[there], :, unit]
        self.order = self._branching_order(units)
        least = self.costs.min(axis=3)
        self.rest = np.zeros((len(self.order) + 1, *least.shape[:2]))
        for n in range(len(self.order) - 1, -1, -1):
            self.rest[n] = self.rest[n + 1] + least[:, :, self.order[n]]
        weight = problem.probability
        self._likely = tuple(
            int(f)
            for f in np.argsort(-weight, kind="stable")
            if problem.second[problem.epoch[f]]
        )

    def root(self) -> float:
        """The bound with nothing decided, groups left out."""
        problem = self.tables.problem
        floor = (self.base + self.rest[0][problem.epoch]).min(axis=1)
        return float(problem.probability @ floor)

    def children(self, depth: int, decided: Floats) -> Floats:
        """The bounds (A,), groups left out, of giving the next unit each of its options.

        `decided` (E, S) is the cost of the units decided so far.
        """
        problem, unit = self.tables.problem, self.order[depth]
        head = self.base + (decided + self.rest[depth + 1])[problem.epoch]
        values = np.full(self.costs.shape[3], np.inf)
        for option in np.flatnonzero(np.isfinite(self.costs[:, :, unit]).any(axis=(0, 1))):
            own = self.costs[:, :, unit, option][problem.epoch]
            values[option] = float(problem.probability @ (head + own).min(axis=1))
        return values

    def value(self, decided: Floats, chosen: dict[int, int], limit: float) -> float:
        """The bound with the groups respected; `inf` as soon as it is seen to reach `limit`."""
        problem = self.tables.problem
        depth = len(chosen)
        floors = self.base + (decided + self.rest[depth])[problem.epoch]
        floor = floors.min(axis=1)
        total = float(problem.probability @ floor)
        for future in self._likely:
            if total >= limit:
                return INFINITE
            weight = float(problem.probability[future])
            most = float(floor[future]) + (limit - total) / weight
            found = self._future(future, floors[future], chosen, most)
            if found is None:
                return INFINITE
            total += weight * (found[0] - float(floor[future]))
        return total if total < limit else INFINITE

    def later(self, decided: Floats, chosen: dict[int, int]) -> tuple[Later, ...]:
        """What is done in every future once all units have their option."""
        problem = self.tables.problem
        floors = self.base + decided[problem.epoch]
        out: list[Later] = []
        for future, floor in enumerate(floors):
            state, options = self.state, chosen
            if problem.second[problem.epoch[future]]:
                found = self._future(future, floor, chosen, INFINITE)
                if found is None:  # cannot be: the leaf was accepted by `value`
                    raise AssertionError(future)
                _, state, options = found
            out.append(Later(state, _row(options, problem.now.size)))
        return tuple(out)

    def _future(
        self, future: int, floors: Floats, chosen: dict[int, int], limit: float
    ) -> tuple[float, int, dict[int, int]] | None:
        """Least cost in one future below `limit`, with the later state and options."""
        problem = self.tables.problem
        present = problem.present[future]
        groups = self.together.groups(present)
        units = tuple(int(u) for u in np.flatnonzero(present))
        before = np.full(problem.now.size, problem.first.shape[3])
        before[list(chosen)] = list(chosen.values())
        best: tuple[float, int, dict[int, int]] | None = None
        for state in np.argsort(floors, kind="stable"):
            if floors[state] >= limit:
                break
            costs = self._row_costs(int(problem.epoch[future]), int(state))
            costs = costs[np.arange(before.size), before]
            shared = self.tables.hold[self.state]
            shared += self.tables.move[problem.epoch[future], self.state, state]
            found = self.together.least(int(state), groups, units, costs, limit - float(shared))
            if found is not None:
                limit = float(shared) + found[0]
                best = (limit, int(state), found[1])
        return best

    def _row_costs(self, epoch: int, state: int) -> Floats:
        """(U, A + 1, A): both stages by option before and after.

        The last row of a unit there now is the least over what it may have before (undecided);
        of a unit to come it is that it was not there.
        """
        key = (epoch, state)
        if key not in self._rows:
            problem = self.tables.problem
            rows = problem.later[epoch, state] + self.tables.extra[state][:, None, :]
            rows[:, :-1] += self.tables.first[epoch, self.state, :, :, None]
            rows[problem.now, -1] = rows[problem.now, :-1].min(axis=1)
            self._rows[key] = rows
        return self._rows[key]

    def _branching_order(self, units: Integers) -> tuple[int, ...]:
        """Units by what the second-best option costs more, the greatest first."""
        problem = self.tables.problem
        weight = np.bincount(problem.epoch, weights=problem.probability)
        used = np.flatnonzero(weight > 0)
        regret: dict[int, float] = {}
        for unit in units:
            means = np.sort(weight[used] @ self.costs[used, :, unit].min(axis=1))
            more = means[1:2][np.isfinite(means[1:2])]
            regret[int(unit)] = float(more[0] - means[0]) if more.size else INFINITE
        return tuple(sorted(regret, key=lambda u: (-regret[u], u)))


def _row(options: dict[int, int], units: int) -> tuple[int, ...]:
    """One option a unit, -1 where the unit is not there."""
    return tuple(options.get(u, -1) for u in range(units))
