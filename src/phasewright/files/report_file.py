"""The report of a study, `report.pdf`, in the study's folder."""

from __future__ import annotations

from pathlib import Path

from phasewright.papers.drawings.sheets import sheets_of
from phasewright.papers.report.document import document
from phasewright.papers.report.pdf import pdf
from phasewright.papers.sheets.sheet import Sheets
from phasewright.papers.wiring.check import faults
from phasewright.papers.wiring.model import Wiring
from phasewright.plan.study import PlanSide, Study
from phasewright.shop.model import Shop

NAME = "report.pdf"


def report(shop: Shop, study: Study, wiring: Wiring, plan: PlanSide, sheets: Sheets) -> bytes:
    """The report as PDF; a wiring with a fault is not drawn in it."""
    drawings = () if faults(wiring) else sheets_of(wiring, plan.title)
    return pdf(document(shop, study, wiring, drawings, sheets))


def write(
    shop: Shop, study: Study, wiring: Wiring, plan: PlanSide, sheets: Sheets, folder: Path
) -> str:
    """Write it into a folder that exists and give its name; raises OSError where the disk
    refuses."""
    (folder / NAME).write_bytes(report(shop, study, wiring, plan, sheets))
    return NAME
