"""The units the plan assigns: every motor of every machine, with when it turns and how sure it is.

Order is by id, so that the order of machines in the file changes nothing.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from phasewright.machines.motor import Motor
from phasewright.plan.worlds import STEADY, Levels
from phasewright.quantities.identity import the_same
from phasewright.quantities.value import Value
from phasewright.shop.cases import cases
from phasewright.shop.machine import Machine
from phasewright.shop.model import Shop
from phasewright.tables.usage import (
    default_chance,
    default_hours_per_year,
    default_idle_ratio,
    default_year,
)
from phasewright.ways.way import Task


@dataclass(frozen=True, slots=True)
class Unit:
    """One motor as the plan sees it.

    `hours_per_year` turning; `idle_hours_per_year` is the machine's habit (the converter left
    running with nothing turning); `hours_ratio` and `idle_ratio` are what they may turn out to be
    over what is usual, where nobody gave them.
    """

    id: str
    task: Task
    chance: float
    year: float
    hours_per_year: float
    idle_hours_per_year: float
    hours_ratio: Levels = STEADY
    idle_ratio: Levels = STEADY

    @property
    def now(self) -> bool:
        """True where the machine is there today for certain."""
        return self.chance >= 1.0 and self.year <= 0.0

    @property
    def place(self) -> str:
        """Where its machine stands; empty at the intake."""
        return self.task.machine.place

    @property
    def machine(self) -> str:
        return self.task.machine.name

    @property
    def motor(self) -> Motor:
        return self.task.motor


def chance_of(machine: Machine) -> float:
    """How likely the machine is there: owned ones for certain, planned ones as told."""
    if machine.have == "owned":
        return 1.0
    return default_chance().number if machine.chance is None else machine.chance


def year_of(machine: Machine) -> float:
    """Years from now until the machine comes."""
    if machine.have == "owned":
        return 0.0
    return default_year().number if machine.year is None else machine.year


def units_of(shop: Shop, motors: dict[str, Motor]) -> tuple[Unit, ...]:
    """Every motor that may come, as a unit; a machine with chance 0 is left out."""
    wanted = [
        replace(machine, users=shop.users_of(machine))
        for machine in shop.machines
        if chance_of(machine) > 0.0
    ]
    units = [
        _unit(machine, motors[f"{machine.name}/{motor.name}"], motors)
        for machine in wanted
        for motor in machine.motors
    ]
    return tuple(sorted(units, key=lambda unit: unit.id))


def _unit(machine: Machine, motor: Motor, motors: dict[str, Motor]) -> Unit:
    given = machine.hours_per_year
    usual, left_on = default_hours_per_year(), default_idle_ratio()
    hours = usual.number if given is None else given
    turns = STEADY if given is not None else _ratios(usual)
    idle = machine.idle_hours_per_year
    idles = STEADY
    if idle is None:
        idles = turns if given is None else _ratios(left_on)
    return Unit(
        id=motor.id,
        task=the_same(
            Task(
                machine,
                motor,
                tuple(
                    motors[f"{machine.name}/{each.name}"]
                    for each in machine.motors
                    if each.name != motor.name
                ),
            )
        ),
        chance=chance_of(machine),
        year=year_of(machine),
        hours_per_year=hours,
        idle_hours_per_year=left_on.number * hours if idle is None else idle,
        hours_ratio=turns,
        idle_ratio=idles,
    )


def _ratios(usual: Value) -> Levels:
    """Lowest, usual and highest over the usual."""
    return usual.low / usual.number, 1.0, usual.high / usual.number


def groups_of(shop: Shop, units: tuple[Unit, ...]) -> tuple[frozenset[int], ...]:
    """The largest sets of units that may turn together: the motors of the machines of a case."""
    by_machine: dict[str, set[int]] = {}
    for index, unit in enumerate(units):
        by_machine.setdefault(unit.machine, set()).add(index)
    sets = {
        frozenset(index for name in group for index in by_machine.get(name, ()))
        for group in cases(shop)
    }
    largest = [s for s in sets if s and not any(s < other for other in sets)]
    return tuple(sorted(largest, key=sorted))
