"""The best plans, proven: shared states enumerated, units branched on, bounds by future.

Exact. Ties fall to the lower state and the option met first in order of bound and index, so a
caller that hands in its units in a fixed order (by name) gets one plan whatever order they were
written down in.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from phasewright.plan.bound import Bound, Node
from phasewright.plan.costs import Costs, ranked_costs
from phasewright.plan.floors import floors
from phasewright.plan.outlook import Outlook
from phasewright.plan.problem import Flags, Later, Problem, Solution
from phasewright.plan.together import INFINITE, Enough, Together
from phasewright.quantities.errors import NotComputable

MOST_STEPS = 1_000_000
FIRST_STEPS = 30_000
STAY_STEPS = 10_000


def solve(
    problem: Problem,
    *,
    fixed_state: int | None = None,
    allowed: Flags | None = None,
    states: Flags | None = None,
    most_steps: int = MOST_STEPS,
) -> Solution:
    """The plan of least expected cost, fewest units without power first.

    Parameters
    ----------
    fixed_state : the shared state bought now, where it is not to be chosen.
    allowed : (U, A) options that may be chosen, now and later; all where None.
    states : (S,) shared states that may be chosen, now and later; all where None.
    most_steps : questions about what may turn together after which the search stops (after
        twice as many where no plan came to light); the plan is then not
        `proven`. (Some hundred thousand steps a second.)

    Raises NotComputable where no admissible plan exists at all.
    """
    return rank(
        problem,
        1,
        fixed_state=fixed_state,
        allowed=allowed,
        states=states,
        most_steps=most_steps,
    )[0]


def better(problem: Problem, than: float) -> Solution | None:
    """The plan of least expected cost below `than` (see `ranked`); None where none is found.

    Far quicker than `solve` where a good plan is known already.
    """
    ready = ranked_costs(problem, None, None)
    search = _Search(ready, Together(problem), 1, MOST_STEPS, ceiling=than)
    try:
        return search.run(range(problem.states))[0]
    except NotComputable:
        return None


def ranked(problem: Problem, plan: Solution) -> float:
    """Expected cost of a plan with the penalty of what it leaves without power: its rank."""
    return plan.expected + problem.penalty * (plan.unserved_now + plan.unserved_later)


def rank(
    problem: Problem,
    k: int,
    *,
    fixed_state: int | None = None,
    allowed: Flags | None = None,
    states: Flags | None = None,
    most_steps: int = MOST_STEPS,
) -> tuple[Solution, ...]:
    """The best k plans that differ in what is bought now, the best first; fewer if fewer exist.

    Parameters and errors as in `solve`.
    """
    search = _Search(ranked_costs(problem, allowed, states), Together(problem), k, most_steps)
    begin = range(problem.states) if fixed_state is None else (fixed_state,)
    return search.run(begin)


def best_of_each(
    problem: Problem,
    kind: Sequence[int],
    *,
    allowed: Flags | None = None,
    states: Flags | None = None,
    most_steps: int = MOST_STEPS,
) -> dict[int, Solution]:
    """The best plan for every kind of shared state bought now; kind (S,) numbers the states.

    A kind with which no admissible plan begins is left out.
    """
    ready, together = ranked_costs(problem, allowed, states), Together(problem)
    out: dict[int, Solution] = {}
    for each in sorted(set(kind)):
        begin = [state for state, of in enumerate(kind) if of == each]
        try:
            out[each] = _Search(ready, together, 1, most_steps).run(begin)[0]
        except NotComputable:
            continue
    return out


@dataclass(frozen=True, slots=True, order=True)
class _Leaf:
    value: float
    state: int
    options: tuple[int, ...]
    later: tuple[Later, ...] = field(compare=False)


@dataclass(slots=True, eq=False)
class _Search:
    ranked: Costs
    together: Together
    k: int
    most_steps: int
    ceiling: float = INFINITE
    leaves: list[_Leaf] = field(default_factory=list)
    nodes: int = 0
    open_bound: float = INFINITE
    outlook: Outlook = field(init=False)

    def __post_init__(self) -> None:
        """Make ready what all states share."""
        self.outlook = Outlook(self.ranked, self.together)

    def run(self, begin: Sequence[int]) -> tuple[Solution, ...]:
        """Search all plans that begin with one of these states."""
        least = floors(self.ranked)
        roots = sorted((float(least[state]), state) for state in begin)
        steps, left = FIRST_STEPS, self.most_steps
        while roots and left > 0:
            again, spent = self._through(roots, steps, left if self.leaves else (left + 1) // 2)
            if again and not self.leaves and self.ceiling == INFINITE:
                self._stay(roots)
            roots = [pair for pair in again if pair[0] < self.limit()]
            steps, left = steps * 10, left - spent
        self.open_bound = min((root for root, _ in roots), default=INFINITE)
        self._must_have_one()
        return tuple(self._solution(leaf) for leaf in self.leaves)

    def _through(
        self, roots: list[tuple[float, int]], steps: int, left: int, *, stay: bool = False
    ) -> tuple[list[tuple[float, int]], int]:
        """Search every state in turn, at most `steps` each and `left` in all.

        Returns the states that were not finished and the steps spent.
        """
        again, spent = [], 0
        for root, state in roots:
            if root >= self.limit():
                break
            self.together.steps, self.together.most_steps = 0, min(steps, left - spent)
            try:
                self._open(state, stay=stay)
            except Enough:
                again.append((root, state))
            spent += self.together.steps
        return again, spent

    def _stay(self, roots: list[tuple[float, int]]) -> None:
        """A first plan among those that keep what they share, for the search to beat."""
        steps, left = STAY_STEPS, self.most_steps
        while roots and left > 0 and not self.leaves:
            roots, spent = self._through(roots, steps, left, stay=True)
            steps, left = steps * 10, left - spent

    def _bound(self, state: int, *, stay: bool = False) -> Bound:
        return Bound(self.ranked, self.together, self.outlook, state, stay)

    def _must_have_one(self) -> None:
        if self.leaves:
            return
        message = "no plan is admissible: some machine can be powered by no option at all"
        if self.open_bound < INFINITE:
            message = f"no plan was found in {self.most_steps} steps, and none was ruled out"
        raise NotComputable(message)

    def limit(self) -> float:
        """What a further plan must stay below."""
        worst = self.leaves[-1].value if len(self.leaves) == self.k else INFINITE
        return min(worst, self.ceiling)

    def _open(self, state: int, *, stay: bool) -> None:
        for unit in np.flatnonzero(self.ranked.problem.now).tolist():
            costs = self.ranked.first[:, state, unit]
            for option in np.flatnonzero(np.isfinite(costs).any(axis=0)).tolist():
                self.together.admits_all(state, ((unit,),), {unit: option})
        self.ranked.drop(self.together.refused_alone)
        self.together.refused_alone.clear()
        bound = self._bound(state, stay=stay)
        if bound.can_begin({}, self.limit()):
            root = bound.root(self.limit())
            if root is not None:
                self._branch(bound, root)

    def _branch(self, bound: Bound, node: Node) -> None:
        depth = len(node.chosen)
        if depth == len(bound.order):
            self._keep(bound, node)
            return
        values = bound.children(node)
        for option in np.argsort(values, kind="stable").tolist():
            if values[option] >= self.limit():
                break
            self.nodes += 1
            if not bound.can_begin(node.chosen | {bound.order[depth]: option}, self.limit()):
                continue
            child = bound.child(node, option, self.limit())
            if child is not None:
                self._branch(bound, child)

    def _keep(self, bound: Bound, node: Node) -> None:
        units = range(self.ranked.problem.now.size)
        options = tuple(node.chosen.get(u, -1) for u in units)
        leaf = _Leaf(node.total, bound.state, options, bound.later(node))
        others = [
            old for old in self.leaves if (old.state, old.options) != (leaf.state, leaf.options)
        ]
        same = [
            old for old in self.leaves if (old.state, old.options) == (leaf.state, leaf.options)
        ]
        self.leaves = sorted([*others, min([*same, leaf])])[: self.k]

    def _solution(self, leaf: _Leaf) -> Solution:
        problem = self.ranked.problem
        costs = tuple(
            cost(problem, leaf.state, leaf.options, f, x) for f, x in enumerate(leaf.later)
        )
        left = [_left(problem, later.options) for later in leaf.later]
        return Solution(
            state=leaf.state,
            options=leaf.options,
            later=leaf.later,
            expected=float(problem.probability @ np.array(costs)),
            per_future=costs,
            unserved_now=_left(problem, leaf.options),
            unserved_later=float(problem.probability @ np.array(left, dtype=float)),
            proven=self.open_bound >= leaf.value,
            bound=min(self.open_bound, leaf.value),
            nodes=self.nodes,
        )


def cost(problem: Problem, state: int, options: Sequence[int], future: int, later: Later) -> float:
    """Cost of a plan in one future, without penalties, summed from the tables of the problem."""
    epoch = int(problem.epoch[future])
    total = float(problem.hold[epoch, state])
    for unit, option in enumerate(options):
        if option >= 0:
            total += float(problem.first[epoch, state, unit, option])
    if not problem.second[epoch]:
        return total
    total += float(problem.move[epoch, state, later.state])
    for unit, option in enumerate(later.options):
        if option >= 0:
            before = options[unit]  # -1 reads the last row: the unit was not there
            total += float(problem.later[epoch, later.state, unit, before, option])
    return total


def _left(problem: Problem, options: Sequence[int]) -> int:
    """How many units these options leave without power."""
    return sum(bool(problem.unserved[u, a]) for u, a in enumerate(options) if a >= 0)
