"""Rules over starts in time: how often an hour, and how hot a winding gets in one."""

from __future__ import annotations

from phasewright.quantities.finding import Remedy
from phasewright.rules.register import KEPT, Findings, above, found, rule


@rule(
    "start.starts_per_hour",
    source="the heat of a start, computed in time, is let out before the next; start capacitors by "
    "their makers' seconds an hour",
    status="common practice",
    looks_at="motor",
)
def starts_per_hour(
    asked: float, low: float | None, high: float | None, ruled_by: str, subject: str, *,
    told: bool = True,
) -> Findings:  # fmt: skip
    """A machine is not started more often in an hour than its windings and start capacitor bear.

    `low` and `high`: what they bear at the worst and at the best, None where nothing is known;
    `ruled_by`: which part, in words; `told`: whether the owner said how often it is started.
    """
    if low is None or high is None:
        return None
    if not above(asked, low):
        return KEPT
    over = above(asked, high)
    only = "less than one"
    if high >= 1.0:
        only = f"{int(low)} only" if int(low) == int(high) else f"{int(low)} to {int(high)} only"
    return found(
        "condition" if over and told else "caution",
        subject,
        f"{asked:.3g} starts an hour are {'asked' if told else 'usual'}, and {ruled_by} "
        f"{'bear' if over else 'may bear'} {only}",
        found=asked,
        allowed=low,
        unit="1/h",
        remedy=Remedy(
            "Let it run between two pieces of work instead of stopping it, or start it empty.",
            "starts_per_hour", low, "1/h",
        ),
    )  # fmt: skip


@rule(
    "start.winding_heat",
    source="IEC 60034-11 for the greatest heat of a class; current densities of common practice",
    status="common practice",
    looks_at="motor",
)
def winding_heat(low_c: float, limit_c: float | None, subject: str) -> Findings:
    """One start, begun warm, does not heat a winding beyond what its class bears.

    `low_c`: the least it comes to, of the lowest density; None for a class of which nothing is
    known.
    """
    if limit_c is None:
        return None
    if not above(low_c, limit_c):
        return KEPT
    return found(
        "condition",
        subject,
        f"one start brings its winding to {low_c:.0f} °C or more, and it bears {limit_c:.0f} °C: "
        "the start must be lightened",
        found=low_c,
        allowed=limit_c,
        unit="°C",
    )
