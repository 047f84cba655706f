"""Every stable operating point of a network, found by a scan of every machine's slip.

A motor on two lines and a generated third can have more than one: it runs, it crawls, an
unloaded one runs backwards as well. One slip after the other is held from beyond synchronous
speed forwards to beyond it backwards while the other machines settle; where the net torque of
the held one changes sign there is a balance. It is kept where every small motion dies out: all
eigenvalues of the shafts' equations of motion have a negative real part.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from phasewright.quantities.errors import NoOperatingPoint
from phasewright.running import newton
from phasewright.running.network import Network, Settled
from phasewright.running.refusal import refusal
from phasewright.running.rows import (
    PER_NM,
    START_SLIP,
    SYNCHRONOUS,
    Floats,
    S,
    line_row,
    machine_rows,
)
from phasewright.running.settle import report

_GRID = np.concatenate([
    np.linspace(-0.05, 0.3, 141), np.linspace(0.31, 1.69, 139), np.linspace(1.7, 2.05, 141),
])  # fmt: skip
_SAME = 1e-6
_PACE, _PACED_STEPS = 0.05, 300
_STANDSTILL = 0.01


@dataclass(frozen=True, slots=True)
class OperatingPoint:
    """A stable point. `growth_per_s` is the slowest dying motion's rate (negative)."""

    settled: Settled
    growth_per_s: float

    @property
    def running(self) -> bool:
        """All machines above half speed in their own direction."""
        return all(machine.slip < newton.LAST_SLIP for machine in self.settled.machines)

    @property
    def stalled(self) -> tuple[str, ...]:
        """Names of the machines that stand or nearly stand."""
        return tuple(m.name for m in self.settled.machines if abs(m.slip - 1.0) < _STANDSTILL)


def operating_points(network: Network) -> tuple[OperatingPoint, ...]:
    """All stable points in which every machine turns, the fastest first.

    Raises NoOperatingPoint, naming the machine that cannot carry its load, where there is none.
    """
    search = _Search(network)
    found: list[Floats] = []
    for k in range(len(network.machines)):
        for others in (False, True):
            for slips in search.balances(k, others):
                if not any(np.max(np.abs(slips - known)) < _SAME for known in found):
                    found.append(slips)
    points = []
    for slips in sorted(found, key=lambda each: float(np.sum(each))):
        levels, growth = search.growth(slips)
        point = OperatingPoint(report(network, slips, levels), growth)
        if growth < 0.0 and not point.stalled:
            points.append(point)
    if not points:
        last = np.array([1.0 for _ in network.machines])
        raise NoOperatingPoint(refusal(network, last))
    return tuple(points)


def growth_per_s(network: Network, slips: Floats, levels: Floats) -> float:
    """The greatest real part among the motions of the shafts about a point [1/s].

    d(speed)/dt = net torque/inertia with the fluxes in balance at every instant; rotor inertia
    of each machine only. Negative: stable.
    """
    line, rows = line_row(network), machine_rows(network)
    m = len(network.machines)
    _, jacobian = newton.slopes(line, rows, np.ones(m), slips, levels)
    shafts = [3 * k for k in range(m)]
    fluxes = [3 * k + q for k in range(m) if rows[k, S] > 0.0 for q in (1, 2)]
    reduced = jacobian[np.ix_(shafts, shafts)]
    if fluxes:
        answer = np.linalg.solve(jacobian[np.ix_(fluxes, fluxes)], jacobian[np.ix_(fluxes, shafts)])
        reduced = reduced - jacobian[np.ix_(shafts, fluxes)] @ answer
    rate = np.array([
        1.0 / (rows[k, PER_NM] * rows[k, SYNCHRONOUS]
               * network.machines[k].circuit.inertia_kg_m2)
        for k in range(m)
    ])  # fmt: skip
    return float(np.max(np.linalg.eigvals(-rate[:, None] * reduced).real))


class _Search:
    """The scan over one network's slips."""

    def __init__(self, network: Network) -> None:
        self.network = network
        self.line, self.rows = line_row(network), machine_rows(network)
        self.m = len(network.machines)
        self.ones = np.ones(self.m)

    def balances(self, k: int, others_stand: bool) -> list[Floats]:
        """Balances met while the slip of machine k is led over the grid, not yet judged."""
        if others_stand and self.m == 1:
            return []
        found: list[Floats] = []
        before = np.nan
        for at, slip in enumerate(_GRID):
            now, _ = self._net_torque(k, float(slip), others_stand)
            if before * now <= 0.0:
                root = self._between(k, float(_GRID[at - 1]), float(slip), others_stand, before)
                if root is not None:
                    found.append(root)
            before = now
        return found

    def growth(self, slips: Floats) -> tuple[Floats, float]:
        """Saturations at a point and its `growth_per_s`."""
        levels = self._levels()
        held = np.ones(self.m, dtype=np.bool_)
        newton.settle_one(
            self.line, self.rows, self.ones, held, slips.copy(), levels, 0.0, _PACED_STEPS
        )
        return levels, growth_per_s(self.network, slips, levels)

    def _levels(self) -> Floats:
        levels = np.empty((self.m, 2))
        newton.first_levels(self.rows, levels)
        return levels

    def _net_torque(self, k: int, slip: float, others_stand: bool) -> tuple[float, Floats]:
        """Net torque (scaled) of machine k at a slip, NaN where the others find no balance."""
        slips = np.full(self.m, 0.98) if others_stand else self.rows[:, START_SLIP].copy()
        slips[k] = slip
        levels = self._levels()
        held = np.zeros(self.m, dtype=np.bool_)
        held[k] = True
        for pace, steps in ((0.0, newton.MOST_STEPS), (_PACE, _PACED_STEPS)):
            trial, level = slips.copy(), levels.copy()
            status = newton.settle_one(
                self.line, self.rows, self.ones, held, trial, level, pace, steps
            )
            if status != newton.NOT_FOUND:
                residual, _ = newton.slopes(self.line, self.rows, self.ones, trial, level)
                return float(residual[3 * k]), trial
        return np.nan, slips

    def _between(
        self, k: int, low: float, high: float, others_stand: bool, at_low: float
    ) -> Floats | None:
        """The balance between two slips by halving; None for a jump instead of a crossing."""
        for _ in range(60):
            middle = 0.5 * (low + high)
            now, slips = self._net_torque(k, middle, others_stand)
            if not np.isfinite(now):
                return None
            if abs(now) < newton.TOLERANCE:
                return slips
            if now * at_low > 0.0:
                low, at_low = middle, now
            else:
                high = middle
        return slips if abs(now) < 1e-9 else None
