"""Invented problems for the plan search: random costs, a monotone admit, no shop behind them."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import numpy as np

from phasewright.plan.problem import Problem


@dataclass
class Capacity:
    """Admits what together loads a state no more than it bears, and no refused pair."""

    load: np.ndarray  # (S, U, A)
    bears: np.ndarray  # (S,)
    quarrels: frozenset  # of (state, frozenset of two (unit, option))
    asked: int = 0

    def __call__(self, state, running):
        self.asked += 1
        if sum(self.load[state, u, a] for u, a in running) > self.bears[state]:
            return False
        return not any(
            (state, frozenset(pair)) in self.quarrels for pair in combinations(running, 2)
        )


def invented(
    seed,
    *,
    units=4,
    states=3,
    options=3,
    tightness=0.5,
    grouping=0.6,
    missing=0.1,
    unserved=False,
):
    """A random problem of up to `units` units, some there now, some to come, some groups."""
    draw = np.random.default_rng(seed)
    u, s, a = units, states, options
    now = np.arange(u) < draw.integers(1, u + 1)
    come = np.flatnonzero(~now)
    subsets = [frozenset(c) for n in range(len(come) + 1) for c in combinations(come.tolist(), n)]
    classes = 3
    second = np.array([False, True, True])
    present = np.array([[bool(now[i]) or i in sub for i in range(u)] for sub in subsets])
    epoch = np.array(
        [0 if not sub and draw.random() < 0.7 else draw.integers(1, 3) for sub in subsets]
    )
    probability = draw.dirichlet(np.ones(len(subsets))) + 1e-3
    first = draw.uniform(50, 900, (classes, s, u, a))
    later = draw.uniform(-20, 900, (classes, s, u, a + 1, a))
    first[:, draw.random((s, u, a)) < missing] = np.inf
    later[:, draw.random((s, u, a + 1, a)) < missing] = np.inf
    for i in range(a):  # to stay as one is costs little
        later[:, :, :, i, i] *= 0.2
    move = draw.uniform(0, 700, (classes, s, s))
    move[:, draw.random((s, s)) < missing] = np.inf
    move[:, range(s), range(s)] = 0.0
    groups = frozenset(
        frozenset(draw.choice(u, size=draw.integers(1, u + 1), replace=False).tolist())
        for _ in range(draw.integers(0, 3))
        if draw.random() < grouping
    )
    left = np.zeros((u, a), dtype=bool)
    if unserved:
        left[:, -1] = True
        first[..., -1] = 0.0
        later[..., -1] = 0.0
    load = draw.uniform(0, 1, (s, u, a))
    bears = draw.uniform(0.5, 3.0, s) / (0.3 + tightness)
    pairs = frozenset(
        (t, frozenset({(i, x), (j, y)}))
        for t in range(s)
        for i, j in combinations(range(u), 2)
        for x in range(a)
        for y in range(a)
        if draw.random() < 0.2 * tightness
    )
    return Problem(
        hold=draw.uniform(0, 1500, (classes, s)) * (np.arange(s) > 0),
        move=move,
        first=first,
        later=later,
        second=second,
        probability=probability / probability.sum(),
        epoch=epoch,
        present=present,
        now=now,
        groups=tuple(groups),
        admit=Capacity(load, bears, pairs),
        unserved=left,
    )
