"""What direct current in a motor's winding does to its turning rotor: torque against speed.

A standing field of a constant stator vector; the rotor turns in it and sees p w. With the main
flux as it saturates. The closed form of the steady circuit; checked with Dubey, Fundamentals of
Electrical Drives, 2nd ed., example 6.6.
"""

from __future__ import annotations

import math

import numpy as np

from phasewright.machines.circuit import Circuit
from phasewright.machines.quadrature import gauss_legendre
from phasewright.machines.shaft_losses import friction_torque_nm

_MOST_FLUX = 4.0
"""No iron carries more flux over rated flux at the currents of a winding."""


def injection_torque_nm(circuit: Circuit, current_a: float, speed_rad_s: float) -> float:
    """Braking torque [N m] of a shaft at this speed, the currents settled.

    `current_a` rms: the stator vector is sqrt(2) times as long, so that it heats the winding as
    that many amps do. 0 at rest: direct current holds nothing.
    """
    if speed_rad_s == 0.0 or current_a == 0.0:
        return 0.0
    pairs = circuit.poles / 2.0
    rotor_rad_s = pairs * speed_rad_s
    stretch = rotor_rad_s / (2.0 * math.pi * circuit.frequency_hz)
    rotor = sum(
        1.0 / complex(cage.resistance_ohm, stretch * cage.leakage_ohm) for cage in circuit.cages
    )
    flux = circuit.rated_flux_vs * _flux_ratio(circuit, current_a, rotor_rad_s, rotor)
    return 1.5 * pairs * rotor_rad_s * flux * flux * rotor.real


def _flux_ratio(circuit: Circuit, current_a: float, rotor_rad_s: float, rotor: complex) -> float:
    """Flux over rated flux at which magnetising and rotor currents make up the stator's vector.

    Their sum grows with the flux: bisection.
    """
    magnetising_h = circuit.magnetising_ohm / (2.0 * math.pi * circuit.frequency_hz)
    wanted_a = math.sqrt(2.0) * current_a
    rated_flux_vs, rotor_branch = circuit.rated_flux_vs, rotor * rotor_rad_s
    law = circuit.saturation

    def drawn_a(ratio: float) -> float:
        knee = 1.0 if law is None else (1.0 + law.k * ratio**law.s) / (1.0 + law.k)
        return ratio * rated_flux_vs * abs(complex(0.0, -knee / magnetising_h) + rotor_branch)

    low, high = 0.0, _MOST_FLUX
    while drawn_a(high) < wanted_a:  # a linear branch carries any flux
        high *= 2.0
    while high - low > 1e-12 * high:
        middle = 0.5 * (low + high)
        low, high = (middle, high) if drawn_a(middle) < wanted_a else (low, middle)
    return 0.5 * (low + high)


def injection_stop_s(
    circuit: Circuit, current_a: float, inertia_kg_m2: float, from_rad_s: float, to_rad_s: float
) -> float:
    """Seconds in which direct current slows a shaft down: the integral of J dw / T(w).

    With the motor's own friction, without a load, the currents settled. Gauss-Legendre in the
    logarithm of the speed.
    """
    nodes, weights = gauss_legendre(48)
    middle, half = 0.5 * math.log(from_rad_s * to_rad_s), 0.5 * math.log(from_rad_s / to_rad_s)
    speeds = np.exp(middle + half * nodes)
    torques = np.array([injection_torque_nm(circuit, current_a, float(w)) for w in speeds])
    torques += friction_torque_nm(circuit, speeds)
    return float(half * (weights @ (inertia_kg_m2 * speeds / torques)))
