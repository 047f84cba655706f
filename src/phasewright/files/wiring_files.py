"""The files of a wiring: `wiring.json`, a drawing a sheet, and the lists, in a study's folder."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from phasewright.papers.drawings.sheets import sheets_of
from phasewright.papers.lists import labels_csv, parts_csv, wires_csv
from phasewright.papers.svg import svg
from phasewright.papers.wiring.check import faults
from phasewright.papers.wiring.model import Wiring
from phasewright.quantities.finding import Reason
from phasewright.quantities.plain import plain


def wiring_text(wiring: Wiring) -> str:
    """The text of `wiring.json`; `faults` is what the electrical check finds."""
    whole: dict[str, Any] = {"faults": plain(faults(wiring)), **plain(wiring)}
    return json.dumps(whole, ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def files_of(wiring: Wiring, plan_title: str) -> Iterator[tuple[str, str]]:
    """Name and text of every file. A wiring with a fault is written, but never drawn."""
    yield "wiring.json", wiring_text(wiring)
    if faults(wiring):
        return
    for page in sheets_of(wiring, plan_title):
        yield f"drawings/{page.name}.svg", svg(page.marks)
    yield "lists/parts.csv", parts_csv(wiring)
    yield "lists/wires.csv", wires_csv(wiring)
    yield "lists/labels.csv", labels_csv(wiring)


def write(wiring: Wiring, plan_title: str, folder: Path) -> tuple[Reason, ...]:
    """Write them into a folder that exists and give the faults that were found; raises OSError
    where the disk refuses."""
    for name, text in files_of(wiring, plan_title):
        at = folder / name
        at.parent.mkdir(exist_ok=True)
        at.write_text(text, encoding="utf-8", newline="")
    return faults(wiring)
