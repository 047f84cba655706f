"""A rectifier on the three lines of a settled network: volts and currents in one balance.

For its harmonics and for the change-over from line to line the generated line is the volts
behind the impedance that machines show to a fast change, rotors as at standstill, and lines 1
and 2 are behind half the supply's loop each: the usual commutating reactance of a rectifier fed
by a machine (subtransient; from memory). Its fundamentals, pair of lines by pair of lines, hang
on the network as admittances, where slips and saturations settle with them. The volts behind
are such that both sides see the same fundamental volts at the bridge.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from phasewright.electronics.three_line_rectifier import (
    Feed,
    Phasors,
    ThreeLineBridge,
    ThreeLineState,
    between,
    settle_on_three_lines,
)
from phasewright.machines.circuit import Circuit
from phasewright.quantities.errors import NoOperatingPoint
from phasewright.running.converter import in_parallel
from phasewright.running.network import Between, Network, Settled
from phasewright.running.rows import Floats
from phasewright.running.settle import settle

_MOST_ROUNDS = 60
_MEMORY = 4
_NEAR = 1e-6
_A_LITTLE = 1e-3


@dataclass(frozen=True, slots=True)
class Rectifier:
    """A bridge of six diodes with its link; `link_power_w` is the mean power of its load."""

    link_power_w: float
    capacitance_f: float


@dataclass(frozen=True, slots=True)
class WithRectifier:
    """A network and the rectifier on its lines, in balance.

    `settled` counts the rectifier's fundamentals; of its figures `resistive_loads_w` and
    `capacitor_currents_a` hold the rectifier's part as well. `network` is the one of that point,
    the rectifier in it as what it amounts to there.
    """

    settled: Settled
    bridge: ThreeLineState
    network: Network


def phasors_of(line_voltages_v: tuple[float, float, float]) -> Phasors:
    """Volts of lines 1, 2, 3 against line 2 from the three line voltages, rotation 1-2-3."""
    v12, v23, v31 = line_voltages_v
    along = (v12 * v12 + v23 * v23 - v31 * v31) / (2.0 * v12)
    return complex(v12), 0j, complex(along, math.sqrt(max(v23 * v23 - along * along, 0.0)))


def standstill_ohm(circuit: Circuit, frequency_hz: float) -> complex:
    """Impedance of a machine at standstill, star equivalent per phase: what a fast change meets."""
    ratio = frequency_hz / circuit.frequency_hz
    gap = 1.0 / complex(0.0, ratio * circuit.magnetising_ohm)
    for cage in circuit.cages:
        gap += 1.0 / complex(cage.resistance_ohm, ratio * cage.leakage_ohm)
    return complex(circuit.stator_resistance_ohm, ratio * circuit.stator_leakage_ohm) + 1.0 / gap


def line3_fast_ohm(network: Network) -> complex:
    """Impedance of line 3 against lines 1 and 2 tied together, for a fast change.

    One phase of every machine in series with the other two in parallel; capacitors left out.
    """
    hertz = network.source.frequency_hz
    return 1.5 / sum(1.0 / standstill_ohm(each.circuit, hertz) for each in network.machines)


def line3_thevenin(network: Network) -> tuple[complex, complex]:
    """(open volts against line 2, impedance [ohm]) of line 3 in settled running.

    From the network as it stands and with a small resistive load from line 3 to lines 1 and 2
    alike; slips and saturations settle with it. The angle is that of v12 without the load. Raises
    NoOperatingPoint.
    """
    open_v = phasors_of(settle(network).line_voltages_v)
    locked = line3_fast_ohm(network)
    siemens = _A_LITTLE / abs(locked)
    half = Between(0.0, 0.5 * siemens, 0.5 * siemens)
    loaded = settle(replace(network, conductance_s=in_parallel(network.conductance_s, half)))
    v1, _, v3 = phasors_of(loaded.line_voltages_v)
    current = siemens * (v3 - 0.5 * v1)
    # of line 3 against the middle of lines 1 and 2, so that a drop of v12 is not counted twice
    fall = (open_v[2] - 0.5 * open_v[0]) - (v3 - 0.5 * v1)
    return open_v[2], fall / current


@lru_cache(maxsize=1024)
def with_rectifier(network: Network, rectifier: Rectifier) -> WithRectifier:
    """The settled network with a rectifier on lines 1, 2 and 3.

    Raises NoOperatingPoint where a machine does not carry its load beside it or where volts and
    currents find no balance, NotComputable where the lines cannot give its power.
    """
    half = complex(network.source.resistance_ohm, network.source.reactance_ohm) / 2.0
    ohm = (half, half, line3_fast_ohm(network))
    behind = phasors_of(settle(network).line_voltages_v)
    tried: list[Floats] = []
    missed: list[Floats] = []
    for _ in range(_MOST_ROUNDS):
        bridge = settle_on_three_lines(
            ThreeLineBridge(
                Feed(behind, ohm, network.source.frequency_hz),
                rectifier.capacitance_f, rectifier.link_power_w,
            )
        )  # fmt: skip
        admittances = [
            amps / volts
            for amps, volts in zip(bridge.pair_currents_a, bridge.pair_volts_v, strict=True)
        ]
        settled = settle(_loaded(network, admittances))
        at_lines = phasors_of(settled.line_voltages_v)
        pairs, seen = between(at_lines), bridge.pair_volts_v
        turn = abs(seen[0]) / seen[0]
        misfit = max(abs(one - other * turn) for one, other in zip(pairs, seen, strict=True))
        if misfit < _NEAR * abs(pairs[0]):
            return WithRectifier(settled, bridge, _loaded(network, admittances))
        flows = np.array(admittances) * np.array(pairs)
        wanted = np.array(at_lines) + np.array(ohm) * (flows - np.roll(flows, 1))
        tried.append(_apart(np.array(behind) * turn))
        missed.append(_apart(wanted) - tried[-1])
        one, two, three, four = _next(tried[-_MEMORY:], missed[-_MEMORY:])
        behind = complex(one, two), 0j, complex(three, four)
    raise NoOperatingPoint(
        f"the volts of line 3 and the current of a rectifier of {rectifier.link_power_w:.0f} W "
        "find no balance on this converter"
    )


def _apart(volts: NDArray[np.complex128]) -> Floats:
    """Lines 1 and 3 against line 2 as four real numbers."""
    first, third = volts[0] - volts[1], volts[2] - volts[1]
    return np.array([first.real, first.imag, third.real, third.imag])


def _next(tried: list[Floats], missed: list[Floats]) -> Floats:
    """The next point to try: of the last ones the mixture that misses least, moved by its miss.

    D. G. Anderson, Iterative procedures for nonlinear integral equations, J. ACM 12, 1965 (from
    memory).
    """
    point, miss = tried[-1], missed[-1]
    if len(tried) > 1:
        moves = np.diff(np.array(tried), axis=0).T
        gains = np.diff(np.array(missed), axis=0).T
        shares = np.linalg.lstsq(gains, miss, rcond=1e-6)[0]
        point, miss = point - moves @ shares, miss - gains @ shares
    return point + miss


def _loaded(network: Network, admittances: list[complex]) -> Network:
    """The network with admittances across 1-2, 2-3, 3-1 (their vars as capacitors, which are
    below zero where current lags)."""
    w = 2.0 * math.pi * network.source.frequency_hz
    watts = Between(*(each.real for each in admittances))
    vars_ = Between(*(each.imag / w for each in admittances))
    return replace(
        network,
        capacitance_f=in_parallel(network.capacitance_f, vars_),
        conductance_s=in_parallel(network.conductance_s, watts),
    )
