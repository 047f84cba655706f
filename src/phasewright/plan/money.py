"""Money over the years of a plan, worth today. Pure functions; any one currency.

A payment falls due at a time in years from now. Yearly amounts are paid at the end of each year
of their span, a part of a year by its share at its own end. (Common practice, no source.)
Present value: E. L. Grant, W. G. Ireson, Principles of Engineering Economy (from memory): an
amount due in t years is worth amount / (1 + rate)^t today.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from math import inf, isfinite

from phasewright.quantities.errors import UsageError


@dataclass(frozen=True, slots=True)
class Payment:
    """An amount (income below zero) due at a time in years from now."""

    year: float
    amount: float


@lru_cache(maxsize=1 << 12)
def discount(rate: float, year: float) -> float:
    """Worth today of 1 due in so many years; 1 at rate 0 and at year 0.

    `rate` is a fraction a year, above -1 (UsageError).
    """
    if not (isfinite(rate) and rate > -1):
        message = f"a discount rate of {rate} cannot be reckoned with; it must be above -1"
        raise UsageError(message)
    return float((1 + rate) ** -year)


def present_value(payments: Iterable[Payment], rate: float) -> float:
    """Worth today of payments; their plain sum at rate 0."""
    return sum((p.amount * discount(rate, p.year) for p in payments), 0.0)


def yearly(amount: float, start: float, end: float) -> tuple[Payment, ...]:
    """A yearly amount from `start` to `end` [years from now], paid at the end of each year.

    Nothing where `end` is not after `start`. The last part of a year pays its share at `end`.
    """
    return tuple([Payment(due, amount * part) for due, part in _dues(start, end)])


@lru_cache(maxsize=1 << 10)
def _dues(start: float, end: float) -> tuple[tuple[float, float], ...]:
    """When a yearly amount falls due, and for what part of a year."""
    dues: list[tuple[float, float]] = []
    year = start
    while year < end:
        due = min(year + 1, end)
        dues.append((due, due - year))
        year += 1
    return tuple(dues)


@lru_cache(maxsize=1 << 14)
def yearly_value(amount: float, rate: float, start: float, end: float) -> float:
    """Worth today of a yearly amount between two years; amount times the span at rate 0."""
    return present_value(yearly(amount, start, end), rate)


@dataclass(frozen=True, slots=True)
class Thing:
    """What is bought: price, life [years], and what it sells for.

    At age t it sells for price * resale_share * 0.5 ** (t / halving_years); worn out (age at or
    above life) for nothing. `halving_years` of inf keeps the share for life. A thing already
    `owned` costs nothing to begin with and brings nothing when sold, because selling it was open
    to its owner all along; it is `age_years` old when it is put to use, and what replaces it is
    bought and sold as any other.
    """

    price: float
    life_years: float = inf
    resale_share: float = 0.0
    halving_years: float = inf
    owned: bool = False
    age_years: float = 0.0

    def __post_init__(self) -> None:
        """Refuse what cannot be (UsageError)."""
        if not self.life_years > 0 or not self.halving_years > 0:
            raise UsageError("a life and the time in which a price halves must be above 0")
        if self.age_years < 0 or not 0 <= self.resale_share <= 1:
            raise UsageError("an age below 0 or a resale share outside 0 to 1")

    def resale(self, age_years: float) -> float:
        """What it sells for at an age, bought new."""
        if age_years >= self.life_years:
            return 0.0
        return float(self.price * self.resale_share * 0.5 ** (age_years / self.halving_years))


def keeping(thing: Thing, start: float, end: float) -> tuple[Payment, ...]:
    """Having a thing from `start` to `end`: bought, replaced as it wears out, sold at the end.

    A thing that wears out just at the end is not replaced. Nothing where `end` is not after
    `start`.
    """
    if end <= start:
        return ()
    payments: list[Payment] = []
    begun = start
    mine = thing.owned
    worn = start + (thing.life_years - thing.age_years if mine else thing.life_years)
    if not mine:
        payments.append(Payment(start, thing.price))
    while worn < end:
        begun, mine = max(worn, start), False
        payments.append(Payment(begun, thing.price))
        worn = begun + thing.life_years
    if not mine:
        payments.append(Payment(end, -thing.resale(end - begun)))
    return tuple(payment for payment in payments if payment.amount != 0)


@lru_cache(maxsize=1 << 14)
def keeping_value(thing: Thing, rate: float, start: float, end: float) -> float:
    """Worth today of having a thing from `start` to `end`; see `keeping`."""
    return present_value(keeping(thing, start, end), rate)


def giving_up(thing: Thing, year: float, end: float) -> tuple[Payment, ...]:
    """What changes when a thing kept from now to `end` is sold in `year` instead.

    The payments of `keeping` to the year less those of `keeping` to the end: the sale comes
    early, later replacements and the sale at the end fall away.
    """
    early = keeping(thing, 0.0, min(year, end))
    return early + tuple(Payment(p.year, -p.amount) for p in keeping(thing, 0.0, end))


@lru_cache(maxsize=1 << 14)
def giving_up_value(thing: Thing, rate: float, year: float, end: float) -> float:
    """Worth today of what changes when a thing is sold in `year`; see `giving_up`."""
    return present_value(giving_up(thing, year, end), rate)
