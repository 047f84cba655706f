"""How fast a drive runs a motor up and stops it, found by running it: searches over whole runs."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from phasewright.machines.quadrature import gauss_legendre
from phasewright.quantities.errors import UsageError
from phasewright.quantities.finding import Reason
from phasewright.starts.course import FOREVER
from phasewright.starts.drive_course import BrakeResistor, DriveCourse, Injection, Stop
from phasewright.starts.drive_waves import REST, DriveWaves, drive_waves, machine_of
from phasewright.starts.drive_words import told_of_stop
from phasewright.starts.machine import load_torque

FINE = 1.01
"""A ramp is searched for until one that does not serve is within this ratio below it."""
SHORTEST_S, LONGEST_S = 0.01, 1000.0
"""Ramps that are looked at: shorter ones no drive can be set to (common practice, no source)."""
LATE_S = 1.0
"""What a shaft may take from where the ramp ends until it is at rest (our choice)."""
STIFF_F = 1e3
"""A link so large that nothing lifts it: what comes back is then measured, not held."""


@dataclass(frozen=True, slots=True)
class RunUp:
    """The shortest ramp whose amps stay within the drive's limit, and the run-up with it.

    `ramp_s` from nothing to the base frequency, `seconds` until at speed, `peak_a` rms. None where
    no ramp serves. `runs` counts the runs it took.
    """

    ramp_s: float | None
    seconds: float | None
    peak_a: float | None
    runs: int
    reason: Reason


@dataclass(frozen=True, slots=True)
class Stopping:
    """What a stop does. `seconds` to rest, None where it did not come to rest under the drive.

    `ramp_s` the ramp that was set, None without one; energies [J] turned into heat in the motor's
    stator and rotor and in the resistor, powers of the resistor over this stop [W].
    """

    seconds: float | None
    ramp_s: float | None
    trips: bool
    peak_a: float
    peak_link_v: float
    stator_j: float
    rotor_j: float
    resistor_j: float
    resistor_peak_w: float
    resistor_mean_w: float
    reasons: tuple[Reason, ...]


def run_up(course: DriveCourse) -> DriveWaves:
    """Run up by the ramp that is set, held where amps reach the limit."""
    return drive_waves(replace(course, running=False, stop=None, ends="run_up"))


def shortest_run_up(course: DriveCourse, *, fine: float = FINE) -> RunUp:
    """Search the shortest ramp that needs no holding: amps stay within the limit throughout.

    The limit does not hold the ramp here; a run whose amps pass it is given up. From rest.
    """
    limit, runs = course.inverter.limit_a, 0
    free = replace(course.inverter, limit_a=FOREVER)
    best: DriveWaves | None = None

    def serves(ramp_s: float) -> bool:
        nonlocal runs, best
        runs += 1
        found = run_up(
            replace(
                course, inverter=free, ramp_up_s=ramp_s, gives_up_a=limit,
                seconds=free.magnetises_s + 1.2 * ramp_s * course.hertz / free.base_hz + 2.0,
            )
        )  # fmt: skip
        ok = found.run_up_s is not None and found.peak_run_a <= limit
        best = found if ok else best
        return ok

    ramp_s = _shortest(serves, _guess_s(course), fine)
    name = course.starter.machine.name
    if ramp_s is None or best is None:
        words = f"{name}: no ramp up to {LONGEST_S:.0f} s keeps the current within {limit:.3g} A."
        return RunUp(None, None, None, runs, Reason("cannot_run_up", words))
    words = (
        f"{name}: a ramp of {ramp_s:.2g} s is the shortest that keeps within {limit:.3g} A; it is "
        f"at speed after {best.run_up_s:.2g} s."
    )
    return RunUp(ramp_s, best.run_up_s, best.peak_run_a, runs, Reason("shortest_ramp", words))


def stop_with(course: DriveCourse, stop: Stop) -> Stopping:
    """Stop from steady running at the course's frequency, with its link and its resistor."""
    found = drive_waves(replace(course, running=True, stop=stop, ends="rest"))
    spent, seconds = found.energies, None
    if found.rest_s is not None and found.tripped_s is None:
        seconds = found.rest_s - stop.at_s
    return Stopping(
        seconds=seconds,
        ramp_s=stop.ramp_s,
        trips=found.tripped_s is not None,
        peak_a=found.peak_stop_a,
        peak_link_v=found.peak_link_v,
        stator_j=spent.stator,
        rotor_j=spent.rotor,
        resistor_j=spent.resistor,
        resistor_peak_w=found.peak_resistor_w,
        resistor_mean_w=spent.resistor / (found.end_s - stop.at_s),
        reasons=told_of_stop(course, stop, found, seconds),
    )


