"""What a plan's circuits cost: cables, breakers, residual-current devices, isolators, outlets.

The owner's quotes before illustrative price curves (invented). What lies there already costs
nothing, and what a way's own purchase holds is not counted twice. Circuits are priced once they
are laid: the search weighs plans without them, and the answer tells whether they change the order.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from phasewright.circuits.installation import ResidualCurrentDevice
from phasewright.plan.circuit_jobs import Job
from phasewright.plan.circuit_study import PlanCircuit
from phasewright.plan.circuit_words import device_words, residual_words
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value, figure
from phasewright.shop.model import Quote
from phasewright.tables.prices import three_poles_ratio
from phasewright.ways.figures import Buy, Range
from phasewright.ways.purchase import item

M2_PER_MM2 = 1e-6
CORES = 3.0
"""Cores of the cable that is priced; one with more costs as much more."""
IN_BUYS = ("isolator", "residual_current_b")
"""Parts of a purchase that stand in circuits too."""


@dataclass(frozen=True, slots=True)
class CircuitPart:
    """A piece of a circuit that is bought. `rating` in `unit` (mm2, A, mA), `quantity` in metres of
    a cable, else in pieces; `size` is what is asked for at the counter; `price` with its spread,
    absent where no curve and no quote reaches."""

    circuit: str
    kind: str
    size: str
    rating: float
    unit: str
    quantity: float
    price: Range | None
    price_origin: str


def parts_of(
    circuits: Sequence[PlanCircuit], jobs: Iterable[Job], buys: Sequence[Buy],
    quotes: Sequence[Quote],
) -> tuple[CircuitPart, ...]:  # fmt: skip
    """Every piece of these circuits that is to be bought: nothing that stands there and serves."""
    lies_there = {job.id: job.run.conductor_m2 or 0.0 for job in jobs}
    bought = [
        (part.kind, (motor, f"{buy.kind} {motor}"))
        for buy in buys
        if buy.year == 0
        for part in buy.parts
        for motor in buy.serves[:1]
        if part.kind in IN_BUYS
    ]
    ends = {each.id: each.to for each in circuits}
    found: list[CircuitPart] = []
    devices = {each.id for each in circuits if "residual_current" in each.there}
    for each in circuits:
        found += _cable(each, lies_there[each.id], quotes)
        found += _breaker(each, quotes)
        device = each.residual_current
        at = each.id if device is None or device.at is None else device.at
        if device is not None and not device.upstream and at not in devices:
            devices.add(at)
            found += _residual(each, device, at, quotes)
        found += _switches(each, quotes)
    return tuple(each for each in found if not _taken(each, ends[each.circuit], bought))


def cost_of(parts: Sequence[CircuitPart]) -> Range | None:
    """What they cost together; None where one of them has no price, or there are none."""
    prices = [each.price for each in parts if each.price is not None]
    if not parts or len(prices) < len(parts):
        return None
    by_kind: dict[str, float] = {}
    for each in parts:
        if each.price is not None:
            by_kind[each.kind] = by_kind.get(each.kind, 0.0) + each.price.expected.number
    words = "sum of " + " and ".join(sorted({each.price_origin for each in parts}))
    whole = figure(
        sum(by_kind.values()), "", "plan.circuit_prices.cost_of",
        {kind: (amount, "") for kind, amount in by_kind.items()}, words,
    )  # fmt: skip
    return Range(sum(p.low for p in prices), whole, sum(p.high for p in prices))


def _taken(part: CircuitPart, end: str, bought: list[tuple[str, tuple[str, str]]]) -> bool:
    """Whether the plan's own purchase holds this piece; each of those stands for one."""
    same = (each for each in bought if each[0] == part.kind and end in each[1])
    first = next(same, None)
    if first is None:
        return False
    bought.remove(first)
    return True


def _cable(of: PlanCircuit, there_m2: float, quotes: Sequence[Quote]) -> list[CircuitPart]:
    if of.conductor_m2 is None or of.conductor_m2 <= there_m2 * (1.0 + 1e-3):
        return []
    length = of.length_m
    ratio, size = (of.loaded + 1) / CORES, f"{of.loaded} × {of.conductor} and earth"
    mm2 = of.conductor_m2 / M2_PER_MM2
    return [_part(of.id, "cable", size, mm2, "mm2", quotes, length, ratio)]


def _breaker(of: PlanCircuit, quotes: Sequence[Quote]) -> list[CircuitPart]:
    if of.device is None or "breaker" in of.there:
        return []
    ratio = three_poles_ratio() if of.loaded == 3 else 1.0
    size = f"{device_words(of.device)}, {of.loaded} poles"
    return [_part(of.id, "breaker_two_pole", size, of.device.rating_a, "A", quotes, None, ratio,
                  quote_kind="breaker")]  # fmt: skip


def _residual(
    of: PlanCircuit, device: ResidualCurrentDevice, at: str, quotes: Sequence[Quote]
) -> list[CircuitPart]:
    kind = f"residual_current_{'a' if device.type == 'AC' else device.type.lower()}"
    three = of.loaded == 3 and at == of.id
    ratio = three_poles_ratio() if three else 1.0
    size = f"{residual_words(device)}, {3 if three else 2} poles"
    part = _part(at, kind, size, device.rating_ma, "mA", quotes, None, ratio,
                 quote_kind="residual_current_device")  # fmt: skip
    return [part]


def _switches(of: PlanCircuit, quotes: Sequence[Quote]) -> list[CircuitPart]:
    found = []
    if of.isolator is not None and "isolator" not in of.there:
        rating, poles = of.isolator.rating_a, of.isolator.poles
        size = f"{rating:g} A, {poles} poles"
        found.append(_part(of.id, "isolator", size, rating, "A", quotes))
    if of.socket is not None and "socket" not in of.there:
        size = f"{of.socket.rating_a:g} A, {of.socket.pattern}"
        found.append(_part(of.id, "plug_and_socket", size, of.socket.rating_a, "A", quotes))
    return found


def _part(
    circuit: str, kind: str, size: str, rating: float, unit: str, quotes: Sequence[Quote],
    metres: Value | None = None, ratio: float = 1.0, quote_kind: str | None = None,
) -> CircuitPart:  # fmt: skip
    """One piece, or metres of a cable, whose spread is that of length and price together."""
    count = 1.0 if metres is None else metres.number
    try:
        of = item(kind, rating, unit, quotes, quote_kind=quote_kind).price
    except TableEnds as ends:
        return CircuitPart(circuit, kind, size, rating, unit, count, None, f"not priced: {ends}")
    low, high = (1.0, 1.0) if metres is None else (metres.low, metres.high)
    inputs = {"one": (of.amount, ""), "quantity": (count, "" if metres is None else "m"),
              "poles or cores": (ratio, "")}  # fmt: skip
    expected = figure(
        of.amount * ratio * count, "", "plan.circuit_prices.parts_of", inputs, of.origin
    )
    return CircuitPart(
        circuit, kind, size, rating, unit, count,
        Range(of.low * ratio * low, expected, of.high * ratio * high), of.origin,
    )  # fmt: skip


def with_prices(of: Range, price: Value) -> Value:
    """A sum of the plan with its circuits; corners of both."""
    return replace(
        figure(
            price.number + of.expected.number, "", "plan.circuit_prices.with_prices",
            {"without": (price.number, ""), "circuits": (of.expected.number, "")}, price.source,
        ),
        low=price.low + of.low, high=price.high + of.high,
    )  # fmt: skip
