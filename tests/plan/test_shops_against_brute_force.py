"""The plan of a shop against every plan of it, reckoned from its dated payments in plain Python.

Two hundred random shops of up to five motors, to the cent. The costs here are present values of
the payments of each plan in each future; none of the search's tables is read.
"""

from __future__ import annotations

from itertools import product

import pytest
from plan.random_shops import random_shop

from phasewright.plan.flows import entries_in
from phasewright.plan.problem import Later, Solution
from phasewright.plan.search import solve

PENALTY = 1e9  # a unit left without power counts for more than any money


class Reckoning:
    """Costs and permissions of one shop, asked from the ledger and from the admission."""

    def __init__(self, choice):
        self.choice = choice
        self.count = len(choice.facts.units)
        self.nobody = (-1,) * self.count
        self.asked = {}
        self.known = {}
        self.may_have = {}

    def plan(self, state, options, later_state, later):
        futures = len(self.choice.futures.probability)
        return Solution(state, options, (Later(later_state, later),) * futures,
                        0.0, (), 0, 0.0, True, 0.0, 0)  # fmt: skip

    def worth(self, future, state, options, later_state, later):
        """Present value of every payment of a plan in a future."""
        made = self.plan(state, options, later_state, later)
        return self.choice.ledger.worth(entries_in(self.choice, made, future))

    def shared(self, future, state, then):
        """What the shared things cost by themselves."""
        key = (future, state, then)
        if key not in self.known:
            self.known[key] = self.worth(future, state, self.nobody, then, self.nobody)
        return self.known[key]

    def unit(self, future, state, then, unit, before, after):
        """What one unit adds (payments of units do not mix, see the test below)."""
        key = (future, state, then, unit, before, after)
        if key not in self.known:
            one, two = list(self.nobody), list(self.nobody)
            one[unit], two[unit] = before, after
            whole = self.worth(future, state, tuple(one), then, tuple(two))
            self.known[key] = whole - self.shared(future, state, then)
        return self.known[key]

    def options(self, unit, state):
        key = (unit, state)
        if key not in self.may_have:
            choice = self.choice
            self.may_have[key] = [
                number
                for number, option in enumerate(choice.options)
                if choice.ledger.may(unit, option, choice.states[state])
            ]
        return self.may_have[key]

    def left(self, options):
        return sum(a >= 0 and self.choice.options[a].way is None for a in options)

    def may_turn(self, state, options):
        """Whether whatever may turn together is admitted, and each unit alone."""
        chosen = {u: a for u, a in enumerate(options)
                  if a >= 0 and self.choice.options[a].way is not None}  # fmt: skip
        sets = [set(group) for group in self.choice.facts.groups]
        sets += [{unit} for unit in chosen] + [self.sharers(chosen)]
        for group in sets:
            running = tuple((u, chosen[u]) for u in sorted(group) if u in chosen)
            if running and not self.admitted(state, running):
                return False
        return True

    def sharers(self, chosen):
        """Units that would use a thing of the owner's: it can be fitted but once."""
        found = set()
        for unit, index in chosen.items():
            option = self.choice.options[index]
            offers = next((j.offers for j in self.choice.facts.judgements[unit]
                           if j.way == option.way), ())  # fmt: skip
            if not option.shared and offers[option.offer].owned_item is not None:
                found.add(unit)
        return found

    def admitted(self, state, running):
        key = (state, running)
        if key not in self.asked:
            self.asked[key] = self.choice.admission(state, running)
        return self.asked[key]

    def every(self, there, state):
        """Every admissible assignment of the units that are there."""
        return [
            options
            for options in product(
                *(self.options(u, state) if there[u] else (-1,) for u in range(self.count))
            )
            if self.may_turn(state, options)
        ]

    def second(self, futures, state, options, afters):
        """(worth with penalties, worth) of the best that can follow in these futures, on their
        mean: they have the same comers, and what follows is chosen for them alone."""
        chances = [float(self.choice.futures.probability[f]) for f in futures]
        best = None
        for then in range(len(self.choice.states)):
            for later in afters(futures[0], then):
                cost = 0.0
                for chance, future in zip(chances, futures, strict=True):
                    whole = self.shared(future, state, then)
                    for unit, after in enumerate(later):
                        if after >= 0 or options[unit] >= 0:
                            whole += self.unit(future, state, then, unit, options[unit], after)
                    cost += chance / sum(chances) * whole
                rank = cost + PENALTY * self.left(later)
                if best is None or rank < best[0]:
                    best = (rank, cost)
        return best


def same_comers(choice):
    """The futures in lists of those with the same comers."""
    found = {}
    for future, there in enumerate(choice.futures.present.tolist()):
        found.setdefault(tuple(there), []).append(future)
    return list(found.values())


def best_by_hand(choice):
    """(expected worth, units left without power by chance) of the best of all plans."""
    of = Reckoning(choice)
    coming = choice.futures
    table = {}

    def afters(future, then):
        key = (tuple(coming.present[future]), then)
        if key not in table:
            table[key] = of.every(coming.present[future], then)
        return table[key]

    best = None
    for state in range(len(choice.states)):
        for options in of.every(coming.now, state):
            rank, cost = PENALTY * of.left(options), 0.0
            for futures in same_comers(choice):
                chance = sum(float(coming.probability[f]) for f in futures)
                if coming.epoch_years[coming.epoch[futures[0]]] is None:
                    whole = sum(
                        float(coming.probability[f]) / chance * (
                            of.shared(f, state, state) + sum(
                                of.unit(f, state, state, u, a, a)
                                for u, a in enumerate(options) if a >= 0
                            )
                        )
                        for f in futures
                    )  # fmt: skip
                    found = (whole, whole)
                else:
                    found = of.second(futures, state, options, afters)
                rank += chance * found[0]
                cost += chance * found[1]
            if best is None or rank < best[0]:
                best = (rank, cost)
    return best


def units_left(choice, plan):
    """Units without power today, and expected ones once machines have come."""
    coming, of = choice.futures, Reckoning(choice)
    return of.left(plan.options) + sum(
        float(chance) * of.left(later.options)
        for chance, later, epoch in zip(
            coming.probability, choice.later_in(plan), coming.epoch, strict=True
        )
        if coming.epoch_years[epoch] is not None
    )


@pytest.mark.parametrize("block", range(10))
def test_best_plan_of_200_random_shops(block):
    served = coming = shared = 0
    for seed in range(20 * block, 20 * block + 20):
        choice = random_shop(seed)
        plan = solve(choice.problem)
        rank, cost = best_by_hand(choice)
        assert plan.proven, seed
        assert plan.expected == pytest.approx(cost, abs=0.005), seed
        assert units_left(choice, plan) == pytest.approx((rank - cost) / PENALTY, abs=1e-6), seed
        served += plan.serves_all
        coming += len(choice.futures.probability) > 1
        shared += choice.states[plan.state].shared is not None
    assert served >= 2
    assert coming >= 3


def test_payments_of_units_do_not_mix():
    """A plan's payments are those of what is shared and of each unit by itself."""
    compared = 0
    for seed in range(40):
        choice = random_shop(seed)
        of, plan = Reckoning(choice), solve(choice.problem)
        for future, later in enumerate(choice.later_in(plan)):
            whole = choice.ledger.worth(entries_in(choice, plan, future))
            parts = of.shared(future, plan.state, later.state) + sum(
                of.unit(future, plan.state, later.state, u, plan.options[u], later.options[u])
                for u in range(of.count)
                if plan.options[u] >= 0 or later.options[u] >= 0
            )
            assert whole == pytest.approx(parts, abs=1e-6)
            compared += 1
    assert compared > 40
