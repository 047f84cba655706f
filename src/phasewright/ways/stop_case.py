"""A motor on its drive with what its machine bears and what is asked of its stop, as data."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.machines.motor import Motor
from phasewright.machines.performance import rated
from phasewright.quantities.codes import StopsBy
from phasewright.quantities.value import Value
from phasewright.shop.machine import Machine
from phasewright.ways.asked import Asked
from phasewright.ways.drive_in_time import OnThisDrive
from phasewright.ways.figures import DcInjectionFigures
from phasewright.ways.purchase import Item
from phasewright.ways.site import Site
from phasewright.ways.stop_means import ResistorStop

OWN_BRAKES = ("spring_electric", "mechanical")
NOTHING = Asked()


@dataclass(frozen=True, slots=True)
class StopCase:
    """What is known before the way of stopping is chosen.

    `least_s`: the shortest ramp down the machine bears; `within_s`: the time that is asked for,
    None where none is, `wished` by the owner; `ramp`: the shortest without a resistor, None where
    there is none; `injection`: direct current, None where machine or rotor do not bear it.
    """

    machine: Machine
    motor: Motor
    on: OnThisDrive
    site: Site
    least_s: float
    within_s: float | None
    wished: bool
    ramp: Value | None
    injection: DcInjectionFigures | None

    @property
    def threaded(self) -> bool:
        """Whether its chuck can unscrew."""
        return self.machine.spindle_nose == "threaded"

    @property
    def own_brake(self) -> bool:
        """Whether the machine has a brake that needs no drive."""
        return self.machine.brake is not None and self.machine.brake.kind in OWN_BRAKES

    @property
    def energy_j(self) -> float:
        """Energy of all that turns at rated speed."""
        return 0.5 * self.on.inertia_kg_m2 * self._speed_rad_s**2

    @property
    def _speed_rad_s(self) -> float:
        at = rated(self.on.circuit)
        return at.shaft_power_w / at.shaft_torque_nm

    def torque_ratio(self, seconds: float) -> float:
        """Torque of a stop in so many seconds over rated torque, the load not helping."""
        torque = self.on.inertia_kg_m2 * self._speed_rad_s / seconds
        return torque / rated(self.on.circuit).shaft_torque_nm

    def energy_words(self, seconds: float) -> str:
        """The energy of a stop in so many seconds, and its mean power."""
        mean_w = self.energy_j / seconds
        return f"{self.energy_j / 1000.0:.2g} kJ, {mean_w / 1000.0:.2g} kW on average"


@dataclass(frozen=True, slots=True)
class Chosen:
    """By what it is stopped, and what follows; `ramp` and `resistor` where it has them."""

    by: StopsBy
    time: Value | None
    asked: Asked = NOTHING
    ramp: Value | None = None
    resistor: ResistorStop | None = None
    items: tuple[Item, ...] = ()
