"""The shop's choice as the arrays the search sees, made from the ledger's present values."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from phasewright.plan.admit import Admission, owned_groups
from phasewright.plan.facts import Facts
from phasewright.plan.futures import Futures, futures
from phasewright.plan.money import yearly_value
from phasewright.plan.options import Option, State, fits_state, options_of, states_of
from phasewright.plan.payments import Ledger
from phasewright.plan.problem import Flags, Floats, Problem
from phasewright.plan.terms import Terms
from phasewright.plan.worths import (
    begin_worth,
    drop_worth,
    end_worth,
    hold_worth,
    whole_year,
    year_of_state,
)
from phasewright.quantities.identity import Same
from phasewright.ways.shared_source import Had


@dataclass(frozen=True, slots=True)
class Choice:
    """The whole choice: what may be chosen, its futures, its costs and the search's problem."""

    facts: Facts
    terms: Terms
    options: tuple[Option, ...]
    states: tuple[State, ...]
    futures: Futures
    ledger: Ledger
    admission: Admission
    problem: Problem
    arrival: tuple[float, ...]

    def option_index(self, option: Option) -> int:
        return self.options.index(option)


def choice_of(facts: Facts, terms: Terms, before: Admission | None = None) -> Choice:
    """The choice of a shop under its money terms. `before` may have settled networks of the
    same physics already; they are kept."""
    options, states = options_of(facts), states_of(facts)
    known = {} if before is None else before.points
    admission = Admission(facts, options, states, known)
    ledger = Ledger(facts, terms, options, states)
    coming = _futures(facts)
    arrival = tuple(
        terms.years if year is None else min(year, terms.years) for year in coming.epoch_years
    )
    problem = _problem(ledger, coming, arrival, admission)
    return Choice(facts, terms, options, states, coming, ledger, admission, problem, arrival)


def _futures(facts: Facts) -> Futures:
    """Futures of machines, told for units: the motors of one machine come together."""
    machines = {unit.machine: unit for unit in facts.units}
    names = sorted(machines)
    by_machine = futures(
        names, [machines[name].chance for name in names], [machines[name].year for name in names]
    )
    column = [names.index(unit.machine) for unit in facts.units]
    return Futures(
        probability=by_machine.probability,
        present=by_machine.present[:, column],
        now=by_machine.now[column],
        years=by_machine.years[column],
        epoch=by_machine.epoch,
        epoch_years=by_machine.epoch_years,
        reduced=by_machine.reduced,
    )


def _problem(
    ledger: Ledger, coming: Futures, arrival: tuple[float, ...], admission: Admission
) -> Problem:
    facts, options, states = ledger.facts, ledger.options, ledger.states
    hold = np.array([_hold(ledger, state) for state in states])
    second = np.array([year is not None for year in coming.epoch_years])
    unserved = np.zeros((len(facts.units), len(options)), dtype=np.bool_)
    unserved[:, -1] = True
    runs = _runs(ledger)
    return Problem(
        hold=hold,
        move=_move(ledger, arrival),
        first=_first(ledger, arrival, runs),
        later=_later(ledger, arrival, coming, runs),
        second=second,
        probability=coming.probability,
        epoch=coming.epoch,
        present=coming.present,
        now=coming.now,
        groups=_together(facts, options),
        admit=admission,
        unserved=unserved,
    )


def _together(facts: Facts, options: tuple[Option, ...]) -> tuple[frozenset[int], ...]:
    sets = {*facts.groups, *owned_groups(facts, options)}
    return tuple(sorted((s for s in sets if not any(s < other for other in sets)), key=sorted))


def _hold(ledger: Ledger, state: State) -> float:
    begun = hold_worth(ledger, state, 0.0)
    return begun + year_of_state(ledger, state) * _span(ledger, 0.0, ledger.terms.years)


def _move(ledger: Ledger, arrival: tuple[float, ...]) -> Floats:
    """(E, S, S): from one state to another at the arrival of each class."""
    states, end = ledger.states, ledger.terms.years
    out = np.zeros((len(arrival), len(states), len(states)))
    same, yearly = _same(states), np.array([year_of_state(ledger, state) for state in states])
    for e, year in enumerate(arrival):
        running = yearly * _span(ledger, year, end)
        leave = np.array([drop_worth(ledger, state, year) for state in states])
        enter = np.array([hold_worth(ledger, state, year) for state in states])
        out[e] = running[None, :] - running[:, None]
        out[e] += np.where(same, 0.0, leave[:, None] + enter[None, :])
    return out


