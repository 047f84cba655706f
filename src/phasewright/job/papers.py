"""The papers of an answer: its plan's wiring, the sheets to work by, and every file of them."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from phasewright.files import report_file, result_file, sheet_files, wiring_files
from phasewright.papers.drawings.sheets import sheets_of as drawn
from phasewright.papers.report.looks import PaperSize
from phasewright.papers.sheets.folder import sheets_of
from phasewright.papers.sheets.paper import Paper
from phasewright.papers.sheets.sheet import LeftOut, Sheets
from phasewright.papers.sheets.uses import REPORT, SHEETS
from phasewright.papers.wiring.check import faults
from phasewright.papers.wiring.model import Wiring
from phasewright.papers.wiring.plan import wiring_of
from phasewright.plan.study import PlanSide, Study
from phasewright.quantities.finding import Reason
from phasewright.shop.model import Shop


def wiring(shop: Shop, study: Study, plan_id: str | None = None) -> tuple[Wiring, PlanSide]:
    """The wiring of a plan (the answer's, where none is named), and that plan; raises KeyError for
    a plan that is not listed."""
    plan = _plan(study, plan_id)
    return wiring_of(shop, study, plan), plan


def sheets(shop: Shop, study: Study, plan_id: str | None = None) -> Sheets:
    """The sheets of a plan (the answer's, where none is named), which name things as its wiring
    does; readings are expected of the answer's plan alone. Raises KeyError for a plan that is not
    listed."""
    wires, plan = wiring(shop, study, plan_id)
    return sheets_of(Paper(shop, study, plan, wires))


def _plan(study: Study, plan_id: str | None) -> PlanSide:
    wanted = study.answer.plan if plan_id is None else plan_id
    for plan in study.plans:
        if plan.id == wanted:
            return plan
    raise KeyError(f"no plan {wanted!r}")


@dataclass(frozen=True, slots=True)
class Papers:
    """Every file of an answer by its name, the faults for which its wiring is not drawn, and the
    sheets for which this shop has no figures."""

    files: dict[str, str | bytes]
    faults: tuple[Reason, ...]
    left_out: tuple[LeftOut, ...]


def papers(shop: Shop, study: Study, paper: PaperSize | None = None) -> Papers:
    """The papers of an answer, the report on a paper, the region's where none is named. A wiring
    with a fault is not drawn."""
    wires, plan = wiring(shop, study)
    wrong = faults(wires)
    drawings = () if wrong else tuple(drawn(wires, plan.title))
    found = sheets_of(Paper(shop, study, plan, wires))
    files: dict[str, str | bytes] = {
        **result_file.texts(study),
        **dict(wiring_files.files_of(wires, plan, drawings)),
        **dict(sheet_files.files_of(found)),
        REPORT: report_file.report(shop, study, wires, found, paper, sound=not wrong),
        SHEETS: report_file.sheets_pdf(study, wires, found, paper),
    }
    return Papers(files, wrong, found.left_out)


def write(of: Papers, folder: Path) -> None:
    """Write the files into a folder that exists; raises OSError where the disk refuses."""
    for name, holds in of.files.items():
        at = folder / name
        at.parent.mkdir(parents=True, exist_ok=True)
        at.write_bytes(holds.encode() if isinstance(holds, str) else holds)


def zipped(files: Mapping[str, str | bytes], folder: str) -> bytes:
    """An archive of files in one folder; the same files give the same bytes, no clock is read.

    Source: the ZIP file format, .ZIP File Format Specification 6.3.
    """
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w") as archive:
        for name, holds in files.items():
            entry = zipfile.ZipInfo(f"{folder}/{name}")
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, holds.encode() if isinstance(holds, str) else holds)
    return whole.getvalue()
