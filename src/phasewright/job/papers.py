"""The papers of an answer: the wiring of its plan, the sheets to work by, every file of them."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping

from phasewright.files import result_file, sheet_files, wiring_files
from phasewright.papers.sheets.folder import sheets_of
from phasewright.papers.sheets.paper import Paper
from phasewright.papers.sheets.sheet import Sheets
from phasewright.papers.wiring.model import Wiring
from phasewright.papers.wiring.plan import wiring_of
from phasewright.plan.study import PlanSide, Study
from phasewright.shop.model import Shop


def wiring(shop: Shop, study: Study, plan_id: str | None = None) -> tuple[Wiring, PlanSide]:
    """The wiring of a plan (the answer's, where none is named), and that plan; raises KeyError for
    a plan that is not listed."""
    plan = _plan(study, plan_id)
    return wiring_of(shop, study, plan), plan


def sheets(shop: Shop, study: Study, plan_id: str | None = None) -> Sheets:
    """The sheets of a plan (the answer's, where none is named); readings are expected of the
    answer's plan alone. Raises KeyError for a plan that is not listed."""
    return sheets_of(Paper(shop, study, _plan(study, plan_id)))


def _plan(study: Study, plan_id: str | None) -> PlanSide:
    wanted = study.answer.plan if plan_id is None else plan_id
    for plan in study.plans:
        if plan.id == wanted:
            return plan
    raise KeyError(f"no plan {wanted!r}")


def papers(shop: Shop, study: Study) -> dict[str, str]:
    """The text of every file of an answer by its name, as `study --out` writes them."""
    wires, plan = wiring(shop, study)
    return (
        result_file.texts(study)
        | dict(wiring_files.files_of(wires, plan.title))
        | dict(sheet_files.files_of(sheets(shop, study)))
    )


def zipped(files: Mapping[str, str], folder: str) -> bytes:
    """An archive of texts in one folder; the same texts give the same bytes, no clock is read.

    Source: the ZIP file format, .ZIP File Format Specification 6.3.
    """
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w") as archive:
        for name, text in files.items():
            entry = zipfile.ZipInfo(f"{folder}/{name}")
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, text.encode())
    return whole.getvalue()