def _same(states: tuple[State, ...]) -> Flags:
    """(S, S) whether two states are the same equipment, only left idling for other hours."""
    number = {key: k for k, key in enumerate(dict.fromkeys(map(_equipment, states)))}
    of = np.array([number[_equipment(state)] for state in states])
    same: Flags = of[:, None] == of[None, :]
    return same


def _equipment(state: State) -> tuple[int | None, Same[Had | None]]:
    return state.shared, Same(state.had)


def _runs(ledger: Ledger) -> Floats:
    """(S, U, A) cost of one year's running; inf where the option is not to be had."""
    units = range(len(ledger.facts.units))
    out = np.full((len(ledger.states), len(units), len(ledger.options)), np.inf)
    for u in units:
        for a, option in enumerate(ledger.options):
            if option.shared:
                out[:, u, a] = _shared_runs(ledger, u, option)
            elif ledger.may(u, option, ledger.states[0]):
                out[:, u, a] = _year(ledger, u, option, ledger.states[0])
    return out


def _shared_runs(ledger: Ledger, u: int, option: Option) -> list[float]:
    """By state; the same for every idle habit of one shared thing."""
    seen: dict[int | None, float] = {}
    unit = ledger.facts.units[u]
    for state in ledger.states:
        if state.shared not in seen:
            served = ledger.service(u, option, state) is not None
            seen[state.shared] = _year(ledger, u, option, state) if served else np.inf
    return [seen[state.shared] if fits_state(unit, state) else np.inf for state in ledger.states]


def _year(ledger: Ledger, u: int, option: Option, state: State) -> float:
    return whole_year(ledger, ledger.run(u, option, state, 0.0, 1.0))


def _span(ledger: Ledger, start: float, end: float) -> float:
    """Present value of one a year between two years."""
    return yearly_value(1.0, ledger.terms.rate, start, min(end, ledger.terms.years))


def _first(ledger: Ledger, arrival: tuple[float, ...], runs: Floats) -> Floats:
    """(E, S, U, A): bought today and kept, running until the arrival of each class."""
    begin = _each(ledger, lambda u, option: begin_worth(ledger, u, option, 0.0))
    return np.stack([begin[None] + _times(runs, _span(ledger, 0.0, year)) for year in arrival])


def _later(ledger: Ledger, arrival: tuple[float, ...], coming: Futures, runs: Floats) -> Floats:
    """(E, S, U, A + 1, A): from the arrival on, changed or not; a newcomer from its own year."""
    count, units = len(ledger.options), len(ledger.facts.units)
    out = np.full((len(arrival), len(ledger.states), units, count + 1, count), np.inf)
    stay = np.eye(count, dtype=np.bool_)
    for e, year in enumerate(arrival):
        rest = _span(ledger, year, ledger.terms.years)
        begin, end = _changes(ledger, year)
        for u in range(units):
            change = np.where(stay, 0.0, end[u][:, None] + begin[u][None, :])
            out[e, :, u, :count, :] = change[None] + _times(runs[:, u, :], rest)[:, None, :]
            comes = max(float(coming.years[u]), year)
            new = (
                begin[u]
                if comes == year
                else np.array([begin_worth(ledger, u, option, comes) for option in ledger.options])
            )
            alone = _span(ledger, comes, ledger.terms.years)
            out[e, :, u, count, :] = new[None] + _times(runs[:, u, :], alone)
    return out


def _times(yearly_costs: Floats, span: float) -> Floats:
    """Yearly costs over a span; what is not to be had stays so over no time at all."""
    return np.where(np.isinf(yearly_costs), np.inf, np.nan_to_num(yearly_costs, posinf=0.0) * span)


def _changes(ledger: Ledger, year: float) -> tuple[Floats, Floats]:
    """(U, A) what beginning an option in a year costs, and what ending it then changes."""
    return (
        _each(ledger, lambda u, option: begin_worth(ledger, u, option, year)),
        _each(ledger, lambda u, option: end_worth(ledger, u, option, year)),
    )


def _each(ledger: Ledger, of: Callable[[int, Option], float]) -> Floats:
    """(U, A) of a function of unit and option; of no unit too."""
    units = range(len(ledger.facts.units))
    found = [[of(u, option) for option in ledger.options] for u in units]
    return np.array(found, dtype=np.float64).reshape(len(units), len(ledger.options))
