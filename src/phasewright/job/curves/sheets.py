"""Which curves a motor of a plan has, and each of them when it is asked for."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal, get_args

from phasewright.job.curves.chart import Sheet
from phasewright.job.curves.drive import input_sheet, speed_sheet
from phasewright.job.curves.hung import ON_MADE_LINES, hung, motor_of, on_three_lines
from phasewright.job.curves.lines import against_capacitors, against_load
from phasewright.job.curves.start import start_sheet
from phasewright.job.curves.torque import torque_sheet
from phasewright.plan.one_start import IN_TIME, ON_THREE_LINES
from phasewright.plan.study import PlanMotor, PlanSide, Study
from phasewright.quantities.errors import UsageError
from phasewright.shop.model import Shop

Asked = Literal["load", "capacitors", "torque", "start", "input", "speed"]
ASKED: tuple[Asked, ...] = get_args(Asked)
TITLES: dict[Asked, str] = {
    "load": "Volts, unbalance and amps against its load",
    "capacitors": "Volts, unbalance and amps against the run capacitors",
    "torque": "Torque over its speed, with its load",
    "start": "The start in time, and what trips",
    "input": "What its drive takes from the supply: wave and harmonics",
    "speed": "The speeds on its drive, with torque and heat",
}


def asked_of(plan: PlanSide, motor: PlanMotor) -> tuple[Asked, ...]:
    """The curves there are of a motor as a plan has it."""
    if motor.way is None:
        return ()
    found: list[Asked] = []
    if motor.way in ON_MADE_LINES:
        found += ["load", "capacitors"]
    if motor.way in IN_TIME:
        found.append("torque")
    if motor.way in IN_TIME and any(start.motor == motor.motor for start in plan.starts):
        found.append("start")
    if motor.figures.harmonics_a is not None:
        found.append("input")
    if motor.figures.torque_speed:
        found.append("speed")
    return tuple(found)


def motors_of(plan: PlanSide) -> tuple[PlanMotor, ...]:
    """Every motor of a plan, those that are to come behind those that are there."""
    return (*plan.motors, *(plan.motors_to_come or ()))


def curves(shop: Shop, study: Study, plan: PlanSide, motor: PlanMotor, asked: Asked) -> Sheet:
    """One sheet of curves of a motor of a plan; raises UsageError for what it has not, and any
    PhasewrightError of the models behind it."""
    if asked not in asked_of(plan, motor):
        raise UsageError("There are no such curves of this motor in this plan.")
    made: dict[Asked, Callable[[], Sheet | None]] = {
        "load": lambda: against_load(hung(shop, motor.motor, str(motor.way), plan.id)),
        "capacitors": lambda: against_capacitors(
            hung(shop, motor.motor, str(motor.way), plan.id)
        ),
        "torque": lambda: _torque(shop, plan, motor),
        "start": lambda: start_sheet(
            shop, motor.motor, str(motor.way), plan.id if _shared(motor) else None
        ),
        "input": lambda: input_sheet(motor.figures, motor.motor),
        "speed": lambda: speed_sheet(
            motor.figures, motor.motor, _rated_rpm(study, motor.motor)
        ),
    }  # fmt: skip
    found = made[asked]()
    if found is None:
        raise UsageError("There are no such curves of this motor in this plan.")
    return found


def _shared(motor: PlanMotor) -> bool:
    return motor.way == "rotary_converter" or motor.way in ON_THREE_LINES


def _torque(shop: Shop, plan: PlanSide, motor: PlanMotor) -> Sheet:
    way = str(motor.way)
    if way in ON_THREE_LINES:
        return torque_sheet(*on_three_lines(shop, motor.motor, plan.id), None)
    _, _, one = motor_of(shop, motor.motor)
    on = hung(shop, motor.motor, way, plan.id) if way in ON_MADE_LINES else None
    return torque_sheet(one, shop.supply.frequency.number, on)


def _rated_rpm(study: Study, motor: str) -> float | None:
    speed = next((each.rated_speed_rpm for each in study.motors if each.id == motor), None)
    return None if speed is None else speed.number
