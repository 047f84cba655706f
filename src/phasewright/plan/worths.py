"""Present values of a ledger's payments, each reckoned once: what the arrays are filled from.

The payments themselves stand in `payments`; here they are only summed, things by the level of
their prices, energy as kilowatt-hours by the level of hours. What an item is worth over a span
depends on the item, the level, the span and the rate alone, so it is kept from one choice to the
next while a fact such as the price of energy is turned.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import lru_cache, partial

import numpy as np

from phasewright.plan.money import discount, giving_up_value, keeping_value, yearly_value
from phasewright.plan.options import Option, State, hangs_on, offer_of
from phasewright.plan.payments import KWH_PER_WH, Entry, Ledger, thing_of
from phasewright.plan.problem import Flags, Floats, Integers
from phasewright.plan.prospects import Prospect
from phasewright.plan.worlds import USUAL, Levels, World
from phasewright.quantities.identity import Same
from phasewright.ways.purchase import Item
from phasewright.ways.shared_source import Had

Items = tuple[Item, ...]
Key = tuple[str, int, float]
_THINGS = ("begin", "end", "enter", "leave")
"""What rests on prices, work and years alone."""


@lru_cache(maxsize=1 << 16)
def kept_worth(items: Same[Items], level: int, rate: float, start: float, end: float) -> float:
    """Worth today of having these things between two years, prices at this level."""
    return sum((keeping_value(thing_of(item, level), rate, start, end) for item in items.it), 0.0)


@lru_cache(maxsize=1 << 16)
def given_up_worth(items: Same[Items], level: int, rate: float, year: float, end: float) -> float:
    """Worth today of selling in `year` what was to be kept from now to `end`."""
    return sum((giving_up_value(thing_of(item, level), rate, year, end) for item in items.it), 0.0)


@dataclass(frozen=True, slots=True, eq=False)
class Watts:
    """Mean watts of every unit while it turns: private (U, A), hung on the k-th shared thing
    (K, U, A), and whether that is to be had at all; `idle_w` is taken while nothing turns."""

    private_w: Floats
    private_has: Flags
    idle_w: Floats
    shared_w: Floats
    shared_has: Flags


@dataclass(slots=True, eq=False)
class Worths:
    """Arrays of a ledger's present values and yearly amounts; (S,) by state, (U, A) by unit and
    option, (S, U, A) by all; infinite where an option is not to be had."""

    ledger: Ledger
    _kept: dict[Key, Floats] = field(default_factory=dict)
    watts: Watts | None = None
    _states: Integers | None = None

    def __post_init__(self) -> None:
        """Ask every service once."""
        if self.watts is None:
            self.watts = watts_of(self.ledger)

    def of(self, ledger: Ledger) -> Worths:
        """The same for another ledger, with what does not differ kept: what things and work are
        worth, where the same are offered to the same units under the same terms."""
        mine, its = self.ledger, ledger
        same_offers = (
            its.facts.judgements is mine.facts.judgements
            and its.facts.shared is mine.facts.shared
            and its.options == mine.options
            and [unit.id for unit in its.facts.units] == [unit.id for unit in mine.facts.units]
        )
        if not same_offers:
            return Worths(ledger)
        if not its.terms.same_but_energy(mine.terms):
            return Worths(ledger, watts=self.watts)
        kept = {key: value for key, value in self._kept.items() if key[0] in _THINGS}
        return Worths(ledger, kept, self.watts)

    def begin(self, prospect: Prospect, year: float) -> Floats:
        """(U, A) buying and fitting an option's own things in a year, kept to the end."""
        return self._mean("begin", prospect, year, self._begin)

    def end(self, prospect: Prospect, year: float) -> Floats:
        """(U, A) what changes when what was begun today is given up in a year."""
        return self._mean("end", prospect, year, self._end)

    def enter(self, prospect: Prospect, year: float) -> Floats:
        """(S,) having a state from a year on, without its yearly costs."""
        return self._mean("enter", prospect, year, self._enter)[self._column()]

    def leave(self, prospect: Prospect, year: float) -> Floats:
        """(S,) what changes when a state held from today is given up in a year."""
        return self._mean("leave", prospect, year, self._leave)[self._column()]

    def state_yearly(self, prospect: Prospect) -> Floats:
        """(S,) idle energy, upkeep and standing cost of a year."""
        usual = self._yearly("state", prospect, self._state_kwh, self._state_upkeep)
        for hours, kwh in self._own_prices(prospect):
            key = ("own state", hours, 0.0)
            usual = usual + kwh * self._once(key, partial(self._own_state_kwh, hours))
        return usual

    def yearly(self, prospect: Prospect) -> Floats:
        """(S, U, A) energy, hire, upkeep and the owner's own time of a year."""
        usual = self._yearly("unit", prospect, self._unit_kwh, self._unit_upkeep)
        for hours, kwh in self._own_prices(prospect):
            key = ("own unit", hours, 0.0)
            usual = usual + kwh * self._once(key, partial(self._own_unit_kwh, hours))
            days = self._once(("days", hours, 0.0), partial(self._hire_days, hours))
            usual = usual + days * self._hired_day(prospect.both[hours])[:, None, None]
        if self.ledger.terms.own_hour != 0.0:
            for level, chance in enumerate(prospect.hours):
                if chance > 0.0:
                    key = ("own time", level, 0.0)
                    usual = usual + chance * self._once(key, partial(self._own_time, level))
        return usual

    def _own_prices(self, prospect: Prospect) -> list[tuple[int, float]]:
        """(level of hours, its chance times the mean price of a kWh of an own source then)."""
        prices = {on.energy_price for on in self.ledger.facts.shared if on.energy_price}
        if not prices:
            return []
        (price,) = prices  # all own sources of a shop burn the same fuel
        by_level = (price.low, price.number, price.high)
        return [
            (hours, sum(c * p for c, p in zip(chances, by_level, strict=True)))
            for hours, chances in enumerate(prospect.both)
            if any(chances)
        ]

    def _hired_day(self, chances: Levels) -> Floats:
        """(S,) chance-weighed cost of a day's hire over the levels of prices."""
        total = np.zeros(len(self.ledger.states))
        for level, chance in enumerate(chances):
            if chance > 0.0:
                total += chance * self._once(("day", level, 0.0), partial(self._days_of, level))
        return total

    def _days_of(self, level: int) -> Floats:
        ledger = replace(self.ledger, world=World(prices=level))
        return np.array([ledger.hired_day(state) for state in ledger.states])

    def span(self, start: float, end: float) -> float:
        """Present value of one a year between two years."""
        terms = self.ledger.terms
        return yearly_value(1.0, terms.rate, start, min(end, terms.years))

    def _mean(
        self, name: str, prospect: Prospect, year: float, of: Callable[[int, float], Floats]
    ) -> Floats:
        """The mean over the levels of prices that may be."""
        total: Floats = np.zeros(1)
        for level, weight in enumerate(prospect.prices):
            if weight > 0.0:
                total = total + weight * self._once((name, level, year), partial(of, level, year))
        return total

    def _yearly(
        self,
        name: str,
        prospect: Prospect,
        kwh: Callable[[int], Floats],
        upkeep: Callable[[], Floats],
    ) -> Floats:
        total = self._once((name, -1, 0.0), upkeep)
        for level, price in enumerate(prospect.kwh):
            if price != 0.0:
                total = total + price * self._once((name, level, 0.0), partial(kwh, level))
        return total

    def _once(self, key: Key, of: Callable[[], Floats]) -> Floats:
        if key not in self._kept:
            self._kept[key] = of()
        return self._kept[key]

    # by unit and option

    def _each(self, of: Callable[[int, Option], float]) -> Floats:
        units, options = range(len(self.ledger.facts.units)), self.ledger.options
        found = [[of(unit, option) for option in options] for unit in units]
        return np.array(found, dtype=np.float64).reshape(len(units), len(options))

    def _begin(self, level: int, year: float) -> Floats:
        ledger, end = self.ledger, self.ledger.terms.years

        def of(unit: int, option: Option) -> float:
            offer = offer_of(ledger.facts, unit, option)
            labour = self._labour(ledger.labour_h(unit, option), year)
            if offer is None:
                return labour
            return kept_worth(Same(offer.items), level, ledger.terms.rate, year, end) + labour

        return self._each(of)

    def _end(self, level: int, year: float) -> Floats:
        ledger, end = self.ledger, self.ledger.terms.years

        def of(unit: int, option: Option) -> float:
            offer = offer_of(ledger.facts, unit, option)
            if offer is None:
                return 0.0
            return given_up_worth(Same(offer.items), level, ledger.terms.rate, year, end)

        return self._each(of)

    # by state

    def _enter(self, level: int, year: float) -> Floats:
        ledger, end = self.ledger, self.ledger.terms.years

        def of(had: Had) -> float:
            things = kept_worth(Same(had.items), level, ledger.terms.rate, year, end)
            return things + self._labour(had.labour_h.number, year)

        return self._by_had(of)

    def _leave(self, level: int, year: float) -> Floats:
        ledger, end = self.ledger, self.ledger.terms.years

        def of(had: Had) -> float:
            return given_up_worth(Same(had.items), level, ledger.terms.rate, year, end)

        return self._by_had(of)

    def _by_had(self, of: Callable[[Had], float]) -> Floats:
        """(H + 1,) of a function of every way to have a shared thing; the last is nothing."""
        return np.array([*map(of, self._hads), 0.0])

    @property
    def _hads(self) -> list[Had]:
        return [had for on in self.ledger.facts.shared for had in on.hads]

    def same_equipment(self) -> Flags:
        """(S, S) whether two states are the same equipment, only left idling for other hours."""
        column = self._column()
        same: Flags = column[:, None] == column[None, :]
        return same

    def _column(self) -> Integers:
        """(S,) the number of each state's way to have what is shared; the last for nothing."""
        if self._states is None:
            hads = self._hads
            number = {Same(had): k for k, had in enumerate(hads)}
            self._states = np.array(
                [
                    len(hads) if state.had is None else number[Same(state.had)]
                    for state in self.ledger.states
                ]
            )
        return self._states

    def _state_kwh(self, level: int) -> Floats:
        ledger = self._in_hours(level)
        return np.array([0.0 if own else ledger.idle_kwh(state) for state, own in self._own()])

    def _own_state_kwh(self, level: int) -> Floats:
        ledger = self._in_hours(level)
        return np.array([ledger.idle_kwh(state) if own else 0.0 for state, own in self._own()])

    def _own(self) -> list[tuple[State, bool]]:
        """Every state, and whether what is shared in it has a source of energy of its own."""
        ledger = self.ledger
        return [(s, ledger.price_of(s) is not ledger.terms.energy) for s in ledger.states]

    def _state_upkeep(self) -> Floats:
        ledger = self.ledger
        return np.array(
            [_a_year(ledger, ledger.state_upkeep(state, 0.0, 1.0)) for state in ledger.states]
        )

    # by all three

    def _unit_kwh(self, level: int) -> Floats:
        """Zero where an option is not to be had; `_unit_upkeep` says so."""
        return self._expanded(self._kwh_shared(level, own=False), self._kwh_private(level))

    def _own_unit_kwh(self, level: int) -> Floats:
        return self._expanded(self._kwh_shared(level, own=True), None)

    def _kwh_private(self, level: int) -> Floats:
        """(U, A)"""
        of, units = self._of, self.ledger.facts.units
        idle = np.array([u.idle_hours_per_year * u.idle_ratio[level] for u in units])
        turning = of.private_w * self._turning(level)[:, None]
        kwh: Floats = (turning + of.idle_w * idle[:, None]) * KWH_PER_WH
        return kwh

    def _kwh_shared(self, level: int, *, own: bool | None = None) -> Floats:
        """(K, U, A); `own`: of things with a source of energy of their own alone, or of others."""
        kwh = self._of.shared_w * self._turning(level)[None, :, None] * KWH_PER_WH
        if own is not None:
            has = np.array([on.energy_price is not None for on in self.ledger.facts.shared])
            kwh = kwh * (has == own)[:, None, None]
        return kwh

    def _turning(self, level: int) -> Floats:
        """(U,) hours a year that each unit turns."""
        units = self.ledger.facts.units
        return np.array([u.hours_per_year * u.hours_ratio[level] for u in units])

    def _hire_days(self, level: int) -> Floats:
        things, turning = self.ledger.facts.shared, self._turning(level)
        days = np.zeros(self._of.shared_w.shape)
        for k, on in enumerate(things):
            if on.hire is not None:
                each = np.array([on.hire.days(hours) for hours in turning.tolist()], dtype=float)
                days[k] = each[:, None] * self._of.shared_has[k]
        return self._expanded(days, None)

    def _unit_upkeep(self) -> Floats:
        """Infinite where an option is not to be had."""
        ledger = self.ledger

        def of(unit: int, option: Option) -> float:
            return _a_year(ledger, ledger.unit_upkeep(unit, option, 0.0, 1.0))

        most = np.array([on.most_kwh_per_year for on in ledger.facts.shared])
        able = self._of.shared_has & (self._kwh_shared(USUAL) <= most[:, None, None])
        had = self._expanded(able.astype(np.float64), self._of.private_has.astype(np.float64))
        return np.where(had > 0.0, self._each(of)[None], np.inf)

    def _own_time(self, level: int) -> Floats:
        """(U, A), the same under every state."""
        return self._each(self._in_hours(level).own_time)

    def _expanded(self, shared: Floats, private: Floats | None) -> Floats:
        """(S, U, A) from (K, U, A) of what is shared and (U, A) of what is private: a motor hangs
        on what a state shares where its habit fits into the state's."""
        ledger = self.ledger
        things = np.concatenate([shared, np.zeros((1, *shared.shape[1:]))])
        number = [len(shared) if state.shared is None else state.shared for state in ledger.states]
        hours = np.array([state.idle_hours for state in ledger.states])
        habit = np.array([unit.idle_hours_per_year for unit in ledger.facts.units])
        whole: Floats = things[number] * (habit[None] <= hours[:, None])[:, :, None]
        return whole if private is None else whole + private[None]

    @property
    def _of(self) -> Watts:
        assert self.watts is not None  # asked at the beginning
        return self.watts

    def _in_hours(self, level: int) -> Ledger:
        if level == USUAL:
            return self.ledger
        return replace(self.ledger, world=World(hours=level))

    def _labour(self, hours: float, year: float) -> float:
        terms = self.ledger.terms
        return 0.0 if year >= terms.years else terms.labour(hours) * discount(terms.rate, year)


