"""The files of a wiring: `wiring.json`, a drawing a sheet, and the lists, in a study's folder."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from phasewright.files.result_schema import schema_of
from phasewright.papers.drawings.sheets import sheets_of
from phasewright.papers.lists import labels_csv, parts_csv, wires_csv
from phasewright.papers.svg import svg
from phasewright.papers.wiring.check import faults
from phasewright.papers.wiring.model import Conductor, Device, Unit, Wiring
from phasewright.quantities.codes import Region
from phasewright.quantities.finding import Reason
from phasewright.quantities.plain import plain


@dataclass(frozen=True, slots=True)
class WiringFile:
    """The wiring of one plan, and the faults its electrical check finds, if any."""

    plan: str
    shop: str
    region: Region
    faults: tuple[Reason, ...]
    unwired: tuple[str, ...]
    units: tuple[Unit, ...]
    devices: tuple[Device, ...]
    conductors: tuple[Conductor, ...]


def wiring_text(wiring: Wiring) -> str:
    """The text of `wiring.json`."""
    whole = WiringFile(
        wiring.plan, wiring.shop, wiring.region, faults(wiring), wiring.unwired, wiring.units,
        wiring.devices, wiring.conductors,
    )  # fmt: skip
    return json.dumps(plain(whole), ensure_ascii=False, allow_nan=False, indent=1) + "\n"


def wiring_schema_text() -> str:
    """The text of `docs/wiring.schema.json`."""
    schema = schema_of(WiringFile, "Phasewright wiring file")
    return json.dumps(schema, ensure_ascii=False, indent=1) + "\n"


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
