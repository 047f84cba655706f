"""Balanced three-phase running of a cage motor at a slip, a torque or a power.

The equivalent circuit with its iron resistance at the terminals, a saturating magnetising
branch and one or two rotor cages, fed with three equal voltages (IEEE Std 112 calls it the
equivalent-circuit method; Fitzgerald, Kingsley, Umans, Electric Machinery, ch. 6). All
reactances grow with frequency, the iron resistance does not.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from phasewright.machines.circuit import Circuit, CircuitOhms
from phasewright.machines.flux import flux_ratio_at, rotor_admittance
from phasewright.machines.shaft_losses import friction_torque_nm, stray_torque_per_watt
from phasewright.quantities.errors import NoOperatingPoint, NotComputable

Floats = NDArray[np.float64]
SMALLEST_SLIP = 1e-7
_POINTS, _LOOKS, _ABOUT = 100, 7, 5
_SQRT3 = math.sqrt(3.0)


@dataclass(frozen=True, slots=True)
class Operation:
    """One balanced operating point. Rms line amps, watts, newton metres.

    `current_a` is the line current, `stator_current_a` the part of it that enters the winding
    impedance (without the iron part). `shaft_torque_nm` is the air-gap torque less friction
    and stray torque.
    """

    slip: float
    speed_rpm: float
    line_voltage_v: float
    frequency_hz: float
    current_a: float
    stator_current_a: float
    power_factor: float
    input_power_w: float
    reactive_power_var: float
    airgap_torque_nm: float
    shaft_torque_nm: float
    shaft_power_w: float
    stator_loss_w: float
    rotor_loss_w: float
    core_loss_w: float
    friction_loss_w: float
    stray_loss_w: float
    flux_ratio: float

    @property
    def loss_w(self) -> float:
        """All losses [W]: electrical input less shaft power."""
        return (
            self.stator_loss_w
            + self.rotor_loss_w
            + self.core_loss_w
            + self.friction_loss_w
            + self.stray_loss_w
        )

    @property
    def efficiency(self) -> float:
        """Shaft power over electrical input; zero where the shaft gives nothing."""
        return self.shaft_power_w / self.input_power_w if self.shaft_power_w > 0.0 else 0.0

    def winding_current_a(self, *, delta: bool) -> float:
        """Rms current in one phase winding: line current, or that over root three in delta."""
        return self.current_a / math.sqrt(3.0) if delta else self.current_a


@dataclass(frozen=True, slots=True)
class Breakdown:
    """The largest torque between synchronous speed and standstill."""

    slip: float
    speed_rpm: float
    airgap_torque_nm: float


@dataclass(frozen=True, slots=True)
class Curve:
    """Balanced operation over an array of slips; every field has the shape of `slip`."""

    slip: Floats
    current_a: Floats
    stator_current_a: Floats
    input_power_w: Floats
    reactive_power_var: Floats
    airgap_torque_nm: Floats
    shaft_torque_nm: Floats
    flux_ratio: Floats
    rotor_loss_w: Floats
    friction_torque_nm: Floats
    stray_torque_nm: Floats


def curve(
    circuit: CircuitOhms,
    slips: Floats,
    line_voltage_v: float | None = None,
    frequency_hz: float | None = None,
) -> Curve:
    """Balanced operation over `slips` (any shape), rated volts and frequency by default.

    Of several circuits side by side (`side_by_side`) a row each.

    Stray loss is taken from the shaft as a torque (`stray_torque_per_watt`).
    """
    volts = circuit.line_voltage_v if line_voltage_v is None else line_voltage_v
    hertz = circuit.frequency_hz if frequency_hz is None else frequency_hz
    if not (volts > 0.0 and hertz > 0.0):
        raise NotComputable("a motor is computed for volts and a frequency above zero only")
    return curve_over(circuit, slips, volts, hertz)


def curve_over(
    circuit: CircuitOhms,
    slips: Floats,
    volts: float | Floats,
    hertz: float | Floats,
    stray_ratio: float | Floats = 1.0,
) -> Curve:
    """As `curve`, each slip with line volts and hertz of its own (all above zero). `stray_ratio`:
    stray loss at these hertz over that at the plate's."""
    slip = np.asarray(slips, dtype=np.float64)
    phase_v = volts / _SQRT3
    stretch = hertz / circuit.frequency_hz
    rotor = rotor_admittance(circuit, slip, stretch)
    u = flux_ratio_at(circuit, rotor, phase_v, hertz)
    chord_ohm = circuit.magnetising_ohm * stretch
    if circuit.saturation is not None:
        k, s = circuit.saturation.k, circuit.saturation.s
        chord_ohm = chord_ohm * (1.0 + k) / (1.0 + k * u**s)
    series = circuit.stator_resistance_ohm + 1j * circuit.stator_leakage_ohm * stretch
    gap = rotor - 1j / chord_ohm
    stator_i = phase_v * gap / (1.0 + series * gap)
    line_i = stator_i + phase_v / circuit.core_loss_ohm
    gap_v2 = (phase_v**2) / np.abs(1.0 + series * gap) ** 2
    crossing_w = 3.0 * gap_v2 * rotor.real
    synchronous = 4.0 * math.pi * hertz / circuit.poles
    speed = synchronous * (1.0 - slip)
    friction = friction_torque_nm(circuit, speed)
    stray_w = circuit.stray_w * stray_ratio * (np.abs(stator_i) / circuit.rated_current_a) ** 2
    stray = stray_w * stray_torque_per_watt(speed, synchronous)
    torque = crossing_w / synchronous
    return Curve(
        slip=slip,
        current_a=np.abs(line_i),
        stator_current_a=np.abs(stator_i),
        input_power_w=np.asarray(3.0 * phase_v * line_i.real, dtype=np.float64),
        reactive_power_var=np.asarray(-3.0 * phase_v * line_i.imag, dtype=np.float64),
        airgap_torque_nm=torque,
        shaft_torque_nm=torque - friction - stray,
        flux_ratio=u,
        rotor_loss_w=crossing_w * slip,
        friction_torque_nm=friction,
        stray_torque_nm=stray,
    )


