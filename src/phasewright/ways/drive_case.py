"""A motor on a drive as its sheet needs it, and a setting that is a figure."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.machines.circuit import Circuit
from phasewright.machines.load import Load
from phasewright.machines.motor import Motor
from phasewright.quantities.codes import StopsBy
from phasewright.quantities.value import Value
from phasewright.shop.machine import Machine, Wants
from phasewright.shop.model import Quiet
from phasewright.tables.drive_settings import LoadSettings, load_settings
from phasewright.ways.drive_sheet import Setting
from phasewright.ways.figures import Figures
from phasewright.ways.wishes import wants_of


@dataclass(frozen=True, slots=True)
class Driven:
    """A motor on a drive as the sheet needs it. `figures` are the way's own; `several`: the drive
    turns other motors too; `three_phase_type`: it was made for three-phase input."""

    machine: Machine
    motor: Motor
    circuit: Circuit
    figures: Figures
    quiet: Quiet | None
    three_phase_type: bool = False
    several: bool = False

    @property
    def load(self) -> Load:
        """What it turns."""
        load = self.motor.load
        assert load is not None  # ways keep motors without one out
        return load

    @property
    def of_load(self) -> LoadSettings:
        """What its kind of load asks of the settings."""
        return load_settings(self.load.name)

    @property
    def wants(self) -> Wants:
        """What is wished of it."""
        return wants_of(self.machine, self.motor)

    @property
    def by(self) -> StopsBy:
        """How it is stopped; by coasting where that is not known."""
        return "coasting" if self.figures.stopping is None else self.figures.stopping.by

    @property
    def threaded(self) -> bool:
        """Whether its chuck can unscrew."""
        return self.machine.spindle_nose == "threaded"


def of_figure(
    code: str, words: str, value: Value, unit: str, why: str, from_: str,
    number: float | None = None,
) -> Setting:  # fmt: skip
    """A setting that is a figure, or a number made from it."""
    entered = value.number if number is None else number
    return Setting(code, words, entered, unit, why, from_, value.source)
