"""A motor on its drive in time: the compiled kernel called, what it found in named arrays."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from phasewright.network.supply import Source
from phasewright.quantities.errors import NoOperatingPoint, UsageError
from phasewright.running.rows import LS, LU, machine_row
from phasewright.starts import drive_layout as at
from phasewright.starts import layout
from phasewright.starts.course import FOREVER
from phasewright.starts.drive_begin import settled
from phasewright.starts.drive_course import DriveCourse, DriveLink, Injection
from phasewright.starts.drive_kernel import run
from phasewright.starts.machine import FLUXES, NU, NU_BEFORE, SHARE, SPEED, STATES, TORQUE
from phasewright.starts.waves import LEAST_LEAKAGE

Floats = NDArray[np.float64]

REST = 0.03
"""At rest: below this share of the field's speed at the base frequency."""
MOST_TURN = 0.1
"""Most of a turn of the field in a step."""
_ENDS = {"time": at.AT_TIME, "run_up": at.RUN_UP, "rest": at.AT_REST}


@dataclass(frozen=True, slots=True)
class Energies:
    """Where the energy of a run went [J]; `*_change` is at its end less at its beginning."""

    input: float
    stator: float
    rotor: float
    iron: float
    load: float
    friction: float
    resistor: float
    rectifier: float
    drive_loss: float
    freed: float
    field_change: float
    shaft_change: float
    link_change: float


@dataclass(frozen=True, slots=True, eq=False)
class DriveWaves:
    """What happened on a drive.

    Arrays (n,) every `every` steps, empty where none was asked for: output frequency, line volts
    and amps (rms of a steady vector of that length), torque, speed, link volts, watts in the
    resistor, what the inverter does (`drive_layout`). Peaks over all steps: amps before and after
    the stop began, volts of the link, watts of the resistor, watts given back to the link. Instants
    are None where it did not happen: `run_up_s` at frequency and no longer accelerating, `rest_s`
    at rest after the stop began, `tripped_s` the link too high, `injected_s` direct current
    switched on.
    """

    course: DriveCourse
    time_s: Floats
    hertz: Floats
    line_v: Floats
    line_a: Floats
    torque_nm: Floats
    speed_rad_s: Floats
    link_v: Floats
    resistor_w: Floats
    does: Floats
    energies: Energies
    peak_run_a: float
    peak_stop_a: float
    peak_link_v: float
    peak_resistor_w: float
    peak_back_w: float
    run_up_s: float | None
    rest_s: float | None
    tripped_s: float | None
    injected_s: float | None
    end_s: float
    end_rad_s: float


