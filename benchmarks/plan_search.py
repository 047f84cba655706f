"""Time of the plan search on invented shops of 12 motors, 10 ways, 64 futures, 100 states.

Run: python benchmarks/plan_search.py [number of seeds]. Everything is invented. States: nothing,
every pairing of nine converters and four electronic sources, each with and without a
three-phase service; options: private ones that load the supply, shared ones that load what is
shared. Six machines may come.
"""

from __future__ import annotations

import statistics
import sys
from dataclasses import replace
from itertools import product
from time import perf_counter

import numpy as np

from phasewright.plan.problem import Problem
from phasewright.plan.search import rank, solve

WAYS, FUTURES, STATES = 10, 64, 100
YEARS = (1.0, 2.0, 3.0, 4.0, 6.0)
HORIZON = 10.0


def invented_shop(seed: int, grouping: str, units: int = 12) -> Problem:
    """All but six of the motors are there now; `grouping` is none, hub, pairs or all."""
    draw = np.random.default_rng(seed)
    power = draw.choice([0.12, 0.37, 0.75, 1.1, 1.5, 2.2, 3.0, 4.0, 5.5], units)
    # states: a rotary size, an electronic size (0 = none), a three-phase service or not
    rotary = np.array([0.0, 1.5, 2.2, 3, 4, 5.5, 7.5, 11, 15, 22])
    electronic = np.array([0.0, 4, 7.5, 11, 15])
    sizes = np.array([(r, e, s) for r, e, s in product(rotary, electronic, (0.0, 1.0))])[:STATES]
    price = np.where(sizes[:, 0] > 0, 480 + 130 * sizes[:, 0], 0.0)
    price += np.where(sizes[:, 1] > 0, 900 + 330 * sizes[:, 1], 0.0) + 8000 * sizes[:, 2]
    idle = 12.0 * sizes[:, 0] ** 0.7
    hours = draw.uniform(30, 600, units)
    tariff = 0.27
    serves = _serves(power, sizes)
    loss = draw.uniform(0.03, 0.15, (units, WAYS))
    yearly = tariff * (hours * power)[:, None] * loss
    private = np.array([120 + 80 * power**1.1, 40 + 20 * power, 90 + 85 * power, 300 + 170 * power])
    buy = draw.uniform(0.8, 1.3, (units, WAYS)) * 60
    buy[:, :4] = private.T * draw.uniform(0.85, 1.2, (units, 4))
    years = np.array([*YEARS, HORIZON])
    left = HORIZON - years
    first = buy[None, None] + years[:, None, None, None] * yearly[None, None]
    first = np.where(serves, np.broadcast_to(first, (6, STATES, units, WAYS)), np.inf)
    later = np.empty((6, STATES, units, WAYS + 1, WAYS))
    change = buy[:, None, :] * 0.9 - 0.35 * buy[:, :, None]
    change[:, range(WAYS), range(WAYS)] = 0.0
    for e in range(6):
        run = left[e] * yearly
        later[e, :, :, :-1] = np.where(serves[:, :, None], change + run[:, None], np.inf)
        later[e, :, :, -1] = np.where(serves, buy + run, np.inf)
    hold = price + idle * HORIZON
    move = np.empty((6, STATES, STATES))
    for e, year in enumerate(years):
        resale = 0.5 * 0.5 ** (year / 7) * price
        move[e] = (price[None] - resale[:, None]) * 0.96**year
        move[e] += left[e] * (idle[None] - idle[:, None])
        move[e][range(STATES), range(STATES)] = 0.0
    now = np.arange(units) < units - 6
    bits = np.array(list(product((False, True), repeat=6)))
    chance = draw.uniform(0.1, 0.9, 6)
    probability = np.where(bits, chance, 1 - chance).prod(axis=1)
    arrival = draw.integers(0, 5, 6)
    epoch = np.where(bits, arrival, 9).min(axis=1)
    epoch[epoch == 9] = 5
    groups = {
        "none": (),
        "hub": tuple(frozenset({0, i}) for i in range(1, units)),
        "pairs": tuple(frozenset({i, j}) for i in range(units) for j in range(i)),
        "all": (frozenset(range(units)),),
    }[grouping]
    return Problem(
        hold=np.tile(hold, (6, 1)),
        move=move,
        first=first,
        later=later,
        second=np.array([True] * 5 + [False]),
        probability=probability / probability.sum(),
        epoch=epoch,
        present=np.hstack([np.ones((FUTURES, units - 6), dtype=bool), bits]),
        now=now,
        groups=groups,
        admit=Capacity(power, sizes, _supply(power, grouping)),
    )


def _supply(power: np.ndarray, grouping: str) -> float:
    """Kilowatts the supply bears: more where more may run together."""
    if grouping == "all":
        return float(0.9 * power.sum())
    return float((1.6 if grouping == "pairs" else 1.5) * power.max())


def _serves(power: np.ndarray, sizes: np.ndarray) -> np.ndarray:
    """(S, U, A): ways 0 to 3 private, 4 to 6 on a converter, 7 to 8 electronic, 9 the service."""
    out = np.zeros((STATES, power.size, WAYS), dtype=bool)
    out[:, :, 0] = power <= 4
    out[:, :, 1] = power <= 2.2
    out[:, :, 2] = power <= 3
    out[:, :, 3] = power <= 4
    out[:, :, 4:7] = (sizes[:, 0, None] >= 1.2 * power)[:, :, None]
    out[:, :, 7:9] = (sizes[:, 1, None] >= 1.5 * power)[:, :, None]
    out[:, :, 9] = sizes[:, 2, None] > 0
    return out


class Capacity:
    """What is shared bears its rating; the supply bears so many kilowatts; counts questions."""

    def __init__(self, power: np.ndarray, sizes: np.ndarray, supply: float) -> None:
        self.power, self.sizes, self.supply = power.tolist(), sizes.tolist(), supply
        self.asked = 0

    def __call__(self, state: int, running: tuple[tuple[int, int], ...]) -> bool:
        self.asked += 1
        rotary, electronic, service = self.sizes[state]
        on_rotary = sum(self.power[u] for u, a in running if 4 <= a <= 6)
        on_electronic = sum(self.power[u] for u, a in running if 7 <= a <= 8)
        supply = sum(self.power[u] * (1.7 if a == 0 else 1.2) for u, a in running)
        return (
            on_rotary <= 0.9 * rotary
            and on_electronic <= 0.8 * electronic
            and (service > 0 or supply <= self.supply)
        )


def main() -> None:
    seeds = int(sys.argv[1]) if len(sys.argv) > 1 else 20
    for units, grouping in product((12, 18), ("none", "hub", "pairs", "all")):
        times, asked, nodes, open_plans = [], [], [], 0
        for seed in range(seeds):
            problem = invented_shop(seed, grouping, units)
            begun = perf_counter()
            found = solve(problem)
            times.append(perf_counter() - begun)
            asked.append(problem.admit.asked)
            nodes.append(found.nodes)
            open_plans += not found.proven
        print(
            f"{units} motors, groups {grouping:5}: median {statistics.median(times):.2f} s, worst "
            f"{max(times):.2f} s, admit asked {max(asked)}, nodes {max(nodes)}, "
            f"not proven {open_plans} of {seeds}"
        )
    problem = replace(invented_shop(0, "hub"))
    begun = perf_counter()
    rank(problem, 10)
    print(f"the best ten plans, one seed with a hub: {perf_counter() - begun:.2f} s")


if __name__ == "__main__":
    main()