def shortest_stop(course: DriveCourse, *, fine: float = FINE) -> Stopping | None:
    """Search the shortest ramp down that the drive follows: no trip, and at rest about in time.

    Where link or amps hold the ramp back for more than a quarter of it and `LATE_S`, it was set
    too short. With the link's resistor where it has one. None where no ramp serves.
    """
    best: Stopping | None = None

    def serves(ramp_s: float) -> bool:
        nonlocal best
        most_s = 1.25 * ramp_s * course.hertz / course.inverter.base_hz + LATE_S
        found = stop_with(replace(course, seconds=most_s), Stop(0.0, ramp_s))
        if found.seconds is None:
            return False
        best = found
        return True

    _shortest(serves, _guess_s(course), fine)
    return best


def resistor_for(course: DriveCourse, ramp_s: float, on_v: float, off_v: float) -> BrakeResistor:
    """The largest brake resistor that takes what this ramp down gives back at its peak.

    Watts are measured in a run on a link that nothing lifts: ohm = on_v^2 / peak watts. Raises
    UsageError where nothing comes back.
    """
    stiff = replace(course.link, capacitance_f=STIFF_F, resistor=None)
    found = drive_waves(
        replace(course, link=stiff, running=True, stop=Stop(0.0, ramp_s), ends="rest")
    )
    if found.peak_back_w <= 0.0:
        raise UsageError(f"{course.starter.machine.name}: this stop gives nothing back")
    return BrakeResistor(on_v * on_v / found.peak_back_w, on_v, off_v)


def stop_by_injection(course: DriveCourse, injection: Injection) -> Stopping:
    """Stop by direct current alone, from full speed."""
    return stop_with(course, Stop(0.0, None, injection))


def coasting_s(course: DriveCourse) -> float | None:
    """Seconds from running to rest with the inverter off: integral of J dw / T(w).

    The field dies within a fraction of a second and is left out. None where nothing brakes.
    Gauss-Legendre in the logarithm of the speed.
    """
    rows = machine_of(course)
    field = 4.0 * math.pi / course.starter.machine.circuit.poles
    low = REST * field * course.inverter.base_hz
    high = drive_waves(
        replace(course, running=True, stop=None, ends="time", seconds=course.step_s)
    ).end_rad_s
    nodes, weights = gauss_legendre(64)
    middle, half = 0.5 * math.log(high * low), 0.5 * math.log(high / low)
    speeds = np.exp(middle + half * nodes)
    torques = np.array([load_torque(rows, 0, 1.0, float(speed)) for speed in speeds])
    if torques.min() <= 0.0:
        return None
    inertia = course.starter.inertia_kg_m2
    return float(half * (weights @ (inertia * speeds / torques)))


def _guess_s(course: DriveCourse) -> float:
    """Where to begin looking: all inertia by rated torque."""
    circuit = course.starter.machine.circuit
    speed = 4.0 * math.pi * course.inverter.base_hz / circuit.poles
    return course.starter.inertia_kg_m2 * speed / course.inverter.rated_nm


def _shortest(serves: Callable[[float], bool], guess_s: float, fine: float) -> float | None:
    """The shortest ramp that serves, by bisection of its logarithm: longer ones serve too."""
    low = high = min(max(guess_s, SHORTEST_S), LONGEST_S)
    if serves(high):
        while True:
            if high <= SHORTEST_S:
                return high
            low = max(0.5 * high, SHORTEST_S)
            if not serves(low):
                break
            high = low
    else:
        while True:
            if low >= LONGEST_S:
                return None
            high = min(2.0 * low, LONGEST_S)
            if serves(high):
                break
            low = high
    while high > fine * low:
        middle = math.sqrt(low * high)
        low, high = (low, middle) if serves(middle) else (middle, high)
    return high
