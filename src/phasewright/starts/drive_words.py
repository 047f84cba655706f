"""What a stop on a drive does, in an owner's words."""

from __future__ import annotations

import math

from phasewright.quantities.finding import Reason
from phasewright.starts.drive_course import DriveCourse, Injection, Stop
from phasewright.starts.drive_waves import DriveWaves


def told_of_stop(
    course: DriveCourse, stop: Stop, found: DriveWaves, seconds: float | None
) -> tuple[Reason, ...]:
    """Reasons of a stop that took `seconds`, None where it did not come to rest."""
    name = course.starter.machine.name
    if found.tripped_s is not None:
        after = found.tripped_s - stop.at_s
        return (
            Reason(
                "link_trips",
                f"{name}: {after:.2g} s into the stop the drive's link passes "
                f"{course.link.trip_v:.0f} V and the drive switches itself off: the motor coasts. "
                "A longer ramp or a brake resistor.",
            ),
        )
    if seconds is None:
        rpm = found.end_rad_s * 30.0 / math.pi
        words = f"{name}: after {found.end_s - stop.at_s:.3g} s it still turns at {rpm:.0f} rpm."
        return (Reason("not_at_rest", words),)
    if stop.injection is not None:
        return _by_injection(name, stop.injection, found, seconds)
    if stop.ramp_s is None:
        return (Reason("coasts", f"{name}: it coasts to rest in {seconds:.2g} s."),)
    if found.energies.resistor > 0.0:
        return (_by_resistor(course, found, seconds),)
    return (Reason("stops_by_ramp", f"{name}: it stops in {seconds:.2g} s by the drive's ramp."),)


def _by_injection(
    name: str, injection: Injection, found: DriveWaves, seconds: float
) -> tuple[Reason, ...]:
    spent = found.energies
    return (
        Reason(
            "stops_by_injection",
            f"{name}: direct current of {injection.current_a:.2g} A stops it in {seconds:.2g} s; "
            f"each stop heats the rotor by {spent.rotor:.0f} J and the winding by "
            f"{spent.stator:.0f} J.",
        ),
        Reason(
            "does_not_hold",
            f"{name}: direct current does not hold a shaft at rest; a load that can pull it round "
            "needs a mechanical brake.",
        ),
    )


def _by_resistor(course: DriveCourse, found: DriveWaves, seconds: float) -> Reason:
    brake = course.link.resistor
    ohm = "" if brake is None else f" of {brake.ohm:.3g} ohm"
    return Reason(
        "stops_by_resistor",
        f"{course.starter.machine.name}: it stops in {seconds:.2g} s; the brake resistor{ohm} "
        f"takes {found.energies.resistor:.0f} J a stop, {found.peak_resistor_w:.0f} W at its peak. "
        "It gets hot enough to burn: it stands clear of all that can catch fire or be touched.",
    )
