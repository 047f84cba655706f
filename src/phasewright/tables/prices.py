"""What a part costs: illustrative price curves, invented, told as such wherever shown.

Amounts are in units of no currency. The curves stand in `data/prices.toml`; the owner's quotes
replace them (that is done where the quotes are known, not here).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from phasewright.quantities.codes import Buyable
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value, spread
from phasewright.tables.published import Table, table

PRICE_WORDS = "illustrative price curve (invented)"
_SCALE = {
    "kW": 1e-3, "kVA": 1e-3, "uF": 1e6, "kWh": 1.0, "W": 1.0, "A": 1.0, "mm2": 1.0, "1": 1.0,
}  # fmt: skip
_SI = {"kW": "W", "kVA": "VA", "uF": "F", "1": ""}


@dataclass(frozen=True, slots=True)
class Price:
    """Price of one piece with its spread, how long it lasts and what it sells for later.

    `lowest_rating` and `highest_rating` bound the curve, in `rating_unit` (SI: W, VA, F, A;
    wires in mm2, batteries in kWh, "" for a piece without a rating).
    """

    kind: str
    what: str
    amount: float
    low: float
    high: float
    origin: str
    life_years: float
    resale_share: float
    resale_halving_years: float
    lowest_rating: float
    highest_rating: float
    rating_unit: str

    def resale(self, years: float) -> float:
        """What the piece still sells for after so many years."""
        return self.amount * self.resale_share * math.pow(0.5, years / self.resale_halving_years)

    def value(self) -> Value:
        """The amount as a value with its past."""
        return spread(
            self.amount, self.low, self.high, "", "assumed", f"{self.what}: {self.origin}"
        )


def price(kind: str, rating: float, *, origin: Buyable = "new") -> Price:
    """Price of one piece of this kind, by its rating in SI (`Price.rating_unit` says which).

    `origin`: `new`; `used` where a second-hand curve or factor exists; `self_built` for the
    rotary converter (materials without labour); `owned` costs nothing and has the life of new;
    `hired` is the price of a day, of the kinds that are priced by the day.
    Raises TableEnds outside the curve, for an unknown kind and for an origin without a curve.
    """
    if origin == "owned":
        return replace(price(kind, rating), amount=0.0, low=0.0, high=0.0, origin="owned")
    if origin == "self_built":
        return _curve(_named(kind, f"{kind}_self_built", origin), rating)
    if origin == "used" and f"{kind}_used" in _curves().rows:
        return _curve(f"{kind}_used", rating)
    new = _new(kind, rating)
    if origin in ("new", "hired"):
        return new
    factor = _curves().rows.get(kind, {}).get("used")
    if factor is None:
        raise TableEnds(f"no second-hand price curve for {new.what}")
    share, left = float(factor), float(_curves().rows[kind].get("used_life", 1.0))
    return replace(
        new, amount=new.amount * share, low=new.low * share, high=new.high * share,
        life_years=new.life_years * left,
    )  # fmt: skip


def standing_per_year(kind: str) -> Value:
    """Standing charge of a service, a year (`utility_service`)."""
    of = table("prices", "services")
    row = of.rows.get(kind, {})
    if "standing_per_year" not in row:
        raise TableEnds(f"no standing charge for {kind!r}")
    number, low, high = (float(entry) for entry in row["standing_per_year"])
    return spread(number, low, high, "", of.origin, f"standing charge: {PRICE_WORDS}")


def price_kinds() -> tuple[str, ...]:
    """Every kind that has a price."""
    named = (*_rows(_curves()), *_rows(table("prices", "stepped")))
    return (*named, *_rows(table("prices", "services")))


def _rows(of: Table) -> dict[str, dict[str, Any]]:
    return {name: row for name, row in of.rows.items() if isinstance(row, dict)}


@cache
def _curves() -> Table:
    return table("prices", "curves")


def _named(kind: str, name: str, origin: str) -> str:
    if name not in _curves().rows:
        raise TableEnds(f"no price curve for {kind!r} as {origin}")
    return name


def _new(kind: str, rating: float) -> Price:
    if kind in _rows(table("prices", "stepped")):
        return _step(kind, rating)
    if kind in _rows(table("prices", "services")):
        return _service(kind)
    return _curve(_named(kind, kind, "new"), rating)


def _curve(name: str, rating: float) -> Price:
    of = _curves()
    row = of.rows[name]
    scale = _SCALE[row["unit"]]
    at = rating * scale
    lowest, highest = (float(entry) for entry in row["valid"])
    if not lowest * (1.0 - 1e-9) <= at <= highest * (1.0 + 1e-9):
        raise TableEnds(
            f"{row['what']}: {at:g} {row['unit']} lies outside the price curve "
            f"({lowest:g} to {highest:g} {row['unit']})"
        )
    base, slope, exponent = (float(entry) for entry in row["curve"])
    amount = base + slope * math.pow(at, exponent)
    if at >= float(row.get("scarce_from", math.inf)) * (1.0 - 1e-9):
        amount *= float(row["scarce"])
    return _priced(name, of, row, amount, (lowest / scale, highest / scale))


def _step(kind: str, rating: float) -> Price:
    of = table("prices", "stepped")
    row = of.rows[kind]
    largest = float(row["rows"][-1][0])
    for size, amount in row["rows"]:
        if 0.0 <= rating <= size:
            return _priced(kind, of, row, float(amount), (0.0, largest))
    raise TableEnds(f"{row['what']}: {rating:g} {row['unit']} is beyond the price list")


def _priced(
    kind: str, of: Table, row: dict[str, Any], amount: float, valid: tuple[float, float]
) -> Price:
    share, halving = (float(entry) for entry in row["resale"])
    return Price(
        kind=kind,
        what=row["what"],
        amount=amount,
        low=amount * of.number("low"),
        high=amount * of.number("high"),
        origin=PRICE_WORDS,
        life_years=float(row["life_years"]),
        resale_share=share,
        resale_halving_years=halving,
        lowest_rating=valid[0],
        highest_rating=valid[1],
        rating_unit=_SI.get(row["unit"], row["unit"]),
    )


def _service(kind: str) -> Price:
    row = table("prices", "services").rows[kind]
    amount, low, high = (float(entry) for entry in row["amount"])
    return Price(
        kind=kind,
        what=row["what"],
        amount=amount,
        low=low,
        high=high,
        origin=PRICE_WORDS,
        life_years=float(row["life_years"]),
        resale_share=0.0,
        resale_halving_years=1.0,
        lowest_rating=0.0,
        highest_rating=math.inf,
        rating_unit="",
    )


def three_poles_ratio() -> float:
    """Price of a breaker or residual-current device of three poles over that of two (invented)."""
    return table("prices", "poles").number("three_over_two")


def choke_price_ratio(size_ratio: float) -> float:
    """Price of a choke over that of the usual one, by its inductance over the usual one's."""
    fixed = float(_curves().rows["ac_choke"]["fixed_share"])
    return fixed + (1.0 - fixed) * size_ratio
