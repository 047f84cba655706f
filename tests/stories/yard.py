"""The yard of two buildings, with one thing of it changed at a time."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

from phasewright.files.shop_file import read
from phasewright.plan.arrays import choice_of
from phasewright.plan.facts import facts_of
from phasewright.plan.terms import terms_of
from phasewright.quantities.value import exact
from phasewright.shop.model import Shop
from phasewright.shop.supply import Feeder

FEEDERS = {
    # length [m], conductor [mm2]
    "usual": (60.0, 10.0),
    "none": (0.0, 10.0),
    "short": (20.0, 10.0),
    "long": (140.0, 10.0),
    "thin": (60.0, 4.0),
    "longest": (300.0, 4.0),
}


@cache
def yard() -> Shop:
    return read(Path(__file__).parent / "two_buildings.shop.yaml")


def feeder(length_m, area_mm2, **more):
    return Feeder(
        length=exact(length_m, "m", "stated", "test"),
        conductor=exact(1e-6 * area_mm2, "m2", "stated", "test"),
        method="buried",
        **more,
    )


def barn(shop=None, **changes):
    """The yard with other facts of its barn."""
    shop = yard() if shop is None else shop
    return replace(shop, places=(replace(shop.places[0], **changes),))


def fed(name):
    return barn(feeder=feeder(*FEEDERS[name]))


def moved(shop, place):
    """Every machine in one place; empty for the intake."""
    return replace(shop, machines=tuple(replace(m, place=place) for m in shop.machines))


@cache
def facts(name="usual"):
    return facts_of(fed(name))


def judged(of, motor, way):
    unit = next(k for k, unit in enumerate(of.units) if unit.id == motor)
    return next(each for each in of.judgements[unit] if each.way == way)


def choice(of):
    return choice_of(of, terms_of(of.shop))
