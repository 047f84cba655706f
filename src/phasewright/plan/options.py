"""What may be chosen for each unit, and what may be shared: named, with the physics behind.

A unit's options are the ways of the catalogue with their offers, hanging on what is shared by a
way, and being left without power. A state is something shared with the hours it idles a year, or
nothing shared.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from phasewright.plan.facts import Facts
from phasewright.plan.units import Unit
from phasewright.plan.worlds import HIGH, LOW, STEADY, USUAL, Levels
from phasewright.quantities.codes import WayName
from phasewright.quantities.identity import Same
from phasewright.ways.catalogue import SHARED_NAMES
from phasewright.ways.shared_source import Had, Shared
from phasewright.ways.way import Judgement, Offer

FEW_HABITS = 3
NOTHING = "none"
"""The kind of a state in which nothing is shared."""


@dataclass(frozen=True, slots=True)
class Option:
    """One column of the choice: a way with the number of its offer, or nothing (way None).

    Of a way that is shared the number is that of its variant.
    """

    way: WayName | None
    offer: int = 0

    @property
    def shared(self) -> bool:
        """True where it hangs on what is shared by its way."""
        return self.way in SHARED_NAMES


UNSERVED = Option(None)


@dataclass(frozen=True, slots=True)
class State:
    """What is shared: its index in the facts and its way, how it is had, its idle hours.

    `idle_ratio` is what the idle hours may turn out to be over what is usual.
    """

    shared: int | None
    way: WayName | None
    had: Had | None
    idle_hours: float
    idle_ratio: Levels = STEADY

    @property
    def kind(self) -> str:
        """The kind of shared state, for the best plan of each kind."""
        return NOTHING if self.way is None else self.way


def options_of(facts: Facts) -> tuple[Option, ...]:
    """Every option any unit has, `UNSERVED` last."""
    found: list[Option] = []
    for judgements in facts.judgements:
        for judgement in judgements:
            if judgement.way in SHARED_NAMES:
                continue
            for number in range(len(judgement.offers)):
                option = Option(judgement.way, number)
                if option not in found:
                    found.append(option)
    order = {judgement.way: k for k, judgement in enumerate(facts.judgements[0])} if found else {}
    found.sort(key=lambda option: (order[option.way] if option.way else -1, option.offer))
    found += dict.fromkeys(
        Option(one.way, variant)
        for one in facts.shared
        for variant in sorted(_variants(one, len(facts.units)))
    )
    return (*found, UNSERVED)


def _variants(on: Shared, units: int) -> set[int]:
    """The variants on which any unit hangs on this shared thing."""
    return {v for v in (on.variant_of(unit) for unit in range(units)) if v is not None}


def hangs_on(unit: int, option: Option, on: Shared | None) -> bool:
    """Whether the unit may hang on this shared thing, and does so under this option."""
    return on is not None and on.way == option.way and on.variant_of(unit) == option.offer


def offer_of(facts: Facts, unit: int, option: Option) -> Offer | None:
    """What a unit has of its own under an option; None where it has nothing."""
    return _offer(Same(facts.judgements), Same(facts.shared), unit, option)


@lru_cache(maxsize=1 << 11)
def _offer(
    judgements: Same[tuple[tuple[Judgement, ...], ...]],
    shared: Same[tuple[Shared, ...]],
    unit: int,
    option: Option,
) -> Offer | None:
    if option.shared:
        served = (on.serves(unit) for on in shared.it if hangs_on(unit, option, on))
        return next((one.own for one in served if one is not None), None)
    for judgement in judgements.it[unit]:
        if judgement.way != option.way or judgement.way in SHARED_NAMES:
            continue
        if option.offer < len(judgement.offers):
            return judgement.offers[option.offer]
    return None


def states_of(facts: Facts) -> tuple[State, ...]:
    """Nothing shared, then every shared thing in every way to have it at every idle habit.

    The hours a thing idles are the largest of the machines that hang on it (sessions overlap);
    each habit of a machine it may serve is a state of its own, and a motor may hang on a state only
    if its machine's habit fits into it. What takes nothing while it idles, or the same all the
    year, has one state for all.
    """
    found = [State(None, None, None, 0.0)]
    for number, one in enumerate(facts.shared):
        hung = (unit for k, unit in enumerate(facts.units) if one.serves(k) is not None)
        habits = sorted({unit.idle_hours_per_year for unit in hung})
        ways = _habits(one, habits)
        for had in one.hads:
            found.extend(
                State(number, one.way, had, hours, _idle_ratio(facts, hours)) for hours in ways
            )
    return tuple(found)


def _habits(one: Shared, habits: list[float]) -> list[float]:
    """The idle habits that a shared thing is weighed for, the largest with them."""
    if one.idle_power_w <= 0.0 or one.always_on:
        return habits[-1:]
    return habits[:: -max(1, len(habits) // FEW_HABITS)] if one.few_habits else habits


def _idle_ratio(facts: Facts, hours: float) -> Levels:
    """Idle hours at each level over the usual ones: those of the machine that idles longest then,
    of all whose habit fits."""
    if hours <= 0.0:
        return STEADY
    fit = [unit for unit in facts.units if unit.idle_hours_per_year <= hours]
    low, usual, high = (
        max(unit.idle_hours_per_year * unit.idle_ratio[level] for unit in fit) / hours
        for level in (LOW, USUAL, HIGH)
    )
    return low, usual, high


def shared_of(facts: Facts, state: State) -> Shared | None:
    """What is shared in a state, None where nothing is."""
    return None if state.shared is None else facts.shared[state.shared]


def fits_state(unit: Unit, state: State) -> bool:
    """Whether the unit's idle habit fits into the state's idle hours."""
    return unit.idle_hours_per_year <= state.idle_hours
