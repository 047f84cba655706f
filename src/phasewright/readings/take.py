"""One reading: the model's figure with its spread, widened by the class of the meter."""

from __future__ import annotations

from collections.abc import Sequence

from phasewright.plan.reading_study import ReadingExpected
from phasewright.quantities.value import Value, figure
from phasewright.tables.meters import meter

EARTH, INSULATION, WINDING, SUPPLY, LOOP, RESIDUAL = 1, 2, 3, 4, 5, 6
IDLING, DISCHARGE, DRIVE, UNCOUPLED, STARTING, LOADED, WARM = 7, 8, 9, 10, 11, 12, 13
"""The order of the work: nothing is switched on before earth and insulation are good, nothing is
loaded before it has run without a load."""

Inputs = dict[str, tuple[float, str]]


def spanned(
    numbers: Sequence[float], unit: str, formula: str, inputs: Inputs, source: str
) -> Value:
    """A figure (the first number) with the spread that the others give it."""
    return figure(
        numbers[0], unit, formula, inputs, source, low=min(numbers), high=max(numbers)
    )  # fmt: skip


def taken(
    step: int,
    code: str,
    subject: str,
    between: str,
    state: str,
    kind: str,
    value: Value,
    words_if_not: str,
    *,
    within: tuple[float, float] | None = None,
) -> ReadingExpected:
    """A reading with a meter of this kind. `within` says what passes where `value` is a bound."""
    by = meter(kind)
    low, high = by.around(value.low, value.high) if within is None else within
    return ReadingExpected(
        step, code, subject, between, state, by.name, value, value.unit, low, high, words_if_not,
        within is not None,
    )  # fmt: skip
