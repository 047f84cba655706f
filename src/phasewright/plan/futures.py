"""The futures of a shop: which machines to come will be there, and how likely.

Machines come or stay away independently of one another, each with its chance. Up to six uncertain
machines give all their subsets (64). More are reduced to as many futures (or one more than there
are uncertain machines, if that is greater) in which the chance of every machine is kept exactly,
and the chance of every pair as far as the futures suffice; `reduced` says so.

Source of the reduction: Caratheodory's theorem: a mean of n numbers over many points is a mean
over at most n + 1 of them (R. T. Rockafellar, Convex Analysis, section 17; from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from phasewright.plan.problem import Flags, Floats, Integers
from phasewright.quantities.errors import UsageError

MOST = 64


@dataclass(frozen=True, slots=True, eq=False)
class Futures:
    """F futures of n machines.

    probability (F,), all above 0, sum 1; present (F, n) who is there in the end; now (n,) who is
    there today; years (n,) when each comes; epoch (F,) the class of each future, with
    epoch_years[class] the year the first of the comers arrives, None where nobody comes.
    The order of the futures depends on names and chances only, not on the order of machines.
    """

    probability: Floats
    present: Flags
    now: Flags
    years: Floats
    epoch: Integers
    epoch_years: tuple[float | None, ...]
    reduced: bool


def futures(names: Sequence[str], chances: Sequence[float], years: Sequence[float]) -> Futures:
    """The futures of machines with these names, chances (0 to 1) and years of coming.

    Chance 1 in year 0 is a machine that is there; chance 0 one that never comes.
    Raises UsageError for lengths that differ, a name given twice, a chance outside 0 to 1, a year
    below 0.
    """
    if not len(names) == len(chances) == len(years) or len(set(names)) != len(names):
        raise UsageError("each machine needs one name of its own, one chance and one year")
    chance, year = np.array(chances, dtype=float), np.array(years, dtype=float)
    if not bool(((chance >= 0) & (chance <= 1)).all() and (np.isfinite(year) & (year >= 0)).all()):
        raise UsageError("a chance must lie between 0 and 1 and a year be 0 or later")
    order = sorted(range(len(names)), key=lambda i: names[i])
    unsure = [i for i in order if 0 < chance[i] < 1]
    probability, subsets = _subsets(chance[unsure])
    present = np.tile(chance == 1, (probability.size, 1))
    present[:, unsure] = subsets
    now = (chance == 1) & (year == 0)
    first = np.where(present & ~now, year, np.inf).min(axis=1, initial=np.inf)
    distinct = sorted(set(first.tolist()))
    return Futures(
        probability=probability,
        present=present,
        now=now,
        years=year,
        epoch=np.searchsorted(distinct, first).astype(np.int64),
        epoch_years=tuple(y if y < np.inf else None for y in distinct),
        reduced=len(unsure) > MOST.bit_length() - 1,
    )


def _subsets(chances: Floats) -> tuple[Floats, Flags]:
    """(probability (F,), present (F, m)) of independent machines, reduced where too many."""
    probability, present = np.ones(1), np.zeros((1, 0), dtype=np.bool_)
    most = max(MOST, chances.size + 1)
    for n, chance in enumerate(chances.tolist(), start=1):
        probability = np.concatenate([probability * (1 - chance), probability * chance])
        present = np.hstack(
            [np.tile(present, (2, 1)), np.repeat([[False], [True]], len(present), axis=0)]
        )
        if probability.size > most:
            kept, probability = _reduce(_moments(present, chances[:n], most), probability, most)
            present = present[kept]
    order = np.lexsort(present.T) if present.shape[1] else np.zeros(1, dtype=int)
    return probability[order] / probability.sum(), present[order]


def _moments(present: Flags, chances: Floats, most: int) -> Floats:
    """(rows, F): 1, each machine, then pairs, the most uncertain first, to at most `most` rows."""
    there = present.astype(float) - chances
    spread = chances * (1 - chances)
    pairs = sorted(
        combinations(range(chances.size), 2), key=lambda ij: (-spread[ij[0]] * spread[ij[1]], ij)
    )
    room = most - 1 - chances.size
    rows = [np.ones(len(present)), *there.T, *(there[:, i] * there[:, j] for i, j in pairs[:room])]
    return np.array(rows)


def _reduce(moments: Floats, weights: Floats, most: int) -> tuple[Integers, Floats]:
    """Indices and weights of at most `most` points, the moments kept; most >= rows of moments.

    Every row of `free` is a change of the weights that leaves all moments as they are; the
    weights are moved along one until a point loses all its weight, and so on.
    """
    weights = weights.copy()
    free = np.linalg.svd(moments)[2][moments.shape[0] :]
    for _ in range(weights.size - most):
        change = free[0] if free[0].max() >= -free[0].min() else -free[0]
        falling = np.flatnonzero(change > 1e-9 * change.max())
        steps = weights[falling] / change[falling]
        gone = int(falling[int(steps.argmin())])
        weights = np.maximum(weights - steps.min() * change, 0.0)
        weights[gone] = 0.0
        pivot = int(np.abs(free[:, gone]).argmax())
        free = free - np.outer(free[:, gone] / free[pivot, gone], free[pivot])
        free = np.delete(free, pivot, axis=0)
        free[:, gone] = 0.0
        free /= np.abs(free).max(axis=1, keepdims=True, initial=1e-300)
    kept = np.flatnonzero(weights > 0.0)
    return kept, weights[kept]
