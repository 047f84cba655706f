"""What the house has to say about a thing: reasons, findings, assumptions, missing facts."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.quantities.codes import Severity
from phasewright.quantities.value import Value


@dataclass(frozen=True, slots=True)
class Remedy:
    """What to change so that a finding goes away; `path` is a path in the shop file."""

    words: str
    path: str | None = None
    value: float | str | None = None
    unit: str | None = None


@dataclass(frozen=True, slots=True)
class Reason:
    """Why something holds: a code from the closed list and the same in an owner's words."""

    code: str
    words: str
    remedy: Remedy | None = None
    """What ends it, where that is something of the shop file."""


@dataclass(frozen=True, slots=True)
class Finding:
    """What a rule or a check found about a subject (a motor id, a circuit, the supply)."""

    id: str
    rule: str
    severity: Severity
    subject: str
    words: str
    found: float | str | None = None
    allowed: float | str | None = None
    unit: str | None = None
    plan: str | None = None
    circuit: str | None = None
    remedy: Remedy | None = None
    source: str = ""


@dataclass(frozen=True, slots=True)
class Assumed:
    """A fact the owner did not give and what was taken in its place."""

    field: str
    path: str
    value: Value


@dataclass(frozen=True, slots=True)
class Missing:
    """A fact worth finding out: what it would change and how to measure it."""

    field: str
    path: str
    low: float | str | None
    high: float | str | None
    words: str
    how_to_measure: str
    would_change: str
    worth: float | None = None
