"""What was found, what was assumed and what is worth finding out, on the screen."""

from __future__ import annotations

from collections.abc import Sequence

from rich.console import Console
from rich.text import Text

from phasewright.command.screen import amount, heading, line, money, shape, spread
from phasewright.plan.measurements import Measurement
from phasewright.quantities.finding import Assumed, Finding, Missing
from phasewright.quantities.value import Value
from phasewright.quantities.words import SEVERITY_WORDS

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


def findings(console: Console, found: Sequence[Finding]) -> None:
    """What was found, with what would change it."""
    if not found:
        return
    heading(console, "What was found")
    groups: dict[tuple[str, str, str], list[Finding]] = {}
    for entry in found:
        change = "" if entry.remedy is None else f" To change it: {entry.remedy.words}"
        groups.setdefault((entry.severity, entry.words, change), []).append(entry)
    for (_, words, change), alike in groups.items():
        severity, of = alike[0].severity, ", ".join(dict.fromkeys(each.subject for each in alike))
        told = f"{words.rstrip('.')}.{change}" if change else words
        line(console, f"{SEVERITY_WORDS[severity]}: {of}: {told}", mark=shape(console, severity))


def assumed(console: Console, facts: Sequence[Assumed]) -> None:
    """What was taken for granted, one line a kind of fact over all motors."""
    if not facts:
        return
    heading(console, "What was assumed")
    groups: dict[tuple[str, str], list[Value]] = {}
    built_in: dict[str, list[Value]] = {}
    for fact in facts:
        field = fact.field.replace("_", " ")
        if field in _BUILT_IN:
            built_in.setdefault(field, []).append(fact.value)
        else:
            groups.setdefault((field, fact.value.origin), []).append(fact.value)
    for (field, origin), values in groups.items():
        times = f", {len(values)} times" if len(values) > 1 else ""
        rated = " times rated" if field in _TIMES_RATED else ""
        line(console, f"{field}: {_together(values)}{rated} ({origin}{times})", mark=Text("-"))
    if built_in:
        said = ", ".join(f"{field} {_between(field, of)}" for field, of in built_in.items())
        line(console, f"what no plate says, as usual for such motors: {said}", mark=Text("-"))


def _between(field: str, values: Sequence[Value]) -> str:
    """From the least to the largest credible value over all motors."""
    low = amount(min(value.low for value in values), values[0].unit)
    high = amount(max(value.high for value in values), values[0].unit)
    return f"{low} to {high}" + (" times rated" if field in _TIMES_RATED else "")


def _together(values: Sequence[Value]) -> str:
    """Values as one: from the least to the largest, with the widest spread."""
    told = list(dict.fromkeys(spread(value) for value in values))
    if len(told) == 1:
        return told[0]
    unit = values[0].unit
    least = amount(min(value.number for value in values), unit)
    most = amount(max(value.number for value in values), unit)
    low = amount(min(value.low for value in values), unit)
    high = amount(max(value.high for value in values), unit)
    return f"{least} to {most}, may be {low} to {high}" if least != most else told[0]


def measure_first(console: Console, of: Sequence[Measurement]) -> None:
    """The measurement at the supply that is most worth making, then what others would tell."""
    if not of:
        return
    heading(console, "What to measure first at the supply")
    for number, each in enumerate(of):
        decides = " It decides." if each.decides else " It decides nothing by itself."
        words = f"{each.words}{decides} {each.how}" if number == 0 else f"{each.words}{decides}"
        line(console, words, mark=Text(f"{number + 1}."))


def missing(console: Console, facts: Sequence[Missing], currency: str | None) -> None:
    """What is worth finding out, in the order given, the same fact of several motors once."""
    if not facts:
        return
    heading(console, "What is worth finding out")
    groups: dict[tuple[str, str, str], list[Missing]] = {}
    for fact in facts:
        key = (fact.words, fact.how_to_measure, fact.would_change)
        groups.setdefault(key, []).append(fact)
    for (words, how, changes), alike in groups.items():
        worth = max((fact.worth or 0.0 for fact in alike), default=0.0)
        told = [
            words,
            how,
            f"It would change: {changes.rstrip('.')}." if changes else "",
            f"Worth about {money(worth, currency)}." if worth else "",
            f"For {len(alike)} {_owners(alike)}." if len(alike) > 1 else "",
        ]
        line(console, " ".join(part for part in told if part), mark=Text("-"))


def _owners(alike: Sequence[Missing]) -> str:
    """What the same question is asked about."""
    return "motors" if all(".motors[" in fact.path for fact in alike) else "machines"
