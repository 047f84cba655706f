"""How a rule registers itself, and what a rule answers.

A rule is one pure function over floats, a circuit or an installation. It returns its findings:
an empty tuple when it is kept, None when it does not apply (a fact it needs is not there, or it
speaks of something else). The decorator gives the findings the rule's name and source, so no
list of rules is kept by hand. A rule whose limit is from memory makes a condition to be
confirmed, never a stop by itself.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import wraps
from typing import Literal, ParamSpec

from phasewright.quantities.codes import Severity
from phasewright.quantities.finding import Finding, Remedy
from phasewright.tables.published import STATUSES, Status

P = ParamSpec("P")
LooksAt = Literal["supply", "circuit", "motor", "equipment", "machine", "installation"]
Findings = tuple[Finding, ...] | None

KEPT: tuple[Finding, ...] = ()
_ROOM = 1e-9  # a figure equal to its limit but for rounding keeps it


@dataclass(frozen=True, slots=True)
class Ruling:
    """What a rule said: whether it applies, and its findings."""

    rule: str
    applies: bool
    findings: tuple[Finding, ...]

    @property
    def kept(self) -> bool:
        """True where the rule applies and found nothing that must change."""
        return self.applies and not any(
            entry.severity in ("condition", "stop") for entry in self.findings
        )


@dataclass(frozen=True, slots=True)
class Rule:
    """A registered rule: its name, its source, how sure that is, and what it looks at."""

    id: str
    source: str
    status: Status
    looks_at: LooksAt
    words: str
    judge: Callable[..., Ruling]


_registered: dict[str, Rule] = {}


def rule(
    id: str, *, source: str, status: Status, looks_at: LooksAt
) -> Callable[[Callable[P, Findings]], Callable[P, Ruling]]:
    """Registers a function as the rule `id`; its docstring is the rule in words.

    Raises ValueError for a second rule of the same id, a missing source, docstring or status.
    """

    def register(function: Callable[P, Findings]) -> Callable[P, Ruling]:
        words = (function.__doc__ or "").strip()
        if id in _registered or not words or not source or status not in STATUSES:
            raise ValueError(f"rule {id!r}: registered twice, or without words, source or status")

        @wraps(function)
        def judge(*args: P.args, **kwargs: P.kwargs) -> Ruling:
            findings = function(*args, **kwargs)
            if findings is None:
                return Ruling(id, False, ())
            if status == "from memory" and any(f.severity == "stop" for f in findings):
                raise AssertionError(f"rule {id!r} stops on a limit from memory")
            told = source if status == "published" else f"{source} ({status})"
            named = (replace(f, id=f"{id}:{f.subject}", rule=id, source=told) for f in findings)
            return Ruling(id, True, tuple(named))

        _registered[id] = Rule(id, source, status, looks_at, words, judge)
        return judge

    return register


def all_rules() -> tuple[Rule, ...]:
    """Every rule of this folder, by id."""
    import phasewright.rules as folder

    for module in pkgutil.iter_modules(folder.__path__):
        importlib.import_module(f"phasewright.rules.{module.name}")
    return tuple(_registered[id] for id in sorted(_registered))


def found(
    severity: Severity,
    subject: str,
    words: str,
    *,
    found: float | str | None = None,
    allowed: float | str | None = None,
    unit: str | None = None,
    remedy: Remedy | None = None,
    circuit: str | None = None,
) -> tuple[Finding, ...]:
    """One finding; the decorator adds the rule's name and source."""
    return (
        Finding(
            id="",
            rule="",
            severity=severity,
            subject=subject,
            words=words,
            found=found,
            allowed=allowed,
            unit=unit,
            circuit=circuit,
            remedy=remedy,
        ),
    )


def above(figure: float, limit: float) -> bool:
    """True where a figure lies above its limit; a NaN counts as above, never as kept."""
    return not figure <= limit + _ROOM * abs(limit)


def below(figure: float, limit: float) -> bool:
    """True where a figure lies below its limit; a NaN counts as below, never as kept."""
    return not figure >= limit - _ROOM * abs(limit)
