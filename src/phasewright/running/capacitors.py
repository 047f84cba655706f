"""Run capacitors for a whole workday: one bank that serves every case best.

A case is a set of machines that turn together, with its share of the day. The objective is the
worst unbalance (VUF) over all cases, then its weighted mean (a thousandth of it is added to
decide between equals). Where any line rises above `highest_ratio` of rated volts in any case
(1.1: over-excited, common practice) a bank is refused; where every bank does so, the one with
the least excess is taken and the cases are named.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from phasewright.network.balance import balancing_capacitances
from phasewright.quantities.errors import NoOperatingPoint, UsageError
from phasewright.running import outcome
from phasewright.running.network import Between, Network, Settled
from phasewright.running.rows import Floats, line_row, machine_rows
from phasewright.running.settle import settle, settle_rows

OVER_EXCITED = 1.1
NOTHING = Between()
_EQUALS = 1e-3
_EXCESS = 10.0
_FIRST_GRID, _GRID, _ZOOMS, _KEEP = 13, 9, 12, 0.5
_FIRST_WINDOW = 8


@dataclass(frozen=True, slots=True)
class Case:
    """Machines that turn together (capacitors of the network do not count) and their share."""

    name: str
    network: Network
    weight: float = 1.0


@dataclass(frozen=True, slots=True)
class Bank:
    """Capacitors across 2-3 and 3-1, and what they do in every case."""

    capacitance_f: Between
    worst_vuf: float
    mean_vuf: float
    points: tuple[Settled, ...]
    over_excited: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """The best bank of any value, and the best that the stock makes (with its cans)."""

    continuous: Bank
    stocked: Bank
    cans_23_f: tuple[float, ...]
    cans_31_f: tuple[float, ...]


def choose(
    cases: tuple[Case, ...],
    stock_f: tuple[float, ...],
    *,
    most_cans: int = 4,
    c12_f: float = 0.0,
    rated_voltage_v: float | None = None,
    highest_ratio: float = OVER_EXCITED,
    within_f: float = 0.0,
    beside_f: Between = NOTHING,
) -> Choice:
    """Choose C23 and C31 for a workday of cases; C12 is given.

    Each leg is the sum of at most `most_cans` cans of the stock values (any number of each).
    `rated_voltage_v` is that of the machines, by default of each case's first. The stocked
    optimum is the best of all sums in a window about the optimum of any value that grows
    until the best lies inside it; the one of any value need be no nearer than `within_f` where
    only the stock counts. What is chosen stands beside `beside_f`: the banks told are the whole,
    the cans those that are added. Raises NoOperatingPoint where a case runs with no bank.
    """
    beside = replace(beside_f, c12=beside_f.c12 + c12_f)
    judge = _Judge(cases, beside, rated_voltage_v, highest_ratio)
    best = judge.continuous(within_f)
    sums = _sums(stock_f, most_cans)
    c23, c31 = judge.stocked(np.array(sorted(sums)), best)
    return Choice(judge.bank(*best), judge.bank(c23, c31), sums[c23], sums[c31])


def judged(
    cases: tuple[Case, ...],
    capacitance_f: Between,
    *,
    rated_voltage_v: float | None = None,
    highest_ratio: float = OVER_EXCITED,
) -> Bank:
    """What a given bank does in every case."""
    return _Judge(cases, capacitance_f, rated_voltage_v, highest_ratio).bank(0.0, 0.0)


class _Judge:
    """The objective over the cases of one workday, of what is added to a bank."""

    def __init__(
        self, cases: tuple[Case, ...], beside: Between, rated_v: float | None, highest_ratio: float
    ) -> None:
        if not cases or not all(case.weight >= 0.0 for case in cases):
            raise UsageError("capacitors are chosen for at least one case, with weights >= 0")
        self.cases, self.beside, self.highest_ratio = cases, beside, highest_ratio
        self.rated = [
            case.network.machines[0].circuit.line_voltage_v if rated_v is None else rated_v
            for case in cases
        ]
        self.rows = [(line_row(case.network), machine_rows(case.network)) for case in cases]
        total = sum(case.weight for case in cases)
        self.weights = [case.weight / total if total else 1.0 / len(cases) for case in cases]

    def objective(self, c23: Floats, c31: Floats, most: float = np.inf) -> Floats:
        """Objective of additions (n,): infinite where a case has no running point.

        What a bank does in some of the cases is never worse than what it does in all of them. One
        that is above `most` after some is not tried in the others, and what it has till then told.
        """
        at = self.beside
        banks = np.stack([np.full_like(c23, at.c12), at.c23 + c23, at.c31 + c31], axis=1)
        worst, mean, excess = np.zeros_like(c23), np.zeros_like(c23), np.zeros_like(c23)
        value, still = np.zeros_like(c23), np.arange(len(c23))
        for rows, weight, rated in zip(self.rows, self.weights, self.rated, strict=True):
            sweep = settle_rows(*rows, banks[still])
            vuf = np.where(sweep.settled, sweep.vuf, np.inf)
            volts = np.max(sweep.lines[:, outcome.V12 : outcome.V31 + 1], axis=1) / rated
            over = np.where(sweep.settled, volts, np.inf) - self.highest_ratio
            worst[still] = np.maximum(worst[still], vuf)
            mean[still] = mean[still] + weight * vuf
            excess[still] = np.maximum(excess[still], over)
            penalty = np.where(excess[still] > 0.0, 1.0 + _EXCESS * excess[still], 0.0)
            value[still] = worst[still] + _EQUALS * mean[still] + penalty
            still = still[value[still] <= most]
        return value

    def best(self, c23: Floats, c31: Floats, about: tuple[float, float]) -> int:
        """The first of the additions (n,) with the least objective, -1 where none lets every case
        run; the one nearest to `about` is tried first, for the others to beat."""
        known = np.inf
        if len(self.cases) > 1:
            near = int(np.argmin((c23 - about[0]) ** 2 + (c31 - about[1]) ** 2))
            known = float(self.objective(c23[near : near + 1], c31[near : near + 1])[0])
        values = self.objective(c23, c31, known)
        at = int(np.argmin(values))
        return at if np.isfinite(values[at]) else -1

    def largest(self) -> float:
        """A capacitance beyond which no optimum lies: twice what balances the largest case."""
        most = 0.0
        for case in self.cases:
            point = _first_point(case)
            hertz = case.network.source.frequency_hz
            power = sum(machine.input_power_w for machine in point.machines)
            volts = case.network.source.voltage_v
            reactive = point.supply_reactive_var + _supplied_var(point, case.network)
            need = balancing_capacitances(power, max(reactive, power), volts, hertz)
            most = max(most, need.c31_f)
        return 2.0 * most

    def continuous(self, within_f: float = 0.0) -> tuple[float, float]:
        """The best bank of any value: grids that narrow about the best point."""
        width = self.largest()
        low23 = low31 = 0.0
        best = (0.25 * width, 0.25 * width)
        for zoom in range(_ZOOMS):
            grid = _GRID if zoom else _FIRST_GRID
            x = np.linspace(low23, low23 + width, grid)
            y = np.linspace(low31, low31 + width, grid)
            c23, c31 = (each.ravel() for each in np.meshgrid(x, y, indexing="ij"))
            at = self.best(c23, c31, best)
            if at < 0:
                raise NoOperatingPoint("no run capacitors let every case of the workday run")
            best = (float(c23[at]), float(c31[at]))
            if width <= (grid - 1) * within_f:
                break
            width *= _KEEP
            low23 = max(0.0, best[0] - 0.5 * width)
            low31 = max(0.0, best[1] - 0.5 * width)
        return best

    def stocked(self, sums: Floats, about: tuple[float, float]) -> tuple[float, float]:
        """The best pair of stock sums, in a window that grows until the best lies inside."""
        spans, best = [_FIRST_WINDOW, _FIRST_WINDOW], about
        while True:
            legs = [_window(sums, at, span) for at, span in zip(about, spans, strict=True)]
            c23, c31 = (each.ravel() for each in np.meshgrid(*legs, indexing="ij"))
            at = self.best(c23, c31, best)
            best = best if at < 0 else (float(c23[at]), float(c31[at]))
            ends = [
                len(leg) < len(sums) and (at < 0 or _at_the_end(leg, value, sums))
                for value, leg in zip(best, legs, strict=True)
            ]
            if at >= 0 and not any(ends):
                return best
            if not any(ends):
                raise NoOperatingPoint("no bank of the stock lets every case of the workday run")
            spans = [2 * span if end else span for span, end in zip(spans, ends, strict=True)]

    def bank(self, c23: float, c31: float) -> Bank:
        """One addition, every case settled with the whole bank."""
        at = self.beside
        between = Between(at.c12, at.c23 + c23, at.c31 + c31)
        points = tuple(settle(replace(case.network, capacitance_f=between)) for case in self.cases)
        over = tuple(
            case.name
            for case, point, rated in zip(self.cases, points, self.rated, strict=True)
            if max(point.line_voltages_v) > self.highest_ratio * rated
        )
        mean = sum(w * point.vuf for w, point in zip(self.weights, points, strict=True))
        return Bank(between, max(point.vuf for point in points), mean, points, over)


def _first_point(case: Case) -> Settled:
    """The case with no capacitors, or with its own where it does not run without."""
    try:
        return settle(replace(case.network, capacitance_f=Between()))
    except NoOperatingPoint:
        return settle(case.network)


def _supplied_var(point: Settled, network: Network) -> float:
    """Reactive power the capacitors of a point give."""
    currents, volts = point.capacitor_currents_a, point.line_voltages_v
    return sum(i * v for i, v in zip(currents, volts, strict=True))


@lru_cache(maxsize=16)
def _sums(stock_f: tuple[float, ...], most_cans: int) -> dict[float, tuple[float, ...]]:
    """Every capacitance that at most `most_cans` cans make, with the fewest cans for it."""
    if not all(value > 0.0 for value in stock_f) or most_cans < 0:
        raise UsageError("stock capacitors are greater than zero")
    found: dict[float, tuple[float, ...]] = {0.0: ()}
    for count in range(1, most_cans + 1):
        for cans in itertools.combinations_with_replacement(sorted(stock_f, reverse=True), count):
            total = float(f"{sum(cans):.9g}")
            found.setdefault(total, cans)
    return found


def _at_the_end(leg: Floats, value: float, sums: Floats) -> bool:
    """Whether a value is the first or last of a window that could reach further there."""
    first, last = leg[0], leg[-1]
    return bool((value == first > sums[0]) or (value == last < sums[-1]))


def _window(sums: Floats, about: float, span: int) -> Floats:
    """The sums nearest to a value, `span` to either side."""
    at = int(np.searchsorted(sums, about))
    return sums[max(0, at - span) : at + span + 1]
