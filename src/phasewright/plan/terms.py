"""The money terms of a shop: horizon, discount, energy, labour. The only place they are read."""

from __future__ import annotations

from dataclasses import dataclass, replace

from phasewright.quantities.finding import Assumed
from phasewright.quantities.value import Value, exact
from phasewright.shop.model import Shop
from phasewright.tables.labour import compare_rate, electrician_share
from phasewright.tables.usage import (
    default_discount_rate,
    default_energy_price,
    default_plan_years,
)


@dataclass(frozen=True, slots=True)
class Terms:
    """Years the plan looks ahead, discount rate a year, price of a kWh, price of an hour.

    `own_hour` is what the owner counts an hour of their own, 0 where they do not.
    """

    years: float
    rate: float
    energy: Value
    hour: float
    labour_share: float
    assumed: tuple[Assumed, ...]
    own_hour: float = 0.0

    def same_but_energy(self, other: Terms) -> bool:
        """Whether everything but the price of energy is the same."""
        return replace(self, energy=other.energy, assumed=other.assumed) == other

    def energy_at(self, level: int) -> float:
        """Price of a kWh at its lowest, usual or highest."""
        return (self.energy.low, self.energy.number, self.energy.high)[level]

    def labour(self, hours: float) -> float:
        """What so many of the owner's hours cost under these terms."""
        return hours * self.labour_share * self.hour

    def own_time(self, hours: float) -> float:
        """What so many hours cost that nobody but the owner spends, at the machines."""
        return hours * self.own_hour


def terms_of(shop: Shop) -> Terms:
    """The terms as the owner gave them, else usual ones with their spread."""
    wishes, tariff = shop.wishes, shop.tariff
    assumed = []

    def given(number: float | None, usual: Value, field: str, path: str) -> Value:
        if number is not None:
            return exact(number, usual.unit, "stated", path)
        assumed.append(Assumed(field, path, usual))
        return usual

    years = given(wishes.plan_years, default_plan_years(), "years of the plan", "wishes.plan_years")
    if wishes.stay_years is not None:
        years = exact(min(years.number, wishes.stay_years), "years", "stated", "wishes.stay_years")
    rate = given(
        wishes.discount_rate, default_discount_rate(), "discount rate", "wishes.discount_rate"
    )
    energy = given(
        tariff.energy, default_energy_price(shop.region), "price of energy", "tariff.energy"
    )
    by_electrician = wishes.who_wires == "electrician"
    if isinstance(wishes.labour, (int, float)):
        hour = float(wishes.labour)
    else:
        hour = compare_rate() if by_electrician else 0.0
    return Terms(
        years.number, rate.number, energy, hour,
        electrician_share() if by_electrician else 1.0, tuple(assumed),
        0.0 if by_electrician else hour,
    )  # fmt: skip
