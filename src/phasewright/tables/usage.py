"""What is taken where the owner does not say: hours, tariff, horizon, service, mains volts."""

from __future__ import annotations

from functools import cache

from phasewright.quantities.codes import Region
from phasewright.quantities.value import Value, spread
from phasewright.tables.published import table


@cache
def _value(name: str, key: str, unit: str, what: str) -> Value:
    of = table("usage", name)
    number, low, high = of.column(key)
    return spread(number, low, high, unit, of.origin, f"{what}: {of.words}")


def default_hours_per_year() -> Value:
    """Hours a year a machine's motors turn."""
    return _value("hours", "hours_per_year", "h", "hours a year")


def default_idle_ratio() -> Value:
    """Hours a converter is left on with nothing turning, over the turning hours."""
    return _value("idle", "ratio", "", "idle over turning hours")


def default_energy_price(region: Region) -> Value:
    """Price of one kWh in the shop's currency."""
    return _value("energy", region, "1/kWh", "price of energy")


def default_plan_years() -> Value:
    """How many years the plan looks ahead."""
    return _value("plan", "years", "years", "years of the plan")


def default_discount_rate() -> Value:
    """Discount rate a year, as a fraction."""
    return _value("plan", "discount_rate", "", "discount rate")


def default_chance() -> Value:
    """Chance that a planned machine comes."""
    return _value("plan", "chance", "", "chance of a planned machine")


def default_year() -> Value:
    """Years until a planned machine comes."""
    return _value("plan", "year", "years", "years until a planned machine comes")


def default_service_a(region: Region, country: str) -> Value:
    """Main fuse or breaker of a service: by country where one is listed, else by region."""
    known = table("usage", "service").rows
    key = country if country in known and country not in ("source", "status") else region
    return _value("service", key, "A", "service rating")


def mains_ratio(country: str) -> Value:
    """Volts at the outlet over nominal, where nobody has measured."""
    known = table("usage", "mains").rows
    key = country if country in known and country not in ("source", "status") else "usual"
    return _value("mains", key, "", "mains volts over nominal")
