"""Present values of a ledger's payments, each reckoned once: what the arrays are filled from.

The payments themselves stand in `payments`; here they are only summed. What an item is worth
over a span depends on the item, the span and the rate alone, so it is kept from one choice to
the next while a fact such as the price of energy is turned.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from phasewright.plan.money import discount, giving_up, keeping, present_value
from phasewright.plan.options import Option, State, offer_of
from phasewright.plan.payments import Entry, Ledger, thing_of
from phasewright.quantities.identity import Same
from phasewright.ways.purchase import Item

Items = tuple[Item, ...]


@lru_cache(maxsize=1 << 16)
def kept_worth(items: Same[Items], rate: float, start: float, end: float) -> float:
    """Worth today of having these things between two years."""
    return sum((present_value(keeping(thing_of(item), start, end), rate) for item in items.it), 0.0)


@lru_cache(maxsize=1 << 16)
def given_up_worth(items: Same[Items], rate: float, year: float, end: float) -> float:
    """Worth today of selling in `year` what was to be kept from now to `end`."""
    return sum(
        (present_value(giving_up(thing_of(item), year, end), rate) for item in items.it), 0.0
    )


def hold_worth(ledger: Ledger, state: State, start: float) -> float:
    """Worth of having a state from `start` on, without its yearly costs; see Ledger.hold."""
    if state.had is None:
        return 0.0
    terms = ledger.terms
    things = kept_worth(Same(state.had.items), terms.rate, start, terms.years)
    return things + _labour_worth(ledger, state.had.labour_h.number, start)


def drop_worth(ledger: Ledger, state: State, year: float) -> float:
    """Worth of giving a state up in `year`; see Ledger.drop."""
    if state.had is None:
        return 0.0
    return given_up_worth(Same(state.had.items), ledger.terms.rate, year, ledger.terms.years)


def year_of_state(ledger: Ledger, state: State) -> float:
    """Idle energy and upkeep of one year of a state; see Ledger.hold_yearly."""
    return whole_year(ledger, ledger.hold_yearly(state, 0.0, 1.0))


def whole_year(ledger: Ledger, first: Iterable[Entry]) -> float:
    """What a whole year costs, from the entries of the first one; the plan may end within it."""
    part = min(1.0, ledger.terms.years)
    return sum((entry.payment.amount for entry in first), 0.0) / part if part > 0.0 else 0.0


def begin_worth(ledger: Ledger, unit: int, option: Option, start: float) -> float:
    """Worth of beginning an option in `start`; see Ledger.begin."""
    offer, terms = offer_of(ledger.facts, unit, option), ledger.terms
    things = 0.0 if offer is None else kept_worth(Same(offer.items), terms.rate, start, terms.years)
    return things + _labour_worth(ledger, ledger.labour_h(unit, option), start)


def end_worth(ledger: Ledger, unit: int, option: Option, year: float) -> float:
    """Worth of giving up an option in `year`; see Ledger.end."""
    offer, terms = offer_of(ledger.facts, unit, option), ledger.terms
    if offer is None:
        return 0.0
    return given_up_worth(Same(offer.items), terms.rate, year, terms.years)


def _labour_worth(ledger: Ledger, hours: float, year: float) -> float:
    if year >= ledger.terms.years:
        return 0.0
    return ledger.terms.labour(hours) * discount(ledger.terms.rate, year)
