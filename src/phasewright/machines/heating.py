"""What a motor may give for ever: its losses against those of its rated point.

A winding is as hot as its losses make it: total loss may be that of the rated point, and no
phase winding may have more copper loss than at the rated point. The published derating curve
for unbalanced volts (`tables.limits`) is a check of such results, never their source.
"""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.machines.circuit import Circuit
from phasewright.machines.performance import rated


@dataclass(frozen=True, slots=True)
class Limits:
    """Losses and currents of the rated point, which the motor stands for ever.

    `winding_current_a` is the rms current of one phase winding as a clamp would show it (line
    current over root three in delta), `winding_copper_w` its copper loss.
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
    return Limits(
        line_current_a=now.current_a,
        winding_current_a=now.winding_current_a(delta=delta),
        total_loss_w=now.loss_w,
        winding_copper_w=circuit.stator_resistance_ohm * now.current_a**2,
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


def extra_temperature_rise(unbalance: float) -> float:
    """Extra temperature rise as a fraction: 2 (unbalance in %) squared percent; a check only.

    Hubert, Electric Machines, example 5.14: 2.58 % unbalance, 13.3 % more rise.
    """
    return 2.0 * (100.0 * unbalance) ** 2 / 100.0
