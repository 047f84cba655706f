"""Parts, wires and labels of a wiring as tables of text (RFC 4180), by specification alone."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from phasewright.papers.wiring.model import Device, Wiring

PARTS = (
    "what", "specification", "quantity", "in the plan's price", "designations", "used for",
)  # fmt: skip
WIRES = (
    "wire", "from", "to", "kind", "carries", "mark at both ends", "colour", "size", "length m",
    "circuit",
)  # fmt: skip
LABELS = ("label", "goes on", "how many")


def parts_csv(wiring: Wiring) -> str:
    """Every device once; like ones in one line with how many of them the plan's price holds."""
    groups: dict[tuple[str, str], list[Device]] = {}
    for device in wiring.devices:
        groups.setdefault(_key(device), []).append(device)
    return _csv(
        PARTS,
        (
            (
                what, specification, str(len(devices)), str(sum(each.priced for each in devices)),
                " ".join(each.id for each in devices),
                "; ".join(dict.fromkeys(each.words for each in devices)),
            )
            for (what, specification), devices in groups.items()
        ),
    )  # fmt: skip


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


def _key(device: Device) -> tuple[str, str]:
    what = device.kind.replace("_", " ")
    mains = [end for end in device.terminals if end in ("1", "3", "5")]
    many = f"{len(mains)} pole{'' if len(mains) == 1 else 's'}"
    poles = many if device.kind in ("breaker", "isolator", "contactor") else ""
    said = ", ".join(part for part in (poles, device.specification) if part)
    return what, said


def _csv(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(head)
    writer.writerows(rows)
    return text.getvalue()
