"""What may turn together, over random shops: more load never turns a refusal into a yes."""

from __future__ import annotations

from itertools import combinations

import numpy as np
from plan.random_shops import random_shop

from phasewright.files.shop_file import read_text
from phasewright.plan.arrays import choice_of
from phasewright.plan.facts import facts_of
from phasewright.plan.terms import terms_of


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


TWO = """
phasewright: 1
shop: An invented pair
region: IEC
supply: {{kind: single_phase, voltage: 230 V, frequency: 50 Hz, service_rating: 100 A}}
machines:
  - name: One
    runs_with: [Two]
    motors:
      - {{name: main, plate: {{{plate}}}, load: {{kind: other, torque: {torque}, duty: {duty}}}}}
  - name: Two
    motors:
      - {{name: main, plate: {{{plate}}}, load: {{kind: other, torque: {torque}, duty: {duty}}}}}
"""
PLATE = "power: 1.5 kW, voltage: 230/400 V, frequency: 50 Hz, speed: 1420 rpm"


def together(torque, duty):
    """For every converter on which each may hang alone: whether both may turn together."""
    text = TWO.format(plate=PLATE, torque=torque, duty=duty)
    facts = facts_of(read_text(text))
    choice = choice_of(facts, terms_of(facts.shop))
    converter = "rotary_converter"
    shared = next(k for k, option in enumerate(choice.options) if option.way == converter)
    found = {}
    for k, state in enumerate(choice.states):
        if state.shared is not None and all(choice.admission(k, ((u, shared),)) for u in (0, 1)):
            power = facts.shared[state.shared].rating
            found[power] = choice.admission(k, ((0, shared), (1, shared)))
    return found


def test_motors_together_are_judged_over_their_duty_as_alone():
    """The same load with pauses heats less, so no converter refuses it that admits it all day."""
    always, pausing = together(0.95, 1.0), together(0.95, 0.3)
    assert any(pausing.values())
    for power, admitted in always.items():
        assert pausing[power] >= admitted
    assert sum(pausing.values()) > sum(always.values())
