"""A three-line network: lines 1 and 2 are the supply, line 3 is generated. As data."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from phasewright.machines.circuit import Circuit
from phasewright.network.supply import Source

LoadLawKind = Literal["none", "constant", "fan", "viscous"]


@dataclass(frozen=True, slots=True)
class LoadLaw:
    """Torque a driven machine asks for: `torque_nm` at `speed_rad_s`.

    constant: T (changes sign with the speed); fan: T (w/w0)|w/w0|; viscous: T w/w0; none: 0.
    """

    kind: LoadLawKind
    torque_nm: float = 0.0
    speed_rad_s: float = 1.0


@dataclass(frozen=True, slots=True)
class Connected:
    """A motor on lines 1, 2, 3 with its load; `name` is its id. `reversed` swaps its rotation."""

    name: str
    circuit: Circuit
    load: LoadLaw
    reversed: bool = False


@dataclass(frozen=True, slots=True)
class Between:
    """A quantity a pair of lines: capacitance [F] or conductance [S] across 1-2, 2-3, 3-1."""

    c12: float = 0.0
    c23: float = 0.0
    c31: float = 0.0


@dataclass(frozen=True, slots=True)
class Network:
    """Supply, capacitors, resistive loads and machines on the three lines."""

    source: Source
    capacitance_f: Between
    machines: tuple[Connected, ...]
    conductance_s: Between = field(default_factory=Between)


@dataclass(frozen=True, slots=True)
class MachineState:
    """One machine at its operating point. Currents and volts rms, powers in watts."""

    name: str
    slip: float
    speed_rpm: float
    shaft_torque_nm: float
    shaft_power_w: float
    input_power_w: float
    line_currents_a: tuple[float, float, float]
    winding_currents_a: tuple[float, float, float]
    stator_loss_w: float
    rotor_loss_w: float
    core_loss_w: float
    friction_loss_w: float
    stray_loss_w: float
    flux_ratio: float

    @property
    def loss_w(self) -> float:
        return (
            self.stator_loss_w + self.rotor_loss_w + self.core_loss_w
            + self.friction_loss_w + self.stray_loss_w
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Settled:
    """A stable operating point of a whole network."""

    line_voltages_v: tuple[float, float, float]
    vuf: float
    nema: float
    supply_current_a: float
    supply_power_w: float
    supply_reactive_var: float
    resistive_loads_w: float
    supply_line_loss_w: float
    capacitor_currents_a: tuple[float, float, float]
    machines: tuple[MachineState, ...]

    @property
    def power_factor(self) -> float:
        """Displacement power factor at lines 1 and 2 (1 where no current flows)."""
        apparent = self.line_voltages_v[0] * self.supply_current_a
        return 1.0 if apparent == 0.0 else self.supply_power_w / apparent
