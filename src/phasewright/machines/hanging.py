"""What hangs on a motor's terminals follows its links: brake coils and their rectifiers.

A direct-current coil behind one diode gets 0.45, behind a bridge 0.90 of the volts (mean of a
rectified sine, 1/pi and 2/pi times root two: any electronics textbook).
"""

from __future__ import annotations

import math

from phasewright.machines.link import Link
from phasewright.quantities.finding import Reason
from phasewright.shop.machine import Machine

FEEDS = {
    "straight": 1.0,
    "through one diode": math.sqrt(2.0) / math.pi,
    "through a bridge": 2.0 * math.sqrt(2.0) / math.pi,
}
COIL_TOLERANCE = 0.12
"""A coil's stamped volts over what its feed gives: nearer than this it belongs to that feed."""


def coil_volts(line_voltage_v: float) -> dict[str, float]:
    """Mean volts of a coil fed from two lines, by the kind of feed."""
    return {how: share * line_voltage_v for how, share in FEEDS.items()}


def hanging_reasons(
    machine: Machine, link: Link | None, links: tuple[Link, ...]
) -> tuple[Reason, ...]:
    """What a relinked motor does to a brake coil that is fed from its terminals."""
    brake = machine.brake
    if brake is None or brake.kind == "none" or brake.coil is None or link is None:
        return ()
    if brake.fed_from not in (None, "motor terminals", "unknown"):
        return ()
    coil = brake.coil.number
    fitting = [
        (how, of)
        for of in links
        for how, volts in coil_volts(of.line_voltage_v).items()
        if abs(volts / coil - 1.0) < COIL_TOLERANCE
    ]
    now = coil_volts(link.line_voltage_v)
    if any(of.line_voltage_v == link.line_voltage_v for _, of in fitting):
        return ()
    if fitting:
        how, of = fitting[0]
        words = (
            f"The brake coil ({coil:.0f} V) is made for {of.line_voltage_v:.0f} V on these "
            f"terminals {how}; linked for {link.line_voltage_v:.0f} V it gets {now[how]:.0f} V and "
            f"does not release ({now['through a bridge']:.0f} V through a bridge)."
        )
    else:
        rest = ", ".join(f"{volts:.0f} V {how}" for how, volts in now.items())
        words = (
            f"The brake coil is stamped {coil:.0f} V; on terminals at {link.line_voltage_v:.0f} V "
            f"it gets {rest}: none of them fits."
        )
    return (Reason("brake_coil_volts", words + " Feed it from lines of its own volts."),)
