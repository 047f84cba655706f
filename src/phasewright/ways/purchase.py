"""What is bought, piece by piece: the owner's quotes before the illustrative price curves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from phasewright.quantities.codes import Buyable, WayName
from phasewright.quantities.value import Value, spread
from phasewright.shop.model import Quote
from phasewright.tables.prices import Price, price
from phasewright.ways.figures import Buy, Part

QUOTED = "quote of the owner"
SAME_RATING = 0.02
"""A quote prices the rating it names, to within this ratio."""


@dataclass(frozen=True, slots=True)
class Item:
    """So many pieces of one kind and rating, with their price, life and resale."""

    kind: str
    rating: float
    unit: str
    quantity: int
    price: Price

    @property
    def amount(self) -> float:
        """Price of all pieces together."""
        return self.price.amount * self.quantity

    def part(self) -> Part:
        """The item as a line of the result file."""
        return Part(
            kind=self.kind,
            rating=self.rating,
            unit=self.unit,
            quantity=self.quantity,
            price=self.amount,
            price_origin=self.price.origin,
            owned=self.price.origin == "owned",
        )


def item(
    kind: str,
    rating: float,
    unit: str,
    quotes: Sequence[Quote],
    *,
    quantity: int = 1,
    origin: Buyable = "new",
    quote_kind: str | None = None,
) -> Item:
    """One item at the owner's quote for this kind, rating and origin, else from the curve.

    `rating` in the SI unit `unit`. Raises TableEnds where neither a curve nor a quote reaches;
    life and resale always come from the curve.
    """
    curve = price(kind, rating, origin=origin)
    quoted = _quote(quote_kind or kind, rating, origin, quotes)
    if quoted is not None and origin != "owned":
        curve = replace(curve, amount=quoted, low=quoted, high=quoted, origin=QUOTED)
    return Item(kind, rating, unit, quantity, curve)


def _quote(kind: str, rating: float, origin: Buyable, quotes: Sequence[Quote]) -> float | None:
    """The owner's price for this; a quote without a rating prices every rating of its kind."""
    for quote in quotes:
        given = next(
            (v for v in (quote.power, quote.rating, quote.current, quote.capacitance) if v), None
        )
        fits = given is None or abs(given.number / rating - 1.0) <= SAME_RATING
        if quote.kind == kind and (quote.origin or "new") == origin and fits:
            return quote.price
    return None


def buy(
    way: WayName,
    rating: float,
    unit: str,
    serves: tuple[str, ...],
    items: Sequence[Item],
    *,
    origin: Buyable = "new",
    year: int = 0,
) -> Buy:
    """A purchase made of its items; its price is their sum."""
    origins = {item.price.origin for item in items if item.price.origin != "owned"}
    return Buy(
        kind=way,
        rating=rating,
        unit=unit,
        quantity=1,
        year=year,
        origin=origin,
        serves=serves,
        price=sum(item.amount for item in items),
        price_origin=" and ".join(sorted(origins)) or ("hired" if origin == "hired" else "owned"),
        parts=tuple(item.part() for item in items),
    )


def quoted(items: Sequence[Item], *kinds: str) -> bool:
    """Whether the owner has a quote for every item of these kinds."""
    return all(item.price.origin == QUOTED for item in items if item.kind in kinds)


def total(items: Sequence[Item], what: str) -> Value:
    """Price of all items together with its spread, as a figure's value."""
    low = sum(item.price.low * item.quantity for item in items)
    high = sum(item.price.high * item.quantity for item in items)
    origins = sorted({item.price.origin for item in items})
    amount = sum(item.amount for item in items)
    return spread(amount, low, high, "", "assumed", f"{what}: {', '.join(origins)}")
