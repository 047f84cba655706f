"""The shop's choice as the arrays the search sees, made from the ledger's present values.

The search tells futures apart by who comes. What is changed then is chosen for who came, at the
mean of what things may cost; futures in which nobody comes are one, for nothing is changed in
them. Means are exact, because every cost is a sum of prices and of kilowatt-hours.
"""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from phasewright.plan.admit import Admission, owned_groups
from phasewright.plan.facts import Facts
from phasewright.plan.futures import Futures, futures
from phasewright.plan.options import Option, State, options_of, states_of
from phasewright.plan.payments import Ledger
from phasewright.plan.problem import Floats, Later, Problem, Solution
from phasewright.plan.prospects import Prospect, prospect_of, unknown_of
from phasewright.plan.reductions import from_then_on
from phasewright.plan.terms import Terms
from phasewright.plan.worths import Worths


@dataclass(frozen=True, slots=True)
class Choice:
    """The whole choice: what may be chosen, its futures, its costs and the search's problem.

    `seen[future]` is the future of the problem that stands for one of `futures`; `arrival` the
    year the newcomers of each of `futures.epoch_years` arrive, the end of the plan where nobody
    does. `sums` keeps what parts of plans cost (see `flows`).
    """

    facts: Facts
    terms: Terms
    options: tuple[Option, ...]
    states: tuple[State, ...]
    futures: Futures
    seen: tuple[int, ...]
    ledger: Ledger
    worths: Worths
    admission: Admission
    problem: Problem
    arrival: tuple[float, ...]
    sums: dict[Hashable, Any] = field(default_factory=dict, repr=False, compare=False)

    def option_index(self, option: Option) -> int:
        return self.options.index(option)

    def later_in(self, plan: Solution) -> tuple[Later, ...]:
        """What is done in every one of `futures` when the machines have come."""
        return tuple(plan.later[number] for number in self.seen)


def once_all_have_come(choice: Choice, plan: Solution) -> tuple[Solution, float] | None:
    """The plan as it is when every planned machine is there, and the year of that; None where
    none is planned."""
    coming = choice.futures
    everyone = int(coming.present.sum(axis=1).argmax())
    year = coming.epoch_years[int(coming.epoch[everyone])]
    if year is None:
        return None
    later = plan.later[choice.seen[everyone]]
    return replace(plan, state=later.state, options=later.options), year


def where_it_hangs(choice: Choice, plan: Solution, unit: int) -> Solution:
    """The plan as it is when this unit is there: today, else once all have come."""
    if plan.options[unit] >= 0:
        return plan
    come = once_all_have_come(choice, plan)
    return plan if come is None else come[0]


def choice_of(facts: Facts, terms: Terms, before: Choice | None = None) -> Choice:
    """The choice of a shop under its money terms. `before` is one of the same physics: networks
    it has settled are kept, and what things are worth where that is the same."""
    options, states = options_of(facts), states_of(facts)
    admission = (
        Admission(facts, options, states)
        if before is None
        else before.admission.of(facts, options, states)
    )
    ledger = Ledger(facts, terms, options, states)
    worths = Worths(ledger) if before is None else before.worths.of(ledger)
    coming = _futures(facts, ledger)
    arrival = tuple(
        terms.years if year is None else min(year, terms.years) for year in coming.epoch_years
    )
    told = _told_apart(ledger, coming, arrival)
    return Choice(
        facts=facts,
        terms=terms,
        options=options,
        states=states,
        futures=coming,
        seen=_seen(told),
        ledger=ledger,
        worths=worths,
        admission=admission,
        problem=_problem(worths, coming, told, admission),
        arrival=arrival,
    )


def known_beforehand(choice: Choice, future: int) -> Problem:
    """The problem had this future been known before anything was bought."""
    coming = choice.futures
    epoch = int(coming.epoch[future])
    alone = _Class(choice.arrival[epoch], coming.epoch_years[epoch] is not None, [[future]])
    return _problem(choice.worths, coming, [alone], choice.admission)


@dataclass(frozen=True, slots=True)
class _Class:
    """Futures with the same year of arrival and the same mean of prices, hours and energy.

    `apart` are the futures that the search tells apart, each the list of those it stands for.
    """

    arrival: float
    second: bool
    apart: list[list[int]]

    @property
    def all(self) -> list[int]:
        """Every future of the class."""
        return [future for each in self.apart for future in each]


def _told_apart(ledger: Ledger, coming: Futures, arrival: tuple[float, ...]) -> list[_Class]:
    """The classes of the futures; all those in which nobody comes are one.

    What comes later is chosen for who came and not for what things cost then: futures with the
    same comers are one, at the mean of their prices, and those with the same year of arrival and
    the same mean are one class.
    """
    same: dict[bytes, list[int]] = {}
    for future in range(coming.probability.size):
        comes = coming.epoch_years[int(coming.epoch[future])] is not None
        same.setdefault(coming.present[future].tobytes() if comes else b"", []).append(future)
    found: dict[tuple[int, Prospect], _Class] = {}
    for members in same.values():
        epoch = int(coming.epoch[members[0]])
        key = (epoch, _prospect(ledger, coming, members).rounded())
        second = coming.epoch_years[epoch] is not None
        found.setdefault(key, _Class(arrival[epoch], second, [])).apart.append(members)
    return list(found.values())


