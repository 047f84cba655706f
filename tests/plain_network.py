"""The three-line network written a second time, in plain Python, for scipy's fsolve.

Slips alone are the unknowns; volts follow from a dense nodal matrix over nodes 1 and 3 that is
stamped phase by phase (a machine's three-wire admittance matrix), not by sequences.
"""

from __future__ import annotations

import cmath
import math

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import fsolve

from phasewright.running.network import Network

A = cmath.exp(2j * math.pi / 3)


def sequence_impedances(shop: Network, k: int, slip: float) -> tuple[complex, complex]:
    """(stator, air gap) impedance of machine k at a slip, linear main flux."""
    z = shop.machines[k].circuit
    stretch = shop.source.frequency_hz / z.frequency_hz
    gap = 1 / (1j * z.magnetising_ohm * stretch)
    for cage in z.cages:
        gap += slip / (cage.resistance_ohm + 1j * slip * cage.leakage_ohm * stretch)
    return complex(z.stator_resistance_ohm, z.stator_leakage_ohm * stretch), 1 / gap


def volts_and_torques(shop: Network, slips: list[float]) -> tuple[list[complex], list[float]]:
    """Node volts (1, 2, 3) and net torques (air gap less friction and load) at given slips."""
    w = 2 * math.pi * shop.source.frequency_hz
    matrix = [[0j] * 3 for _ in range(3)]
    c, g = shop.capacitance_f, shop.conductance_s
    for m, n, farad, siemens in ((0, 1, c.c12, g.c12), (1, 2, c.c23, g.c23), (2, 0, c.c31, g.c31)):
        y = complex(siemens, w * farad)
        matrix[m][m] += y
        matrix[n][n] += y
        matrix[m][n] -= y
        matrix[n][m] -= y
    impedances = []
    for k, machine in enumerate(shop.machines):
        ahead, behind = (sequence_impedances(shop, k, s) for s in (slips[k], 2 - slips[k]))
        impedances.append((ahead, behind))
        iron = 1 / machine.circuit.core_loss_ohm
        y_a, y_b = 1 / sum(ahead) + iron, 1 / sum(behind) + iron
        turn = A.conjugate() if machine.reversed else A
        for m in range(3):
            for n in range(3):
                matrix[m][n] += (y_a * turn ** (n - m) + y_b * turn ** (m - n)) / 3
    z = complex(shop.source.resistance_ohm, shop.source.reactance_ohm)
    matrix[0][0] += 1 / z
    right = shop.source.voltage_v / z
    det = matrix[0][0] * matrix[2][2] - matrix[0][2] * matrix[2][0]
    volts = [right * matrix[2][2] / det, 0j, -right * matrix[2][0] / det]
    torques = [_net_torque(shop, k, slips[k], volts, impedances[k]) for k in range(len(slips))]
    return volts, torques


def solve(shop: Network, start: float = 0.02) -> tuple[NDArray[np.float64], list[complex]]:
    """Slips and node volts by scipy's fsolve."""

    def misfit(x: NDArray[np.float64]) -> list[float]:
        return volts_and_torques(shop, [float(s) for s in x])[1]

    slips, _, found, words = fsolve(
        misfit, np.full(len(shop.machines), start), full_output=True, xtol=1e-10
    )
    assert found == 1, words
    return slips, volts_and_torques(shop, [float(s) for s in slips])[0]


def _net_torque(
    shop: Network, k: int, slip: float, volts: list[complex],
    impedances: tuple[tuple[complex, complex], tuple[complex, complex]],
) -> float:  # fmt: skip
    machine = shop.machines[k]
    z, load = machine.circuit, machine.load
    (stator_a, gap_a), (stator_b, gap_b) = impedances
    turn = A.conjugate() if machine.reversed else A
    ahead = (volts[0] + turn * volts[1] + turn**2 * volts[2]) / 3
    behind = (volts[0] + turn**2 * volts[1] + turn * volts[2]) / 3
    i_a, i_b = ahead / (stator_a + gap_a), behind / (stator_b + gap_b)
    synchronous = 4 * math.pi * shop.source.frequency_hz / z.poles
    speed = (1 - slip) * synchronous
    rated = z.rated_speed_rpm * math.pi / 30
    torque = 3 * (abs(i_a) ** 2 * gap_a.real - abs(i_b) ** 2 * gap_b.real) / synchronous
    torque -= z.friction_w * (0.4 * speed / rated**2 + 0.6 * speed * abs(speed) / rated**3)
    torque -= z.stray_w * (abs(i_a) ** 2 + abs(i_b) ** 2) / z.rated_current_a**2 / speed
    if load.kind == "constant":
        torque -= load.torque_nm
    if load.kind == "fan":
        torque -= load.torque_nm * speed * abs(speed) / load.speed_rad_s**2
    if load.kind == "viscous":
        torque -= load.torque_nm * speed / load.speed_rad_s
    return torque