def drive_waves(course: DriveCourse, *, every: int = 0) -> DriveWaves:
    """Run a motor on its drive. `every`: a record every so many steps, none where 0.

    Raises UsageError for a course that cannot be run, NoOperatingPoint where the motor is to begin
    running but cannot carry its load at that frequency.
    """
    _check(course)
    drive, rows = _drive(course), machine_of(course)
    fluxes, states = np.zeros((1, FLUXES), np.complex128), np.zeros((1, STATES))
    states[0, NU] = states[0, NU_BEFORE] = 1.0 / rows[0, LU]
    states[0, SHARE] = 1.0 if course.load_from_s <= 0.0 else 0.0
    if course.running:
        _settle(course, rows, fluxes, states)
    steps = max(1, math.ceil(course.seconds / course.step_s - 1e-9))
    records, totals = np.zeros((steps // every if every else 0, at.RECORD)), np.zeros(at.TOTALS)
    hertz = course.hertz if course.running else 0.0
    kept = run(drive, rows, fluxes, states, hertz, course.step_s, steps, max(every, 1), records,
               totals)  # fmt: skip
    return _named(course, records[:kept], totals)


def _named(course: DriveCourse, record: Floats, totals: Floats) -> DriveWaves:
    def instant(of: int) -> float | None:
        return None if totals[of] < 0.0 else float(totals[of])

    return DriveWaves(
        course=course,
        time_s=record[:, at.R_TIME],
        hertz=record[:, at.R_HZ],
        line_v=record[:, at.R_VOLTS],
        line_a=record[:, at.R_AMPS],
        torque_nm=record[:, at.R_TORQUE],
        speed_rad_s=record[:, at.R_SPEED],
        link_v=record[:, at.R_LINK_V],
        resistor_w=record[:, at.R_RESISTOR_W],
        does=record[:, at.R_DOES],
        energies=_energies(totals),
        peak_run_a=float(totals[at.PEAK_RUN_A]),
        peak_stop_a=float(totals[at.PEAK_STOP_A]),
        peak_link_v=float(totals[at.PEAK_LINK_V]),
        peak_resistor_w=float(totals[at.PEAK_RESISTOR_W]),
        peak_back_w=float(totals[at.PEAK_BACK_W]),
        run_up_s=instant(at.RUN_UP_S),
        rest_s=instant(at.REST_S),
        tripped_s=instant(at.TRIPPED_S),
        injected_s=instant(at.INJECTED_S),
        end_s=float(totals[at.END_S]),
        end_rad_s=float(totals[at.END_RAD_S]),
    )


def _energies(totals: Floats) -> Energies:
    whole = [float(total) for total in totals]
    return Energies(
        input=whole[at.INPUT_J],
        stator=whole[at.STATOR_J],
        rotor=whole[at.ROTOR_J],
        iron=whole[at.IRON_J],
        load=whole[at.LOAD_J],
        friction=whole[at.FRICTION_J],
        resistor=whole[at.RESISTOR_J],
        rectifier=whole[at.RECTIFIER_J],
        drive_loss=whole[at.LOSS_J],
        freed=whole[at.FREED_J],
        field_change=whole[at.FIELD_END_J] - whole[at.FIELD_BEGIN_J],
        shaft_change=whole[at.SHAFT_END_J] - whole[at.SHAFT_BEGIN_J],
        link_change=whole[at.LINK_END_J] - whole[at.LINK_BEGIN_J],
    )


def _check(course: DriveCourse) -> None:
    starter, inverter, link = course.starter, course.inverter, course.link
    name = starter.machine.name
    if not starter.inertia_kg_m2 > 0.0:
        raise UsageError(f"{name}: a shaft needs an inertia above zero")
    if starter.machine.reversed:
        raise UsageError(f"{name}: on a drive a motor is run the way its field turns")
    if min(course.hertz, course.ramp_up_s, course.seconds, course.step_s) <= 0.0:
        raise UsageError(f"{name}: frequency, ramp, time and step must be above zero")
    if min(inverter.base_v, inverter.base_hz, inverter.most_v, inverter.limit_a) <= 0.0:
        raise UsageError(f"{name}: a drive's volts, base frequency and limit must be above zero")
    if inverter.torque_lag_s < course.step_s or course.step_s * course.hertz > MOST_TURN * (
        1.0 + 1e-9
    ):
        raise UsageError(f"{name}: the step is too long for this frequency or torque filter")
    if not 0.0 < link.rectified_v < min(link.trip_v, link.holds_at_v) or link.capacitance_f <= 0.0:
        raise UsageError(f"{name}: a link trips, and holds its ramp, above its rectified volts")
    brake = link.resistor
    if brake is not None and not (brake.ohm > 0.0 and link.rectified_v < brake.off_v <= brake.on_v):
        raise UsageError(f"{name}: a brake resistor works above the rectified volts of the link")
    stop = course.stop
    if stop is not None and stop.ramp_s is not None and stop.ramp_s <= 0.0:
        raise UsageError(f"{name}: a ramp down takes a time above zero")


def _drive(course: DriveCourse) -> Floats:
    inverter, stop = course.inverter, course.stop
    row = np.zeros(at.DRIVE)
    row[at.BASE_V], row[at.BASE_HZ] = inverter.base_v, inverter.base_hz
    row[at.MOST_V], row[at.BOOST_V] = inverter.most_v, inverter.boost_v
    row[at.LIMIT_A], row[at.SLIP_HZ] = inverter.limit_a, inverter.slip_hz
    row[at.RATED_NM], row[at.LAG_S] = inverter.rated_nm, inverter.torque_lag_s
    row[at.MAGNETISES_S] = 0.0 if course.running else inverter.magnetises_s
    row[at.TARGET_HZ], row[at.UP_HZ_S] = course.hertz, inverter.base_hz / course.ramp_up_s
    row[at.STOPS_S] = FOREVER if stop is None else stop.at_s
    if stop is not None:
        row[at.DOWN_HZ_S] = 0.0 if stop.ramp_s is None else inverter.base_hz / stop.ramp_s
        if stop.injection is not None:
            _injection(row, course, stop.injection)
    _link(row, course.link)
    circuit = course.starter.machine.circuit
    row[at.REST_RAD_S] = REST * 4.0 * math.pi * inverter.base_hz / circuit.poles
    row[at.LOAD_FROM_S], row[at.GIVES_UP_A] = course.load_from_s, course.gives_up_a
    row[at.ENDS] = _ENDS[course.ends]
    return row


def _injection(row: Floats, course: DriveCourse, injection: Injection) -> None:
    ohm = course.starter.machine.circuit.stator_resistance_ohm
    row[at.INJECTS], row[at.INJECT_S] = 1.0, injection.seconds
    row[at.INJECT_V] = math.sqrt(2.0) * injection.current_a * ohm
    row[at.INJECT_BELOW], row[at.INJECT_WAITS] = injection.below_rad_s, injection.waits_s


def _link(row: Floats, link: DriveLink) -> None:
    row[at.LINK_F], row[at.RECTIFIED_V] = link.capacitance_f, link.rectified_v
    row[at.HOLDS_V] = FOREVER if link.resistor is not None else link.holds_at_v
    row[at.TRIP_V] = link.trip_v
    row[at.LOSS_W] = link.loss_w
    if link.resistor is not None:
        row[at.RESISTOR_OHM] = link.resistor.ohm
        row[at.RESISTOR_ON_V], row[at.RESISTOR_OFF_V] = link.resistor.on_v, link.resistor.off_v


def machine_of(course: DriveCourse) -> Floats:
    """The machine's row, shape (1, layout.ROW)."""
    starter, inverter = course.starter, course.inverter
    own = machine_row(starter.machine, Source(inverter.base_v, 0.0, 0.0, inverter.base_hz))
    rows = np.zeros((1, layout.ROW))
    rows[0, : own.size] = own
    rows[0, LS] = max(rows[0, LS], LEAST_LEAKAGE * rows[0, LU])
    rows[0, layout.INERTIA] = starter.inertia_kg_m2
    rows[0, layout.BREAKAWAY] = starter.breakaway_nm
    return rows


def _settle(
    course: DriveCourse, rows: Floats, fluxes: NDArray[np.complex128], states: Floats
) -> None:
    """Steady running at the frequency that slip compensation makes of the one that is set."""
    inverter, hertz = course.inverter, course.hertz
    for _ in range(50):
        volts = min(inverter.boost_v + inverter.base_v * hertz / inverter.base_hz, inverter.most_v)
        w = 2.0 * math.pi * hertz
        if not settled(rows, w, math.sqrt(2.0 / 3.0) * volts, fluxes, states):
            raise NoOperatingPoint(
                f"{course.starter.machine.name}: at {hertz:.3g} Hz the motor cannot carry its load"
            )
        wanted = course.hertz + inverter.slip_hz * states[0, TORQUE] / inverter.rated_nm
        if abs(wanted - hertz) <= 1e-12 * hertz:
            return
        hertz = float(wanted)
    raise NoOperatingPoint(
        f"{course.starter.machine.name}: its slip compensation does not settle at "
        f"{states[0, SPEED]:.3g} rad/s"
    )
