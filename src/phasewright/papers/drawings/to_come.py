"""What may come later, dashed beside the single line of the shop: nothing of it is wired yet."""

from __future__ import annotations

from dataclasses import replace

from phasewright.papers.wiring.model import Band, Column, Device, Element, Rail, Unit, Wiring

SHAPES = (("F1", "breaker", "breaker"), ("Q1", "isolator", "isolator"))
NOTE = (
    "Dashed is what is not there yet: room for it is kept at the terminals named. It is wired by a "
    "drawing of its own once it has come and is worked out with its plate."
)


def with_later(shop: Unit, wiring: Wiring) -> tuple[Unit, Wiring]:
    """The single line with what may come, and the wiring with its devices for that sheet alone."""
    if not wiring.later:
        return shop, wiring
    devices: list[Device] = []
    strips: dict[str, list[Column]] = {}
    for each in wiring.later:
        elements = []
        for number, kind, shape in SHAPES:
            name = f"{each.unit}-{number}"
            words = "protective device" if kind == "breaker" else "isolator, lockable"
            devices.append(Device(name, "breaker" if kind == "breaker" else "isolator", each.unit,
                                  words, ("1", "2")))  # fmt: skip
            elements.append(Element(name, shape, "series", (0,), ("",), ("",), ("",)))
        motor = f"{each.unit}-M1"
        devices.append(Device(motor, "motor", each.unit, each.words, ("1",)))
        elements.append(Element(motor, "motor", "end", (0,), ("",), (), ("",)))
        strips.setdefault(each.hangs_on, []).append(Column((0,), tuple(elements)))
    bands = tuple(
        Band(f"To come, from {strip}", (Rail(f"{strip}:", "to come"),), tuple(columns), later=True)
        for strip, columns in strips.items()
    )
    unit = replace(shop, bands=(*shop.bands, *bands), notes=(*shop.notes, NOTE))
    return unit, replace(wiring, devices=(*wiring.devices, *devices))
