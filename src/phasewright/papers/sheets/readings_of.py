"""Readings of a plan found by what they are of."""

from __future__ import annotations

from phasewright.papers.sheets.paper import Paper
from phasewright.plan.reading_study import ReadingExpected


def between(of: Paper, code: str, points: str) -> ReadingExpected | None:
    """The first reading of a code between points that begin so."""
    return next(
        (each for each in of.readings if each.code == code and each.between.startswith(points)),
        None,
    )


def reading_of(of: Paper, subject: str, code: str) -> ReadingExpected | None:
    """The first reading of a code of a subject."""
    return next(
        (each for each in of.readings if each.code == code and each.subject == subject), None
    )
