"""Parts, wires, labels, spare parts and meters as tables of text (RFC 4180), by specification
alone."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from phasewright.papers.parts_list import part_lines
from phasewright.papers.spares import instruments, spares_of
from phasewright.papers.wiring.model import Wiring
from phasewright.plan.study import PlanSide

PARTS = (
    "what", "specification", "quantity", "get", "price", "price by", "standard", "computed from",
    "designations", "used for",
)  # fmt: skip
SPARES = ("what", "specification", "keep", "stands for", "why")
METERS = ("what", "must read", "used for")
WIRES = (
    "wire", "from", "to", "kind", "carries", "mark at both ends", "colour", "size", "length m",
    "circuit",
)  # fmt: skip
LABELS = ("label", "goes on", "how many")


def parts_csv(wiring: Wiring, plan: PlanSide) -> str:
    """Every device once, like ones that are got alike in one line, then the cables. A price that is
    not known is left empty."""
    return _csv(
        PARTS,
        (
            (
                each.what, each.specification, each.quantity, each.getting,
                "" if each.price is None else f"{each.price:.2f}", each.price_origin,
                each.standard, each.figure, " ".join(each.designations), "; ".join(each.used_for),
            )
            for each in part_lines(wiring, plan)
        ),
    )  # fmt: skip


def spares_csv(wiring: Wiring) -> str:
    """Parts to keep on the shelf."""
    return _csv(
        SPARES,
        (
            (each.what, each.specification, str(each.keep), " ".join(each.stands_for), each.why)
            for each in spares_of(wiring)
        ),
    )


def meters_csv(plan: PlanSide) -> str:
    """Meters and tools to have."""
    found = instruments(plan.readings_expected or ())
    return _csv(METERS, ((each.what, each.reads, each.used) for each in found))


def wires_csv(wiring: Wiring) -> str:
    """Every conductor: from where to where, what it carries, how it is marked. What nothing has
    computed is left empty."""
    return _csv(
        WIRES,
        (
            (
                each.id, each.from_, each.to, each.kind, each.potential, each.mark, each.colour,
                each.size or "", "" if each.length_m is None else f"{each.length_m:g}",
                each.circuit or "",
            )
            for each in wiring.conductors
        ),
    )  # fmt: skip


def labels_csv(wiring: Wiring) -> str:
    """One label a device, one for each end of a wire."""
    devices = ((each.id, "device", "1") for each in wiring.devices)
    wires = (
        (f"{each.id} {each.mark}", "wire, both ends", "2")
        for each in wiring.conductors
        if each.kind == "wire"
    )
    return _csv(LABELS, (*devices, *wires))


def _csv(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(head)
    writer.writerows(rows)
    return text.getvalue()
