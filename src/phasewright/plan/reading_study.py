"""What a meter should show once a plan is built; field names are the result file's."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.quantities.value import Value


@dataclass(frozen=True, slots=True)
class ReadingExpected:
    """One reading to take while the plan is brought into use.

    `step` is its place in the order of the work (readings of one step are taken together), `code`
    what is read, `subject` of which motor, circuit or equipment. `low` and `high` hold what the
    model leaves open (supply, iron, capacitors, load) and the class of the `meter`; `value` is the
    model's own, in `unit`. `limit` tells a value that is a bound rather than what is likely.
    """

    step: int
    code: str
    subject: str
    between: str
    state: str
    meter: str
    value: Value
    unit: str
    low: float
    high: float
    words_if_not: str
    limit: bool = False
