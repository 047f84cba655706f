"""The current of an earth fault on line 3: what is behind it is the idler, not the street.

Lines 1 and 2 are two voltages to earth behind their impedances, every machine an admittance in
each of the two sequences (it has no neutral, so none to the third), capacitors lie between lines,
and line 3 is tied to earth by the fault's own loop. Settled: every machine at the slip where its
torques balance, its iron where both fluxes put it. In the first cycles: the rotor still holds the
flux of before, so the positive sequence is a voltage behind the transient reactance.

Source: symmetrical components (C. L. Fortescue, 1918, from memory); the transient reactance is
the usual one of an induction machine's fault current (IEC 60909-0, from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from phasewright.machines.circuit import Circuit
from phasewright.machines.shaft_losses import friction_torque_nm, stray_torque_per_watt
from phasewright.network.phasors import A2, A
from phasewright.network.supply import Source
from phasewright.quantities.errors import NotComputable
from phasewright.running.flux import sequence_saturation
from phasewright.running.network import Between, Connected, LoadLaw, Network

Complexes = NDArray[np.complex128]
EarthedPoint = Literal["line_2", "centre"]
STALLED = 0.5
"""Slip beyond which a machine that keeps slowing is taken to stand."""
_STEPS, _SETTLED, _FIRST_SLIP = 400, 1e-9, 0.01
_POSITIVE = np.array([1.0, A2, A])
_NEGATIVE = np.array([1.0, A, A2])


@dataclass(frozen=True, slots=True)
class Line3Fault:
    """Rms amps of a fault of line 3 to earth.

    `settled_a` lasts until something opens; `first_cycles_a` is that of the onset, before the
    rotor's flux begins to die away (the first whole cycle has about four fifths of it).
    `line_1_a` is what the supply gives meanwhile. `stalls`: the machines are pulled down, and
    `settled_a` is that at standstill. `open_v` behind `behind_ohm` is what the fault
    sees with the machines as they settle in it (Thevenin's theorem).
    """

    settled_a: float
    first_cycles_a: float
    line_1_a: float
    stalls: bool
    open_v: complex
    behind_ohm: complex

    def through(self, fault_ohm: complex) -> float:
        """Settled amps through another loop not far from this one [ohm], the machines as here."""
        return abs(self.open_v / (self.behind_ohm + fault_ohm))


@dataclass(slots=True)
class _Turning:
    """A machine's slip and the share by which saturation raises its magnetising admittance."""

    of: Connected
    slip: float
    forward: float = 0.0
    backward: float = 0.0


@lru_cache(maxsize=256)
def line3_fault(network: Network, fault_ohm: complex, earthed: EarthedPoint) -> Line3Fault:
    """A fault of line 3 to earth through a loop of `fault_ohm` [ohm], with all that is turning.

    `earthed` is the supply's earthed point; half of the source's impedance lies in each of its
    lines. Raises NotComputable where no state settles.
    """
    if not fault_ohm.real > 0.0:
        raise NotComputable("a fault loop without resistance has no current to compute")
    before, _ = _settle(network, None, earthed)
    volts_before = _voltages(network, before, None, earthed)
    after, stalls = _settle(network, fault_ohm, earthed)
    volts = _voltages(network, after, fault_ohm, earthed)
    kept = _voltages(network, before, fault_ohm, earthed, _held(before, volts_before))
    e1 = _emf(network.source, earthed)[0]
    open_v = complex(_voltages(network, after, None, earthed)[2])
    current = complex(volts[2]) / fault_ohm
    return Line3Fault(
        settled_a=abs(current),
        first_cycles_a=float(abs(kept[2] / fault_ohm)),
        line_1_a=float(abs((e1 - volts[0]) / (_source_ohm(network.source) / 2.0))),
        stalls=stalls,
        open_v=open_v,
        behind_ohm=open_v / current - fault_ohm,
    )


def _settle(
    network: Network, fault_ohm: complex | None, earthed: EarthedPoint
) -> tuple[list[_Turning], bool]:
    """Every machine where its torques balance; whether any was pulled down."""
    turning = [_Turning(each, _FIRST_SLIP) for each in network.machines]
    stalls = False
    for _ in range(_STEPS):
        volts = _voltages(network, turning, fault_ohm, earthed)
        moved = 0.0
        for each in turning:
            moved = max(moved, _move(each, *_sequences(volts)))
            if STALLED < each.slip < 1.0:
                each.slip, stalls = 1.0, True
        if moved < _SETTLED:
            return turning, stalls
    raise NotComputable("the lines do not settle with line 3 on earth")


def _move(each: _Turning, v_p: complex, v_n: complex) -> float:
    """One step of slip and saturation towards balance; how far it went, as a share."""
    circuit = each.of.circuit
    forward, backward = _sides(each)
    synchronous = 4.0 * math.pi * circuit.frequency_hz / circuit.poles
    e_p, e_n = v_p * forward.gap, v_n * backward.gap
    drive = 3.0 * abs(e_p) ** 2 * forward.rotor.real / synchronous
    drag = 3.0 * abs(e_n) ** 2 * backward.rotor.real / synchronous
    speed = (1.0 - each.slip) * synchronous
    square = abs(v_p * forward.stator) ** 2 + abs(v_n * backward.stator) ** 2
    at = np.asarray(speed)
    stray_w = circuit.stray_w * square / circuit.rated_current_a**2
    lost = float(friction_torque_nm(circuit, at) + stray_w * stray_torque_per_watt(at, synchronous))
    wanted = drag + lost + _load_nm(each.of.load, speed)
    moved = 0.0
    if each.slip < 1.0:
        ratio = min(2.0, max(0.5, wanted / drive)) if drive > 0.0 else 2.0
        moved = abs(ratio - 1.0)
        each.slip *= ratio**0.7
    if circuit.saturation is not None:
        k, s = circuit.saturation.k, circuit.saturation.s
        unit = math.sqrt(2.0) / (2.0 * math.pi * circuit.frequency_hz * circuit.rated_flux_vs)
        to_knee = k ** (1.0 / s) * unit
        x, y = (to_knee * abs(e_p)) ** 2, (to_knee * abs(e_n)) ** 2
        f, b, *_ = sequence_saturation(x, y, s)
        moved = max(moved, abs(f - each.forward), abs(b - each.backward))
        each.forward += 0.5 * (f - each.forward)
        each.backward += 0.5 * (b - each.backward)
    return moved


def _load_nm(load: LoadLaw, speed: float) -> float:
    if load.kind == "none" or speed <= 1.0:
        return 0.0
    ratio = speed / load.speed_rad_s
    power = {"constant": 0, "viscous": 1, "fan": 2}[load.kind]
    return float(load.torque_nm * ratio**power)


@dataclass(frozen=True, slots=True)
class _Side:
    """One sequence of a machine: admittances at its terminals, of its stator branch and of its
    rotor, and the air-gap volts over the terminal volts."""

    terminal: complex
    stator: complex
    rotor: complex
    gap: complex


def _sides(each: _Turning) -> tuple[_Side, _Side]:
    return (
        _side(each.of.circuit, each.slip, each.forward),
        _side(each.of.circuit, 2.0 - each.slip, each.backward),
    )


def _side(circuit: Circuit, slip: float, saturated: float) -> _Side:
    rotor = sum(
        (slip / complex(cage.resistance_ohm, slip * cage.leakage_ohm) for cage in circuit.cages),
        0j,
    )
    knee = 0.0 if circuit.saturation is None else circuit.saturation.k
    chord = circuit.magnetising_ohm * (1.0 + knee) / (1.0 + saturated)
    inner = rotor + 1.0 / complex(0.0, chord)
    series = complex(circuit.stator_resistance_ohm, circuit.stator_leakage_ohm)
    stator = inner / (1.0 + series * inner)
    return _Side(stator + 1.0 / circuit.core_loss_ohm, stator, rotor, 1.0 - series * stator)


def _sequences(volts: Complexes) -> tuple[complex, complex]:
    """Positive and negative sequence of three voltages to earth."""
    return (
        complex(_NEGATIVE @ volts) / 3.0,
        complex(_POSITIVE @ volts) / 3.0,
    )


def _held(before: list[_Turning], volts: Complexes) -> list[tuple[complex, complex]]:
    """Of each machine: the transient admittance, and the positive-sequence current it pushes out
    with the rotor flux of before, at no volts."""
    v_p, _ = _sequences(volts)
    found = []
    for each in before:
        circuit = each.of.circuit
        gap = sum((1.0 / complex(0.0, cage.leakage_ohm) for cage in circuit.cages), 0j)
        gap += 1.0 / complex(0.0, circuit.magnetising_ohm)
        series = complex(circuit.stator_resistance_ohm, circuit.stator_leakage_ohm)
        y = 1.0 / (series + 1.0 / gap)
        current = v_p * _sides(each)[0].terminal
        found.append((y, y * v_p - current))
    return found


def _voltages(
    network: Network,
    turning: list[_Turning],
    fault_ohm: complex | None,
    earthed: EarthedPoint,
    held: list[tuple[complex, complex]] | None = None,
) -> Complexes:
    """Volts of lines 1, 2, 3 to earth, shape (3,), with line 3 on earth where that is given.

    `held`: machines as `_held` has them, for the first cycles.
    """
    w = 2.0 * math.pi * network.source.frequency_hz
    y = _between(network.capacitance_f, complex(0.0, w))
    y += _between(network.conductance_s, complex(1.0, 0.0))
    pushed = np.zeros(3, dtype=np.complex128)
    for k, each in enumerate(turning):
        forward, backward = _sides(each)
        y_p = forward.terminal
        if held is not None:
            y_p, current = held[k]
            pushed += current * _POSITIVE
        y += (y_p * np.outer(_POSITIVE, _NEGATIVE)
              + backward.terminal * np.outer(_NEGATIVE, _POSITIVE)) / 3.0  # fmt: skip
    half = 1.0 / (_source_ohm(network.source) / 2.0)
    e1, e2 = _emf(network.source, earthed)
    pushed += np.array([e1 * half, e2 * half, 0.0])
    y += np.diag([half, half, 0.0 if fault_ohm is None else 1.0 / fault_ohm])
    return np.asarray(np.linalg.solve(y, pushed), dtype=np.complex128)


def _source_ohm(source: Source) -> complex:
    ohm = complex(source.resistance_ohm, source.reactance_ohm)
    return ohm if abs(ohm) > 1e-6 else complex(1e-6, 0.0)


def _emf(source: Source, earthed: EarthedPoint) -> tuple[complex, complex]:
    if earthed == "line_2":
        return complex(source.voltage_v), 0j
    return complex(source.voltage_v / 2.0), complex(-source.voltage_v / 2.0)


def _between(of: Between, unit: complex) -> Complexes:
    """The nodal admittances of three branches between lines, shape (3, 3)."""
    y12, y23, y31 = of.c12 * unit, of.c23 * unit, of.c31 * unit
    return np.array(
        [[y12 + y31, -y12, -y31], [-y12, y12 + y23, -y23], [-y31, -y23, y23 + y31]],
        dtype=np.complex128,
    )
