"""Rules over stops: emergency stop, torque off and isolation, noses, resistors, direct current.

What a machine's own standard, the local rules and whoever judges its risks ask for comes first.
"""

from __future__ import annotations

from phasewright.quantities.codes import BrakeKind, CutsBy, FedFrom, SpindleNose, Users
from phasewright.quantities.finding import Remedy
from phasewright.rules.register import KEPT, Findings, above, below, found, rule
from phasewright.tables.published import table

OTHERS: tuple[Users, ...] = ("guests", "employees")
"""Users who are not the owner: what guards them is a condition, no advice."""


@rule(
    "stop.emergency_category",
    source="IEC 60204-1, 9.2.2 (categories of stop) and 9.2.3.4.2 (2005: 9.2.5.4.2; emergency "
    "stop: 0 or 1 by the machine's risks)",
    status="from memory",
    looks_at="machine",
)
def emergency_category(
    category: int | None, coasting_s: float | None, braked_s: float | None, subject: str
) -> Findings:
    """An emergency stop is of category 1 where coasting is worse than a braked stop, else 0.

    `coasting_s`: None where it does not come to rest by itself; `braked_s`: None where nothing
    that may brake it does.
    """
    if category is None:
        return None
    if category not in (0, 1):
        return found(
            "condition",
            subject,
            f"its emergency stop is of category {category}: power stays on after it",
            found=float(category),
            allowed="category 0 or 1",
            remedy=Remedy("Let the emergency stop take the torque away, at once or after a ramp."),
        )
    worse = braked_s is not None and (coasting_s is None or above(coasting_s, braked_s))
    if category == 1 or not worse or braked_s is None:
        return KEPT
    runs = "does not come to rest" if coasting_s is None else f"runs on for {coasting_s:.2g} s"
    return found(
        "condition",
        subject,
        f"with its power cut off at once it {runs}; braked it would stand after {braked_s:.2g} s",
        found=coasting_s,
        allowed=braked_s,
        unit="s",
        remedy=Remedy(
            "Make its emergency stop category 1: the ramp first, then the torque off, by a delay "
            "that does not wait for the drive's word."
        ),
    )


@rule(
    "stop.torque_off",
    source="IEC 61800-5-2 (safe torque off) with IEC 60204-1, 9.2.2",
    status="from memory",
    looks_at="equipment",
)
def torque_off(
    by: CutsBy | None, certified: bool, channels: int, users: Users | None, subject: str
) -> Findings:
    """What takes the torque away at an emergency stop: a certified torque-off input wired with two
    channels, or a contactor ahead of the drive; an ordinary stop input does not."""
    if by is None:
        return None
    if by == "contactor" or (by == "torque_off" and certified and channels >= 2):
        return KEPT
    if by == "stop_input":
        words = "an ordinary stop input of a drive is no emergency stop: one fault and it runs on"
    elif not certified:
        words = "a torque-off input without a certificate is an ordinary input"
    else:
        words = "a torque-off input wired with one channel is undone by one broken wire"
    return found(
        "condition" if users in OTHERS else "caution",
        subject,
        words,
        found=by,
        allowed="a certified torque-off input with two channels",
        remedy=Remedy(
            "Take a drive with a certified torque-off input (safe torque off) and wire it with two "
            "channels from a latching stop button, whose reset alone starts nothing; or let the "
            "button open a contactor ahead of the drive."
        ),
    )


@rule(
    "stop.isolation",
    source="IEC 60204-1, 5.3 and 5.4: a supply disconnecting device that can be locked",
    status="from memory",
    looks_at="equipment",
)
def isolation(isolator: bool | None, subject: str) -> Findings:
    """Torque off does not isolate: an isolator that can be locked stands ahead of the drive."""
    if isolator is None:
        return None
    if isolator:
        return KEPT
    return found(
        "condition",
        subject,
        "a torque-off input stops the motor and leaves its wires live: nothing isolates it",
        found="no isolator",
        allowed="an isolator that can be locked, ahead of the drive",
        remedy=Remedy("Put an isolator that can be locked ahead of the drive."),
    )


@rule(
    "stop.run_down",
    source="Woodworking Information Sheet 38 of the United Kingdom's Health and Safety Executive: "
    "10 s, large bandsaws about 35 s",
    status="published",
    looks_at="machine",
)
def run_down(
    seconds: float | None, users: Users | None, woodworking: bool, bandsaw: bool, subject: str
) -> Findings:
    """A woodworking machine that staff use stops within 10 s, a large bandsaw within 35 s.

    `seconds`: None where it does not come to rest.
    """
    if users != "employees" or not woodworking:
        return None
    limit_s = run_down_s(bandsaw)
    if seconds is not None and not above(seconds, limit_s):
        return KEPT
    what = "does not come to rest by itself" if seconds is None else f"runs down in {seconds:.2g} s"
    return found(
        "condition",
        subject,
        f"staff use it and it {what}; {limit_s:.0f} s are expected where its tool can be touched",
        found=seconds,
        allowed=limit_s,
        unit="s",
        remedy=Remedy(
            "Give it a brake of its own; the rule where you are decides.",
            "brake.kind",
            "mechanical",
        ),
    )


