"""The report of a study, `report.pdf`, and the sheets beside it, `sheets.pdf`, in its folder."""

from __future__ import annotations

from phasewright.papers.report.document import document, handouts
from phasewright.papers.report.looks import PaperSize
from phasewright.papers.report.pdf import pdf
from phasewright.papers.sheets.sheet import Sheets
from phasewright.papers.wiring.model import Wiring
from phasewright.plan.study import Study
from phasewright.shop.model import Shop


def report(
    shop: Shop,
    study: Study,
    wiring: Wiring,
    sheets: Sheets,
    paper: PaperSize | None = None,
    *,
    sound: bool = True,
) -> bytes:
    """The report as PDF on a paper, the region's where none is named; the wiring is drawn where it
    is `sound`: where its electrical check finds no fault."""
    return pdf(document(shop, study, wiring, sheets, paper, sound=sound))


def sheets_pdf(
    study: Study, wiring: Wiring, sheets: Sheets, paper: PaperSize | None = None
) -> bytes:
    """The sheets that do not stand in the report as PDF, on the same paper."""
    return pdf(handouts(study, wiring, sheets, paper))
