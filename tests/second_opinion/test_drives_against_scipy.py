"""A motor on a drive by a general integrator: the same physics written anew in other variables.

Here in a frame that turns with the field, as real d and q parts, volts as a function of time; the
program steps complex fluxes in the standing frame. scipy's DOP853 at tight tolerance is the judge.
"""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from reference_machines import I4A, L2A, M2K2, constant, fan
from scipy.integrate import solve_ivp
from scipy.optimize import brentq
from starts.drive_courses import INVERTER, J_2K2, RATED_2K2_NM, on_drive

from phasewright.starts.drive_course import DriveCourse, Stop
from phasewright.starts.drive_waves import drive_waves


def main_flux(circuit, linkage: float, gathered: float) -> float:
    """x (gathered + nu(x)) = linkage by root finding, nu as the circuit states it."""
    w = 2.0 * math.pi * circuit.frequency_hz
    rated_h, law = circuit.magnetising_ohm / w, circuit.saturation
    if linkage == 0.0:
        return 0.0
    if law is None:
        return linkage / (gathered + 1.0 / rated_h)

    def miss(x: float) -> float:
        u = x / circuit.rated_flux_vs
        return x * (gathered + (1.0 + law.k * u**law.s) / (1.0 + law.k) / rated_h) - linkage

    return brentq(miss, 0.0, linkage * rated_h * (1.0 + law.k), xtol=1e-15, rtol=1e-13)


def integrate(course: DriveCourse, times: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Speed [rad/s], amps (rms) and torque [N m] at `times` of a ramp up and, where the course has
    one, of the ramp down that follows; from rest without flux."""
    starter, inverter = course.starter, course.inverter
    circuit, load = starter.machine.circuit, starter.machine.load
    w0, pairs = 2.0 * math.pi * circuit.frequency_hz, circuit.poles / 2
    ohm = np.array([circuit.stator_resistance_ohm] + [c.resistance_ohm for c in circuit.cages])
    leak = np.array([circuit.stator_leakage_ohm] + [c.leakage_ohm for c in circuit.cages]) / w0
    rated = circuit.rated_speed_rpm * math.pi / 30.0
    gathered = float((1.0 / leak).sum())

    def hertz(t: float) -> float:
        up = min(inverter.base_hz * t / course.ramp_up_s, course.hertz)
        if course.stop is None or t <= course.stop.at_s:
            return up
        return max(course.hertz - inverter.base_hz * (t - course.stop.at_s) / course.stop.ramp_s, 0)

    def volts(t: float) -> float:
        line = inverter.boost_v + inverter.base_v * hertz(t) / inverter.base_hz
        return math.sqrt(2.0 / 3.0) * min(line, inverter.most_v)

    def currents(d: np.ndarray, q: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        sum_d, sum_q = float((d / leak).sum()), float((q / leak).sum())
        linkage = math.hypot(sum_d, sum_q)
        share = main_flux(circuit, linkage, gathered) / linkage if linkage > 0.0 else 0.0
        return (d - share * sum_d) / leak, (q - share * sum_q) / leak

    def asked(speed: float) -> float:
        friction = circuit.friction_w * (
            0.4 * speed / rated**2 + 0.6 * speed * abs(speed) / rated**3
        )
        if load.kind == "fan":
            return friction + load.torque_nm * (speed / load.speed_rad_s) * abs(
                speed / load.speed_rad_s
            )
        return friction + load.torque_nm * min(max(speed, -1.0), 1.0)

    def torque(d: np.ndarray, q: np.ndarray) -> float:
        i_d, i_q = currents(d, q)
        return 1.5 * pairs * float(d[0] * i_q[0] - q[0] * i_d[0])

    def slope(t: float, state: np.ndarray) -> np.ndarray:
        n = ohm.size
        d, q, speed = state[:n], state[n : 2 * n], float(state[-1])
        i_d, i_q = currents(d, q)
        field = 2.0 * math.pi * hertz(t)
        behind = np.full(n, field - pairs * speed)
        behind[0] = field
        v_d = np.zeros(n)
        v_d[0] = volts(t)
        turning = 1.5 * pairs * float(d[0] * i_q[0] - q[0] * i_d[0]) - asked(speed)
        return np.concatenate(
            (
                v_d - ohm * i_d + behind * q,
                -ohm * i_q - behind * d,
                [turning / starter.inertia_kg_m2],
            )
        )

    # each bend of the ramp begins a run of its own: the integrator steps over none
    bends = [0.0, course.ramp_up_s * course.hertz / inverter.base_hz, float(times[-1])]
    if course.stop is not None:
        down = course.stop.ramp_s * course.hertz / inverter.base_hz
        bends += [course.stop.at_s, course.stop.at_s + down]
    bends = sorted({min(bend, float(times[-1])) for bend in bends})
    state, rows = np.zeros(2 * ohm.size + 1), []
    for begin, end in pairwise(bends):
        inside = times[(times > begin) & (times <= end)]
        found = solve_ivp(
            slope, (begin, end), state, method="DOP853", dense_output=True,
            rtol=1e-8, atol=1e-10, max_step=4e-3,
        )  # fmt: skip
        assert found.success
        rows.append(found.sol(inside))
        state = found.y[:, -1]
    whole = np.concatenate(rows, axis=1)
    amps, newton = [], []
    for t, column in zip(times, whole.T, strict=True):
        d, q = column[: ohm.size], column[ohm.size : 2 * ohm.size]
        i_d, i_q = currents(d, q)
        iron = volts(t) / circuit.core_loss_ohm
        amps.append(math.hypot(i_d[0] + iron, i_q[0]) / math.sqrt(2.0))
        newton.append(torque(d, q))
    return whole[-1], np.array(amps), np.array(newton)


@pytest.mark.parametrize(
    "course",
    [
        on_drive(10 * J_2K2, fan(RATED_2K2_NM, 1445), circuit=L2A, ramp=1.1, seconds=1.3),
        on_drive(3 * J_2K2, constant(7.0), circuit=M2K2, ramp=0.3, seconds=0.5),
        on_drive(
            0.15, constant(6.0), circuit=I4A, ramp=0.8, seconds=1.9,
            inverter=replace(INVERTER, boost_v=12.0), stop=Stop(1.0, 0.9),
        ),
    ],
    ids=["saturating, fan", "light and quick", "up and down by ramp"],
)  # fmt: skip
def test_a_ramp_by_a_general_integrator(course: DriveCourse) -> None:
    """Speed, amps and torque to 0.001, 0.01 and 0.01 % of their peaks, at a step of 50 us."""
    found = drive_waves(replace(course, step_s=5e-5), every=200)
    speed, amps, torque = integrate(course, found.time_s)
    assert abs(found.speed_rad_s - speed).max() < 1e-5 * speed.max()
    assert abs(found.line_a - amps).max() < 1e-4 * amps.max()
    assert abs(found.torque_nm - torque).max() < 1e-4 * abs(torque).max()
