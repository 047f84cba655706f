"""Sentences of the shop's drawing that tell what its owner told: nothing in them is computed."""

from __future__ import annotations

from phasewright.papers.shop_parts import Told
from phasewright.papers.shop_told import sentence, told
from phasewright.quantities.told import amount
from phasewright.shop.machine import Consumer, Machine
from phasewright.shop.model import Shop
from phasewright.shop.supply import Feeder, Place


def of_place(place: Place) -> tuple[Told, ...]:
    """What is told of a place, in one sentence; none where nothing is."""
    parts = [_cable(place.feeder)] if place.feeder is not None else []
    if place.electrode is not None:
        parts.append(f"an earth rod of {amount(place.electrode.number, 'ohm')}")
    device = place.residual_current
    if device is not None and device.rating is not None:
        parts.append(f"a residual-current device of {1000.0 * device.rating.number:g} mA")
    parts += [word for word, is_so in (("dusty", place.dust), ("damp", place.damp)) if is_so]
    parts = [part for part in parts if part]
    return (sentence("", parts),) if parts else ()


def fuse(shop: Shop) -> str:
    """What limits the supply; empty where that is not told."""
    rating = shop.supply.service_rating
    if rating is not None:
        return f"main fuse {amount(rating.number, 'A')}"
    limit = shop.supply.contracted_power
    return "" if limit is None else f"limit {amount(limit.number, 'VA')}"


def feeder(shop: Shop) -> str:
    """The cable of the supply; empty where nothing is told of it."""
    return "" if shop.supply.feeder is None else _cable(shop.supply.feeder)


def _cable(feeder: Feeder) -> str:
    """A feeder in words; empty where nothing is told of it."""
    parts = []
    if feeder.length is not None:
        parts.append(amount(feeder.length.number, "m"))
    if feeder.conductor is not None:
        parts.append(f"{feeder.conductor.number * 1e6:.3g} mm² {feeder.material}")
    return f"feeder {' of '.join(parts)}" if parts else ""


def consumer(other: Consumer) -> Told:
    """A consumer that is no motor."""
    size = ""
    if other.power is not None:
        size = amount(other.power.number, "W")
    elif other.current is not None:
        size = amount(other.current.number, "A")
    return sentence("", [other.kind.replace("_", " "), size])


def to_come(machine: Machine) -> Told:
    """That a machine may come, when and how likely."""
    chance = "" if machine.chance is None else f", {machine.chance:.0%} likely"
    when = "" if machine.year is None else f" in {machine.year:g} years"
    return told(f"May come{when}{chance}.")


def on_the_line(machine: Machine) -> str:
    """Chance and year of a machine to come, as few letters as stand beside a line."""
    year = "" if machine.year is None else f"year {machine.year:g}"
    chance = "" if machine.chance is None else f"{machine.chance:.0%}"
    return ", ".join(filter(None, (year, chance))) or "may come"
