"""A number with its past: how sure it is and where it came from.

A `Value` is made where a number enters (plate, meter, table, default) and where a figure
leaves (with the function that computed it, its named inputs and its source). Between the two
the house works with bare SI floats.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

Origin = Literal["plate", "measured", "table", "common practice", "assumed", "stated", "computed"]


@dataclass(frozen=True, slots=True)
class Input:
    """One named number a figure was computed from."""

    name: str
    number: float
    unit: str


@dataclass(frozen=True, slots=True)
class Value:
    """A number in its SI unit with its lowest and highest credible value and its origin.

    `number`, `low` and `high` are in `unit` (the contract's exceptions to SI are rpm, kWh,
    dB(A), years, hours and money). `origin` tells where the number came from, `source` names
    it (a table and row, a standard, "plate"). For a computed figure `formula` is the function
    that computed it and `inputs` the numbers it was given.
    """

    number: float
    unit: str
    low: float
    high: float
    origin: Origin
    source: str = ""
    formula: str = ""
    inputs: tuple[Input, ...] = ()

    @property
    def sure(self) -> bool:
        """True where low and high are the number itself."""
        return self.low == self.number == self.high

    def scaled(self, factor: float) -> Value:
        """The same value times a positive factor, its past kept."""
        return replace(
            self, number=self.number * factor, low=self.low * factor, high=self.high * factor
        )


def exact(number: float, unit: str, origin: Origin, source: str = "") -> Value:
    """A value without a spread."""
    return Value(number, unit, number, number, origin, source)


def spread(
    number: float, low: float, high: float, unit: str, origin: Origin, source: str = ""
) -> Value:
    """A value with its lowest and highest credible value."""
    return Value(number, unit, min(low, number), max(high, number), origin, source)


def figure(
    number: float,
    unit: str,
    formula: str,
    inputs: dict[str, tuple[float, str]],
    source: str,
    *,
    low: float | None = None,
    high: float | None = None,
) -> Value:
    """A computed figure that leaves the house, with its working.

    `inputs` maps the name of each input to (number, unit).
    """
    return Value(
        number,
        unit,
        number if low is None else min(low, number),
        number if high is None else max(high, number),
        "computed",
        source,
        formula,
        tuple(Input(name, value, of) for name, (value, of) in inputs.items()),
    )
