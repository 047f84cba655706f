"""The equivalent circuit of a cage motor, as data.

Star equivalent per phase at `line_voltage_v`; reactances at `frequency_hz`. Two rotor cages
(the first is the inner, low-resistance one) or one. The iron resistance sits at the terminals,
outside the stator impedance (the difference to an inner one is below 0.1 % in voltage).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from phasewright.quantities.identity import Hashed, hashed_once


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
