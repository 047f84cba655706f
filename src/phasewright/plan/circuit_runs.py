"""How far a cable runs and how it lies: as the shop file tells it, else as is usual."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.circuits.standing import NOTHING, Standing
from phasewright.quantities.codes import Method
from phasewright.quantities.finding import Assumed
from phasewright.quantities.value import Value
from phasewright.shop.machine import Machine
from phasewright.shop.model import Shop
from phasewright.shop.supply import Cable
from phasewright.tables.circuits import length_m, usual_method


@dataclass(frozen=True, slots=True)
class Run:
    """A cable's way [m, one way]; what is None is not told.

    `path` is the machine's cable in the shop file, None of what is no machine's own;
    `conductor_m2` is what lies there already, `standing` what else stands there.
    """

    length: Value
    method: Method | None = None
    grouped: int | None = None
    conductor_m2: float | None = None
    path: str | None = None
    standing: Standing = NOTHING

    @property
    def laid_as(self) -> Method:
        """As it lies; where nobody told, as such circuits usually do."""
        if self.method is not None:
            return self.method
        return "C" if usual_method() == "C" else "B2"


def usual_run(of: str) -> Run:
    """A run that nobody can tell of before it is built: cord, beside, inside, fixed."""
    return Run(length_m(of))


def run_to(shop: Shop, machine: Machine, *, conductor: bool = True) -> Run:
    """The cable to a machine; `conductor`: whether the one that lies there is this circuit's.

    A machine of several motors has a circuit to each, so what lies there is none of them alone.
    """
    names = [each.name for each in shop.machines]
    path = f"machines[{names.index(machine.name)}].cable"
    return run_along(machine.cable, path, conductor=conductor and len(machine.motors) == 1)


def run_along(of: Cable | None, path: str, *, conductor: bool = True) -> Run:
    """The way of a cable that is told of at this path, else the usual one."""
    usual = length_m("fixed")
    if of is None:
        return Run(usual, path=path)
    area = of.conductor.number if conductor and of.conductor is not None else None
    return Run(of.length or usual, of.method, of.grouped, area, path)


def cable_assumptions(shop: Shop) -> tuple[Assumed, ...]:
    """The length of every machine's cable that nobody told."""
    return tuple(
        Assumed("cable length", f"machines[{i}].cable.length", length_m("fixed"))
        for i, machine in enumerate(shop.machines)
        if machine.cable is None or machine.cable.length is None
    )
