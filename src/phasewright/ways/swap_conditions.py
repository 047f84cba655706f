"""What no single-phase motor does, and what is asked and lost where one replaces another.

Common practice, no source.
"""

from __future__ import annotations

from phasewright.machines.load import Load
from phasewright.machines.motor import Motor
from phasewright.quantities.finding import Reason
from phasewright.tables.motor_swap import SinglePhaseMotor, largest_single_phase_w, start_limits
from phasewright.ways.driven import plate_hertz, power_of, two_speeds
from phasewright.ways.site import Site
from phasewright.ways.way import Task

WORDS = "a single-phase motor in its place"
KEPT_SPEED = 0.02


def barred(motor: Motor, load: Load) -> Reason | None:
    """What no single-phase motor does, whatever the supply."""
    if load.name == "lift":
        return Reason(
            "load_kind_lift", f"{WORDS}: never on a lift, which needs its own brake motor."
        )
    if load.name == "coolant_pump":
        return Reason(
            "built_in",
            f"{WORDS}: motor and pump are one here; a whole single-phase pump replaces both.",
        )
    if two_speeds(motor):
        return Reason("second_speed_lost", f"{WORDS}: it has one speed, the old one has two.")
    if motor.poles not in (2, 4, 6):
        return Reason(
            "no_single_phase_motor",
            f"{WORDS}: none is made for {motor.synchronous_speed_rpm or 0.0:.0f} rpm.",
        )
    if power_of(motor) > largest_single_phase_w() * 1.001:
        return Reason(
            "no_single_phase_motor",
            f"{WORDS}: they end at {largest_single_phase_w() / 1000.0:g} kW.",
        )
    return None


def conditions(task: Task, load: Load, site: Site) -> tuple[Reason, ...]:
    """What is asked before it is ordered, and what is lost."""
    motor, machine, limits = task.motor, task.machine, start_limits()
    found = [
        Reason(
            "mount_and_shaft",
            "Another motor: does one exist with this foot or flange, shaft height and shaft end? "
            "Single-phase ones are often a size larger, flange and built-in motors are rare: "
            "measure before ordering, and keep the old motor's pulley.",
        ),
        Reason(
            "pulsating_torque",
            f"Single-phase motor: its torque pulses at {2.0 * site.source.frequency_hz:.0f} Hz; "
            "it hums, and fine grinding and turning may show it.",
        ),
    ]
    if task.machine.motor(motor.name).wants.reverse or machine.starter == "reversing_drum":
        found.append(
            Reason(
                "reverse_from_rest",
                "Single-phase motor: it reverses from standstill only (while turning it keeps "
                "its direction: no tapping, no thread cutting by reversing) and needs a switch "
                "wired for it.",
            )
        )
    brake = machine.brake
    if motor.kind == "brake_motor" or (brake is not None and brake.kind == "spring_electric"):
        found.append(
            Reason(
                "brake_lost",
                "Another motor: the brake goes with the old one; where it guards people or a "
                "load, the new one must have its equal.",
            )
        )
    if load.starts_per_hour.number > limits.starts_per_hour:
        found.append(
            Reason(
                "few_starts",
                f"Single-phase motor: not more than about {limits.starts_per_hour:.0f} starts an "
                "hour, or its start capacitor fails.",
            )
        )
    hertz = plate_hertz(motor, site)
    if abs(hertz / site.source.frequency_hz - 1.0) > KEPT_SPEED:
        found.append(
            Reason(
                "other_speed",
                f"Single-phase motor: for {site.source.frequency_hz:g} Hz it turns "
                f"{site.source.frequency_hz / hertz:.2f} times as fast as the old one: change the "
                "pulleys.",
            )
        )
    return tuple(found)


def start_conditions(
    new: SinglePhaseMotor, load: Load, starting_a: float, site: Site
) -> tuple[Reason, ...]:
    """What its start and its smaller reserve ask for."""
    found = []
    limit, ratio = site.limit, start_limits().breaker_ratio
    if starting_a > ratio * limit.current_a.number:
        found.append(
            Reason(
                "starting_current",
                f"Single-phase motor: its start takes {starting_a:.0f} A; {limit.words} of "
                f"{limit.current_a.number:.0f} A must be a slow type to bear it.",
            )
        )
    most, peak = new.breakdown_ratio, load.kind.peak
    if peak is not None and peak > most.number:
        found.append(
            Reason(
                "stalls_at_shocks",
                f"Single-phase motor: it stalls at about {most.number:.2g} times its rated torque; "
                f"this kind of load has shocks of {peak:.2g}. Feed it gently, or take the next "
                "size.",
            )
        )
    return tuple(found)
