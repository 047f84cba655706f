"""Torque against speed of a motor on one drive, from standstill to the highest safe speed."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from phasewright.machines.circuit import Circuit
from phasewright.machines.load import Load
from phasewright.machines.performance import rated
from phasewright.machines.torque_on_drive import (
    Field,
    Output,
    Reached,
    giving,
    lasting,
    over_speeds,
    pull_out_nm,
    usual_boost_v,
    within_amps,
)
from phasewright.quantities.errors import TableEnds
from phasewright.tables.drives import (
    overload_share,
    pull_out_reserve,
    self_cooled_torque,
)
from phasewright.ways.drive_speed import law_ratio
from phasewright.ways.motor_figures import TorqueSpeed

Floats = NDArray[np.float64]
FINE = 0.05
TOLD = (0.0, 0.1, 0.2, 0.4, 0.6, 0.8, 1.0)
"""Speeds of the figure up to the plate's; above it every fifth and the highest."""
FULL = 0.995
"""From this share on volts count as all there are."""


@dataclass(frozen=True, slots=True)
class OnDrive:
    """A motor on a drive: line volts it gives at most, its rated amps, and the torque over the
    rated one that the windings bear where it stands (1, less in warm or thin air)."""

    circuit: Circuit
    most_v: float
    drive_a: float
    heat_ratio: float = 1.0


@dataclass(frozen=True, slots=True, eq=False)
class Envelope:
    """What the motor gives at each of some speeds over the plate's; torques over the rated one.

    Every array is (speeds,). `lasting` (its own fan) is not a number where nothing is known.
    """

    on: OnDrive
    speed: Floats
    field: Field
    pull_out: Floats
    short_time: Reached
    tuned: Reached
    cooled: Reached
    with_fan: Floats
    lasting: Floats

    @property
    def rated_nm(self) -> float:
        """The rated shaft torque."""
        return rated(self.on.circuit).shaft_torque_nm


def speeds_to(top: float) -> tuple[float, ...]:
    """Speeds over the plate's, evenly up to `top` and `top` itself."""
    whole = [round(FINE * k, 9) for k in range(math.ceil(top / FINE - 1e-9))]
    return (*whole, top)


@lru_cache(maxsize=512)
def envelope(on: OnDrive, speeds: tuple[float, ...]) -> Envelope:
    """Torques at these speeds over the plate's: see `machines.torque_on_drive`."""
    circuit, ratio = on.circuit, np.array(speeds)
    nm = rated(circuit).shaft_torque_nm
    shaft_hz = ratio * circuit.rated_speed_rpm * circuit.poles / 120.0
    plain = over_speeds(circuit, shaft_hz, Output(on.most_v, usual_boost_v(circuit)))
    held = over_speeds(circuit, shaft_hz, Output(on.most_v))
    short_a = overload_share() * on.drive_a
    pull_out = pull_out_nm(plain) / nm
    cooled = lasting(held, circuit, min(on.drive_a, circuit.rated_current_a))
    with_fan = np.minimum(cooled.torque_nm / nm * on.heat_ratio, pull_out / pull_out_reserve())
    own = np.array([_own_fan(each, on.heat_ratio) for each in speeds])
    return Envelope(
        on, ratio, plain, pull_out, within_amps(plain, short_a), within_amps(held, short_a),
        cooled, with_fan, np.minimum(with_fan, own),
    )  # fmt: skip


def _own_fan(speed: float, heat_ratio: float) -> float:
    """Torque over rated that the motor's own fan cools at this speed, where the air lets it bear
    `heat_ratio` of its rated torque; from the plate's speed on the fan is no limit, and below the
    table's it is not known."""
    if speed >= 1.0:
        return math.inf
    try:
        return self_cooled_torque(speed).number * heat_ratio
    except TableEnds:
        return math.nan


def need_at(load: Load, speed: float) -> float:
    """The load's usual torque over rated at this speed; at standstill what breaks it away."""
    return load.breakaway_torque.number if speed == 0.0 else law_ratio(load, speed)


def points(of: Envelope, load: Load) -> tuple[TorqueSpeed, ...]:
    """The envelope as told: few speeds, each with what sets it, the load's need beside."""
    needs = [need_at(load, float(speed)) for speed in of.speed]
    at = giving(of.field, np.array(needs) * of.rated_nm)
    top = float(of.speed[-1])
    told = {*TOLD, *(round(1.0 + 0.2 * k, 9) for k in range(1, 1 + int(5.0 * (top - 1.0)))), top}
    return tuple(
        _point(of, at, k, needs[k]) for k, speed in enumerate(of.speed) if float(speed) in told
    )


def _point(of: Envelope, at: Reached, k: int, need: float) -> TorqueSpeed:
    def known(number: float) -> float | None:
        return None if math.isnan(number) else number

    speed, lasts = float(of.speed[k]), float(of.lasting[k])
    circuit = of.on.circuit
    shaft_hz = speed * circuit.rated_speed_rpm * circuit.poles / 120.0
    return TorqueSpeed(
        speed_ratio=speed,
        speed_rpm=speed * circuit.rated_speed_rpm,
        need_ratio=need,
        frequency_hz=known(shaft_hz + float(at.slip_hz[k])),
        line_voltage_v=known(float(at.line_voltage_v[k])),
        flux_ratio=known(float(at.flux_ratio[k])),
        pull_out_ratio=float(of.pull_out[k]),
        short_time_ratio=float(of.short_time.torque_nm[k]) / of.rated_nm,
        short_time_by=_by(of, of.short_time, k, "drive_amps"),
        tuned_short_time_ratio=float(of.tuned.torque_nm[k]) / of.rated_nm,
        lasting_ratio=known(lasts),
        lasting_by=None if math.isnan(lasts) else _lasting_by(of, k),
        lasting_with_fan_ratio=float(of.with_fan[k]),
    )


def _lasting_by(of: Envelope, k: int) -> str:
    if of.lasting[k] < of.with_fan[k]:
        return "cooling"
    if of.with_fan[k] < of.cooled.torque_nm[k] / of.rated_nm * of.on.heat_ratio:
        return "pull_out"
    return _by(of, of.cooled, k, "heat")


def _by(of: Envelope, reached: Reached, k: int, amps: str) -> str:
    """What ends a torque: the motor's own breakdown, volts that fade, or amps."""
    if reached.by_breakdown[k]:
        return "pull_out"
    return "volts" if reached.line_voltage_v[k] >= FULL * of.on.most_v else amps
