"""What every choice costs, as dated payments by kind: the one place that money comes from.

The search sees present values of these; the answer's years, totals and spread are made from the
same payments, so they cannot disagree.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from phasewright.plan.facts import Facts
from phasewright.plan.money import Payment, Thing, giving_up, keeping, present_value, yearly
from phasewright.plan.options import Option, State, fits_state, hangs_on, offer_of, shared_of
from phasewright.plan.terms import Terms
from phasewright.plan.worlds import AS_USUAL, USUAL, World
from phasewright.quantities.value import Value
from phasewright.tables.labour import hours
from phasewright.ways.purchase import QUOTED, Item
from phasewright.ways.way import Service

Kind = Literal["buys", "labour", "energy", "upkeep"]
KWH_PER_WH = 1e-3
HOURS_PER_YEAR = 8766.0


@dataclass(frozen=True, slots=True)
class Entry:
    """A payment with its kind."""

    kind: Kind
    payment: Payment


@dataclass(frozen=True, slots=True)
class Ledger:
    """Costs of a shop's choices under its money terms, in one world of prices and hours."""

    facts: Facts
    terms: Terms
    options: tuple[Option, ...]
    states: tuple[State, ...]
    world: World = AS_USUAL

    # what a choice takes in a year

    def unit_kwh(self, unit: int, option: Option, state: State) -> float:
        """Energy a year of a unit under an option [kWh]; its converter's own loss counted in."""
        service = self.service(unit, option, state)
        if service is None:
            return 0.0
        offer = offer_of(self.facts, unit, option)
        idle_power_w = 0.0 if offer is None else offer.idle_power_w
        return self._kwh(unit, service, idle_power_w, self.world.hours)

    def _kwh(self, unit: int, service: Service, idle_power_w: float, level: int) -> float:
        motor = self.facts.units[unit]
        load = motor.motor.load
        watts = service.mean_w(1.0 if load is None else load.duty.number)
        turning = watts * motor.hours_per_year * motor.hours_ratio[level]
        left_on = idle_power_w * motor.idle_hours_per_year * motor.idle_ratio[level]
        return (turning + left_on) * KWH_PER_WH

    def service(self, unit: int, option: Option, state: State) -> Service | None:
        """What the unit gets and takes; None where it is without power or may not hang there."""
        if option.shared:
            on = shared_of(self.facts, state)
            if on is None or not hangs_on(unit, option, on):
                return None
            served = on.serves(unit)
            if served is None:
                return None
            usual = self._kwh(unit, served.service, 0.0, USUAL)
            return None if usual > on.most_kwh_per_year else served.service
        offer = offer_of(self.facts, unit, option)
        return None if offer is None else offer.service

    def may(self, unit: int, option: Option, state: State) -> bool:
        """Whether the unit has this option under this state at all."""
        if option.way is None:
            return True
        if option.shared:
            return fits_state(self.facts.units[unit], state) and (
                self.service(unit, option, state) is not None
            )
        return offer_of(self.facts, unit, option) is not None

    def idle_kwh(self, state: State) -> float:
        """Energy a year of what is shared, left running with nothing turning [kWh]."""
        on = shared_of(self.facts, state)
        return 0.0 if on is None else on.idle_power_w * self.idle_hours(state) * KWH_PER_WH

    def idle_hours(self, state: State) -> float:
        """Hours a year in which what is shared takes its idle power."""
        on = shared_of(self.facts, state)
        if on is not None and on.always_on:
            return HOURS_PER_YEAR
        return state.idle_hours * state.idle_ratio[self.world.hours]

    def shared_kwh(self, options: tuple[int, ...], state: State) -> float:
        """Energy a year [kWh] of all that hangs on what is shared; `options` by unit."""
        return sum(
            self.unit_kwh(unit, self.options[index], state)
            for unit, index in enumerate(options)
            if index >= 0 and self.options[index].shared
        )

    def price_of(self, state: State, *, shared: bool = True) -> Value:
        """Price of a kWh on what is shared (its own source's, where it has one), else the tariff's.

        `shared` is False for what hangs on the supply all the same.
        """
        on = shared_of(self.facts, state) if shared else None
        own = None if on is None else on.energy_price
        return self.terms.energy if own is None else own

    def energy_cost(self, kwh: float, price: Value) -> float:
        """What so many kilowatt-hours cost; the fuel of an own source is dear where things are."""
        own = price is not self.terms.energy
        level = self.world.prices if own else self.world.energy
        return kwh * (price.low, price.number, price.high)[level]

    def hire_days(self, unit: int, option: Option, state: State) -> int:
        """Days a year for which what is shared is hired for a unit; none where it is not."""
        on = shared_of(self.facts, state)
        if on is None or on.hire is None or not hangs_on(unit, option, on):
            return 0
        if self.service(unit, option, state) is None:
            return 0
        motor = self.facts.units[unit]
        return on.hire.days(motor.hours_per_year * motor.hours_ratio[self.world.hours])

    def hired_day(self, state: State) -> float:
        """What a day's hire of what is shared costs, with the work of it."""
        on = shared_of(self.facts, state)
        if on is None or on.hire is None:
            return 0.0
        day = thing_of(on.hire.day, self.world.prices).price
        return day + self.terms.labour(on.hire.labour_h.number)

    # payments

    def hold(self, state: State, start: float) -> list[Entry]:
        """Having a state from `start` to the end of the plan, without its yearly costs."""
        if state.had is None:
            return []
        return [
            *self._things(state.had.items, start),
            *self._labour(state.had.labour_h.number, start),
        ]

    def drop(self, state: State, year: float) -> list[Entry]:
        """What changes when a state held from today is given up in `year`."""
        return [] if state.had is None else self._given_up(state.had.items, year)

    def hold_yearly(self, state: State, start: float, end: float) -> list[Entry]:
        """Idle energy, upkeep and standing cost of a state between two years."""
        if state.had is None:
            return []
        return [
            *self._yearly("energy", self._idle_cost(state), start, end),
            *self.state_upkeep(state, start, end),
        ]

    def _idle_cost(self, state: State) -> float:
        return self.energy_cost(self.idle_kwh(state), self.price_of(state))

    def state_upkeep(self, state: State, start: float, end: float) -> list[Entry]:
        """Upkeep and standing cost of a state between two years."""
        if state.had is None:
            return []
        return [
            *self._yearly("upkeep", self.terms.labour(state.had.upkeep_h_per_year), start, end),
            *self._yearly("upkeep", state.had.yearly_cost, start, end),
        ]

    def begin(self, unit: int, option: Option, start: float) -> list[Entry]:
        """Buying and fitting an option's own things for a unit, kept to the end of the plan."""
        offer = offer_of(self.facts, unit, option)
        entries = [] if offer is None else self._things(offer.items, start)
        return [*entries, *self._labour(self.labour_h(unit, option), start)]

    def labour_h(self, unit: int, option: Option) -> float:
        """Hours of work for a unit's option: the sum of its jobs."""
        return sum(job.number for job in self.jobs(unit, option).values())

    def jobs(self, unit: int, option: Option) -> dict[str, Value]:
        """Hours of an option's jobs by name: its own, and relinking where it can be relinked."""
        if option.way is None:
            return {}
        this, offer = self.facts.units[unit], offer_of(self.facts, unit, option)
        found = {}
        if offer is not None and offer.labour_h.number > 0.0:
            found[this.id] = offer.labour_h
        swapped = option.way == "motor_swap"  # another motor or winding comes linked
        if len(this.motor.links) > 1 and not swapped:
            found[f"{this.id}, relinking"] = hours("relinking")
        return found

    def end(self, unit: int, option: Option, year: float) -> list[Entry]:
        """What changes when an option begun today is given up in `year`."""
        offer = offer_of(self.facts, unit, option)
        return [] if offer is None else self._given_up(offer.items, year)

    def run(self, unit: int, option: Option, state: State, start: float, end: float) -> list[Entry]:
        """Energy, own time, hire and upkeep of a unit under an option between two years."""
        kwh, price = self.unit_kwh(unit, option, state), self.price_of(state, shared=option.shared)
        hire = self.hire_days(unit, option, state) * self.hired_day(state)
        return [
            *self._yearly("energy", self.energy_cost(kwh, price), start, end),
            *self._yearly("upkeep", hire, start, end),
            *self._yearly("upkeep", self.own_time(unit, option), start, end),
            *self.unit_upkeep(unit, option, start, end),
        ]

    def own_time(self, unit: int, option: Option) -> float:
        """What the owner's own time at a unit costs a year, for the hours that it turns."""
        offer, this = offer_of(self.facts, unit, option), self.facts.units[unit]
        if offer is None:
            return 0.0
        turning = this.hours_per_year * this.hours_ratio[self.world.hours]
        return self.terms.own_time(offer.owner_h_per_hour * turning)

    def unit_upkeep(self, unit: int, option: Option, start: float, end: float) -> list[Entry]:
        """Upkeep and standing cost of a unit's own things between two years, however it turns."""
        offer = offer_of(self.facts, unit, option)
        if offer is None:
            return []
        return [
            *self._yearly("upkeep", self.terms.labour(offer.upkeep_h_per_year), start, end),
            *self._yearly("upkeep", offer.yearly_cost, start, end),
        ]

    def worth(self, entries: Iterable[Entry]) -> float:
        """Present value of entries."""
        return present_value((entry.payment for entry in entries), self.terms.rate)

    def _things(self, items: tuple[Item, ...], start: float) -> list[Entry]:
        end = self.terms.years
        return [
            Entry("buys", payment)
            for item in items
            for payment in keeping(thing_of(item, self.world.prices), start, end)
        ]

    def _given_up(self, items: tuple[Item, ...], year: float) -> list[Entry]:
        return [
            Entry("buys", payment)
            for item in items
            for payment in giving_up(thing_of(item, self.world.prices), year, self.terms.years)
        ]

    def _labour(self, of: float, year: float) -> list[Entry]:
        amount = self.terms.labour(of)
        if amount == 0.0 or year >= self.terms.years:
            return []
        return [Entry("labour", Payment(year, amount))]

    def _yearly(self, kind: Kind, amount: float, start: float, end: float) -> list[Entry]:
        if amount == 0.0:
            return []
        return [Entry(kind, due) for due in yearly(amount, start, min(end, self.terms.years))]


def is_illustrative(item: Item) -> bool:
    """Whether its price rests on a curve, not on the owner's quote, and may turn out otherwise."""
    price = item.price
    return price.origin not in (QUOTED, "owned") and price.amount > 0.0 and price.low < price.high


def thing_of(item: Item, level: int = USUAL) -> Thing:
    """An item as money sees it, illustrative prices at this level."""
    price = item.price
    ratio = 1.0
    if is_illustrative(item):
        ratio = (price.low / price.amount, 1.0, price.high / price.amount)[level]
    return Thing(
        price=item.amount * ratio,
        life_years=price.life_years,
        resale_share=price.resale_share,
        halving_years=price.resale_halving_years,
        owned=price.origin == "owned",
    )


def negated(entries: Iterable[Entry]) -> list[Entry]:
    """The same payments taken back."""
    return [
        replace(entry, payment=Payment(entry.payment.year, -entry.payment.amount))
        for entry in entries
    ]
