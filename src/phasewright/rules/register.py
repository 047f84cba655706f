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
from inspect import signature
from typing import Literal, ParamSpec

from phasewright.quantities.codes import Severity
from phasewright.quantities.errors import TableEnds
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
    body: str = ""
    edition: str = ""
    clause: str = ""
    """Who wrote it, in which edition, and where it stands; empty where it is no clause."""


_registered: dict[str, Rule] = {}


def rule(
    id: str, *, status: Status, looks_at: LooksAt, source: str = "", body: str = "",
    edition: str = "", clause: str = "",
) -> Callable[[Callable[P, Findings]], Callable[P, Ruling]]:  # fmt: skip
    """Registers a function as the rule `id`; its docstring is the rule in words.

    A clause gives `body`, `edition` and `clause`, of which its source is made; anything else
    gives its `source`. Raises ValueError for a second rule of the same id, a missing source,
    docstring or status. What lies beyond a published table is found as a condition: it could
    not be judged.
    """
    joined = f"{body}-{edition}" if body.startswith("NFPA") else f"{body}:{edition}"
    named = source or (f"{joined}, {clause}" if clause else "")

    def register(function: Callable[P, Findings]) -> Callable[P, Ruling]:
        words = (function.__doc__ or "").strip()
        if id in _registered or not words or not named or status not in STATUSES:
            raise ValueError(f"rule {id!r}: registered twice, or without words, source or status")

        @wraps(function)
        def judge(*args: P.args, **kwargs: P.kwargs) -> Ruling:
            try:
                findings = function(*args, **kwargs)
            except TableEnds as ends:
                subject = str(signature(function).bind(*args, **kwargs).arguments["subject"])
                findings = found("condition", subject, f"could not be judged: {ends}")
            if not findings:
                return unruled if findings is None else kept
            if status == "from memory" and any(f.severity == "stop" for f in findings):
                raise AssertionError(f"rule {id!r} stops on a limit from memory")
            told = named if status == "published" else f"{named} ({status})"
            said = (replace(f, id=f"{id}:{f.subject}", rule=id, source=told) for f in findings)
            return Ruling(id, True, tuple(said))

        unruled, kept = Ruling(id, False, ()), Ruling(id, True, ())
        _registered[id] = Rule(id, named, status, looks_at, words, judge, body, edition, clause)
        return judge

    return register


def all_rules() -> tuple[Rule, ...]:
    """Every rule of this folder, by id."""
    import phasewright.rules as folder

    for module in pkgutil.iter_modules(folder.__path__):
        importlib.import_module(f"phasewright.rules.{module.name}")
    return tuple(_registered[id] for id in sorted(_registered))


def words_of(id: str) -> str:
    """A registered rule in one sentence."""
    return " ".join(_registered[id].words.split("\n\n")[0].split())


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


def at_most(
    figure: float | None,
    limit: float | None,
    severity: Severity,
    subject: str,
    words: str,
    *,
    unit: str | None = None,
    remedy: Remedy | Callable[[], Remedy] | None = None,
) -> Findings:
    """Kept where the figure is not above its limit; does not apply where one is not known.

    `words` may hold {found} and {allowed}; a remedy that has to be searched for is given as a
    function, and searched for only where it is needed.
    """
    if figure is None or limit is None:
        return None
    if not above(figure, limit):
        return KEPT
    return _off(figure, limit, severity, subject, words, unit, remedy)


def at_least(
    figure: float | None,
    limit: float | None,
    severity: Severity,
    subject: str,
    words: str,
    *,
    unit: str | None = None,
    remedy: Remedy | Callable[[], Remedy] | None = None,
) -> Findings:
    """Kept where the figure is not below its limit; the rest as `at_most`."""
    if figure is None or limit is None:
        return None
    if not below(figure, limit):
        return KEPT
    return _off(figure, limit, severity, subject, words, unit, remedy)


def _off(
    figure: float,
    limit: float,
    severity: Severity,
    subject: str,
    words: str,
    unit: str | None,
    remedy: Remedy | Callable[[], Remedy] | None,
) -> Findings:
    return found(
        severity,
        subject,
        words.format(found=figure, allowed=limit),
        found=figure,
        allowed=limit,
        unit=unit,
        remedy=remedy() if callable(remedy) else remedy,
    )


def must(
    holds: bool | None,
    severity: Severity,
    subject: str,
    words: str,
    *,
    found_words: str,
    allowed_words: str,
    remedy: Remedy | None = None,
) -> Findings:
    """Kept where a thing is as it must be; does not apply where that is not known."""
    if holds is None:
        return None
    if holds:
        return KEPT
    return found(severity, subject, words, found=found_words, allowed=allowed_words, remedy=remedy)


def above(figure: float, limit: float) -> bool:
    """True where a figure lies above its limit; a NaN counts as above, never as kept."""
    return not figure <= limit + _ROOM * abs(limit)


def below(figure: float, limit: float) -> bool:
    """True where a figure lies below its limit; a NaN counts as below, never as kept."""
    return not figure >= limit - _ROOM * abs(limit)
