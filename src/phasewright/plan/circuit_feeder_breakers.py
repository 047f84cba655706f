"""The breaker ahead of a place's feeder as it stands in a shop under IEC: whether it carries what
runs there, and protects the feeder's conductors."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from phasewright.plan.circuit_changes import marked_near
from phasewright.plan.circuit_plan import PlanContext
from phasewright.plan.currents import running_sets
from phasewright.quantities.finding import Finding, Remedy
from phasewright.rules.overcurrent import device_acts, device_carries, device_protects
from phasewright.shop.standing import read_breaker
from phasewright.shop.supply import Place


def feeder_breakers_stand(of: PlanContext) -> tuple[Finding, ...]:
    """What IEC 60364-4-43, 433.1, says of every breaker of a feeder that is told."""
    if of.region != "IEC":
        return ()
    places = enumerate(of.choice.facts.shop.places)
    return tuple(each for number, place in places for each in _stands(of, place, number))


def _stands(of: PlanContext, place: Place, number: int) -> Iterator[Finding]:
    marked = "" if place.feeder is None else place.feeder.breaker
    read = read_breaker(marked, "IEC")
    used = any(site.place == place.name for site in of.choice.facts.places)
    if read is None or not used:
        return
    wrong = _wrong(of, place, marked)
    names = [name for name in marked_near(*read, "IEC") if wrong]
    ends = {rule: _first(of, place, rule, names) for rule in wrong}
    for rule, found in wrong.items():
        name = ends[rule]
        remedy = found.remedy
        if name is not None:
            path = f"places[{number}].feeder.breaker"
            remedy = Remedy(f"Fit {name} in its place.", path, name)
        yield replace(found, words=f"as it stands today: {found.words}", remedy=remedy)


def _first(of: PlanContext, place: Place, rule: str, names: list[str]) -> str | None:
    """The nearest breaker that ends it: one that breaks nothing, else any."""
    left = {name: _wrong(of, place, name) for name in names}
    clean = (name for name in names if not left[name])
    return next(clean, next((name for name in names if rule not in left[name]), None))


def _wrong(of: PlanContext, place: Place, marked: str) -> dict[str, Finding]:
    """What the rules find in this breaker there."""
    read = read_breaker(marked, "IEC")
    assert read is not None
    letter, rated = read
    limit, subject = of.tap(place.name).site.feeder, f"feeder {place.name}"
    bears = None if limit is None else limit.current_a.number
    rulings = (
        device_carries(_taken_a(of, place.name), rated, subject),
        device_protects(rated, bears, subject),
        device_acts(rated, bears, subject, fuse=letter == "gG"),
    )
    return {each.rule: each for ruling in rulings for each in ruling.findings}


def _taken_a(of: PlanContext, place: str) -> float:
    """The most that runs over the place's feeder in any set that turns together [A]."""
    admission, plan = of.choice.admission, of.plan
    sets = running_sets(of.choice, plan)
    return max((admission.feeder_a(plan.state, each, place) for each in sets), default=0.0)