def run_down_s(bandsaw: bool) -> float:
    """Seconds in which a woodworking machine is to stop where staff use it."""
    return table("limits", "run_down").number("large_bandsaw" if bandsaw else "usual")


@rule(
    "stop.threaded_nose",
    source="a screwed chuck holds by the torque it was tightened with; ramps of 5 s and more for "
    "hand-tight ones",
    status="common practice",
    looks_at="machine",
)
def threaded_nose(
    nose: SpindleNose | None, ramp_s: float | None, least_s: float, injected: bool, subject: str
) -> Findings:
    """A chuck on a threaded nose is stopped by a slow ramp only, never by direct current.

    `ramp_s`: the ramp down that is set, None where it coasts.
    """
    if nose != "threaded":
        return None
    if injected:
        return found(
            "stop",
            subject,
            "direct current brakes hardest just before rest: it unscrews a threaded chuck, which "
            "flies off",
            found="direct current",
            allowed="a slow ramp",
            remedy=Remedy("Let it coast, or ramp it down slowly; never direct current."),
        )
    if ramp_s is None or not below(ramp_s, least_s):
        return KEPT
    return found(
        "stop",
        subject,
        f"a ramp down of {ramp_s:.2g} s can unscrew its threaded chuck, which flies off",
        found=ramp_s,
        allowed=least_s,
        unit="s",
        remedy=Remedy(
            f"Set no ramp down shorter than {least_s:.2g} s and lock the reverse, or put a clamp "
            "on the chuck."
        ),
    )


@rule(
    "stop.resistor_ohms",
    source="makers of drives print the least ohms of a brake resistor; by what their brake switch "
    "bears for a moment, half as much again as the drive",
    status="from memory",
    looks_at="equipment",
)
def resistor_ohms(ohm: float | None, least_ohm: float, subject: str) -> Findings:
    """A brake resistor has no fewer ohms than the drive's brake switch bears."""
    if ohm is None:
        return None
    if not below(ohm, least_ohm):
        return KEPT
    return found(
        "condition",
        subject,
        f"this stop asks for a brake resistor of at most {ohm:.2g} ohm; a drive of this size bears "
        f"no fewer than about {least_ohm:.2g} ohm",
        found=ohm,
        allowed=least_ohm,
        unit="ohm",
        remedy=Remedy("Allow a longer stop, or take a larger drive; its maker prints the ohms."),
    )


@rule(
    "stop.injection_heat",
    source="the rotor takes up what the shaft held, as at a start: IEC 60034-12, load inertia that "
    "a design N motor must start, one start warm",
    status="from memory",
    looks_at="motor",
)
def injection_heat(rotor_j: float | None, bears_j: float, subject: str) -> Findings:
    """A stop by direct current heats the rotor no more than the heaviest start it is made for."""
    if rotor_j is None:
        return None
    if not above(rotor_j, bears_j):
        return KEPT
    return found(
        "condition",
        subject,
        f"direct current would leave {rotor_j / 1e3:.2g} kJ of the turning masses in its rotor, "
        f"which is made for about {bears_j / 1e3:.2g} kJ at a time",
        found=rotor_j,
        allowed=bears_j,
        unit="J",
        remedy=Remedy("Stop it by a ramp, with a brake resistor where that is too long."),
    )


@rule(
    "stop.holds_nothing",
    source="the torque of direct current goes to nothing with the speed",
    status="derived",
    looks_at="machine",
)
def holds_nothing(pulls: bool | None, own_brake: bool, subject: str) -> Findings:
    """A load that can turn the shaft by itself is held by a mechanical brake."""
    if not pulls:
        return None
    if own_brake:
        return KEPT
    return found(
        "stop",
        subject,
        "its load can turn the shaft: neither a ramp nor direct current holds it at rest",
        found="no brake",
        allowed="a brake that holds without power",
        remedy=Remedy(
            "Give it a brake that falls in without power.", "brake.kind", "spring_electric"
        ),
    )


@rule(
    "stop.brake_coil",
    source="behind a drive the motor's terminals carry changing volts and hertz",
    status="common practice",
    looks_at="circuit",
)
def brake_coil(brake: BrakeKind | None, fed_from: FedFrom | None, subject: str) -> Findings:
    """Behind a drive the coil of a brake is fed from the supply lines, not from the motor."""
    if brake not in ("spring_electric", "mechanical") or fed_from is None:
        return None
    if fed_from not in ("motor terminals", "unknown"):
        return KEPT
    where = "is" if fed_from == "motor terminals" else "may be"
    return found(
        "condition",
        subject,
        f"its brake's coil {where} fed from the motor's terminals: behind a drive it gets the "
        "wrong volts, and the brake drags or never releases",
        found=fed_from,
        allowed="two lines",
        remedy=Remedy(
            "Move the coil to the supply lines at its own volts, switched by the drive's relay: "
            "released when the motor has torque, let go at the end of the ramp.",
            "brake.fed_from",
            "two lines",
        ),
    )
