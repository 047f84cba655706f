"""Unbalance of three line voltages, by the two definitions in use.

VUF (voltage unbalance factor, "true"): negative over positive sequence; IEC 61000-4-30 and
IEC 60034-26. NEMA: greatest deviation from the mean of the three line voltages over the mean;
NEMA MG 1. Both are fractions here. Formulas as printed in these standards, from memory; checked
against Hubert, Electric Machines, example 5.14 (460, 455, 440 V: 2.58 % NEMA).
"""

from __future__ import annotations

import math

from phasewright.network.phasors import Three, sequences
from phasewright.quantities.errors import UsageError

Volts = tuple[float, float, float]


def vuf(line_voltages: Three) -> float:
    """Negative over positive sequence of three line voltage phasors."""
    _, positive, negative = sequences(line_voltages)
    if positive == 0:
        raise UsageError("there is no positive-sequence voltage to measure unbalance by")
    return abs(negative) / abs(positive)


def check_triangle(line_voltages_v: Volts) -> None:
    """Raises UsageError for three rms line voltages that no phasors can have: they must close."""
    longest = max(line_voltages_v)
    if not min(line_voltages_v) >= 0.0 or longest == 0.0:
        raise UsageError("line voltages are positive rms values")
    if longest > (sum(line_voltages_v) - longest) * (1.0 + 1e-12):
        raise UsageError("one line voltage is greater than the sum of the other two: a misreading")


def vuf_of_magnitudes(line_voltages_v: Volts) -> float:
    """The same from three rms readings: sqrt((1 - q)/(1 + q)), q = sqrt(3 - 6 beta).

    beta = (sum of fourth powers)/(sum of squares)^2. Three line voltages close a triangle;
    readings that cannot (one longer than the other two) raise UsageError. The answer cannot
    tell which sequence is the greater: it is at most 1.
    Source: IEC 61000-4-30, from memory.
    """
    check_triangle(line_voltages_v)
    squares = [volts * volts for volts in line_voltages_v]
    beta = sum(square * square for square in squares) / sum(squares) ** 2
    q = math.sqrt(max(0.0, 3.0 - 6.0 * beta))
    return math.sqrt(max(0.0, 1.0 - q) / (1.0 + q))


def nema_unbalance(line_voltages_v: Volts) -> float:
    """Greatest deviation from the mean of three rms line voltages, over the mean (NEMA MG 1)."""
    mean = sum(line_voltages_v) / 3.0
    if not mean > 0.0:
        raise UsageError("there is no voltage to measure unbalance by")
    return max(abs(volts - mean) for volts in line_voltages_v) / mean
