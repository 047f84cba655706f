"""The whole shop in one line: what the plan wires, what is there already, and what may come."""

from __future__ import annotations

from dataclasses import replace

from phasewright.papers.drawings.single_line import single_line
from phasewright.papers.drawings.to_come import with_later
from phasewright.papers.wiring.later import INTAKE
from phasewright.papers.wiring.model import Band, Column, Device, Element, Rail, Unit, Wiring
from phasewright.quantities.units import format as shown


def overview(wiring: Wiring) -> tuple[Unit, Wiring]:
    """The unit that is drawn, and the wiring with the devices of that sheet alone."""
    return with_later(*_with_there(single_line(wiring), wiring))


def _with_there(shop: Unit, wiring: Wiring) -> tuple[Unit, Wiring]:
    """Loads of which the plan changes nothing, beside those it wires; how each is protected is
    not told, so no device is drawn ahead of it."""
    if not wiring.there:
        return shop, wiring
    devices = tuple(
        Device(
            f"=G0-E{number}", "consumer", "=G0", f"{each.words}, there already", ("1",),
            specification=shown(each.current_a, "A"),
        )
        for number, each in enumerate(wiring.there, start=1)
    )  # fmt: skip
    columns = tuple(
        Column((0,), (Element(each.id, "load", "end", (0,), ("",), (), ("",)),)) for each in devices
    )
    band = Band(f"There already, from {INTAKE}", (Rail(f"{INTAKE}:", "the supply"),), columns)
    unit = replace(shop, bands=(*shop.bands, band))
    return unit, replace(wiring, devices=(*wiring.devices, *devices))
