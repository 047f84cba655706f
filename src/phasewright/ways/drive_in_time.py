"""A motor's run-up and stop on a drive, computed by running them: see `starts.drive_outcome`."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

from phasewright.machines.circuit import Circuit
from phasewright.machines.motor import Motor
from phasewright.machines.performance import rated
from phasewright.machines.torque_on_drive import usual_boost_v
from phasewright.quantities.value import Value, figure
from phasewright.running.network import Connected, LoadLaw
from phasewright.starts.course import FOREVER, Starter
from phasewright.starts.drive_course import (
    BrakeResistor,
    DriveCourse,
    DriveLink,
    Injection,
    Inverter,
)
from phasewright.starts.drive_course import Stop as DriveStop
from phasewright.starts.drive_outcome import (
    LATE_S,
    SHORTEST_S,
    STIFF_F,
    RunUp,
    Stopping,
    coasting_s,
    resistor_for,
    shortest_run_up,
    shortest_stop,
    stop_by_injection,
    stop_with,
)
from phasewright.tables.drives import (
    drive_class_v,
    magnetising_s,
    overload_share,
    overvoltage,
    standby_power_w,
    typical_link_capacitance_f,
)
from phasewright.tables.sizes import (
    DRIVE_400_OUTPUT_A,
    DRIVE_400_SIZES_W,
    DRIVE_OUTPUT_A,
    DRIVE_SIZES_W,
)

STEPS = ((0.5, 0.02), (2.0, 0.05), (math.inf, 0.1))
"""Step of a run as a share of a turn of the field, by the seconds up to which the shaft would take
to speed at rated torque (a long ramp has nothing quick in it)."""
SIZES = {
    230.0: tuple(zip(DRIVE_OUTPUT_A, DRIVE_SIZES_W, strict=True)),
    400.0: tuple(zip(DRIVE_400_OUTPUT_A, DRIVE_400_SIZES_W, strict=True)),
}
"""Amps and watts of usual drives by their class."""
STEPS_UP = 1.1
"""A motor for more than this times the supply's volts hangs on a drive that steps up (no drive of
the supply's own volts reaches its full flux)."""
_SOURCE = "the motor run on its drive in time, computed; spread in proportion to the inertia"
FINE_ENOUGH = 1.05
"""How near a ramp is searched for: nobody sets one closer."""


@dataclass(frozen=True, slots=True)
class OnThisDrive:
    """What of motor and drive counts in time: torques [N m], volts and amps rms, watts."""

    name: str
    circuit: Circuit
    inertia_kg_m2: float
    load: LoadLaw
    breakaway_nm: float
    drive_a: float
    rating_w: float
    mains_v: float


def on_this_drive(
    motor: Motor, circuit: Circuit, drive_a: float, rating_w: float, supply_v: float
) -> OnThisDrive:
    """A motor with a load on a drive. A machine that is started empty asks on the way up for no
    more than it takes to break away; a pump or fan, and one that starts loaded, for its working
    torque."""
    load = motor.load
    assert load is not None  # ways keep motors without one out
    nm = rated(circuit).shaft_torque_nm
    breakaway = load.breakaway_torque.number
    running = load.running_torque.number
    if load.law != "fan" and not load.starts_loaded:
        running = min(running, breakaway)
    law = LoadLaw(load.law, running * nm, circuit.rated_speed_rpm * math.pi / 30.0)
    inertia = turning_inertia(motor).number
    mains_v = mains_of(circuit, supply_v)
    return OnThisDrive(motor.id, circuit, inertia, law, breakaway * nm, drive_a, rating_w, mains_v)


def mains_of(circuit: Circuit, supply_v: float) -> float:
    """Line volts [V] that a drive's link is made of: the supply's, or the motor's own where the
    drive, or a transformer ahead of it, steps up."""
    return supply_v if circuit.line_voltage_v <= STEPS_UP * supply_v else circuit.line_voltage_v


def on_usual_drive(motor: Motor, circuit: Circuit, supply_v: float) -> OnThisDrive:
    """The motor on the smallest usual drive that bears its amps; beyond the table, on one of just
    its own amps and watts."""
    amps, volts = circuit.rated_current_a, mains_of(circuit, supply_v)
    own = (amps, rated(circuit).shaft_power_w)
    drive_a, rating_w = next((of for of in SIZES[drive_class_v(volts)] if of[0] >= amps), own)
    return on_this_drive(motor, circuit, drive_a, rating_w, supply_v)


@lru_cache(maxsize=1024)
def ramp_up(on: OnThisDrive) -> RunUp:
    """The shortest ramp up within the drive's short-time amps."""
    return shortest_run_up(course_of(on), fine=FINE_ENOUGH)


@lru_cache(maxsize=1024)
def ramp_down(on: OnThisDrive) -> Stopping | None:
    """The shortest ramp down without a brake resistor, the load not helping: whatever the drive's
    way of holding a ramp, the link stays below where that begins."""
    course = _unloaded(course_of(on))
    calm = replace(course.link, trip_v=course.link.holds_at_v, holds_at_v=FOREVER)
    return shortest_stop(replace(course, link=calm), fine=FINE_ENOUGH)


@lru_cache(maxsize=1024)
def braked(on: OnThisDrive) -> Stopping | None:
    """The shortest ramp down with a brake resistor that takes whatever comes back."""
    course = _unloaded(course_of(on))
    stiff = replace(course.link, capacitance_f=STIFF_F)
    step_s = STEPS[0][1] / course.hertz  # amps that hold a ramp ask for a fine step
    return shortest_stop(replace(course, link=stiff, step_s=step_s), fine=FINE_ENOUGH)


