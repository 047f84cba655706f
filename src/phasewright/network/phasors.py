"""Three phasors and their symmetrical components.

a = exp(j 120 deg). Positive sequence: order 1-2-3. Line voltages are 12, 23, 31.
Source: C. L. Fortescue, Method of symmetrical co-ordinates, Trans. AIEE 37, 1918 (from memory).
"""

from __future__ import annotations

import math

A = complex(-0.5, math.sqrt(0.75))
A2 = A.conjugate()

Three = tuple[complex, complex, complex]


def sequences(phasors: Three) -> Three:
    """(zero, positive, negative) sequence of three phasors, in their unit."""
    x1, x2, x3 = phasors
    return (x1 + x2 + x3) / 3.0, (x1 + A * x2 + A2 * x3) / 3.0, (x1 + A2 * x2 + A * x3) / 3.0


def phasors_of(positive: complex, negative: complex, zero: complex = 0j) -> Three:
    """The three phasors that have these sequences."""
    return (
        zero + positive + negative,
        zero + A2 * positive + A * negative,
        zero + A * positive + A2 * negative,
    )


def line_to_line(positive: complex, negative: complex) -> Three:
    """Line voltages 12, 23, 31 from the sequences of the voltages to neutral [V]."""
    v1, v2, v3 = phasors_of(positive, negative)
    return v1 - v2, v2 - v3, v3 - v1
