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
class Said:
    """Words of a sentence that tell a figure, and where in the result file that figure stands.

    `at` holds JSON pointers; one without a slash before it begins at what the sentence is told of
    (of a way's reason the way itself). Several: `how` says what was made of them. Empty `words`
    stand for the whole sentence: it is told again from there.
    """

    words: str
    at: tuple[str, ...]
    how: str | None = None


@dataclass(frozen=True, slots=True)
class Reason:
    """Why something holds: a code from the closed list and the same in an owner's words."""

    code: str
    words: str
    remedy: Remedy | None = None
    """What ends it, where that is something of the shop file."""
    figures: tuple[Said, ...] | None = None
    """Where the figures in its words stand, in the order of the words."""


def reason(code: str, *parts: str | Said) -> Reason:
    """A reason made of words and of figures that tell where they stand."""
    told = tuple(part for part in parts if isinstance(part, Said))
    return Reason(code, joined(*parts), figures=told or None)


def joined(*parts: str | Said) -> str:
    """The words of a sentence that is made of words and of figures."""
    return "".join(part.words if isinstance(part, Said) else part for part in parts)


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
