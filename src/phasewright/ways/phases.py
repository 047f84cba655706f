"""Single-phase loads on the phases of a three-phase service: spread as evenly as they go.

Amps on one phase are added as if in phase with each other, which is never too little. The
spread is the best there is (every way of placing is weighed, hopeless ones early left out), so
one more load never lowers the heaviest phase.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from phasewright.quantities.errors import NotComputable

MOST_LOADS = 40
"""More single-phase loads than this at once are not spread here."""


@dataclass(frozen=True, slots=True)
class Phases:
    """A three-phase service: its volts, what a phase lets through, and what others take.

    `others` are the amps of each other load, and whether it hangs between two phases (it then
    burdens both); `single_between_lines` says the same of single-phase ways of powering.
    """

    line_voltage_v: float
    phase_voltage_v: float
    limit_a: float
    limit_words: str
    others: tuple[tuple[float, bool], ...] = ()
    single_between_lines: bool = False

    @property
    def single_voltage_v(self) -> float:
        """Volts single-phase ways get on this service."""
        return self.line_voltage_v if self.single_between_lines else self.phase_voltage_v

    def heaviest_a(self, single_a: Sequence[float], balanced_a: float) -> float:
        """Amps of the heaviest phase: three-phase motors on all, the others spread.

        `single_a` are the amps at `single_voltage_v` of what hangs on one phase, or on two.
        """
        loads = [(amps, self.single_between_lines) for amps in single_a if amps > 0.0]
        return balanced_a + heaviest((*self.others, *loads))


def heaviest(loads: Sequence[tuple[float, bool]]) -> float:
    """Least possible amps of the heaviest of three phases; (amps, hangs between two phases)."""
    if len(loads) > MOST_LOADS:
        raise NotComputable(f"{len(loads)} single-phase loads at once are not spread over phases")
    return _heaviest(tuple(sorted(loads, reverse=True)))


@lru_cache(maxsize=1 << 14)
def _heaviest(loads: tuple[tuple[float, bool], ...]) -> float:
    best = [sum(amps for amps, _ in loads)]
    left = [0.0]
    for amps, pair in reversed(loads):
        left.append(left[-1] + amps * (2.0 if pair else 1.0))
    left.reverse()

    def place(index: int, phases: tuple[float, float, float]) -> None:
        least = max(max(phases), (sum(phases) + left[index]) / 3.0)
        if least >= best[0] * (1.0 - 1e-9):
            return
        if index == len(loads):
            best[0] = max(phases)
            return
        amps, pair = loads[index]
        one, two, three = phases
        tried = (
            ((one + amps, two + amps, three), (one + amps, two, three + amps),
             (one, two + amps, three + amps))
            if pair
            else ((one + amps, two, three), (one, two + amps, three), (one, two, three + amps))
        )  # fmt: skip
        for each in sorted({_rising(one_way) for one_way in tried}, key=max):
            place(index + 1, each)

    place(0, (0.0, 0.0, 0.0))
    return best[0]


def _rising(phases: tuple[float, float, float]) -> tuple[float, float, float]:
    low, middle, high = sorted(phases)
    return low, middle, high
