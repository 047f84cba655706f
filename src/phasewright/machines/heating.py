"""What a motor may give for ever: its losses against those of its rated point.

A winding is as hot as its losses make it: total loss may be that of the rated point, and no
phase winding may have more copper loss than at the rated point. The published derating curve
for unbalanced volts is a check of such results, never their source.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

from phasewright.machines.circuit import Circuit
from phasewright.machines.performance import rated
from phasewright.quantities.errors import TableEnds

NEMA_DERATING = (
    (0.0, 1.00), (0.005, 1.00), (0.015, 0.97), (0.020, 0.95), (0.025, 0.93), (0.030, 0.89),
    (0.035, 0.85), (0.040, 0.82), (0.045, 0.78), (0.050, 0.76),
)  # fmt: skip
"""Unbalance (NEMA definition, fraction) and factor on rated power: NEMA MG 1 derating curve for
unbalanced voltage, read as a table of points; reading error about 0.01."""


@dataclass(frozen=True, slots=True)
class Limits:
    """Losses and currents of the rated point, which the motor stands for ever.

    `winding_copper_w` is the copper loss of one phase winding, `winding_current_a` the rms
    current in it (line current over root three in delta), both without the iron part.
    """

    line_current_a: float
    winding_current_a: float
    total_loss_w: float
    winding_copper_w: float


@dataclass(frozen=True, slots=True)
class Heat:
    """Losses over those of the rated point: above 1 the winding gets too hot for ever."""

    total_ratio: float
    hottest_winding_ratio: float
    line_current_ratio: float

    @property
    def for_ever(self) -> bool:
        """True where neither the whole nor one winding is hotter than at the rated point."""
        return self.total_ratio <= 1.0 + 1e-9 and self.hottest_winding_ratio <= 1.0 + 1e-9


def limits(circuit: Circuit, *, delta: bool) -> Limits:
    """What the motor stands for ever, from its rated point."""
    now = rated(circuit)
    stator = now.stator_current_a
    return Limits(
        line_current_a=now.current_a,
        winding_current_a=stator / math.sqrt(3.0) if delta else stator,
        total_loss_w=now.loss_w,
        winding_copper_w=circuit.stator_resistance_ohm * stator**2,
    )


def winding_copper_w(circuit: Circuit, winding_current_a: float, *, delta: bool) -> float:
    """Copper loss of one phase winding [W] at its own rms current.

    The circuit is a star equivalent: a delta winding has three times its resistance.
    """
    ohm = circuit.stator_resistance_ohm * (3.0 if delta else 1.0)
    return ohm * winding_current_a**2


def heat(
    circuit: Circuit,
    *,
    total_loss_w: float,
    winding_currents_a: tuple[float, float, float],
    line_currents_a: tuple[float, float, float],
    delta: bool,
) -> Heat:
    """How an operating point compares with the rated one. All currents rms."""
    allowed = limits(circuit, delta=delta)
    hottest = max(winding_copper_w(circuit, amps, delta=delta) for amps in winding_currents_a)
    return Heat(
        total_ratio=total_loss_w / allowed.total_loss_w,
        hottest_winding_ratio=hottest / allowed.winding_copper_w,
        line_current_ratio=max(line_currents_a) / circuit.rated_current_a,
    )


def nema_derating(unbalance: float) -> float:
    """Factor on rated power for a voltage unbalance (NEMA definition, fraction): a check only.

    Straight lines between the published points; above 5 % TableEnds (MG 1 advises against it).
    """
    if not 0.0 <= unbalance <= NEMA_DERATING[-1][0]:
        text = f"the derating curve ends at 5 % unbalance, asked for {unbalance * 100.0:.1f} %"
        raise TableEnds(text)
    for (low, first), (high, second) in itertools.pairwise(NEMA_DERATING):
        if unbalance <= high:
            return first + (second - first) * (unbalance - low) / (high - low)
    raise TableEnds("the derating curve has no point here")


def extra_temperature_rise(unbalance: float) -> float:
    """Extra temperature rise as a fraction: 2 (unbalance in %) squared percent; a check only.

    Hubert, Electric Machines, example 5.14: 2.58 % unbalance, 13.3 % more rise.
    """
    return 2.0 * (100.0 * unbalance) ** 2 / 100.0
