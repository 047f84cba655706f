"""The plan as arrays: what can be bought, what it costs, what may turn together.

The search sees only this: no way of powering, no clause, no price curve. Sizes:
S shared states, U units (motors, or a machine that must stay whole), A options a unit (padded
with infinite cost where a unit has fewer), F futures, E epoch classes. An epoch class says when
the machines to come arrive, thus how long the first stage lasts; a class without a second
stage is the future in which nothing comes.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from phasewright.plan.reductions import greatest
from phasewright.quantities.errors import NotComputable, UsageError

Floats = NDArray[np.float64]
Integers = NDArray[np.int64]
Flags = NDArray[np.bool_]

Running = tuple[tuple[int, int], ...]
"""What turns at one time: (unit, option), in rising order of unit, unserved units left out."""

Admit = Callable[[int, Running], bool]
"""(shared state, what turns) -> may it be? Monotone: a refused set stays refused when more is
added to it. Asked once for each different question."""

PENALTY = 1e9


@dataclass(frozen=True, slots=True, eq=False)
class Problem:
    """A choice in two stages: what to buy now, what to change when more machines have come.

    The cost of a plan (state s, option a[u] of every unit that is there now) in future f of
    epoch class e is

        hold[e, s] + sum over units now of first[e, s, u, a[u]]
        + the least over later states t and later options b[u] of
          move[e, s, t] + sum over units present of later[e, t, u, a[u] or A, b[u]]

    and the last line is left out where class e has no second stage. All costs are discounted
    to today; any of them may be negative (something is sold) and `inf` means not to be had.

    Attributes
    ----------
    hold : (E, S) cost of buying state s now and keeping it to the end of the plan; state 0 is
        nothing shared.
    move : (E, S, S) extra cost of going from state s to t when the machines come.
    first : (E, S, U, A) cost of unit u under option a while state s lasts: to the arrival in
        class e, to the end of the plan in a class without a second stage.
    later : (E, S, U, A + 1, A) cost of unit u from the arrival on in later state t, by the
        option before (A means it was not there) and the option after.
    second : (E,) whether the class has a second stage.
    probability, epoch : (F,) of each future (above 0) and its class.
    present : (F, U) units there in the second stage; units there now always are.
    now : (U,) units there now.
    groups : the largest sets of units that may turn together. A unit in no group turns alone.
    admit : see `Admit`.
    unserved : (U, A) options that leave the unit without power. They are chosen only where
        nothing else is admissible: each counts as `penalty` in the order of plans, and never
        in the costs that are reported.
    """

    hold: Floats
    move: Floats
    first: Floats
    later: Floats
    second: Flags
    probability: Floats
    epoch: Integers
    present: Flags
    now: Flags
    groups: tuple[frozenset[int], ...]
    admit: Admit
    unserved: Flags = field(default_factory=lambda: np.zeros((0, 0), dtype=np.bool_))
    penalty: float = PENALTY

    def __post_init__(self) -> None:
        """Refuse arrays that do not fit together (UsageError)."""
        if self.unserved.size == 0:
            object.__setattr__(self, "unserved", np.zeros(self.first.shape[2:], dtype=np.bool_))
        classes, states, units, options = self.first.shape
        futures = self.probability.shape[0]
        wanted = {
            "hold": (classes, states),
            "move": (classes, states, states),
            "later": (classes, states, units, options + 1, options),
            "second": (classes,),
            "epoch": (futures,),
            "present": (futures, units),
            "now": (units,),
            "unserved": (units, options),
        }
        for name, shape in wanted.items():
            found = getattr(self, name).shape
            if found != shape:
                message = f"{name} has shape {found}; {shape} follows from first and probability"
                raise UsageError(message)
        self._check_meaning()

    def _check_meaning(self) -> None:
        most = self.most()
        if not bool((self.probability > 0).all()) or abs(float(self.probability.sum()) - 1) > 1e-9:
            raise UsageError("the probabilities of the futures must be above 0 and sum to one")
        if not bool(self.present[:, self.now].all()):
            raise UsageError("a unit that is there now must be there in every future")
        still = ~self.second[self.epoch]
        if bool(self.present[np.ix_(still, ~self.now)].any()):
            raise UsageError("a machine comes in a future whose class has no second stage")
        if most >= self.penalty:
            message = (
                "the costs of the plan are too large to be ranked: they may reach "
                f"{most:.3g}, and {self.penalty:.3g} is the limit"
            )
            raise NotComputable(message)

    @property
    def states(self) -> int:
        """How many shared states there are."""
        return int(self.hold.shape[1])

    def most(self) -> float:
        """The greatest cost, by magnitude, that any plan can have in any future."""
        classes, states, units, options = self.first.shape
        hold = _reach(self.hold, (classes, states, 1))
        move = _reach(self.move, (1, 1, self.move.size))
        first = _reach(self.first, (classes * states, units, options))
        later = _reach(self.later, (classes * states, units, (options + 1) * options))
        return first + later + hold + move


def _reach(costs: Floats, shape: tuple[int, int, int]) -> float:
    """Greatest magnitude of what is to be had along the first and last axis of a shape, 0 where
    nothing is, summed over the middle one."""
    most = np.empty(shape[1])
    if not greatest(np.ascontiguousarray(costs).reshape(shape), most):
        raise UsageError("a cost is not a number; inf means not to be had")
    return float(most.sum())


@dataclass(frozen=True, slots=True)
class Later:
    """What is done in one future when the machines have come.

    `options` holds -1 for a unit that is not there. In a class without a second stage state
    and options are those of today.
    """

    state: int
    options: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Solution:
    """A plan: what to buy now and what to change in every future.

    `options` holds -1 for a unit that is not there yet. Costs are without any penalty.
    `unserved_now` counts units left without power today, `unserved_later` is the expected count
    once the machines have come. `proven` is False only where the search was stopped by its limit of
    nodes; `bound` is then the least cost that any plan could have (penalties included), else
    the cost itself.
    """

    state: int
    options: tuple[int, ...]
    later: tuple[Later, ...]
    expected: float
    per_future: tuple[float, ...]
    unserved_now: int
    unserved_later: float
    proven: bool
    bound: float
    nodes: int

    @property
    def serves_all(self) -> bool:
        """True where no unit is left without power, now or in any future."""
        return self.unserved_now == 0 and self.unserved_later == 0.0
