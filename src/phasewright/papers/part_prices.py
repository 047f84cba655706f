"""What each device of a wiring costs, where that is known: from the plan's purchases and from the
pieces of its circuits, each of which pays for one device."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from phasewright.papers.wiring.model import Device, Wiring
from phasewright.plan.circuit_prices import CircuitPart
from phasewright.plan.circuit_study import PlanCircuit
from phasewright.plan.study import PlanSide
from phasewright.ways.figures import Buy, Part

Getting = Literal["buy", "owned", "hire", "there"]
BOUGHT_AS: dict[str, tuple[str, ...]] = {
    "idler": ("idler_motor",), "discharge_resistor": ("bleeder",),
    "choke": ("ac_choke", "dc_choke"), "drive": ("drive_per_motor", "step_up_drive", "drive"),
    "power_transformer": ("transformer",), "electronic_source": ("electronic_converter",),
}  # fmt: skip
"""Names of parts of a purchase, where they are not those of the wiring."""
IN_CIRCUITS: dict[str, str] = {
    "breaker": "breaker_two_pole", "isolator": "isolator", "plug_and_socket": "plug_and_socket",
    "residual_current_device": "residual_current",
}  # fmt: skip
"""How the names of pieces of a circuit begin."""
STANDING: dict[str, str] = {
    "breaker": "breaker", "isolator": "isolator", "plug_and_socket": "socket",
    "residual_current_device": "residual_current",
}  # fmt: skip
"""The key under which the shop file tells of one that stands there."""
AS_IT_IS = "as it is"
"""How the wiring speaks of what the supply has already."""


@dataclass(frozen=True, slots=True)
class Price:
    """How a device is got (`there`: a machine of the owner's, the main fuse), what it costs (None:
    not known, or nothing to pay), and whose word the price is."""

    getting: Getting
    price: float | None = None
    origin: str = ""


def prices_of(wiring: Wiring, plan: PlanSide) -> dict[str, Price]:
    """How every device is got and at what price, by its designation."""
    parts = [(buy, part) for buy in plan.buys if buy.year == 0 for part in _singly(buy)]
    pieces = list(plan.circuit_parts or ())
    subjects = {unit.id: unit.subject for unit in wiring.units}
    at = circuits_at(wiring)
    laid = {each.id: each for each in plan.circuits or ()}
    return {
        device.id: _there(device, [laid[one] for one in at.get(device.id, ()) if one in laid])
        or _of_purchase(device, subjects.get(device.unit, ""), parts)
        or _of_circuit(device, at.get(device.id, ()), pieces)
        or Price("buy")
        for device in wiring.devices
    }


def _singly(buy: Buy) -> Iterator[Part]:
    """Every part of a purchase as often as it is bought."""
    for part in buy.parts:
        for _ in range(part.quantity):
            yield part


def circuits_at(wiring: Wiring) -> dict[str, tuple[str, ...]]:
    """The circuits whose conductors end at a device, by its designation."""
    found: dict[str, dict[str, bool]] = {}
    for each in wiring.conductors:
        if each.circuit is not None:
            for end in (each.from_, each.to):
                found.setdefault(end.partition(":")[0], {})[each.circuit] = True
    return {device: tuple(circuits) for device, circuits in found.items()}


def _there(device: Device, circuits: Iterable[PlanCircuit]) -> Price | None:
    """A machine of the owner's, and what of its circuit stands there already and is kept."""
    key = STANDING.get(device.kind)
    stands = key is not None and any(key in each.there for each in circuits)
    if stands or device.kind in ("motor", "consumer") or AS_IT_IS in device.words:
        return Price("there")
    return None


def _of_purchase(device: Device, subject: str, parts: list[tuple[Buy, Part]]) -> Price | None:
    """The price of the part that is this device, which then pays for no other."""
    if not device.priced:
        return None
    names = BOUGHT_AS.get(device.kind, (device.kind,))
    fits = [
        entry for entry in parts
        if entry[1].kind in names and (subject in entry[0].serves or device.unit == "=G1")
    ]  # fmt: skip
    if not fits:
        return None
    found = min(fits, key=lambda entry: _miss(device, entry[1]))
    parts.remove(found)
    buy, part = found
    if part.owned or buy.origin == "owned":
        return Price("owned", 0.0, part.price_origin)
    getting: Getting = "hire" if buy.origin == "hired" else "buy"
    return Price(getting, part.price / part.quantity, part.price_origin)


def _miss(device: Device, part: Part) -> tuple[bool, float]:
    """How far a part is from a device: one of another unit last, then by rating."""
    if device.rating is None or part.unit != device.rating_unit:
        return True, 0.0
    return False, abs(part.rating - device.rating)


def _of_circuit(
    device: Device, circuits: tuple[str, ...], pieces: list[CircuitPart]
) -> Price | None:
    begins = IN_CIRCUITS.get(device.kind)
    if begins is None:
        return None
    found = next(
        (each for each in pieces if each.circuit in circuits and each.kind.startswith(begins)), None
    )
    if found is None:
        return None
    pieces.remove(found)
    price = None if found.price is None else found.price.expected.number
    return Price("buy", price, found.price_origin)
