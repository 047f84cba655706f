"""What may turn together, over random shops: more load never turns a refusal into a yes."""

from __future__ import annotations

from itertools import combinations

import numpy as np
from plan.random_shops import random_shop


def assignments(choice, draw):
    """(state, (unit, option)...) of a few random assignments that may be had."""
    units = range(len(choice.facts.units))
    for _ in range(4):
        state = int(draw.integers(len(choice.states)))
        chosen = []
        for unit in units:
            options = [
                number for number, option in enumerate(choice.options)
                if option.way is not None
                and choice.ledger.may(unit, option, choice.states[state])
            ]  # fmt: skip
            if options:
                chosen.append((unit, int(draw.choice(options))))
        yield state, tuple(chosen)


def test_a_refused_set_stays_refused_when_more_is_added():
    refused = admitted = 0
    for seed in range(120):
        choice = random_shop(seed)
        draw = np.random.default_rng(seed)
        for state, chosen in assignments(choice, draw):
            for size in range(1, len(chosen)):
                for part in combinations(chosen, size):
                    for more in chosen:
                        if more in part:
                            continue
                        larger = tuple(sorted((*part, more)))
                        together = any(
                            group.issuperset(u for u, _ in larger) for group in choice.facts.groups
                        )
                        if not together:
                            continue
                        before = choice.admission(state, part)
                        refused += not before
                        admitted += before
                        assert before or not choice.admission(state, larger), (seed, part, more)
    assert refused > 20
    assert admitted > 100


def test_more_load_on_the_same_things_takes_no_less_from_the_supply():
    compared = 0
    for seed in range(120):
        choice = random_shop(seed)
        draw = np.random.default_rng(seed)
        for state, chosen in assignments(choice, draw):
            for size in range(1, len(chosen)):
                one = choice.admission.draw(state, chosen[:size])
                more = choice.admission.draw(state, chosen[: size + 1])
                if _stalls(choice, state, chosen[: size + 1]):
                    continue
                assert more.power_w >= one.power_w - 1e-9, (seed, chosen[: size + 1])
                compared += 1
    assert compared > 100


def _stalls(choice, state, chosen):
    shared = tuple(unit for unit, option in chosen if choice.options[option].shared)
    return bool(shared) and choice.admission.turning(state, shared) is None
