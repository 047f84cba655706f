"""What was taken for granted, one line a kind of fact over all motors; on screen and on paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from phasewright.quantities.finding import Assumed
from phasewright.quantities.told import amount, spread
from phasewright.quantities.value import Value

_TIMES_RATED = frozenset(
    {
        "starting current", "starting torque", "breakdown torque", "no-load current",
        "running torque", "breakaway torque",
    }
)  # fmt: skip
_BUILT_IN = frozenset(
    {
        "efficiency", "power factor", "rotor inertia", "starting current", "starting torque",
        "breakdown torque", "no-load current",
    }
)  # fmt: skip
"""What an owner can hardly find out and need not: told in one line over all motors."""


@dataclass(frozen=True, slots=True)
class AssumedLine:
    """A kind of fact: what it was taken as over all that it was assumed of, why, how often."""

    field: str
    told: str
    origin: str
    facts: tuple[Assumed, ...]


def assumed_lines(facts: Sequence[Assumed]) -> tuple[AssumedLine, ...]:
    """Every kind of fact but those that no plate says."""
    groups: dict[tuple[str, str], list[Assumed]] = {}
    for fact in facts:
        field = _field(fact)
        if field not in _BUILT_IN:
            groups.setdefault((field, fact.value.origin), []).append(fact)
    return tuple(
        AssumedLine(field, _together(field, [each.value for each in alike]), origin, tuple(alike))
        for (field, origin), alike in groups.items()
    )


def built_in(facts: Sequence[Assumed]) -> str:
    """What no plate says, in one line; empty where nothing of it was assumed."""
    found: dict[str, list[Value]] = {}
    for fact in facts:
        if _field(fact) in _BUILT_IN:
            found.setdefault(_field(fact), []).append(fact.value)
    return ", ".join(f"{field} {_between(field, values)}" for field, values in found.items())


def _field(fact: Assumed) -> str:
    return fact.field.replace("_", " ")


def _rated(field: str) -> str:
    return " times rated" if field in _TIMES_RATED else ""


def _between(field: str, values: Sequence[Value]) -> str:
    """From the least to the largest credible value over all motors."""
    low = amount(min(value.low for value in values), values[0].unit)
    high = amount(max(value.high for value in values), values[0].unit)
    return f"{low} to {high}{_rated(field)}"


def _together(field: str, values: Sequence[Value]) -> str:
    """Values as one: from the least to the largest, with the widest spread."""
    told = list(dict.fromkeys(spread(value) for value in values))
    unit = values[0].unit
    least = amount(min(value.number for value in values), unit)
    most = amount(max(value.number for value in values), unit)
    if len(told) == 1 or least == most:
        return told[0] + _rated(field)
    low = amount(min(value.low for value in values), unit)
    high = amount(max(value.high for value in values), unit)
    return f"{least} to {most}, may be {low} to {high}{_rated(field)}"
