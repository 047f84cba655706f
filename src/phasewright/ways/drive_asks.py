"""What machine, plate, mains and wishes ask of a drive of its own, before a size is chosen."""

from __future__ import annotations

from phasewright.machines.circuit import Circuit
from phasewright.machines.connection import Link
from phasewright.machines.frequency import BasePoint, base_point
from phasewright.machines.load import Load
from phasewright.machines.motor import Motor
from phasewright.machines.performance import rated
from phasewright.rules.supply import high_mains
from phasewright.ways import wishes
from phasewright.ways.asked import Asked, condition, told
from phasewright.ways.conditions import of_direction, of_kind, on_drive
from phasewright.ways.drive_speed import Speeds, of_speeds
from phasewright.ways.motor_kind import of_motor_kind
from phasewright.ways.site import Site
from phasewright.ways.surroundings import of_electronics, of_heat
from phasewright.ways.way import Task


def asked_of_drive(
    task: Task, link: Link, circuit: Circuit, load: Load, site: Site, speeds: Speeds
) -> Asked:  # fmt: skip
    """Everything that holds for a drive of any size on this motor."""
    motor, machine = task.motor, task.machine
    return (
        of_kind(load, "drive_per_motor", rated(circuit).shaft_power_w)
        + of_motor_kind(motor, machine, "drive_per_motor")
        + on_drive(machine, motor)
        + of_direction(load, motor.id)
        + wishes.on_drive(machine, motor)
        + of_speeds(wishes.wants_of(machine, motor), speeds)
        + of_electronics(site)
        + of_heat(motor, circuit, load)
        + _base_point(motor, link, site)
        + _cured_mains(link, circuit, site)
    )


def base_of(link: Link, circuit: Circuit, site: Site) -> BasePoint:
    """Where the drive's output reaches the supply's volts."""
    return base_point(
        link.line_voltage_v, circuit.frequency_hz, circuit.poles, site.source.voltage_v
    )


def _base_point(motor: Motor, link: Link, site: Site) -> Asked:
    """A condition where the drive's base point is not the plate's own."""
    hertz = motor.frequency_hz.number if motor.frequency_hz else site.source.frequency_hz
    if abs(hertz / site.source.frequency_hz - 1.0) < 0.02:
        return Asked()
    speed = site.source.frequency_hz / hertz
    return condition(
        "base_point",
        f"Set the base point to {link.line_voltage_v:.0f} V at {hertz:g} Hz as stamped; at "
        f"{site.source.frequency_hz:g} Hz the machine would turn {speed:.2f} times as fast, a pump "
        f"or fan taking {speed**3:.2f} times the power.",
    )


def _cured_mains(link: Link, circuit: Circuit, site: Site) -> Asked:
    """High mains do not reach the motor: the drive gives it the plate's volts."""
    high = site.voltage_v.high if site.voltage_v.origin == "measured" else site.voltage_v.number
    flux = link.flux_ratio(high, circuit.frequency_hz, circuit.frequency_hz)
    if not any(found.severity for found in high_mains(flux, "motor").findings):
        return Asked()
    return told(
        "plate_volts",
        f"The mains reach {high:.0f} V; the drive gives the motor the {link.line_voltage_v:.0f} V "
        "of its plate.",
    )
