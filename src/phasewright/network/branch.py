"""A capacitor with a resistor in series, as a capacitor and a conductance side by side."""

from __future__ import annotations

import math


def side_by_side(
    capacitance_f: float, resistance_ohm: float, frequency_hz: float
) -> tuple[float, float]:
    """(capacitance [F], conductance [S]) that draw the same current at one frequency.

    Y = jwC/(1 + jwRC). Exact at `frequency_hz`; for a start branch across 3-1 in a steady state.
    """
    wrc = 2.0 * math.pi * frequency_hz * resistance_ohm * capacitance_f
    share = 1.0 / (1.0 + wrc * wrc)
    conductance = 0.0 if resistance_ohm == 0.0 else wrc * wrc * share / resistance_ohm
    return capacitance_f * share, conductance