def watts_of(ledger: Ledger) -> Watts:
    """Ask every service of a shop: of every unit, option and shared thing."""
    facts, options = ledger.facts, ledger.options
    shape = (len(facts.units), len(options))
    private_w, idle_w = np.zeros(shape), np.zeros(shape)
    private_has = np.zeros(shape, dtype=np.bool_)
    shared_w = np.zeros((len(facts.shared), *shape))
    shared_has = np.zeros(shared_w.shape, dtype=np.bool_)
    for u, unit in enumerate(facts.units):
        load = unit.motor.load
        duty = 1.0 if load is None else load.duty.number
        for a, option in enumerate(options):
            offer = None if option.shared else offer_of(facts, u, option)
            private_has[u, a] = option.way is None or offer is not None
            if offer is not None:
                private_w[u, a], idle_w[u, a] = offer.service.mean_w(duty), offer.idle_power_w
            if not option.shared:
                continue
            for k, on in enumerate(facts.shared):
                served = on.serves(u) if hangs_on(u, option, on) else None
                if served is not None:
                    shared_w[k, u, a], shared_has[k, u, a] = served.service.mean_w(duty), True
    return Watts(private_w, private_has, idle_w, shared_w, shared_has)


def _a_year(ledger: Ledger, first: list[Entry]) -> float:
    """What a whole year costs without energy, from the entries of the first one; the plan may end
    within it."""
    part = min(1.0, ledger.terms.years)
    amounts = sum((e.payment.amount for e in first if e.kind != "energy"), 0.0)
    return amounts / part if part > 0.0 else 0.0
