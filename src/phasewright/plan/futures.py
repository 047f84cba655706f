"""The futures of a shop: which machines to come will be there, what things, hours and energy cost.

Machines come or stay away independently of one another, each with its chance; prices, hours and
the price of energy, where they are unknown, each stand at one of three levels (see `worlds`),
independent of each other and of who comes. Up to 64 futures are all there are. Of more, levels are
reduced first, then all together, to 64 (or to a few more than there are unknowns, if that is
greater), so that the chance of every machine and of every level is kept exactly, and the chance of
every pair as far as the futures suffice; `reduced` says so.

Source of the reduction: Caratheodory's theorem: a mean of n numbers over many points is a mean
over at most n + 1 of them (R. T. Rockafellar, Convex Analysis, section 17; from memory).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from phasewright.plan.problem import Flags, Floats, Integers
from phasewright.plan.worlds import USUAL, WEIGHTS, Unknown, World
from phasewright.quantities.errors import UsageError

MOST = 64
"""Most futures where only machines are unknown."""
LEAST_WORLDS = 11
"""Fewest combinations of levels that keep every level and every pair of hours and energy."""
NOTHING_UNKNOWN = Unknown()


@dataclass(frozen=True, slots=True, eq=False)
class Futures:
    """F futures of n machines.

    probability (F,), all above 0, sum 1; present (F, n) who is there in the end; now (n,) who is
    there today; years (n,) when each comes; epoch (F,) the class of each future, with
    epoch_years[class] the year the first of the comers arrives, None where nobody comes;
    worlds (F,) what prices, hours and energy turn out to be.
    The order of the futures depends on names and chances only, not on the order of machines.
    """

    probability: Floats
    present: Flags
    now: Flags
    years: Floats
    epoch: Integers
    epoch_years: tuple[float | None, ...]
    worlds: tuple[World, ...]
    reduced: bool


def futures(
    names: Sequence[str],
    chances: Sequence[float],
    years: Sequence[float],
    unknown: Unknown = NOTHING_UNKNOWN,
) -> Futures:
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
    asked = [what for what in ("hours", "energy", "prices") if getattr(unknown, what)]
    comers = _points([(1 - c, c) for c in chance[unsure].tolist()])
    room = max(LEAST_WORLDS, MOST // comers[0].size)
    probability, points = _both(comers, _points([WEIGHTS] * len(asked), room))
    present = np.tile(chance == 1, (probability.size, 1))
    present[:, unsure] = points[:, : len(unsure)] == 1
    levels = points[:, len(unsure) :].tolist()
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
        worlds=tuple(World(**dict(zip(asked, row, strict=True))) for row in levels),
        reduced=2 ** len(unsure) * 3 ** len(asked) > probability.size,
    )


def _points(variables: list[tuple[float, ...]], enough: int = MOST) -> tuple[Floats, Integers]:
    """(probability (F,), value of each variable (F, n)), independent, reduced where too many.

    A variable is the weights of its values 0, 1, 2.
    """
    probability, points = np.ones(1), np.zeros((1, 0), dtype=np.int64)
    most = max(enough, 1 + sum(len(weights) - 1 for weights in variables))
    for n, weights in enumerate(variables, start=1):
        probability = np.concatenate([probability * weight for weight in weights])
        values = np.repeat(np.arange(len(weights)), len(points))[:, None]
        points = np.hstack([np.tile(points, (len(weights), 1)), values])
        if probability.size > most:
            moments = _moments(points, variables[:n], most)
            kept, probability = _reduce(moments, probability, most)
            points = points[kept]
    order = np.lexsort(points.T) if points.shape[1] else np.zeros(1, dtype=int)
    return probability[order] / probability.sum(), points[order]


def _both(
    comers: tuple[Floats, Integers], levels: tuple[Floats, Integers]
) -> tuple[Floats, Integers]:
    """Every future of comers with every one of levels; reduced where they are too many."""
    (chance, who), (weight, what) = comers, levels
    probability = np.repeat(chance, weight.size) * np.tile(weight, chance.size)
    points = np.hstack([np.repeat(who, weight.size, axis=0), np.tile(what, (chance.size, 1))])
    most = max(MOST, 1 + who.shape[1] + 2 * what.shape[1])
    if probability.size <= most:
        return probability, points
    sizes = [2] * who.shape[1] + [3] * what.shape[1]
    found = [
        tuple(float(probability[points[:, n] == value].sum()) for value in range(size))
        for n, size in enumerate(sizes)
    ]
    kept, probability = _reduce(_moments(points, found, most), probability, most)
    return probability / probability.sum(), points[kept]


def _moments(points: Integers, variables: list[tuple[float, ...]], most: int) -> Floats:
    """(rows, F): 1, each value but one of every variable, then pairs of values of two variables,
    the most uncertain first, to at most `most` rows."""
    values = [
        (number, value, weights[value])
        for number, weights in enumerate(variables)
        for value in range(len(weights))
        if value != _left_out(weights)
    ]
    there = [(points[:, number] == value) - weight for number, value, weight in values]
    spread = [weight * (1 - weight) for _, _, weight in values]

    def weight(ij: tuple[int, int]) -> tuple[float, float, tuple[int, int]]:
        """Levels of hours and energy first, for they multiply in a cost; then the least sure."""
        levels = all(len(variables[values[k][0]]) == 3 for k in ij)
        return values[ij[1]][0] if levels else math.inf, -spread[ij[0]] * spread[ij[1]], ij

    across = [
        (i, j) for i, j in combinations(range(len(values)), 2) if values[i][0] != values[j][0]
    ]
    pairs = sorted(across, key=weight)
    room = most - 1 - len(values)
    rows = [np.ones(len(points)), *there, *(there[i] * there[j] for i, j in pairs[:room])]
    return np.array(rows)


def _left_out(weights: tuple[float, ...]) -> int:
    """The value whose chance follows from the others': staying away, the usual level."""
    return 0 if len(weights) == 2 else USUAL


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
