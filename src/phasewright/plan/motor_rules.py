"""What the rules say of every motor of a plan: its volts, its protection, its overload setting."""

from __future__ import annotations

from dataclasses import replace

from phasewright.plan.arrays import Choice
from phasewright.plan.options import shared_of
from phasewright.plan.problem import Solution
from phasewright.plan.study import PlanCase, PlanMotor, PlanSide
from phasewright.plan.units import Unit
from phasewright.quantities.finding import Finding
from phasewright.rules.machines_60204 import overload_there, supply_volts
from phasewright.rules.unbalance import derated_by_curve, derated_by_heat, lasting_unbalance
from phasewright.tables.clauses import limit
from phasewright.ways.conditions import typical_ratio
from phasewright.ways.shared_source import Served


def motors_judged(
    choice: Choice, plan: Solution, side: PlanSide
) -> tuple[PlanSide, tuple[Finding, ...]]:
    """The plan with the findings on its motors; their ids are made unique by it."""
    units = {unit.id: unit for unit in choice.facts.units}
    on = shared_of(choice.facts, choice.states[plan.state])
    served = {unit.id: on.serves(k) for k, unit in enumerate(choice.facts.units)} if on else {}
    nec = choice.facts.shop.region == "NEC"
    named = tuple(
        replace(each, id=f"{side.id}:{each.id}", plan=side.id)
        for motor in side.motors
        if motor.way is not None
        for each in _motor(side, motor, units[motor.motor], served.get(motor.motor), nec=nec)
    )
    whole = replace(
        side,
        feasible=side.feasible and not any(each.severity == "stop" for each in named),
        findings=(*side.findings, *(each.id for each in named)),
    )
    return whole, named


def _motor(
    side: PlanSide, motor: PlanMotor, unit: Unit, served: Served | None, *, nec: bool
) -> tuple[Finding, ...]:
    low, high = _volts(side, unit, None if served is None else served.link.line_voltage_v)
    power = unit.motor.power_w
    watts = None if power is None else power.number
    setting = None if motor.overload_setting_a is None else motor.overload_setting_a.number
    driven = motor.figures.drive_rating_a is not None
    told = None if motor.way in ("motor_swap", "direct") else setting is not None or driven
    return (
        *overload_there(watts, told, unit.id).findings,
        *supply_volts(low, high, unit.id).findings,
        *derated_by_curve(_load(unit), _unbalance(side, unit), unit.id).findings,
        *(() if nec else _by_iec(side, motor, unit, watts)),
    )  # fmt: skip


def _by_iec(
    side: PlanSide, motor: PlanMotor, unit: Unit, watts: float | None
) -> tuple[Finding, ...]:
    """What IEC 60034 says of a motor on lines that differ, of what its winding bears there."""
    usable = motor.figures.usable_power_w
    share = None if usable is None or not watts else usable.number / watts
    negative = _negative(side, unit)
    unequal = negative is not None and negative > limit("lasting_unbalance", "lasting")
    return (
        *lasting_unbalance(negative, unit.id).findings,
        *derated_by_heat(_load(unit) if unequal else None, share, unit.id).findings,
    )


def _negative(side: PlanSide, unit: Unit) -> float | None:
    """The greatest share of negative sequence of any set that it turns in."""
    found = [
        case.unbalance.vuf.number
        for case in side.cases
        if case.unbalance is not None and _on_lines(case, unit)
    ]
    return max(found, default=None)


def _volts(side: PlanSide, unit: Unit, rated_v: float | None) -> tuple[float | None, float | None]:
    """Lowest and highest line volts of any set it turns in, over those of the link it has there."""
    volts = [
        v.number for case in side.cases if _on_lines(case, unit) for v in case.line_voltages_v or ()
    ]
    if rated_v is None or not volts:
        return None, None
    return min(volts) / rated_v, max(volts) / rated_v


def _on_lines(case: PlanCase, unit: Unit) -> bool:
    """Whether the motor hangs on the three lines that are told of the set."""
    return any(each.motor == unit.id for each in case.line_currents_a or ())


def _unbalance(side: PlanSide, unit: Unit) -> float | None:
    """The greatest unbalance of any set that it turns in."""
    found = [
        case.unbalance.nema.number
        for case in side.cases
        if case.unbalance is not None and _on_lines(case, unit)
    ]
    return max(found, default=None)


def _load(unit: Unit) -> float | None:
    return None if unit.motor.load is None else typical_ratio(unit.motor.load)
