"""Rules over a drive and what stands between it and its motor."""

from __future__ import annotations

from phasewright.electronics.drive import motor_share
from phasewright.quantities.finding import Remedy
from phasewright.rules.register import KEPT, Findings, above, below, found, rule
from phasewright.tables.drives import phase_watch_ripple
from phasewright.tables.protection import share
from phasewright.tables.published import table

OPENS_UNDER_POWER: dict[str, str] = {
    "drum": "drum switch",
    "reversing_drum": "reversing switch",
    "two_speed_switch": "two-speed switch",
    "star_delta": "star-delta switch",
    "contactor": "contactor",
    "pressure_switch": "pressure switch",
    "float_switch": "float switch",
    "limit_switch": "limit switch",
    "selector": "selector",
    "socket": "plug and socket",
    "soft_starter": "soft starter",
}
"""What can open while the output is on, and how it is called. A lockable isolator whose early-break
contact takes the drive's enable away first is not among them."""


@rule(
    "drive.amps",
    source="motor amps 30 to 100 % of the drive's suit, 20 to 30 % with conditions",
    status="common practice",
    looks_at="motor",
)
def drive_amps(motor_a: float | None, drive_a: float | None, subject: str) -> Findings:
    """The motor's amps fit the drive's."""
    if motor_a is None or drive_a is None:
        return None
    verdict, reason = motor_share(motor_a, drive_a)
    if verdict == "suits":
        return KEPT
    return found(
        "stop" if verdict == "refused" else "condition",
        subject,
        reason.words,
        found=motor_a,
        allowed=drive_a,
        unit="A",
        remedy=Remedy("Take the drive whose amps are next above the motor's."),
    )


@rule(
    "drive.nothing_opens_behind",
    source="common practice; NFPA 70-2023 430.102(B) still wants a disconnect in sight",
    status="common practice",
    looks_at="circuit",
)
def nothing_opens_behind(switches: tuple[str, ...] | None, subject: str) -> Findings:
    """Nothing can open between drive and motor while the output is on."""
    if switches is None:
        return None
    bad = [name for name in switches if name in OPENS_UNDER_POWER]
    if not bad:
        return KEPT
    return found(
        "stop",
        subject,
        f"the {' and the '.join(OPENS_UNDER_POWER[name] for name in bad)} between drive and motor "
        "can open under power: the arc and the surge kill the drive",
        found=", ".join(bad),
        allowed="a lockable isolator with an early-break contact to the drive's enable",
        remedy=Remedy(
            "Take them out of the motor's lines and wire them to the drive's inputs; power "
            "contacts do not surely make at 24 V and a few mA: low-level contacts or a relay there."
        ),
    )


@rule(
    "drive.selector_interlocked",
    source="common practice: a motor is changed over with the drive's output off",
    status="common practice",
    looks_at="equipment",
)
def selector_interlocked(motors: int, early_break: bool | None, subject: str) -> Findings:
    """A selector between one drive and several motors takes the enable away before it opens."""
    if early_break is None:
        return None
    if early_break or motors < 2:
        return KEPT
    return found(
        "stop",
        subject,
        "the selector between drive and motors can open, or close a second motor, under power",
        found="no interlock with the drive",
        allowed="an early-break contact in the drive's enable, one way closed at a time",
        remedy=Remedy("Wire the selector's early-break contact into the drive's enable."),
    )


@rule(
    "nec.430.122",
    source="NFPA 70-2023, 430.122",
    status="published",
    looks_at="circuit",
)
def drive_supply_conductors(
    ampacity_a: float | None, rated_input_a: float | None, subject: str
) -> Findings:
    """Conductors that feed a drive carry at least 125 % of its rated input current."""
    if ampacity_a is None or rated_input_a is None:
        return None
    least = share("nec_430_122", "supply") * rated_input_a
    if not above(least, ampacity_a):
        return KEPT
    return found(
        "stop",
        subject,
        f"the conductors carry {ampacity_a:.3g} A; a drive of {rated_input_a:.3g} A input asks "
        f"for {least:.4g} A",
        found=ampacity_a,
        allowed=least,
        unit="A",
        remedy=Remedy("Use the next thicker conductor."),
    )


@rule(
    "drive.undervoltage",
    source="makers of 230 V drives set their undervoltage trip at about 200 V of link voltage",
    status="from memory",
    looks_at="equipment",
)
def link_undervoltage(lowest_link_v: float | None, subject: str) -> Findings:
    """The valleys of the link voltage of a 230 V drive stay above its undervoltage trip."""
    if lowest_link_v is None:
        return None
    trip_v = table("drives", "undervoltage").number("trip_v")
    if not below(lowest_link_v, trip_v):
        return KEPT
    return found(
        "condition",
        subject,
        f"its link falls to {lowest_link_v:.3g} V twice a cycle at full load: it may trip on "
        f"undervoltage (about {trip_v:.3g} V)",
        found=lowest_link_v,
        allowed=trip_v,
        unit="V",
        remedy=Remedy("Take the drive one size larger: its link capacitor is larger too."),
    )


@rule(
    "drive.phase_watch",
    source="makers of drives for three-phase input take a rippling link for a lost phase",
    status="from memory",
    looks_at="equipment",
)
def phase_watch(ripple_share: float | None, three_phase_type: bool, subject: str) -> Findings:
    """The link of a drive made for three phases ripples on one phase less than its watch bears.

    `ripple_share`: peak-to-peak ripple over the link's mean volts at full load. Does not apply to a
    drive made for one phase.
    """
    if ripple_share is None or not three_phase_type:
        return None
    most = phase_watch_ripple()
    if not above(ripple_share, most):
        return KEPT
    return found(
        "condition",
        subject,
        f"on one phase its link ripples by {ripple_share:.0%} of its mean at full load: its watch "
        f"for a lost input phase, which trips at about {most:.0%}, must be switched off",
        found=ripple_share,
        allowed=most,
        remedy=Remedy(
            "Switch that watch off where the maker allows it, else take the drive one size larger "
            "or one made for one phase."
        ),
    )
