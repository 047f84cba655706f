"""What is noted while a plate is read: questions, assumptions, facts worth finding out."""

from __future__ import annotations

from dataclasses import dataclass, field

from phasewright.quantities.codes import Severity
from phasewright.quantities.finding import Assumed, Finding, Missing, Remedy
from phasewright.quantities.value import Value


@dataclass(slots=True)
class Notes:
    """A collector for one motor: `subject` is its id, `path` its place in the shop file."""

    subject: str
    path: str
    findings: list[Finding] = field(default_factory=list)
    assumed: list[Assumed] = field(default_factory=list)
    missing: list[Missing] = field(default_factory=list)

    def ask(
        self,
        rule: str,
        severity: Severity,
        words: str,
        *,
        found: float | str | None = None,
        allowed: float | str | None = None,
        unit: str | None = None,
        key: str = "plate",
        remedy: str = "Read the plate again, or correct the value.",
        source: str = "common practice, no source",
    ) -> None:
        """Note a question about the plate."""
        self.findings.append(
            Finding(
                id=f"{self.subject}:{rule}",
                rule=rule,
                severity=severity,
                subject=self.subject,
                words=words,
                found=found,
                allowed=allowed,
                unit=unit,
                remedy=Remedy(remedy, f"{self.path}.{key}"),
                source=source,
            )
        )

    def take(self, what: str, key: str, value: Value) -> Value:
        """Note a default that is taken, and give it back."""
        self.assumed.append(Assumed(what, f"{self.path}.{key}", value))
        return value

    def wanted(
        self, what: str, key: str, value: Value | None, words: str, how: str, change: str
    ) -> None:
        """Note a fact worth finding out."""
        low, high = (None, None) if value is None else (value.low, value.high)
        path = f"{self.path}.{key}"
        self.missing.append(Missing(what, path, low, high, words, how, change))
