"""A chart as data: curves over one axis, each number as it is shown, with what it stands on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from phasewright.quantities.value import Input

Number = float | None
MOST_ROWS = 400
"""Points of a curve beyond which it is thinned."""


@dataclass(frozen=True, slots=True)
class Curve:
    """One curve; None where there is no point. `broken` is drawn with a broken line."""

    name: str
    values: tuple[Number, ...]
    broken: bool = False


@dataclass(frozen=True, slots=True)
class Spot:
    """A place on the axis below with the words that stand at it."""

    at: float
    words: str


@dataclass(frozen=True, slots=True)
class Chart:
    """Curves over `across`, in the units that are shown; `bars` stands for columns of one curve.

    `says` tells in a sentence or two what is seen; `formula`, `inputs` and `source` where it comes
    from.
    """

    key: str
    title: str
    says: str
    across_name: str
    across_unit: str
    up_name: str
    up_unit: str
    across: tuple[float, ...]
    curves: tuple[Curve, ...]
    formula: str
    inputs: tuple[Input, ...]
    source: str
    spots: tuple[Spot, ...] = ()
    bars: bool = False


@dataclass(frozen=True, slots=True)
class Sheet:
    """The charts of one question with what is to be said of them together."""

    title: str
    words: tuple[str, ...]
    charts: tuple[Chart, ...]


def numbers(values: Iterable[float], there: Iterable[bool] | None = None) -> tuple[Number, ...]:
    """Plain numbers; None where `there` is False."""
    if there is None:
        return tuple(float(value) for value in values)
    return tuple(
        float(value) if is_there else None for value, is_there in zip(values, there, strict=True)
    )


def thinned(
    across: Sequence[float], curves: Sequence[Sequence[float]], most: int = MOST_ROWS
) -> list[int]:
    """Places to keep so that about `most` are left, with the least and the greatest of every curve
    in each stretch and both ends."""
    if len(across) <= most:
        return list(range(len(across)))
    stretch = -(-len(across) * 2 * len(curves) // most)
    kept = {0, len(across) - 1}
    for first in range(0, len(across), stretch):
        places = range(first, min(first + stretch, len(across)))
        for curve in curves:
            kept |= {min(places, key=curve.__getitem__), max(places, key=curve.__getitem__)}
    return sorted(kept)
