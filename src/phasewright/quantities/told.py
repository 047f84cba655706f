"""Figures as an owner reads them, the same on the screen, on the page and on paper."""

from __future__ import annotations

from phasewright.quantities import units
from phasewright.quantities.kinds import KINDS
from phasewright.quantities.value import Value

_SI = frozenset(kind.si for kind in KINDS.values())


def money(number: float, currency: str | None) -> str:
    """An amount of money; without a currency it carries no sign."""
    amount = f"{number:,.0f}" if abs(number) >= 100 else f"{number:,.2f}"
    return f"{amount} {currency}" if currency else amount


def spread(value: Value) -> str:
    """A figure with its lowest and highest credible value, where they differ as printed."""
    low, high = amount(value.low, value.unit), amount(value.high, value.unit)
    middle = amount(value.number, value.unit)
    if low == high:
        return middle
    units_of = {text.partition(" ")[2] for text in (low, middle, high)}
    if len(units_of) == 1:
        low = low.partition(" ")[0]
    return f"{middle} ({low} to {high})"


def amount(number: float, unit: str) -> str:
    """A number in the unit an owner reads; relays and clamps are marked in amps, not in parts."""
    if unit == "A" and 0.1 <= abs(number) < 1.0:
        return f"{number:.3g} A"
    if unit in _SI and unit != "kWh":
        return units.format(number, unit)
    if unit == "1/h":
        return f"{_digits(number)} an hour"
    if unit.startswith("1/"):
        return f"{_digits(number)} a {unit[2:]}"
    return f"{_digits(number)} {unit}".rstrip()


def _digits(number: float) -> str:
    shown = f"{number:,.0f}" if abs(number) >= 1000 else f"{number:.3g}"
    return shown.replace("-", "\N{MINUS SIGN}")
