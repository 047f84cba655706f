"""What may be chosen for each unit, and what may be shared: named, with the physics behind.

A unit's options are the ways of the catalogue with their offers, the shared converter, and being
left without power. A state is a converter with the hours it idles a year, or nothing shared.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from phasewright.plan.facts import Facts, OnDesign
from phasewright.plan.units import Unit
from phasewright.quantities.codes import WayName
from phasewright.quantities.identity import Same
from phasewright.ways.converter_design import Design
from phasewright.ways.converter_parts import Had, ways_to_have
from phasewright.ways.rotary_converter import NAME as ROTARY
from phasewright.ways.site import Site
from phasewright.ways.way import Offer


@dataclass(frozen=True, slots=True)
class Option:
    """One column of the choice: a way with the number of its offer, or nothing (way None)."""

    way: WayName | None
    offer: int = 0

    @property
    def shared(self) -> bool:
        """True where it hangs on the shared converter."""
        return self.way == ROTARY


UNSERVED = Option(None)


@dataclass(frozen=True, slots=True)
class State:
    """What is shared: a converter (index into the designs), how it is had, its idle hours."""

    design: int | None
    had: Had | None
    idle_hours: float

    @property
    def kind(self) -> str:
        """The kind of shared state, for the best plan of each kind."""
        return "none" if self.design is None else ROTARY


def options_of(facts: Facts) -> tuple[Option, ...]:
    """Every option any unit has, `UNSERVED` last."""
    found: list[Option] = []
    for judgements in facts.judgements:
        for judgement in judgements:
            if judgement.way == ROTARY:
                continue
            for number in range(len(judgement.offers)):
                option = Option(judgement.way, number)
                if option not in found:
                    found.append(option)
    order = {judgement.way: k for k, judgement in enumerate(facts.judgements[0])} if found else {}
    found.sort(key=lambda option: (order[option.way] if option.way else -1, option.offer))
    if facts.designs:
        found.append(Option(ROTARY))
    return (*found, UNSERVED)


def offer_of(facts: Facts, unit: int, option: Option) -> Offer | None:
    """The private offer behind an option; None where the unit has none."""
    for judgement in facts.judgements[unit]:
        if judgement.way != option.way or judgement.way == ROTARY:
            continue
        if option.offer < len(judgement.offers):
            return judgement.offers[option.offer]
    return None


def states_of(facts: Facts) -> tuple[State, ...]:
    """Nothing shared, then every converter in every way to have it at every idle habit.

    The hours a converter idles are the largest of the machines that hang on it (sessions
    overlap); each habit in the shop is a state of its own, and a motor may hang on a state only
    if its machine's habit fits into it.
    """
    habits = sorted({unit.idle_hours_per_year for unit in facts.units})
    found = [State(None, None, 0.0)]
    for number, on in enumerate(facts.designs):
        for had in _had(Same(facts.site), Same(on.design)):
            found.extend(State(number, had, hours) for hours in habits)
    return tuple(found)


@lru_cache(maxsize=1024)
def _had(site: Same[Site], of: Same[Design]) -> tuple[Had, ...]:
    return ways_to_have(site.it, of.it)


def on_design(facts: Facts, state: State) -> OnDesign | None:
    """The converter of a state, None where nothing is shared."""
    return None if state.design is None else facts.designs[state.design]


def fits_state(unit: Unit, state: State) -> bool:
    """Whether the unit's idle habit fits into the state's idle hours."""
    return unit.idle_hours_per_year <= state.idle_hours
