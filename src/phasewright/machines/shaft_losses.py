"""Losses a motor takes from its own shaft: bearings, fan and stray load loss, as torques."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from phasewright.machines.circuit import CircuitOhms

Floats = NDArray[np.float64]
FRICTION_VISCOUS_SHARE = 0.4
"""Share of the friction loss at rated speed that grows with speed squared (the rest: cube)."""
STRAY_KNEE = 0.8
"""Speed over synchronous below which the stray torque falls to nothing at standstill.

Below every rated speed, so that a watt at the rated point is a watt; a loss over speed further
down would take most of the torque of a start, which no motor shows (assumed, no source)."""


def friction_torque_nm(circuit: CircuitOhms, speed_rad_s: Floats) -> Floats:
    """Torque of bearings and fan [N m]: a1 w + a2 w |w|."""
    rated = circuit.rated_speed_rpm * math.pi / 30.0
    viscous = FRICTION_VISCOUS_SHARE * circuit.friction_w / rated**2
    fan = (1.0 - FRICTION_VISCOUS_SHARE) * circuit.friction_w / rated**3
    return viscous * speed_rad_s + fan * speed_rad_s * np.abs(speed_rad_s)


def stray_torque_per_watt(speed_rad_s: Floats, synchronous_rad_s: float | Floats) -> Floats:
    """Torque of one watt of stray loss: 1/speed, below `STRAY_KNEE` of synchronous in a straight
    line through zero at standstill."""
    knee = STRAY_KNEE * synchronous_rad_s
    turning = np.abs(speed_rad_s) > knee
    return np.where(turning, 1.0 / np.where(turning, speed_rad_s, 1.0), speed_rad_s / knee**2)
