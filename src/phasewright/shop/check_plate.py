"""Whether what is written of a plate can stand on one plate."""

from __future__ import annotations

from collections.abc import Iterator

from phasewright.shop.faults import Fault, given
from phasewright.shop.plate import Plate

SIZES = ("power", "current", "shaft_height", "winding_resistance")


def plate_faults(path: str, plate: Plate) -> Iterator[Fault]:
    """What cannot be as it is written; questions about odd plates are asked elsewhere."""
    if not any(given(getattr(plate, name)) for name in SIZES):
        yield Fault(
            path,
            "nothing tells the size of this motor",
            "one of power, current, shaft_height or winding_resistance",
            "measure the shaft's height above the feet, or one winding in ohm",
            also=tuple(f"{path}.{name}" for name in SIZES),
        )
    if plate.phases == 2:
        yield Fault(f"{path}.phases", "2 is no count of phases", "1 or 3")
    yield from _pairs(path, plate)
    if len(plate.power) == 2 and len(plate.speed) != 2:
        yield Fault(
            f"{path}.power",
            "two powers stand beside fewer than two speeds",
            "power and speed with two values in the same order",
            "write the two speeds, as: 1420/2840 rpm",
            also=(f"{path}.speed",),
        )


def _pairs(path: str, plate: Plate) -> Iterator[Fault]:
    for name in ("voltage", "speed"):
        values = getattr(plate, name)
        if len(values) == 2 and values[0].number == values[1].number:
            yield Fault(f"{path}.{name}", "the two values are the same", "two different values")
    if plate.two_speed or len(plate.voltage) != 2 or len(plate.current) != 2:
        return
    volts = plate.voltage[1].number - plate.voltage[0].number
    amps = plate.current[1].number - plate.current[0].number
    if volts * amps > 0:
        yield Fault(
            f"{path}.current",
            "the larger current stands at the higher voltage",
            "currents in the order of the voltages: the larger one belongs to the lower voltage",
            "turn one of the two pairs round",
            also=(f"{path}.voltage",),
        )
