"""What nobody knows yet besides who comes: prices, hours, the price of energy.

Each stands at one of three levels, its lowest, usual and highest value, all of a kind together:
all illustrative prices dear or cheap, all hours nobody gave long or short. Lowest and highest are
taken as 5th and 95th percentile, with weights of 0.185, 0.63 and 0.185 (D. L. Keefer, S. E. Bodily,
Three-point approximations for continuous random variables, Management Science 29 (1983), from
memory).
"""

from __future__ import annotations

from dataclasses import dataclass

LOW, USUAL, HIGH = 0, 1, 2
END_WEIGHT = 0.185
WEIGHTS = (END_WEIGHT, 1.0 - 2.0 * END_WEIGHT, END_WEIGHT)

Levels = tuple[float, float, float]
"""A number at its lowest, usual and highest."""
STEADY: Levels = (1.0, 1.0, 1.0)


@dataclass(frozen=True, slots=True)
class World:
    """The level (LOW, USUAL or HIGH) of prices, hours and the price of energy."""

    prices: int = USUAL
    hours: int = USUAL
    energy: int = USUAL


AS_USUAL = World()


@dataclass(frozen=True, slots=True)
class Unknown:
    """Which of the three is unknown at all; the others stand at their usual value."""

    prices: bool = False
    hours: bool = False
    energy: bool = False
