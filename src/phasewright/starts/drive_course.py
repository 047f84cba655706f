"""A motor on a drive in time, as data: what the inverter gives, its link, how it is stopped.

A `DriveCourse` says everything there is to know of one run; nothing in it is computed.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from phasewright.starts.course import FOREVER, Starter

Ending = Literal["time", "run_up", "rest"]


@dataclass(frozen=True, slots=True)
class Inverter:
    """Volts by hertz and what bounds them. Line volts and amps rms.

    Volts are boost_v + base_v f/base_hz, at most `most_v` (what the link allows). The frequency
    moves slower in the last tenth below `limit_a`, waits at it and gives way above it.
    From rest it stays without frequency for `magnetises_s`, until the boost has built the field.
    Slip compensation adds `slip_hz` per rated torque `rated_nm`, seen through a lag; a run-up is
    over where 2 % of that torque are left to accelerate.
    """

    base_v: float
    base_hz: float
    most_v: float
    boost_v: float = 0.0
    limit_a: float = FOREVER
    magnetises_s: float = 0.0
    slip_hz: float = 0.0
    rated_nm: float = 1.0
    torque_lag_s: float = 0.05


@dataclass(frozen=True, slots=True)
class BrakeResistor:
    """A resistor across the link, switched on above `on_v` and off below `off_v`."""

    ohm: float
    on_v: float
    off_v: float


@dataclass(frozen=True, slots=True)
class DriveLink:
    """Capacitor behind the rectifier, which never lets it fall below `rectified_v`.

    Above `trip_v` the drive switches itself off. A ramp down moves slower from half way between
    `rectified_v` and `holds_at_v`, waits there and gives way above; with a resistor it is not held
    so (common practice, no source: makers ask to switch the one off for the other). `loss_w` is
    what the drive itself takes out of the link while it is live.
    """

    capacitance_f: float
    rectified_v: float
    trip_v: float
    holds_at_v: float = FOREVER
    resistor: BrakeResistor | None = None
    loss_w: float = 0.0


@dataclass(frozen=True, slots=True)
class Injection:
    """Direct current for braking: a constant vector of volts that settles at a stator vector of
    sqrt(2) current_a, so that the winding heats as with current_a rms.

    Begins at or below `below_rad_s`, after `waits_s` with the inverter off (the field dies away).
    """

    current_a: float
    seconds: float
    below_rad_s: float = FOREVER
    waits_s: float = 0.0


@dataclass(frozen=True, slots=True)
class Stop:
    """When a stop begins and how: `ramp_s` from the base frequency to nothing, or None for the
    inverter off at once; direct current after that where it is given."""

    at_s: float
    ramp_s: float | None = None
    injection: Injection | None = None


@dataclass(frozen=True, slots=True)
class DriveCourse:
    """One run of one motor on its drive.

    From rest without flux; or, with `running`, from steady running at `hertz` under its load.
    `ramp_up_s` is from nothing to the base frequency. The load asks for nothing before
    `load_from_s`. Of the starter its machine, inertia and breakaway torque count: a drive has no
    contactor behind it, and turns the motor one way.
    The run ends at `seconds`, or earlier: once run up; at rest or once the drive has tripped;
    where amps pass `gives_up_a`.
    """

    starter: Starter
    inverter: Inverter
    link: DriveLink
    hertz: float
    ramp_up_s: float
    seconds: float
    running: bool = False
    stop: Stop | None = None
    load_from_s: float = 0.0
    ends: Ending = "time"
    gives_up_a: float = FOREVER
    step_s: float = 1e-4
