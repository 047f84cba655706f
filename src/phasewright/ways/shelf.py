"""What the owner has on the shelf and a converter can be built of, each piece used once.

Cans are judged by their marked values: run capacitors by at least 1.1 times the highest line
volts at idle, start capacitors by the supply's volts (common practice). A can whose volts are
not told is left on the shelf.
"""

from __future__ import annotations

import bisect
import itertools
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from phasewright.quantities.codes import OwnedKind
from phasewright.shop.model import OwnedPart
from phasewright.tables.sizes import RUN_CAPACITORS_F

NEAR = 0.02
"""How near a leg made of other cans comes to the one that was tuned; cans differ by more."""
MOST_PIECES = 8
MOST_IN_A_LEG = 4


@dataclass(slots=True)
class Shelf:
    """The owner's parts with how many of each are left."""

    parts: tuple[OwnedPart, ...]
    left: list[int]

    def take(self, kind: OwnedKind, fits: Callable[[OwnedPart], bool]) -> bool:
        """Take one piece of this kind that fits; False where there is none."""
        for k, part in enumerate(self.parts):
            if part.kind == kind and self.left[k] > 0 and fits(part):
                self.left[k] -= 1
                return True
        return False

    def cans(self, kind: OwnedKind, least_v: float) -> list[float]:
        """Capacitances of the cans left that bear these volts, the largest first [F]."""
        found = [
            part.capacitance.number
            for part, count in zip(self.parts, self.left, strict=True)
            if part.kind == kind and part.capacitance is not None and bears(part, least_v)
            for _ in range(count)
        ]
        return sorted(found, reverse=True)

    def take_can(self, kind: OwnedKind, capacitance_f: float, least_v: float) -> None:
        """Take one can of just this value."""
        self.take(
            kind,
            lambda part: (
                part.capacitance is not None
                and part.capacitance.number == capacitance_f
                and bears(part, least_v)
            ),
        )


def shelf_of(parts: tuple[OwnedPart, ...]) -> Shelf:
    """Everything still there."""
    return Shelf(parts, [part.count for part in parts])


def bears(part: OwnedPart, least_v: float) -> bool:
    """Whether its marked volts are enough; False where none are told."""
    return bool(part.voltage) and min(v.number for v in part.voltage) >= least_v


@dataclass(frozen=True, slots=True)
class Leg:
    """A leg of a bank as it is made: cans of the owner's, and cans to buy [F]."""

    owned_f: tuple[float, ...]
    bought_f: tuple[float, ...]


def leg_of(tuned_f: tuple[float, ...], owned_f: Sequence[float]) -> Leg:
    """The tuned cans, or the owner's with the fewest new ones that come as near as cans do."""
    total = sum(tuned_f)
    best = Leg((), tuned_f)
    pieces = owned_f[:MOST_PIECES]
    for count in range(1, min(MOST_IN_A_LEG, len(pieces)) + 1):
        for chosen in sorted(set(itertools.combinations(pieces, count)), reverse=True):
            bought = _made_up(total - sum(chosen), NEAR * total)
            if bought is not None and _to_buy(bought) < _to_buy(best.bought_f):
                best = Leg(chosen, bought)
    return best


def _to_buy(cans: tuple[float, ...]) -> tuple[int, float]:
    return len(cans), sum(cans)


def _made_up(rest_f: float, within_f: float) -> tuple[float, ...] | None:
    """At most two cans of the stock for what is left of a leg; None where none come near."""
    if abs(rest_f) <= within_f:
        return ()
    sums, cans = _stock_sums()
    at = bisect.bisect_left(sums, rest_f - within_f)
    near = [k for k in range(at, len(sums)) if sums[k] <= rest_f + within_f]
    return min((cans[k] for k in near), key=_to_buy, default=None)


@lru_cache(maxsize=1)
def _stock_sums() -> tuple[list[float], list[tuple[float, ...]]]:
    rows: list[tuple[float, tuple[float, ...]]] = [(can, (can,)) for can in RUN_CAPACITORS_F]
    pairs = itertools.combinations_with_replacement(RUN_CAPACITORS_F, 2)
    rows = sorted(rows + [(sum(pair), pair) for pair in pairs])
    return [total for total, _ in rows], [cans for _, cans in rows]
