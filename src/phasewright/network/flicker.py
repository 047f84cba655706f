"""How much a lamp seems to flicker from changes of the voltage: severity by IEC 61000-3-3.

The analytical method of 6.2 (from memory): a step of d per cent leaves an impression of
2.3 (F d)^3.2 seconds, F its shape factor, 1 for a step; severity is the 3.2th root of their sum
over the time they are counted in. It holds while impressions lie more than a second apart.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from phasewright.quantities.errors import UsageError
from phasewright.tables.clauses import limit

HOURS_OF_SHORT_TERM = limit("flicker", "short_s") / 3600.0


@dataclass(frozen=True, slots=True)
class Change:
    """A change of the voltage that comes again: its size (a share of nominal), shape and how often.

    `shape` is 1 for a step; a slow ramp has less.
    """

    change: float
    an_hour: float
    shape: float = 1.0


def impression_s(change: float, shape: float = 1.0) -> float:
    """Seconds of impression of one change [s]; `change` as a share of nominal."""
    size = 100.0 * abs(change) * shape
    return limit("flicker", "of_one_step_s") * float(size ** limit("flicker", "exponent"))


def severity(changes: Sequence[Change], within_s: float) -> float:
    """Flicker severity of changes counted over `within_s` seconds: 600 short, 7200 long term."""
    if not within_s > 0.0:
        raise UsageError("flicker is counted over more than no time")
    impressions = sum(
        each.an_hour * within_s / 3600.0 * impression_s(each.change, each.shape) for each in changes
    )
    return float((impressions / within_s) ** (1.0 / limit("flicker", "exponent")))


def short_term(changes: Sequence[Change]) -> float:
    """Severity over ten minutes, the changes spread evenly over the hour."""
    return severity(changes, limit("flicker", "short_s"))


def long_term(changes: Sequence[Change]) -> float:
    """Severity over two hours, the changes spread evenly over them."""
    return severity(changes, limit("flicker", "long_s"))


def of_starts(starts: Sequence[Change]) -> tuple[float, float, float]:
    """Least, usual and greatest short-term severity of motor starts, each a fall that comes back.

    Least: falls alone, spread evenly over the hour, the return a ramp too slow to be seen.
    Usual: the return a step of the same size. Greatest: moreover the start that is seen most
    comes at least once in the ten minutes.
    """
    if not starts:
        return 0.0, 0.0, 0.0
    worst = max(starts, key=lambda each: impression_s(each.change, each.shape))
    once = replace(worst, an_hour=max(worst.an_hour, 1.0 / HOURS_OF_SHORT_TERM))
    busiest = [once if each is worst else each for each in starts]
    return short_term(starts), short_term((*starts, *starts)), short_term((*busiest, *busiest))


def of_starts_over_hours(starts: Sequence[Change]) -> tuple[float, float, float]:
    """The same of the long term: over two hours, in which the worst start comes at least once."""
    if not starts:
        return 0.0, 0.0, 0.0
    within = limit("flicker", "long_s")
    worst = max(starts, key=lambda each: impression_s(each.change, each.shape))
    once = replace(worst, an_hour=max(worst.an_hour, 3600.0 / within))
    busiest = [once if each is worst else each for each in starts]
    return long_term(starts), long_term((*starts, *starts)), long_term((*busiest, *busiest))


def most_starts_an_hour(dip: float, severity_most: float = 1.0) -> float:
    """Starts an hour at which the severity reaches `severity_most`, the return taken as a step."""
    if not dip > 0.0:
        raise UsageError("without a dip any number of starts is borne")
    seconds = severity_most ** limit("flicker", "exponent") * 3600.0
    return float(seconds / (2.0 * impression_s(dip)))
