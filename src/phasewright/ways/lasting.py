"""What a motor may give for ever on unequal lines: by the heat of its windings, by its relay.

An overload relay at the plate's amps watches the highest of three unequal currents, so it may
trip where the windings are cool enough, in a small motor even unloaded. Then the motor is
protected by its temperature instead, that is a condition, and heat alone is the limit.
Common practice, no source; the figures are computed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from phasewright.machines.load import Load
from phasewright.quantities.finding import Reason
from phasewright.running.usable import Usable
from phasewright.ways.asked import Asked, condition, refusal


@dataclass(frozen=True, slots=True)
class Lasting:
    """Torques over the rated one: `heat` and `relay` apart, `ratio` what holds in the end.

    `relay_serves` is False where a relay at the plate's amps does not let the usual load pass.
    `mean` is the usual load over its working and its idle time: what the windings feel.
    """

    heat: float
    relay: float
    ratio: float
    relay_serves: bool
    mean: float
    use: Usable


def mean_ratio(load: Load) -> float:
    """The load's usual torque as the root mean square over the most of the time it is there.

    The usual way to judge heat of a motor that idles between (common practice, no source); short
    against the half hour or so in which a motor warms.
    """
    return load.running_torque.number * math.sqrt(load.duty.high)


def lasting(use: Usable, load: Load) -> Lasting:
    """What holds for ever: the lesser of heat and relay, or heat where no relay can stay."""
    typical = load.running_torque.number
    heat = min(1.0, use.by_heat)
    relay = 0.0 if use.by_relay is None else min(1.0, use.by_relay.highest)
    serves = use.by_relay is not None and use.by_relay.lowest <= typical <= use.by_relay.highest
    ratio = min(heat, relay) if serves else heat
    return Lasting(heat, relay, ratio, serves, mean_ratio(load), use)


def of_lasting(
    lasts: Lasting, typical: float, demand: float, plate_a: float, idle_a: float
) -> Asked:
    """Refusals and conditions; `idle_a` is the highest line current with the motor unloaded."""
    hot = lasts.use.by_hot_spot
    if lasts.use.running is None or lasts.heat < lasts.mean or hot is None or hot.lowest > typical:
        return refusal(
            "too_little_torque",
            f"By the heat of its windings it may give {lasts.heat:.0%} of its torque for ever; the "
            f"machine usually asks for {typical:.0%}, up to {lasts.mean:.0%} as a mean over its "
            "duty.",
        )
    return (
        _idling(lasts, plate_a, idle_a)
        + _on_duty(lasts, typical)
        + _working(lasts, typical, demand, plate_a)
    )


def _on_duty(lasts: Lasting, typical: float) -> Asked:
    if lasts.heat >= typical:
        return Asked()
    return condition(
        "pauses",
        f"It needs its pauses: {typical:.0%} of its torque, the usual load, is more than the "
        f"{lasts.heat:.0%} its windings bear for ever; with its usual share of idle time it stays "
        f"cool ({lasts.mean:.0%} as a mean, common practice). Not for running on and on.",
    )


def _working(lasts: Lasting, typical: float, demand: float, plate_a: float) -> Asked:
    if not lasts.relay_serves:
        return condition(
            "relay_trips",
            f"An overload relay at the plate's {plate_a:.2g} A trips at the usual load: its lines "
            f"are unequal. By winding heat it may give {lasts.heat:.0%} of its torque for ever, so "
            "protect it by a thermostat or thermistor in the winding; never set the relay higher.",
        )
    if lasts.ratio >= demand or lasts.heat < typical:
        return Asked()
    limit = "the overload relay" if lasts.relay < lasts.heat else "winding heat"
    return condition(
        "less_power",
        f"For ever it may give {lasts.ratio:.0%} of its torque ({limit} decides); set the relay to "
        "the plate's amps on the highest line and never higher.",
    )


def _idling(lasts: Lasting, plate_a: float, idle_a: float) -> Asked:
    hot = lasts.use.by_hot_spot
    whole = Asked()
    if hot is not None and hot.lowest > 0.0:
        whole += condition(
            "idles_hot",
            f"It gets hotter idling than working: give it {hot.lowest:.0%} of its torque or switch "
            "it off.",
        )
    if lasts.relay_serves and idle_a > plate_a:
        whole += condition(
            "relay_trips_unloaded",
            f"Unloaded its highest line carries {idle_a:.2g} A, more than the plate's "
            f"{plate_a:.2g} A: a relay set to the plate trips when it idles long.",
        )
    return whole


def weakest(lasts: Lasting) -> Reason:
    """Heat and relay told apart, for the reasons of a verdict."""
    return Reason(
        "lasting_power",
        f"For ever: {lasts.heat:.0%} of its torque by winding heat, {lasts.relay:.0%} by an "
        "overload relay at the plate's amps.",
    )
