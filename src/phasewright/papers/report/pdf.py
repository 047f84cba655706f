"""A report as PDF: our template filled with the report's data."""

from __future__ import annotations

from pathlib import Path

from phasewright.papers.report.document import Document, data_of
from phasewright.papers.typeset import typeset

TEMPLATE = Path(__file__).parent / "report.typ"


def pdf(whole: Document) -> bytes:
    """The PDF, by the rules of PDF/UA-1: tagged, with its title and language. The same report
    gives the same bytes."""
    return typeset(TEMPLATE.read_bytes(), {"report": data_of(whole)}, "pdf", standard="ua-1")