def at_slip(
    circuit: Circuit,
    slip: float,
    line_voltage_v: float | None = None,
    frequency_hz: float | None = None,
) -> Operation:
    """The operating point at one slip (1 = standstill, 0 = synchronous, negative = generating)."""
    volts = circuit.line_voltage_v if line_voltage_v is None else line_voltage_v
    hertz = circuit.frequency_hz if frequency_hz is None else frequency_hz
    c = curve(circuit, np.array([slip]), volts, hertz)
    synchronous = 4.0 * math.pi * hertz / circuit.poles
    speed = synchronous * (1.0 - slip)
    current, watts = float(c.current_a[0]), float(c.input_power_w[0])
    stator, shaft = float(c.stator_current_a[0]), float(c.shaft_torque_nm[0])
    return Operation(
        slip=slip,
        speed_rpm=speed * 30.0 / math.pi,
        line_voltage_v=volts,
        frequency_hz=hertz,
        current_a=current,
        stator_current_a=stator,
        power_factor=watts / (math.sqrt(3.0) * volts * current),
        input_power_w=watts,
        reactive_power_var=float(c.reactive_power_var[0]),
        airgap_torque_nm=float(c.airgap_torque_nm[0]),
        shaft_torque_nm=shaft,
        shaft_power_w=shaft * speed,
        stator_loss_w=3.0 * circuit.stator_resistance_ohm * stator**2,
        rotor_loss_w=float(c.rotor_loss_w[0]),
        core_loss_w=volts**2 / circuit.core_loss_ohm,
        friction_loss_w=float(c.friction_torque_nm[0]) * speed,
        stray_loss_w=float(c.stray_torque_nm[0]) * speed,
        flux_ratio=float(c.flux_ratio[0]),
    )


@lru_cache(maxsize=4096)
def rated(circuit: Circuit) -> Operation:
    """The operating point at the speed, volts and frequency of the plate."""
    return at_slip(circuit, circuit.rated_slip)


@lru_cache(maxsize=4096)
def locked(
    circuit: Circuit, line_voltage_v: float | None = None, frequency_hz: float | None = None
) -> Operation:
    """Standstill: locked-rotor current and torque."""
    return at_slip(circuit, 1.0, line_voltage_v, frequency_hz)


@lru_cache(maxsize=4096)
def _peak(
    circuit: Circuit, name: str, volts: float | None, hertz: float | None
) -> tuple[float, float]:
    """Slip and height of the largest value of a torque of `Curve` between slip 0 and 1."""
    low, high, count = 1e-4, 1.0, 400
    for _ in range(6):
        slips = np.geomspace(low, high, count)
        torques = np.asarray(getattr(curve(circuit, slips, volts, hertz), name))
        top = int(np.argmax(torques))
        low, high = float(slips[max(top - 1, 0)]), float(slips[min(top + 1, count - 1)])
        count = 40
    return float(slips[top]), float(torques[top])


def breakdown(
    circuit: Circuit, line_voltage_v: float | None = None, frequency_hz: float | None = None
) -> Breakdown:
    """The largest air-gap torque from synchronous speed down to standstill.

    A scan of the whole range and then closer looks round the highest point, so a motor whose
    two cages give two maxima is answered with the higher of them.
    """
    slip, torque = _peak(circuit, "airgap_torque_nm", line_voltage_v, frequency_hz)
    hertz = circuit.frequency_hz if frequency_hz is None else frequency_hz
    return Breakdown(slip, 120.0 * hertz / circuit.poles * (1.0 - slip), torque)


