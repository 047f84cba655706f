"""The parts list as lines: like devices together, by specification and never by brand."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from phasewright.papers.part_prices import Getting, Price, circuits_at, prices_of
from phasewright.papers.part_standards import standard_of
from phasewright.papers.plan_words import own_drives
from phasewright.papers.wiring.model import Device, Wiring
from phasewright.plan.circuit_study import PlanCircuit
from phasewright.plan.study import PlanSide
from phasewright.quantities.told import amount

FIGURES: dict[str, str] = {
    "overload_relay": "rated amps of the motor's link", "idler": "idler's power",
    "run_capacitor": "run capacitance", "start_capacitor": "start capacitance",
    "start_resistor": "start of the idler", "drive": "drive's rating", "choke": "drive's rating",
    "contactor": "amps of what it switches", "power_transformer": "drive's rating",
    "brake_resistor": "stopping energy", "discharge_resistor": "capacitance of its bank",
}  # fmt: skip
"""What the rating of a device comes from, where it is no circuit's."""
OF_CIRCUITS = ("breaker", "fuse", "isolator", "plug_and_socket", "residual_current_device")
CABLE = "cable"


@dataclass(frozen=True, slots=True)
class PartLine:
    """Like devices: `price` is that of all of them, None where one has none; `figure` is what the
    rating was computed from."""

    what: str
    specification: str
    quantity: str
    getting: Getting
    price: float | None
    price_origin: str
    standard: str
    figure: str
    designations: tuple[str, ...]
    used_for: tuple[str, ...]


def part_lines(wiring: Wiring, plan: PlanSide) -> tuple[PartLine, ...]:
    """Every device once, like ones that are got alike in one line; then the cables."""
    prices = prices_of(wiring, plan)
    at = circuits_at(wiring)
    circuits = {each.id: each for each in plan.circuits or ()}
    groups: dict[tuple[str, str, Getting, str], list[Device]] = {}
    for device in wiring.devices:
        price = prices[device.id]
        key = (*_named(device), price.getting, price.origin)
        groups.setdefault(key, []).append(device)
    devices = tuple(
        PartLine(
            what, specification, str(len(alike)), getting, _sum([prices[d.id] for d in alike]),
            origin, standard_of(alike[0].kind, wiring.region),
            "; ".join(dict.fromkeys(filter(None, (_from(d, at, circuits) for d in alike)))),
            tuple(each.id for each in alike), tuple(dict.fromkeys(d.words for d in alike)),
        )
        for (what, specification, getting, origin), alike in groups.items()
    )  # fmt: skip
    return (*devices, *_cables(plan))


def _named(device: Device) -> tuple[str, str]:
    what = device.kind.replace("_", " ")
    mains = [end for end in device.terminals if end in ("1", "3", "5")]
    many = f"{len(mains)} pole{'' if len(mains) == 1 else 's'}"
    poles = many if device.kind in ("breaker", "isolator", "contactor") else ""
    return what, ", ".join(part for part in (poles, device.specification) if part)


def _sum(prices: list[Price]) -> float | None:
    known = [each.price for each in prices if each.price is not None]
    return sum(known) if len(known) == len(prices) else None


def _from(device: Device, at: dict[str, tuple[str, ...]], circuits: dict[str, PlanCircuit]) -> str:
    """The figure a device's rating comes from."""
    if device.kind not in OF_CIRCUITS:
        return FIGURES.get(device.kind, "") if device.specification else ""
    found = (circuits.get(name) for name in at.get(device.id, ()))
    amps = next((each.design_current_a for each in found if each is not None), None)
    return "" if amps is None else f"design current {amount(amps.number, amps.unit)}"


def _cables(plan: PlanSide) -> Iterator[PartLine]:
    """Cables that are bought, like ones together, in metres."""
    groups: dict[tuple[str, str], list[int]] = {}
    pieces = [each for each in plan.circuit_parts or () if each.kind == CABLE]
    own = own_drives(plan)
    for place, each in enumerate(pieces):
        groups.setdefault((each.size, each.price_origin), []).append(place)
    for (size, origin), places in groups.items():
        alike = [pieces[place] for place in places]
        prices = [each.price.expected.number for each in alike if each.price is not None]
        yield PartLine(
            CABLE, size, f"{sum(each.quantity for each in alike):g} m", "buy",
            sum(prices) if len(prices) == len(alike) else None, origin, "",
            "ampacity, drop and earth fault of its circuit", (),
            tuple(dict.fromkeys(_said(each.circuit, own) for each in alike)),
        )  # fmt: skip


def _said(circuit: str, own: dict[str, str]) -> str:
    for drive, words in own.items():
        circuit = circuit.replace(drive, words)
    return circuit
