"""The air gap of the balanced circuit: rotor branches and the flux that saturates the iron."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from phasewright.machines.circuit import CircuitOhms
from phasewright.quantities.errors import NotComputable

Floats = NDArray[np.float64]
_SETTLED = 1e-12
_SQRT2, _TURN = math.sqrt(2.0), 2.0 * math.pi


def rotor_admittance(
    circuit: CircuitOhms, slip: Floats, stretch: float | Floats
) -> NDArray[np.complex128]:
    """Admittance of all cages at the air gap [S]; `stretch` = frequency / circuit frequency.

    Written with the slip above, so that slip 0 gives 0.
    """
    each = [
        slip / (cage.resistance_ohm + 1j * slip * cage.leakage_ohm * stretch)
        for cage in circuit.cages
    ]
    return np.asarray(sum(each), dtype=np.complex128)


def flux_ratio_at(
    circuit: CircuitOhms,
    rotor: NDArray[np.complex128],
    phase_v: float | Floats,
    frequency_hz: float | Floats,
) -> Floats:
    """Flux over rated no-load flux that satisfies the saturating branch, for every slip.

    Newton on ln u + ln |1 + Zs Y(u)| = ln u0, u0 the flux of the unloaded terminals. Of several
    circuits side by side each row settles by itself.
    """
    stretch = frequency_hz / circuit.frequency_hz
    series = circuit.stator_resistance_ohm + 1j * circuit.stator_leakage_ohm * stretch
    unit = phase_v * _SQRT2 / (_TURN * frequency_hz * circuit.rated_flux_vs)
    if circuit.saturation is None:
        chord = 1.0 / (1j * circuit.magnetising_ohm * stretch)
        return np.asarray(unit / np.abs(1.0 + series * (rotor + chord)), dtype=np.float64)
    k, s = circuit.saturation.k, circuit.saturation.s
    magnetising = circuit.magnetising_ohm * (1.0 + k) * stretch
    base_re = circuit.stator_leakage_ohm * stretch / magnetising
    base_im = -circuit.stator_resistance_ohm / magnetising
    fixed = 1.0 + series * rotor + (base_re + 1j * base_im)
    u = np.asarray(unit / np.abs(fixed), dtype=np.float64)
    log_unit = np.log(unit)
    fixed_re, fixed_im = fixed.real.copy(), fixed.imag.copy()
    settled = np.zeros(u.shape[:-1], dtype=bool)
    for _ in range(60):
        knee = k * u**s
        re, im = fixed_re + base_re * knee, fixed_im + base_im * knee
        size2 = re * re + im * im
        miss = 0.5 * np.log(u * u * size2) - log_unit
        rise = 1.0 + s * knee * (re * base_re + im * base_im) / size2
        step = np.minimum(np.maximum(miss / rise, -0.5), 0.5)
        if u.ndim > 1:
            step[settled] = 0.0
            settled |= np.abs(step).max(axis=-1) < _SETTLED
        u = u * np.exp(-step)
        if np.abs(step).max() < _SETTLED:
            return np.asarray(u, dtype=np.float64)
    raise NotComputable("the flux of a saturating motor did not settle; the circuit is not usable")