@lru_cache(maxsize=4096)
def at_torque(
    circuit: Circuit,
    shaft_torque_nm: float,
    line_voltage_v: float | None = None,
    frequency_hz: float | None = None,
) -> Operation:
    """The running point with this shaft torque: the one nearest synchronous speed.

    Raises NoOperatingPoint where the motor cannot give that torque.
    """
    peak_slip, peak_torque = _peak(circuit, "shaft_torque_nm", line_voltage_v, frequency_hz)
    if shaft_torque_nm > peak_torque:
        raise NoOperatingPoint(
            f"the load wants {shaft_torque_nm:.3g} N m, the motor gives at most "
            f"{peak_torque:.3g} N m"
        )

    def ask(torque: Floats, speed: Floats) -> Floats:
        return torque - shaft_torque_nm

    return _first_crossing(circuit, ask, peak_slip, line_voltage_v, frequency_hz)


def at_power(
    circuit: Circuit,
    shaft_power_w: float,
    line_voltage_v: float | None = None,
    frequency_hz: float | None = None,
) -> Operation:
    """The running point with this shaft power: the one nearest synchronous speed.

    Raises NoOperatingPoint where the motor cannot give that power.
    """
    peak_slip, _ = _peak(circuit, "shaft_torque_nm", line_voltage_v, frequency_hz)

    def ask(torque: Floats, speed: Floats) -> Floats:
        return torque * speed - shaft_power_w

    return _first_crossing(circuit, ask, peak_slip, line_voltage_v, frequency_hz)


@lru_cache(maxsize=4096)
def no_load(
    circuit: Circuit, line_voltage_v: float | None = None, frequency_hz: float | None = None
) -> Operation:
    """Running with nothing on the shaft: friction, fan and stray torque only."""

    def ask(torque: Floats, speed: Floats) -> Floats:
        return torque

    return _first_crossing(circuit, ask, 1.0 - 1e-6, line_voltage_v, frequency_hz)


def _first_crossing(
    circuit: Circuit,
    ask: Callable[[Floats, Floats], Floats],
    last_slip: float,
    line_voltage_v: float | None,
    frequency_hz: float | None,
) -> Operation:
    """The first slip above zero at which `ask` of torque and speed is not below zero.

    Closer and closer looks at evenly spread slips; after the first only those near the crossing of
    a straight line are computed, as long as the crossing lies among them.
    """
    hertz = circuit.frequency_hz if frequency_hz is None else frequency_hz
    synchronous = 4.0 * math.pi * hertz / circuit.poles

    def excess_at(slips: Floats) -> Floats:
        torque = curve(circuit, slips, line_voltage_v, frequency_hz).shaft_torque_nm
        return ask(torque, synchronous * (1.0 - slips))

    slips = np.geomspace(SMALLEST_SLIP, last_slip, _POINTS)
    torque = _first_look(circuit, last_slip, line_voltage_v, frequency_hz)
    excess = ask(torque, synchronous * (1.0 - slips))
    for look in range(_LOOKS):
        above = np.flatnonzero(excess >= 0.0)
        if above.size == 0:
            raise NoOperatingPoint("the load wants more power than the motor can give at any speed")
        first = int(above[0])
        if first == 0:
            return at_slip(circuit, float(slips[0]), line_voltage_v, frequency_hz)
        low, high = float(slips[first - 1]), float(slips[first])
        if look == _LOOKS - 1:
            break
        share = float(excess[first - 1] / (excess[first - 1] - excess[first]))
        whole = np.geomspace(low, high, _POINTS)
        slips = _near(whole, low + share * (high - low))
        excess = excess_at(slips)
        if not excess[0] < 0.0 <= excess[-1]:
            slips, excess = whole, excess_at(whole)
    return at_slip(circuit, high, line_voltage_v, frequency_hz)


@lru_cache(maxsize=4096)
def _first_look(
    circuit: Circuit, last_slip: float, line_voltage_v: float | None, frequency_hz: float | None
) -> Floats:
    """Shaft torque at slips evenly spread over the whole range."""
    slips = np.geomspace(SMALLEST_SLIP, last_slip, _POINTS)
    torque = curve(circuit, slips, line_voltage_v, frequency_hz).shaft_torque_nm
    torque.flags.writeable = False
    return torque


def _near(slips: Floats, slip: float) -> Floats:
    """The few of some slips that lie nearest to one."""
    at = int(np.searchsorted(slips, slip))
    return slips[max(0, at - _ABOUT) : at + _ABOUT]