def _prospect(ledger: Ledger, coming: Futures, futures: list[int]) -> Prospect:
    chances: list[float] = coming.probability.tolist()
    return prospect_of(ledger, [(coming.worlds[f], chances[f]) for f in futures])


def _seen(told: list[_Class]) -> tuple[int, ...]:
    """The number of the search's future that stands for each future."""
    of = {}
    for number, members in enumerate(each for one in told for each in one.apart):
        of.update(dict.fromkeys(members, number))
    return tuple(of[future] for future in sorted(of))


def _futures(facts: Facts, ledger: Ledger) -> Futures:
    """Futures of machines, told for units: the motors of one machine come together."""
    machines = {unit.machine: unit for unit in facts.units}
    names = sorted(machines)
    by_machine = futures(
        names,
        [machines[name].chance for name in names],
        [machines[name].year for name in names],
        unknown_of(ledger),
    )
    column = [names.index(unit.machine) for unit in facts.units]
    return replace(
        by_machine,
        present=by_machine.present[:, column],
        now=by_machine.now[column],
        years=by_machine.years[column],
    )


def _problem(worths: Worths, coming: Futures, told: list[_Class], admission: Admission) -> Problem:
    facts, options = worths.ledger.facts, worths.ledger.options
    weigh = [_prospect(worths.ledger, coming, of.all) for of in told]
    classes = list(zip(told, weigh, strict=True))
    members = [each for of in told for each in of.apart]
    probability = np.array([coming.probability[each].sum() for each in members])
    unserved = np.zeros((len(facts.units), len(options)), dtype=np.bool_)
    unserved[:, -1] = True
    return Problem(
        hold=np.stack([_hold(worths, of) for of in weigh]),
        move=np.stack([_move(worths, *of) for of in classes]),
        first=np.stack([_first(worths, *of) for of in classes]),
        later=_later(worths, coming, classes),
        second=np.array([of.second for of in told]),
        probability=probability / probability.sum(),
        epoch=np.array([number for number, of in enumerate(told) for _ in of.apart]),
        present=coming.present[[each[0] for each in members]],
        now=coming.now,
        groups=_together(facts, options),
        admit=admission,
        unserved=unserved,
    )


def _together(facts: Facts, options: tuple[Option, ...]) -> tuple[frozenset[int], ...]:
    sets = {*facts.groups, *owned_groups(facts, options)}
    return tuple(sorted((s for s in sets if not any(s < other for other in sets)), key=sorted))


def _hold(worths: Worths, of: Prospect) -> Floats:
    """(S,)"""
    whole = worths.span(0.0, worths.ledger.terms.years)
    return worths.enter(of, 0.0) + worths.state_yearly(of) * whole


def _move(worths: Worths, when: _Class, of: Prospect) -> Floats:
    """(S, S): from one state to another at the arrival."""
    rest = worths.span(when.arrival, worths.ledger.terms.years)
    running = worths.state_yearly(of) * rest
    leave, enter = worths.leave(of, when.arrival), worths.enter(of, when.arrival)
    change = np.where(worths.same_equipment(), 0.0, leave[:, None] + enter[None, :])
    return running[None, :] - running[:, None] + change


def _first(worths: Worths, when: _Class, of: Prospect) -> Floats:
    """(S, U, A): bought today and kept, running until the arrival."""
    begin = worths.begin(of, 0.0)
    return begin[None] + _times(worths.yearly(of), worths.span(0.0, when.arrival))


def _later(worths: Worths, coming: Futures, classes: list[tuple[_Class, Prospect]]) -> Floats:
    """(E, S, U, A + 1, A): from the arrival on, changed or not; a newcomer from its own year."""
    ledger = worths.ledger
    count, units, years = len(ledger.options), len(ledger.facts.units), ledger.terms.years
    out = np.empty((len(classes), len(ledger.states), units, count + 1, count))
    for into, (when, of) in zip(out, classes, strict=True):
        if not when.second:
            into[:] = np.inf
            continue
        year = when.arrival
        runs, begin, end = worths.yearly(of), worths.begin(of, year), worths.end(of, year)
        stays = np.eye(count, dtype=np.bool_)
        change = np.where(stays, 0.0, end[:, :, None] + begin[:, None, :])
        fresh = np.empty_like(runs)
        for u in range(units):
            comes = max(float(coming.years[u]), year)
            alone = _times(runs[:, u], worths.span(comes, years))
            fresh[:, u] = worths.begin(of, comes)[u][None] + alone
        from_then_on(change, _times(runs, worths.span(year, years)), fresh, into)
    return out


def _times(yearly_costs: Floats, span: float) -> Floats:
    """Yearly costs over a span; what is not to be had stays so over no time at all."""
    return np.where(np.isinf(yearly_costs), np.inf, np.nan_to_num(yearly_costs, posinf=0.0) * span)
