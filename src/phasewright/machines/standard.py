"""A catalogue-like motor of a given power: idlers and motors bought to replace another."""

from __future__ import annotations

import math
from functools import lru_cache

from phasewright.machines.circuit import Circuit
from phasewright.machines.fit import Fit, fit
from phasewright.machines.targets import Targets, least_input_w
from phasewright.tables.motors import (
    default_breakdown_ratio,
    default_efficiency,
    default_friction_ratio,
    default_inertia_kg_m2,
    default_no_load_current_ratio,
    default_power_factor,
    default_slip,
    default_starting_current_ratio,
    default_starting_torque_ratio,
)


def standard_targets(
    power_w: float, line_voltage_v: float, frequency_hz: float, poles: int, year: int | None
) -> Targets:
    """What the tables expect of a motor of this power; slip and efficiency made to agree."""
    slip = default_slip(power_w, poles, year).number
    friction = default_friction_ratio(power_w).number * power_w
    efficiency = default_efficiency(power_w, poles, year, frequency_hz).number
    efficiency = min(efficiency, power_w / least_input_w(power_w, slip, friction))
    power_factor = default_power_factor(power_w, poles).number
    return Targets(
        power_w=power_w,
        line_voltage_v=line_voltage_v,
        frequency_hz=frequency_hz,
        poles=poles,
        speed_rpm=120.0 * frequency_hz / poles * (1.0 - slip),
        current_a=power_w / (math.sqrt(3.0) * line_voltage_v * power_factor * efficiency),
        power_factor=power_factor,
        starting_current_ratio=default_starting_current_ratio(power_w, poles, year).number,
        starting_torque_ratio=default_starting_torque_ratio(power_w, poles).number,
        breakdown_ratio=default_breakdown_ratio(power_w, poles).number,
        no_load_current_ratio=default_no_load_current_ratio(power_w, poles).number,
        friction_w=friction,
        inertia_kg_m2=default_inertia_kg_m2(power_w, poles, year).number,
    )


@lru_cache(maxsize=256)
def standard_fit(
    power_w: float,
    line_voltage_v: float,
    frequency_hz: float,
    poles: int = 4,
    year: int | None = None,
) -> Fit:
    """The fit behind `standard_motor`, with what it does not meet.

    `year` None is a second-hand motor of the typical year. Raises TableEnds outside the tables.
    """
    return fit(standard_targets(power_w, line_voltage_v, frequency_hz, poles, year))


def standard_motor(
    power_w: float,
    line_voltage_v: float,
    frequency_hz: float,
    poles: int = 4,
    year: int | None = None,
) -> Circuit:
    """Circuit of a usual motor of this power, linked for `line_voltage_v`."""
    return standard_fit(power_w, line_voltage_v, frequency_hz, poles, year).circuit
