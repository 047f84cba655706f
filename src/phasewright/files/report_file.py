"""The report of a study, `report.pdf`, in the study's folder."""

from __future__ import annotations

from collections.abc import Sequence

from phasewright.papers.drawings.pages import Page
from phasewright.papers.report.document import document
from phasewright.papers.report.looks import PaperSize
from phasewright.papers.report.pdf import pdf
from phasewright.papers.sheets.sheet import Sheets
from phasewright.papers.wiring.model import Wiring
from phasewright.plan.study import Study
from phasewright.shop.model import Shop

NAME = "report.pdf"


def report(
    shop: Shop,
    study: Study,
    wiring: Wiring,
    drawings: Sequence[Page],
    sheets: Sheets,
    paper: PaperSize | None = None,
) -> bytes:
    """The report as PDF on a paper, the region's where none is named; without drawings where the
    wiring has a fault."""
    return pdf(document(shop, study, wiring, drawings, sheets, paper))