@lru_cache(maxsize=1024)
def with_resistor(on: OnThisDrive, seconds: float) -> tuple[BrakeResistor, Stopping] | None:
    """The brake resistor, and the stop with it, whose ramp is set so that the shaft rests within
    so many seconds; None where none was found."""
    ramp_s = seconds
    for _ in range(5):
        brake, course = resistor_within(on, ramp_s), _unloaded(course_of(on))
        link = replace(course.link, resistor=brake)
        step_s = STEPS[0][1] / course.hertz
        found = stop_with(
            replace(course, link=link, seconds=1.25 * ramp_s + LATE_S, step_s=step_s),
            DriveStop(0.0, ramp_s),
        )
        if found.seconds is None:
            return None
        if found.seconds <= seconds:
            return brake, found
        ramp_s *= 0.99 * seconds / found.seconds
    return None


@lru_cache(maxsize=1024)
def injected(on: OnThisDrive, current_a: float, waits_s: float, most_s: float) -> Stopping:
    """A stop by direct current alone, from full speed, the load not helping."""
    course = replace(_unloaded(course_of(on)), seconds=most_s)
    return stop_by_injection(course, Injection(current_a, FOREVER, waits_s=waits_s))


@lru_cache(maxsize=1024)
def coasts(on: OnThisDrive, drag: float) -> float | None:
    """Seconds until it rests with the drive off, the load's torque so many times as usual."""
    course, load = course_of(on), on.load
    machine = replace(course.starter.machine, load=replace(load, torque_nm=drag * load.torque_nm))
    return coasting_s(replace(course, starter=replace(course.starter, machine=machine)))


def ramps(on: OnThisDrive, inertia: Value) -> tuple[Value | None, Value | None]:
    """Ramp up and ramp down as figures; None where none serves. `inertia` is all that turns, with
    its spread: ramps spread in proportion to it."""
    up, down = ramp_up(on).ramp_s, ramp_down(on)
    inputs = {"inertia": (on.inertia_kg_m2, "kg m2"), "drive current": (on.drive_a, "A")}

    def out(ramp_s: float, of: str) -> Value:
        spreads = ramp_s > SHORTEST_S  # the shortest is the drive's own, whatever turns
        low, high = (inertia.low, inertia.high) if spreads else (inertia.number, inertia.number)
        return figure(
            ramp_s, "s", f"ways.drive_in_time.{of}", inputs, _SOURCE,
            low=ramp_s * low / inertia.number, high=ramp_s * high / inertia.number,
        )  # fmt: skip

    lowest = None if down is None or down.ramp_s is None else out(down.ramp_s, "ramp_down")
    return None if up is None else out(up, "ramp_up"), lowest


def turning_inertia(motor: Motor) -> Value:
    """Rotor and load together, with their spread [kg m2]."""
    load, own = motor.load, motor.inertia_kg_m2
    assert load is not None  # ways keep motors without one out
    parts = [load.inertia_kg_m2] if own is None else [own, load.inertia_kg_m2]
    number, low, high = (
        sum(of) for of in zip(*((p.number, p.low, p.high) for p in parts), strict=True)
    )
    inputs = {"parts": (float(len(parts)), "")}
    return figure(
        number, "kg m2", "ways.drive_in_time.turning_inertia", inputs, "sum", low=low, high=high
    )


def resistor_within(on: OnThisDrive, seconds: float) -> BrakeResistor:
    """The brake resistor for a ramp down in so many seconds."""
    limits = overvoltage(on.mains_v)
    course = replace(_unloaded(course_of(on)), seconds=1.25 * seconds + 1.0)
    return resistor_for(course, seconds, limits.resistor_on_v, limits.resistor_off_v)


@lru_cache(maxsize=1024)
def course_of(on: OnThisDrive) -> DriveCourse:
    """The run of this motor on its drive at the plate's volts and hertz."""
    circuit, limits = on.circuit, overvoltage(on.mains_v)
    nm = rated(circuit).shaft_torque_nm
    speed = 4.0 * math.pi * circuit.frequency_hz / circuit.poles
    alone_s = on.inertia_kg_m2 * speed / nm
    turn = next(share for most_s, share in STEPS if alone_s <= most_s)
    return DriveCourse(
        starter=Starter(
            Connected(on.name, circuit, on.load), on.inertia_kg_m2, breakaway_nm=on.breakaway_nm
        ),
        inverter=Inverter(
            base_v=circuit.line_voltage_v,
            base_hz=circuit.frequency_hz,
            most_v=on.mains_v,
            boost_v=usual_boost_v(circuit),
            limit_a=overload_share() * on.drive_a,
            magnetises_s=magnetising_s(),
            rated_nm=nm,
        ),
        link=DriveLink(
            capacitance_f=typical_link_capacitance_f(on.rating_w),
            rectified_v=math.sqrt(2.0) * on.mains_v,
            trip_v=limits.trip_v,
            holds_at_v=limits.holds_v,
            loss_w=standby_power_w().number,
        ),
        hertz=circuit.frequency_hz,
        ramp_up_s=1.0,
        seconds=1.0,
        step_s=turn / circuit.frequency_hz,
    )


def _unloaded(course: DriveCourse) -> DriveCourse:
    machine = replace(course.starter.machine, load=LoadLaw("none"))
    return replace(course, starter=replace(course.starter, machine=machine, breakaway_nm=0.0))
