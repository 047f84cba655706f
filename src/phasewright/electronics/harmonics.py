"""Several drives on one supply: their harmonics added with their angles, other loads beside them.

Each drive is settled as if alone on the supply; that the others flatten its volts is left out,
which tells the sum too distorted, never too even (tests, against a general circuit simulator: by
5 to 40 %, most for drives alike). Loads beside them are linear.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from phasewright.electronics.rectifier import HARMONICS
from phasewright.network.supply import Source
from phasewright.quantities.errors import NotComputable

_ORDERS = np.arange(1, HARMONICS + 1)


@dataclass(frozen=True, slots=True)
class Beside:
    """A linear load between the two lines: series ohms, the reactance at the supply's frequency.

    For the fundamental it takes `power_w` and `reactive_var` at the supply's volts; its harmonic
    impedance is `resistance_ohm + j n reactance_ohm` (of a motor: that at standstill, for against
    harmonics its rotor nearly stands; of a heater its resistance).
    """

    power_w: float
    reactive_var: float
    resistance_ohm: float
    reactance_ohm: float


@dataclass(frozen=True, slots=True)
class Spectrum:
    """The supply's current and the volts at the service with all loads on.

    `harmonics_a[n - 1]` is the rms phasor of harmonic n = 1 to 40, its angle against n times that
    of the fundamental voltage at the service. `thd` is over the fundamental of the current,
    `voltage_thd` over that of the volts; fractions.
    """

    harmonics_a: tuple[complex, ...]
    current_a: float
    thd: float
    fundamental_v: float
    harmonics_v: tuple[float, ...]
    voltage_thd: float


def at_the_service(
    source: Source, drives: Sequence[Sequence[complex]], beside: Sequence[Beside] = ()
) -> Spectrum:
    """Supply current and service volts of drives' harmonic currents and of loads beside them.

    `drives`: of each the rms phasors of harmonics 1 to 40, angles as in `BridgeState`. A harmonic
    divides between the supply and the loads beside by their admittances. Raises NotComputable
    where the supply cannot carry the fundamental.
    """
    currents = np.zeros(HARMONICS, dtype=np.complex128)
    for drive in drives:
        currents += np.asarray(drive, dtype=np.complex128)
    line = source.resistance_ohm + 1j * _ORDERS * source.reactance_ohm
    admittance = np.zeros(HARMONICS, dtype=np.complex128)
    for load in beside:
        admittance += 1.0 / (load.resistance_ohm + 1j * _ORDERS * load.reactance_ohm)
        admittance[0] += complex(
            load.power_w, -load.reactive_var
        ) / source.voltage_v**2 - 1.0 / complex(load.resistance_ohm, load.reactance_ohm)
    supply = currents / (1.0 + line * admittance)
    volts = -line * supply
    fundamental_v = _fundamental_v(source, currents[0], admittance[0])
    supply[0] = currents[0] + admittance[0] * fundamental_v
    return _spectrum(supply, np.abs(volts), fundamental_v)


def _fundamental_v(source: Source, current: complex, admittance: complex) -> float:
    """Fundamental volts at the service, the angle's origin: |V + Z (I + Y V)| is the source's."""
    line = complex(source.resistance_ohm, source.reactance_ohm)
    own, drop = 1.0 + line * admittance, line * current
    a, b = abs(own) ** 2, (own.conjugate() * drop).real
    square = b * b - a * (abs(drop) ** 2 - source.voltage_v**2)
    volts = (math.sqrt(square) - b) / a if square >= 0.0 else -1.0
    if volts <= 0.0:
        raise NotComputable("the supply cannot carry all these loads together")
    return volts


def _spectrum(
    supply: NDArray[np.complex128], volts: NDArray[np.float64], fundamental_v: float
) -> Spectrum:
    first = abs(complex(supply[0]))
    others = math.sqrt(float(np.sum(np.abs(supply[1:]) ** 2)))
    volts[0] = fundamental_v
    return Spectrum(
        harmonics_a=tuple(complex(entry) for entry in supply),
        current_a=math.hypot(first, others),
        thd=others / first if first > 0.0 else math.inf,
        fundamental_v=fundamental_v,
        harmonics_v=tuple(float(entry) for entry in volts),
        voltage_thd=math.sqrt(float(np.sum(volts[1:] ** 2))) / fundamental_v,
    )
