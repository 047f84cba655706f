"""Courses of motors on drives of the reference cases, and figures read off their waves."""

from __future__ import annotations

import math

import numpy as np
from reference_machines import M2K2, NO_LOAD

from phasewright.machines.circuit import Circuit
from phasewright.running.network import Connected, LoadLaw
from phasewright.starts.course import Starter
from phasewright.starts.drive_course import BrakeResistor, DriveCourse, DriveLink, Inverter
from phasewright.starts.drive_waves import DriveWaves

J_2K2, RATED_2K2_NM, RATED_2K2_A = 0.0075, 14.54, 8.027
HIGHEST_V = 0.95 * 230.0
INVERTER = Inverter(230.0, 50.0, HIGHEST_V, 6.0, rated_nm=RATED_2K2_NM)
NEVER_TRIPS = DriveLink(880e-6, 310.0, 1e6)
LINK = DriveLink(880e-6, 325.0, 400.0, 380.0, None, 40.0)
RESISTOR = BrakeResistor(40.0, 385.0, 375.0)


def on_drive(
    inertia: float = 10 * J_2K2, load: LoadLaw = NO_LOAD, *, circuit: Circuit = M2K2,
    inverter: Inverter = INVERTER, link: DriveLink = NEVER_TRIPS, hertz: float = 50.0,
    ramp: float = 1.0, seconds: float = 3.0, **more: object,
) -> DriveCourse:  # fmt: skip
    """The 2.2 kW motor of the reference cases on its drive."""
    starter = Starter(Connected("motor", circuit, load), inertia)
    return DriveCourse(starter, inverter, link, hertz, ramp, seconds, **more)  # type: ignore[arg-type]


def first_below(found: DriveWaves, rad_s: float) -> float:
    """When the speed first is at or below this [s]; needs a record."""
    return float(found.time_s[np.flatnonzero(found.speed_rad_s <= rad_s)[0]])


def rpm(rad_s: float) -> float:
    return rad_s * 30.0 / math.pi


def field_rad_s(course: DriveCourse) -> float:
    return 4.0 * math.pi * course.hertz / course.starter.machine.circuit.poles
