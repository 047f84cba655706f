"""How large a brake resistor must be for stops that come again and again."""

from __future__ import annotations

import math

from phasewright.quantities.errors import UsageError


def brake_duty(on_s: float, period_s: float) -> float:
    """Share of the time the resistor works: one stop of `on_s` in every `period_s`, at most 1."""
    if not on_s > 0.0 or not period_s > 0.0:
        raise UsageError("a brake resistor's duty needs a time of work and a time between stops")
    return min(1.0, on_s / period_s)


def lasting_w(pulse_w: float, on_s: float, period_s: float, warms_s: float) -> float:
    """Watts a brake resistor must bear for ever so that such stops heat it no more than that.

    `pulse_w` is its mean power while it works, `on_s` at a time and once in `period_s`; `warms_s`
    is its time constant. One body that warms and cools by one exponential: at the end of a stop it
    is as hot as with P (1 - e^(-on/warms)) / (1 - e^(-period/warms)) for ever. Never less than the
    mean over the period, never more than `pulse_w`.
    """
    if not warms_s > 0.0:
        raise UsageError("a brake resistor warms in a time above zero")
    share = brake_duty(on_s, period_s)
    if share >= 1.0:
        return pulse_w
    return pulse_w * math.expm1(-on_s / warms_s) / math.expm1(-period_s / warms_s)
