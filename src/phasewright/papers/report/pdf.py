"""A report as PDF: our template, the fonts that are shipped, no clock, no network."""

from __future__ import annotations

from pathlib import Path

from phasewright.papers.font import FOLDER
from phasewright.papers.report.document import Document, data_of

TEMPLATE = Path(__file__).parent / "report.typ"


def pdf(whole: Document) -> bytes:
    """The PDF, tagged, with its title and language; the same report gives the same bytes.

    All text goes in as data: none of it is ever read as a command of the template.
    """
    import typst  # loaded where it is used: it is large

    fonts = typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=False, font_paths=[FOLDER]
    )
    made = typst.compile(
        TEMPLATE.read_bytes(),
        font_paths=fonts,
        format="pdf",
        sys_inputs={"report": data_of(whole)},
        timestamp=0,
        pdf_standards=["ua-1"],
    )
    if not isinstance(made, bytes):
        raise TypeError("a report is one PDF")
    return made
