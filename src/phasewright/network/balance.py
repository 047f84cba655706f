"""Capacitors that balance the generated line exactly, in closed form.

At balance the three line voltages stand 120 degrees apart and a third of all three-phase power
leaves through line 3, which only the capacitors across 2-3 and 3-1 can supply:

    C31 - C23 = 2 P/(sqrt(3) w V^2),   C31 + C23 = 2 Q/(3 w V^2)   (rotation 1-2-3).

P and Q are those of all three-phase machines at balanced volts. C23 >= 0 only where the power
factor is at most 0.5; with exactly 0.5 one capacitor suffices (the circuit named after
Steinmetz). Source: derived from phasors; the one-capacitor case agrees with the formula that a
motor maker prints for its 70 uF per kW rule at 230 V 50 Hz.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from phasewright.quantities.errors import UsageError


@dataclass(frozen=True, slots=True)
class Balancing:
    """Capacitances for exact balance [F]; a negative one stands for an inductor.

    `inductance_23_h` is that inductor across 2-3 where C23 comes out negative, else None.
    """

    c23_f: float
    c31_f: float
    inductance_23_h: float | None


def balancing_capacitances(
    power_w: float, reactive_var: float, line_voltage_v: float, frequency_hz: float
) -> Balancing:
    """Capacitors across 2-3 and 3-1 that balance loads of this power at this voltage.

    `power_w` and `reactive_var` (lagging positive) are summed over all three-phase loads.
    """
    if not (line_voltage_v > 0.0 and frequency_hz > 0.0):
        raise UsageError("balancing capacitors need a voltage and a frequency above zero")
    w = 2.0 * math.pi * frequency_hz
    both = reactive_var / (3.0 * w * line_voltage_v**2)
    apart = power_w / (math.sqrt(3.0) * w * line_voltage_v**2)
    c23 = both - apart
    return Balancing(c23, both + apart, None if c23 >= 0.0 else -1.0 / (w * w * c23))


def single_capacitance(power_w: float, line_voltage_v: float, frequency_hz: float) -> float:
    """The one capacitor across 3-1 that balances a motor at a power-factor angle of 60 deg [F].

    `power_w` is electrical input. C = 2 P/(sqrt(3) w V^2).
    """
    return balancing_capacitances(
        power_w, math.sqrt(3.0) * power_w, line_voltage_v, frequency_hz
    ).c31_f


def line_susceptances(
    current_a: float, lag_rad: float, line_voltage_v: float
) -> tuple[float, float]:
    """(susceptance across 3-1, across 2-3) [S] for a balanced line current at a lag.

    (2/sqrt(3)) (I/V) sin(lag +- 60 deg): the same relation by current and angle.
    """
    unit = 2.0 / math.sqrt(3.0) * current_a / line_voltage_v
    third = math.pi / 3.0
    return unit * math.sin(lag_rad + third), unit * math.sin(lag_rad - third)
