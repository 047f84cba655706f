"""What each future costs at least whatever is bought now: reckoned once, used for every state."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from phasewright.plan.costs import Costs
from phasewright.plan.problem import Flags, Floats
from phasewright.plan.together import Ladder, Together, ladder

UNKNOWN = -1e300


@dataclass(slots=True, eq=False)
class Outlook:
    """Least cost of both stages of all units by future and later state, the groups respected.

    A unit's first stage costs its least over the states one may buy now, and it may wait and see
    which future comes. `known` (F, S) is a lower bound, exact where `exact` says so.
    """

    ranked: Costs
    together: Together
    known: Floats = field(init=False)
    exact: Flags = field(init=False)
    _first: Floats = field(init=False)
    _ladders: dict[tuple[int, int, int], Ladder] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Nothing is known yet."""
        shape = (self.ranked.problem.probability.size, self.ranked.problem.states)
        self.known = np.full(shape, UNKNOWN)
        self.exact = np.zeros(shape, dtype=np.bool_)
        self._first = self.ranked.first.min(axis=1)

    def learn(self, future: int, state: int, limit: float) -> float:
        """A lower bound for one future and later state; exact where it is below `limit`."""
        if not self.exact[future, state] and self.known[future, state] < limit:
            problem = self.ranked.problem
            present = problem.present[future]
            groups = self.together.groups(present)
            epoch = int(problem.epoch[future])
            units: list[int] = np.flatnonzero(present).tolist()
            ladders = {unit: self._ladder(epoch, state, unit) for unit in units}
            found = self.together.least(state, groups, ladders, limit)
            self.known[future, state] = limit if found is None else found[0]
            self.exact[future, state] = found is not None
        return float(self.known[future, state])

    def _ladder(self, epoch: int, state: int, unit: int) -> Ladder:
        key = (epoch, state, unit)
        if key not in self._ladders:
            problem = self.ranked.problem
            rows = problem.later[epoch, state, unit] + self.ranked.extra[state, unit]
            before = rows[:-1] + self._first[epoch, unit, :, None]
            costs = before.min(axis=0) if problem.now[unit] else rows[-1]
            self._ladders[key] = ladder(costs)
        return self._ladders[key]
