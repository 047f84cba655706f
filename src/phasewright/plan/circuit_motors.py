"""What a plan's circuits carry of the motor and the panel at their ends, for the rules."""

from __future__ import annotations

from phasewright.circuits.installation import MotorServed, Panel
from phasewright.plan.units import Unit
from phasewright.quantities.value import Value
from phasewright.shop.machine import motor_id

OVERLOAD_UNITS = 3
"""Of the relay that every plan gives a motor: one in each line, all three on two lines too."""
KILO = 1e-3


def motor_served(
    unit: Unit, plate: Value | None, *, phases: int = 3, driven: bool = False
) -> MotorServed:
    """A motor as the rules look at it; a drive watches all of its lines by itself.

    `plate`: its amps on the link it runs on.
    """
    machine, load = unit.task.machine, unit.motor.load
    told = next(each for each in machine.motors if motor_id(machine, each) == unit.id)
    measured = told.insulation_resistance
    return MotorServed(
        watts(unit),
        phases,
        None if driven else OVERLOAD_UNITS,
        None if load is None else load.wrong_direction_harms,
        None if measured is None else measured.number,
        None if plate is None else plate.number,
        unit.motor.plate.service_factor,
    )


def watts(unit: Unit) -> float | None:
    """Rated power of a unit's motor [W]."""
    return None if unit.motor.power_w is None else unit.motor.power_w.number


def panel_of(unit: Unit) -> Panel | None:
    """The control panel of a unit's machine, where the shop file tells of one."""
    told = unit.task.machine.panel
    if told is None:
        return None
    bears, branch = told.short_circuit_rating, told.largest_branch
    return Panel(
        None if bears is None else KILO * bears.number,
        None if branch is None else branch.number,
    )
