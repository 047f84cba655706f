"""The files of a wiring: `wiring.json`, a drawing a sheet, and the lists, in a study's folder."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from phasewright.files.result_schema import schema_of
from phasewright.papers.drawings.pages import Page
from phasewright.papers.lists import labels_csv, meters_csv, parts_csv, spares_csv, wires_csv
from phasewright.papers.svg import svg
from phasewright.papers.wiring.check import faults
from phasewright.papers.wiring.model import Conductor, Device, Unit, Wiring
from phasewright.plan.study import PlanSide
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


def files_of(wiring: Wiring, plan: PlanSide, drawings: Sequence[Page]) -> Iterator[tuple[str, str]]:
    """Name and text of every file; a wiring with a fault is written without drawings and lists."""
    yield "wiring.json", wiring_text(wiring)
    if not drawings:
        return
    for page in drawings:
        yield f"drawings/{page.name}.svg", svg(page.marks)
    yield "lists/parts.csv", parts_csv(wiring, plan)
    yield "lists/wires.csv", wires_csv(wiring)
    yield "lists/labels.csv", labels_csv(wiring)
    yield "lists/spares.csv", spares_csv(wiring)
    yield "lists/meters.csv", meters_csv(plan)
