"""What a half-made plan must cost at least, exact once every unit has its option.

For one shared state bought now. In every future the bound takes the least, over the states one
may have later, of the transition, the decided units and the undecided ones, as if an undecided
unit could wait and see which future comes; with the groups that may turn together respected.
The first reading of it leaves the groups out and is a few array sums; the second puts them in.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from phasewright.plan.costs import Costs
from phasewright.plan.outlook import Outlook
from phasewright.plan.problem import Floats, Integers, Later
from phasewright.plan.reductions import both_stages
from phasewright.plan.together import INFINITE, Found, Ladder, Together, ladder

Best = tuple[float, int, dict[int, int]]
"""(cost, later state, later option of every unit) of one future."""


@dataclass(frozen=True, slots=True, eq=False)
class Node:
    """What is known of a half-made plan.

    `decided` (E, S) is the cost of the units decided so far by class and later state, `floors`
    (F, S) the least known cost in every future by later state, `best` the cheapest admissible
    (cost, later state, later options) of every future with a second stage, `total` their mean.
    """

    chosen: dict[int, int]
    decided: Floats
    floors: Floats
    best: tuple[Best | None, ...]
    total: float


@dataclass(slots=True, eq=False)
class Bound:
    """Lower bounds on all plans that begin with one shared state.

    `outlook` is shared by the bounds of all states; `stay` leaves out every later state but the
    one bought now.
    """

    ranked: Costs
    together: Together
    outlook: Outlook
    state: int
    stay: bool = False
    base: Floats = field(init=False)
    costs: Floats = field(init=False)
    order: tuple[int, ...] = field(init=False)
    rest: Floats = field(init=False)
    _rows: dict[tuple[int, int], Floats] = field(default_factory=dict)
    _ladders: dict[tuple[int, int, int, int], Ladder] = field(default_factory=dict)
    _likely: tuple[int, ...] = field(init=False)
    _alone: Floats = field(init=False)
    _shared: float = field(init=False)

    def __post_init__(self) -> None:
        """Lay out what does not change while the units are decided.

        base (F, S): transition and machines to come; costs (E, S, U, A): both stages of a unit by
        its option now; rest (N + 1, E, S): least cost of the units from the n-th of `order` on.
        """
        problem, state = self.ranked.problem, self.state
        units = np.flatnonzero(problem.now)
        first = np.ascontiguousarray(self.ranked.first[:, state])
        self.costs = np.empty((*self.ranked.cheapest.shape[:-1], first.shape[2]))
        least, at_best = np.empty(self.costs.shape[:-1]), np.empty(first.shape)
        both_stages(first, self.ranked.cheapest, problem.second, self.costs, least, at_best)
        still = ~problem.second
        move = np.where(still[:, None], np.inf, self.ranked.move[:, state])
        move[still, state] = 0.0
        if self.stay:
            move[:, np.arange(move.shape[1]) != state] = np.inf
        coming = problem.present & ~problem.now
        fresh = self.ranked.cheapest[..., -1]
        self.base = (self.ranked.hold[:, state, None] + move)[problem.epoch]
        for unit in np.flatnonzero(coming.any(axis=0)):
            there = coming[:, unit]
            self.base[there] += fresh[problem.epoch[there], :, unit]
        self.order = self._branching_order(units, at_best)
        self.rest = np.zeros((len(self.order) + 1, *least.shape[:2]))
        for n in range(len(self.order) - 1, -1, -1):
            self.rest[n] = self.rest[n + 1] + least[:, :, self.order[n]]
        weight = problem.probability
        apart = np.bincount(problem.epoch, weights=weight, minlength=problem.second.size)
        used = np.flatnonzero(apart > 0)
        self._alone = np.tensordot(apart[used], at_best[used], axes=1)
        self._shared = float(weight @ self.base.min(axis=1))
        self._likely = tuple(
            int(f) for f in np.argsort(-weight, kind="stable") if problem.second[problem.epoch[f]]
        )

    def children(self, node: Node) -> Floats:
        """The bounds (A,) of giving the next unit each of its options, groups looked at no more."""
        problem, depth = self.ranked.problem, len(node.chosen)
        unit = self.order[depth]
        head = self.base + (node.decided + self.rest[depth + 1])[problem.epoch]
        values = np.full(self.costs.shape[3], np.inf)
        for option in np.flatnonzero(np.isfinite(self._alone[unit])):
            floors = head + self.costs[:, :, unit, option][problem.epoch]
            np.maximum(floors, node.floors, out=floors)
            values[option] = float(problem.probability @ floors.min(axis=1))
        return values

    def can_begin(self, chosen: dict[int, int], limit: float) -> bool:
        """Whether the undecided units leave an admissible first stage below `limit`.

        Each unit costs by itself the least over later states, thus less than in any plan.
        """
        groups = self.together.groups(self.ranked.problem.now)
        ladders = {
            u: ladder(self._alone[u])
            if u not in chosen
            else [(float(self._alone[u, chosen[u]]), chosen[u])]
            for u in self.order
        }
        return self.together.least(self.state, groups, ladders, limit - self._shared) is not None

    def root(self, limit: float) -> Node | None:
        """The node with nothing decided, or None where it cannot stay below `limit`."""
        nothing = np.zeros(self.rest.shape[1:])
        problem = self.ranked.problem
        hold = self.ranked.hold[problem.epoch, self.state]
        shared = hold[:, None] + self.ranked.move[problem.epoch, self.state]
        known = np.where(problem.second[problem.epoch, None], shared + self.outlook.known, -np.inf)
        return self._node({}, nothing, known, None, limit)

    def child(self, node: Node, option: int, limit: float) -> Node | None:
        """The node with one more unit decided, or None where it cannot stay below `limit`."""
        unit = self.order[len(node.chosen)]
        decided = node.decided + self.costs[:, :, unit, option]
        kept = tuple(
            best if best is not None and self._agrees(future, best, unit, option) else None
            for future, best in enumerate(node.best)
        )
        return self._node(node.chosen | {unit: option}, decided, node.floors, kept, limit)

    def _agrees(self, future: int, best: Best, unit: int, option: int) -> bool:
        """Whether a future's best was reckoned with this option, so that it still holds."""
        rows = self._row_costs(int(self.ranked.problem.epoch[future]), best[1])[unit]
        after = best[2][unit]
        return bool(rows[option, after] <= rows[-1, after])

    def _node(
        self,
        chosen: dict[int, int],
        decided: Floats,
        known: Floats,
        kept: tuple[Best | None, ...] | None,
        limit: float,
    ) -> Node | None:
        problem = self.ranked.problem
        floors = self.base + (decided + self.rest[len(chosen)])[problem.epoch]
        np.maximum(floors, known, out=floors)
        floor = floors.min(axis=1)
        best: list[Best | None] = [None] * floor.size if kept is None else list(kept)
        total = float(problem.probability @ floor)
        for future in self._likely:
            if total >= limit:
                return None
            weight = float(problem.probability[future])
            found = best[future]
            if found is None:
                most = float(floor[future]) + (limit - total) / weight
                found = self._future(future, floors[future], chosen, most)
            if found is None:
                return None
            best[future] = found
            total += weight * (found[0] - float(floor[future]))
        return Node(chosen, decided, floors, tuple(best), total) if total < limit else None

    def later(self, node: Node) -> tuple[Later, ...]:
        """What is done in every future once all units have their option."""
        units = self.ranked.problem.now.size
        today = Later(self.state, _row(node.chosen, units))
        return tuple(
            today if best is None else Later(best[1], _row(best[2], units)) for best in node.best
        )

    def _future(
        self, future: int, floors: Floats, chosen: dict[int, int], limit: float
    ) -> Best | None:
        """Least cost in one future below `limit`, with the later state and options.

        What is learned about the states looked at is written into `floors` (S,).
        """
        problem, epoch = self.ranked.problem, int(self.ranked.problem.epoch[future])
        present = problem.present[future]
        groups = self.together.groups(present)
        units: list[int] = np.flatnonzero(present).tolist()
        undecided: int = problem.first.shape[3]
        best: Best | None = None
        waiting = floors.copy()
        while waiting[state := int(waiting.argmin())] < limit:
            shared = float(
                self.ranked.hold[epoch, self.state] + self.ranked.move[epoch, self.state, state]
            )
            if not chosen and not self.outlook.exact[future, state]:
                least = shared + self.outlook.learn(future, state, limit - shared)
                if least > waiting[state]:
                    waiting[state] = floors[state] = least
                    continue
            ladders = {u: self._ladder_of(epoch, state, u, chosen.get(u, undecided)) for u in units}
            found: Found | None = self.together.least(state, groups, ladders, limit - shared)
            if found is not None:
                limit = shared + found[0]
                best = (limit, state, found[1])
            floors[state] = max(float(floors[state]), limit)
            waiting[state] = INFINITE
        return best

    def _ladder_of(self, epoch: int, state: int, unit: int, before: int) -> Ladder:
        key = (epoch, state, unit, before)
        if key not in self._ladders:
            self._ladders[key] = ladder(self._row_costs(epoch, state)[unit, before])
        return self._ladders[key]

    def _row_costs(self, epoch: int, state: int) -> Floats:
        """(U, A + 1, A): both stages by option before and after.

        The last row of a unit there now is the least over what it may have before (undecided);
        of a unit to come it is that it was not there.
        """
        key = (epoch, state)
        if key not in self._rows:
            problem = self.ranked.problem
            rows = problem.later[epoch, state] + self.ranked.extra[state][:, None, :]
            rows[:, :-1] += self.ranked.first[epoch, self.state, :, :, None]
            rows[problem.now, -1] = rows[problem.now, :-1].min(axis=1)
            self._rows[key] = rows
        return self._rows[key]

    def _branching_order(self, units: Integers, at_best: Floats) -> tuple[int, ...]:
        """Units by what the second-best option costs more, the greatest first; at_best (E, U, A)
        is the least of `costs` over the later states."""
        problem = self.ranked.problem
        weight = np.bincount(problem.epoch, weights=problem.probability)
        used = np.flatnonzero(weight > 0)
        regret: dict[int, float] = {}
        for unit in units:
            means = np.sort(weight[used] @ at_best[used, unit])
            more = means[1:2][np.isfinite(means[1:2])]
            regret[int(unit)] = float(more[0] - means[0]) if more.size else INFINITE
        return tuple(sorted(regret, key=lambda u: (-regret[u], u)))


def _row(options: dict[int, int], units: int) -> tuple[int, ...]:
    """One option a unit, -1 where the unit is not there."""
    return tuple(options.get(u, -1) for u in range(units))
