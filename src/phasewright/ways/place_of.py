"""A place with its own feeder: what its conductors let through, and the air that is there."""

from __future__ import annotations

from dataclasses import replace

from phasewright.circuits.cables import sizes
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.finding import Assumed, Finding, Remedy
from phasewright.quantities.value import exact
from phasewright.quantities.words import place_words
from phasewright.shop.model import Shop
from phasewright.shop.supply import Feeder, Place, Supply
from phasewright.tables.feeders import feeder_ampacity
from phasewright.ways.site import Limit, Surroundings


def loaded_conductors(supply: Supply) -> int:
    """How many conductors of a place's feeder carry load under the supply as it is."""
    return 3 if supply.kind == "three_phase" else 2


def feeder_there(place: Place) -> Feeder | None:
    """The cable to a place; None where none is told, or one without any length."""
    feeder = place.feeder
    if feeder is None or (feeder.length is not None and feeder.length.number == 0.0):
        return None
    return feeder


def path_of(shop: Shop, place: Place) -> str:
    """Where the place stands in the shop file."""
    return f"places[{[each.name for each in shop.places].index(place.name)}]"


def feeder_limit(shop: Shop, place: Place, loaded: int) -> Limit | None:
    """What the feeder's conductors carry; None where that is not known (`feeder_findings`).

    Other loads of the supply hang at the intake, so they do not share it.
    """
    feeder = feeder_there(place)
    if feeder is None or feeder.conductor is None:
        return None
    try:
        amps = feeder_ampacity(
            feeder.conductor.number, feeder.material, feeder.method, shop.region, loaded,
            ambient_of(place),
        )  # fmt: skip
    except TableEnds:
        return None
    words = f"the feeder of {place_words(place.name)}"
    return Limit(amps, words, f"{path_of(shop, place)}.feeder.conductor", beside_others=False)


def larger_feeder(shop: Shop, name: str, amps: float) -> Remedy | None:
    """The thinnest cable sold, laid as the one to the place, that carries so much."""
    place = next((each for each in shop.places if each.name == name), None)
    if place is None or place.feeder is None or place.feeder.conductor is None:
        return None
    for size in sizes(shop.region):
        laid = replace(place.feeder, conductor=exact(size.area_m2, "m2", "stated", "remedy"))
        limit = feeder_limit(shop, replace(place, feeder=laid), loaded_conductors(shop.supply))
        if limit is not None and limit.current_a.number >= amps:
            path = f"{path_of(shop, place)}.feeder.conductor"
            return Remedy(f"Lay a cable of {size.name}.", path, size.name)
    return None


def places_used(shop: Shop) -> tuple[Place, ...]:
    """Places where a machine stands, by name, so that their order in the file changes nothing."""
    named = {machine.place for machine in shop.machines}
    return tuple(sorted((p for p in shop.places if p.name in named), key=lambda p: p.name))


def place_findings(shop: Shop) -> tuple[Finding, ...]:
    """What of the places could not be counted."""
    return tuple(each for place in places_used(shop) for each in feeder_findings(shop, place))


def place_assumptions(shop: Shop) -> tuple[Assumed, ...]:
    """What a feeder is taken to carry where it is not told how it is laid."""
    found = []
    for place in places_used(shop):
        limit = feeder_limit(shop, place, loaded_conductors(shop.supply))
        told = place.feeder is None or place.feeder.method is not None or shop.region == "NEC"
        if limit is not None and not told:
            path = f"{path_of(shop, place)}.feeder.method"
            found.append(Assumed(f"what {limit.words} carries", path, limit.current_a))
    return tuple(found)


def feeder_findings(shop: Shop, place: Place) -> tuple[Finding, ...]:
    """What of a place's feeder could not be counted, so that all there is judged too kindly."""
    feeder = feeder_there(place)
    if feeder is None:
        return ()
    path, words = f"{path_of(shop, place)}.feeder", f"the feeder of {place_words(place.name)}"
    if feeder.length is None or feeder.conductor is None:
        key = "length" if feeder.length is None else "conductor"
        return (
            Finding(
                f"place.feeder_not_known:{place.name}", "place_feeder", "caution", place.name,
                f"of {words} the {key} is not told: its volts lost are not counted"
                + ("" if feeder.conductor is not None else ", nor what it may carry"),
                remedy=Remedy("Pace out its length, read its size off its sheath.",
                              f"{path}.{key}"),
                source="common practice, no source",
            ),
        )  # fmt: skip
    if feeder_limit(shop, place, loaded_conductors(shop.supply)) is not None:
        return ()
    return (
        Finding(
            f"place.feeder_limit_not_known:{place.name}", "place_feeder", "caution", place.name,
            f"what {words} may carry lies outside the tables, so it is not counted as a limit",
            remedy=Remedy("Ask an electrician what it may carry.", f"{path}.conductor"),
            source="common practice, no source",
        ),
    )  # fmt: skip


def ambient_of(place: Place) -> float | None:
    """The air of a place [degC], where it is told."""
    return None if place.ambient is None else place.ambient.number


def surroundings_of(place: Place) -> Surroundings:
    """The air, dust and damp of a place."""
    return Surroundings(
        ambient_of(place),
        None if place.altitude is None else place.altitude.number,
        place.dust,
        place.damp,
    )
