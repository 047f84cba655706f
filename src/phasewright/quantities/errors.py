"""The error tree of the house.

PhasewrightError
├── ShopFileError      the shop file has mistakes; all of them at once (exit 1)
├── QuantityError      a text is no quantity of the kind that is wanted
├── UsageError         a command was used wrongly (exit 2)
├── NotComputable      a question the models cannot answer, with the reason in words
│   ├── TableEnds      a table has no row that serves; never clamped
│   └── NoOperatingPoint  no stable running point, and why
└── MachineFault       the computer's side failed: disk full, port taken (exit 4)
"""

from __future__ import annotations

from dataclasses import dataclass


class PhasewrightError(Exception):
    """Whatever this program refuses, with words for its user."""


@dataclass(frozen=True, slots=True)
class Mistake:
    """One mistake in a shop file."""

    file: str
    line: int
    path: str
    found: str
    allowed: str
    remedy: str = ""

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}" if self.line else self.file
        where = f"{place}: {self.path or 'the file'}"
        remedy = f"; {self.remedy}" if self.remedy else ""
        return f"{where}: {self.found}; {self.allowed}{remedy}"


class ShopFileError(PhasewrightError):
    """The shop file has mistakes; `mistakes` holds every one of them."""

    def __init__(self, mistakes: tuple[Mistake, ...]) -> None:
        super().__init__("\n".join(str(mistake) for mistake in mistakes))
        self.mistakes = mistakes


class QuantityError(PhasewrightError, ValueError):
    """A text is no quantity of the kind that is wanted; says what was found and what may stand."""

    def __init__(self, found: str, allowed: str) -> None:
        super().__init__(f"{found}; {allowed}")
        self.found = found
        self.allowed = allowed


class UsageError(PhasewrightError):
    """A command or a function was used in a way that cannot be served."""


class NotComputable(PhasewrightError):
    """The models of the house cannot answer this question; the text says why."""


class TableEnds(NotComputable):
    """A published table has no row that serves this value."""


class NoOperatingPoint(NotComputable):
    """A network has no stable running point; the text says which machine fails and why."""


class MachineFault(PhasewrightError):
    """The computer failed us: a disk that is full, a port that is taken."""
