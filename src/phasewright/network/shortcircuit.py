"""Prospective fault current of a supply, and the way back from it.

Source: IEC 60909-0 (voltage factor c: 1.05 or 1.10 for the greatest, 0.95 or 0.90 for the least
current on low voltage), from memory.
"""

from __future__ import annotations

import math

from phasewright.quantities.errors import UsageError

GREATEST, LEAST = 1.10, 0.90


def fault_current_a(
    voltage_v: float, resistance_ohm: float, reactance_ohm: float, voltage_factor: float = 1.0
) -> float:
    """Symmetrical rms current of a dead short between the two lines [A].

    c V/|Z| with the whole loop's impedance. Raises UsageError for a loop without impedance.
    """
    loop = math.hypot(resistance_ohm, reactance_ohm)
    if not loop > 0.0:
        raise UsageError("a loop without impedance has no fault current to compute")
    return voltage_factor * voltage_v / loop


def loop_ohm(voltage_v: float, current_a: float, voltage_factor: float = 1.0) -> float:
    """Modulus of the loop impedance behind a prospective fault current [ohm]."""
    if not current_a > 0.0:
        raise UsageError("a prospective fault current is greater than zero")
    return voltage_factor * voltage_v / current_a


def peak_current_a(current_a: float, resistance_ohm: float, reactance_ohm: float) -> float:
    """Greatest instantaneous value of the first half cycle [A].

    kappa sqrt(2) I with kappa = 1.02 + 0.98 exp(-3 R/X) (IEC 60909-0, from memory).
    """
    if reactance_ohm == 0.0:
        return 1.02 * math.sqrt(2.0) * current_a
    kappa = 1.02 + 0.98 * math.exp(-3.0 * resistance_ohm / reactance_ohm)
    return kappa * math.sqrt(2.0) * current_a
