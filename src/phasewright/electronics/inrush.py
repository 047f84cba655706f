"""Switching a drive on with its link discharged: the peak it draws, what its resistor takes.

The bridge of `bridge_kernel` started from rest at a point on the wave, its charging (precharge)
resistor in series; the inverter does not draw yet. The relay across the resistor closes later.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from phasewright.electronics.bridge_kernel import OFF, switch_on
from phasewright.electronics.rectifier import Bridge, parameters_of
from phasewright.quantities.errors import NotComputable, UsageError

_POINTS = 12
_PEAK_STEPS = 200
_CHARGE_STEPS = 40
_CHARGED = 0.90
_CONSTANTS = 20.0  # time constants of resistor and link after which it must be charged


@dataclass(frozen=True, slots=True)
class Inrush:
    """`peak_a` at the worst point on the wave; `charge_s` until the link holds nine tenths of the
    mains' peak; `energy_j` that the charging resistor has taken by then (0 without one)."""

    peak_a: float
    charge_s: float
    energy_j: float


def inrush(bridge: Bridge, precharge_ohm: float, *, held_v: float = 0.0) -> Inrush:
    """What a bridge draws when it is switched on with `held_v` left in its link.

    The worst of twelve points on a half wave. `precharge_ohm` 0: no charging resistor, or one
    whose relay is still closed. Raises UsageError for a resistance or a voltage below zero and
    for what is no bridge; NotComputable where nothing bounds the peak.
    """
    if not (0.0 <= precharge_ohm < math.inf and 0.0 <= held_v < math.inf):
        raise UsageError("a charging resistor and a held voltage must be finite and not negative")
    return _worst(bridge, precharge_ohm, held_v)


def least_off_s(energy_j: float, lasting_w: float) -> float:
    """Seconds between two switchings on that a charging resistor bears for ever.

    `lasting_w` is what it sheds steadily. Raises UsageError for a resistor that sheds nothing.
    """
    if not lasting_w > 0.0:
        raise UsageError("a charging resistor must shed some watts")
    return energy_j / lasting_w


@lru_cache(maxsize=2048)
def _worst(bridge: Bridge, precharge_ohm: float, held_v: float) -> Inrush:
    p = parameters_of(replace(bridge, link_power_w=1.0, load_resistance_ohm=None))
    p[2] += precharge_ohm
    p[9] = p[10] = 0.0
    cycle_s = 2.0 * math.pi / p[1]
    # the first pulse from each point on the wave: it ends where the diodes block
    fine, half = cycle_s / _PEAK_STEPS, 0.5 * cycle_s / _POINTS
    ohm = float(p[2] + 2.0 * p[8])
    if p[3] < ohm * fine:  # nothing slows its rise: what fills the link tells how soon it falls
        fine = min(fine, 0.01 * ohm * float(p[6]))
    steps = math.ceil(2.0 * cycle_s / fine)
    peak = max(
        switch_on(p, n * half, fine, steps, 0.0, np.array([0.0, 0.0, held_v, OFF]))[0]
        for n in range(_POINTS)
    )
    coarse = cycle_s / _CHARGE_STEPS
    longest = math.ceil((_CONSTANTS * p[2] * p[6] + 2.0 * cycle_s) / coarse)
    full_v = _CHARGED * (p[0] - 2.0 * p[7])
    state = np.array([0.0, 0.0, held_v, OFF])
    _, squares, charged_s = switch_on(p, 0.0, coarse, longest, full_v, state)
    if state[2] < full_v:
        raise NotComputable("the link of this drive does not fill through its charging resistor")
    if bridge.doubler:  # the other half of it half a period later, through the same resistor
        return Inrush(peak, charged_s + 0.5 * cycle_s, 2.0 * squares * precharge_ohm)
    return Inrush(peak, charged_s, squares * precharge_ohm)
