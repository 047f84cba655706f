"""The equivalent circuit of a cage motor, as data.

Star equivalent per phase at `line_voltage_v`; reactances at `frequency_hz`. Two rotor cages
(the first is the inner, low-resistance one) or one. The iron resistance sits at the terminals,
outside the stator impedance (the difference to an inner one is below 0.1 % in voltage).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from phasewright.quantities.identity import Hashed, hashed_once

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Saturation:
    """Main-flux law i/i(1) = u (1 + k u^s)/(1 + k), u = flux / rated no-load flux."""

    k: float
    s: float


@dataclass(frozen=True, slots=True)
class Cage:
    """One rotor cage, referred to the stator."""

    resistance_ohm: float
    leakage_ohm: float


@hashed_once
@dataclass(frozen=True, slots=True)
class Circuit(Hashed):
    """Equivalent circuit of one motor, star equivalent per phase.

    `magnetising_ohm` is the reactance at rated no-load flux (u = 1): the unsaturated one is
    (1 + k) times as large, where `saturation` is given; None means a linear branch.
    `friction_w` is the loss at rated speed (40 % of it grows with speed squared, 60 % with its
    cube), `stray_w` the loss at rated current (grows with current squared).
    """

    line_voltage_v: float
    frequency_hz: float
    poles: int
    stator_resistance_ohm: float
    stator_leakage_ohm: float
    magnetising_ohm: float
    saturation: Saturation | None
    core_loss_ohm: float
    cages: tuple[Cage, ...]
    friction_w: float
    stray_w: float
    inertia_kg_m2: float
    rated_current_a: float
    rated_speed_rpm: float

    @property
    def synchronous_speed_rpm(self) -> float:
        return 120.0 * self.frequency_hz / self.poles

    @property
    def rated_slip(self) -> float:
        return 1.0 - self.rated_speed_rpm / self.synchronous_speed_rpm

    @property
    def rated_flux_vs(self) -> float:
        """Peak air-gap flux linkage at rated volts and frequency, no load (u = 1) [V s]."""
        share = self.magnetising_ohm / (self.magnetising_ohm + self.stator_leakage_ohm)
        phase_v = self.line_voltage_v / math.sqrt(3.0)
        return math.sqrt(2.0) * phase_v * share / (2.0 * math.pi * self.frequency_hz)

    def relinked(self, line_voltage_v: float) -> Circuit:
        """The same winding linked for another line voltage: equal per-unit circuit.

        Impedances grow with the square of the voltage ratio, rated current falls with it.
        """
        ratio = line_voltage_v / self.line_voltage_v
        square = ratio * ratio
        return replace(
            self,
            line_voltage_v=line_voltage_v,
            stator_resistance_ohm=self.stator_resistance_ohm * square,
            stator_leakage_ohm=self.stator_leakage_ohm * square,
            magnetising_ohm=self.magnetising_ohm * square,
            core_loss_ohm=self.core_loss_ohm * square,
            cages=tuple(
                Cage(cage.resistance_ohm * square, cage.leakage_ohm * square) for cage in self.cages
            ),
            rated_current_a=self.rated_current_a / ratio,
        )


class CageOhms(Protocol):
    """A rotor cage of one circuit, or of several side by side."""

    @property
    def resistance_ohm(self) -> float | Floats: ...
    @property
    def leakage_ohm(self) -> float | Floats: ...


class CircuitOhms(Protocol):
    """What a torque curve asks of a circuit, or of several side by side."""

    @property
    def line_voltage_v(self) -> float: ...
    @property
    def frequency_hz(self) -> float: ...
    @property
    def poles(self) -> int: ...
    @property
    def stator_resistance_ohm(self) -> float | Floats: ...
    @property
    def stator_leakage_ohm(self) -> float | Floats: ...
    @property
    def magnetising_ohm(self) -> float | Floats: ...
    @property
    def saturation(self) -> Saturation | None: ...
    @property
    def core_loss_ohm(self) -> float | Floats: ...
    @property
    def cages(self) -> Sequence[CageOhms]: ...
    @property
    def friction_w(self) -> float: ...
    @property
    def stray_w(self) -> float: ...
    @property
    def rated_current_a(self) -> float: ...
    @property
    def rated_speed_rpm(self) -> float: ...
    @property
    def rated_flux_vs(self) -> float | Floats: ...


@dataclass(frozen=True, slots=True, eq=False)
class Cages:
    """One cage of several circuits; shapes (circuits, 1)."""

    resistance_ohm: Floats
    leakage_ohm: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Circuits:
    """Several circuits side by side that differ in ohms alone; those have shape (circuits, 1), so
    that a curve over slips has one row a circuit."""

    line_voltage_v: float
    frequency_hz: float
    poles: int
    stator_resistance_ohm: Floats
    stator_leakage_ohm: Floats
    magnetising_ohm: Floats
    saturation: Saturation | None
    core_loss_ohm: Floats
    cages: tuple[Cages, ...]
    friction_w: float
    stray_w: float
    rated_current_a: float
    rated_speed_rpm: float
    rated_flux_vs: Floats


def side_by_side(circuits: Sequence[Circuit]) -> Circuits:
    """One motor's circuits as one, each with as many cages; everything but ohms is the first's."""
    of = circuits[0]
    return Circuits(
        line_voltage_v=of.line_voltage_v,
        frequency_hz=of.frequency_hz,
        poles=of.poles,
        stator_resistance_ohm=_column([each.stator_resistance_ohm for each in circuits]),
        stator_leakage_ohm=_column([each.stator_leakage_ohm for each in circuits]),
        magnetising_ohm=_column([each.magnetising_ohm for each in circuits]),
        saturation=of.saturation,
        core_loss_ohm=_column([each.core_loss_ohm for each in circuits]),
        cages=tuple(
            Cages(
                _column([each.cages[at].resistance_ohm for each in circuits]),
                _column([each.cages[at].leakage_ohm for each in circuits]),
            )
            for at in range(len(of.cages))
        ),
        friction_w=of.friction_w,
        stray_w=of.stray_w,
        rated_current_a=of.rated_current_a,
        rated_speed_rpm=of.rated_speed_rpm,
        rated_flux_vs=_column([each.rated_flux_vs for each in circuits]),
    )


def _column(values: list[float]) -> Floats:
    return np.array(values, dtype=np.float64)[:, None]
