"""What stands against a way, on which conditions it serves, and what else an owner is told.

The rules of the house say most of it; here their findings become a way's words.
"""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.quantities.finding import Finding, Reason
from phasewright.rules.register import Ruling


@dataclass(frozen=True, slots=True)
class Asked:
    """`refusals` stand against it, `conditions` must be met, `told` changes no verdict."""

    refusals: tuple[Reason, ...] = ()
    conditions: tuple[Reason, ...] = ()
    told: tuple[Reason, ...] = ()

    def __add__(self, other: Asked) -> Asked:
        return Asked(
            self.refusals + other.refusals,
            self.conditions + other.conditions,
            self.told + other.told,
        )


def condition(code: str, words: str) -> Asked:
    """One condition."""
    return Asked(conditions=(Reason(code, words),))


def told(code: str, words: str) -> Asked:
    """One thing to know that changes no verdict."""
    return Asked(told=(Reason(code, words),))


def refusal(code: str, words: str) -> Asked:
    """One thing that stands against it."""
    return Asked(refusals=(Reason(code, words),))


def by_rules(*rulings: Ruling) -> Asked:
    """What rules say of the machine as it stands today.

    A stop or a condition is something to put right, so here it is a condition of the way, with
    its remedy; a caution or a note is told.
    """
    whole = Asked()
    for ruling in rulings:
        for finding in ruling.findings:
            reason = _reason(finding)
            if finding.severity in ("stop", "condition"):
                whole += Asked(conditions=(reason,))
            else:
                whole += Asked(told=(reason,))
    return whole


def _reason(finding: Finding) -> Reason:
    words = finding.words[0].upper() + finding.words[1:]
    remedy = f" {finding.remedy.words}" if finding.remedy is not None else ""
    there = finding.remedy is not None and finding.remedy.path is not None
    return Reason(finding.rule, f"{words.rstrip('.')}.{remedy}", finding.remedy if there else None)
