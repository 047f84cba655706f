"""What must hold where a drive's volts are stepped up: earthing, devices, inrush, old windings.

Common practice, no source, unless a clause is named.
"""

from __future__ import annotations

from phasewright.machines.link import Link
from phasewright.machines.motor import Motor
from phasewright.quantities.finding import Reason
from phasewright.tables.stepping_up import Transformer, old_winding
from phasewright.ways.driven import two_speeds
from phasewright.ways.site import Site


def winding(motor: Motor, link: Link) -> tuple[Reason, ...]:
    """What the motor's own winding asks of a drive of the higher class."""
    found = []
    before, lead_m = old_winding()
    year = motor.plate.year
    if year is not None and year < before:
        found.append(
            Reason(
                "old_winding",
                f"A winding of {year} at {link.line_voltage_v:.0f} V: keep the motor lead below "
                f"{lead_m:.0f} m, else fit a choke or filter at the drive's output.",
            )
        )
    if two_speeds(motor):
        found.append(
            Reason(
                "two_speed_winding",
                "A two-speed winding: link it for one speed for good and let the drive do the "
                "rest; the drive here is sized for the winding that loses least. Where the speed "
                "switch is kept, it may be turned only while the drive's output is off, proved by "
                "an early-break contact to its enable; contactors and timers inside the machine "
                "never switch behind a drive.",
            )
        )
    return tuple(found)


def inside_conditions() -> tuple[Reason, ...]:
    """The drive that raises the volts inside."""
    return (
        Reason(
            "raised_link",
            "Stepping up inside: its link stands at 560 to 680 V, twice that of a low-voltage "
            "drive: wait as marked, then measure before touching. The supply's own earthing stays; "
            "filter and residual-current device are as for any drive on one phase (type F or B, "
            "as its maker prints; never type AC).",
        ),
    )


def transformer_conditions(site: Site, of: Transformer, output_v: float) -> tuple[Reason, ...]:
    """The isolating transformer before a drive: what its earthing does, its inrush, its loss."""
    half, rated_a = output_v / 2.0, of.rating_va / site.source.voltage_v
    inrush, idle = of.inrush_a(site.source.voltage_v), of.idle_power_w()
    return (
        Reason(
            "secondary_centre_earthed",
            f"With the transformer: isolating, its secondary earthed at the centre ({half:.0f}-0-"
            f"{half:.0f} V), so that no line stands above {half:.0f} V to earth and the drive's "
            "filter and varistors see what they are made for. With one end earthed, or none, "
            f"{output_v:.0f} V stand to earth: the maker then wants filter and varistors taken "
            "out, and devices made for 230/400 V do not fit.",
        ),
        Reason(
            "own_residual_current_device",
            "With the transformer: residual-current devices before it no longer see a fault "
            "behind it; it needs its own two-pole breaker and its own device (type B: the drive's "
            "link can leak smooth direct current), and its earthing proved by whoever is "
            "licensed for it (NFPA 70: 250.30, 450.3(B)).",
        ),
        _no_autotransformer(site, output_v),
        Reason(
            "inrush",
            f"With the transformer: switching on draws up to {inrush.low:.0f} to "
            f"{inrush.high:.0f} A peak for some cycles (rated {rated_a:.1f} A): a breaker of slow "
            "curve, or a start resistor that is bridged after a moment.",
        ),
        Reason(
            "transformer_idle_loss",
            f"With the transformer: it takes {idle.low:.0f} to {idle.high:.0f} W for as long as "
            "it is on; switch it off with the machine.",
        ),
    )


def _no_autotransformer(site: Site, output_v: float) -> Reason:
    if site.region == "NEC":
        return Reason(
            "no_autotransformer",
            "With the transformer: an autotransformer is not allowed here (NFPA 70 (NEC) 210.9 "
            "and 215.11).",
        )
    return Reason(
        "no_autotransformer",
        "With the transformer: no autotransformer unless local rules and the drive's maker allow "
        f"it: one of its outputs stands at {output_v:.0f} V to earth.",
    )
