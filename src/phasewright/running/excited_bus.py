"""The bus of spinning machines and capacitors without a source, and Newton's method on it.

Sequence volts V_p, V_n (to neutral); capacitors and resistors between the lines tie the two
sequences: Y_pp = Y_nn = sum y, Y_pn = -a (y12 + a^2 y23 + a y31), Y_np = -a^2 (y12 + a y23 +
a^2 y31), machines add their y_p and y_n (method of symmetrical components, C. L. Fortescue,
Trans. AIEE 37, 1918, from memory). Singular where Y_pp - Y_pn Y_np / Y_nn = 0, and then
V_n = -Y_np V_p / Y_nn. Unknowns are logarithms: frequency, factor on the capacitors, amplitude
(one of the last two is held) and the saturation of every main flux in either sequence.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from phasewright.network.phasors import A2, A
from phasewright.running.flux import sequence_saturation
from phasewright.running.network import Network
from phasewright.running.rows import (
    G_FE,
    L1,
    L2,
    LS,
    LU,
    PAIRS,
    PSI_K,
    PSI_RATED,
    R1,
    R2,
    REVERSED,
    RS,
    Floats,
    S,
    machine_rows,
)  # fmt: skip

FREQUENCY, FACTOR, AMPLITUDE, FIRST_LEVEL = 0, 1, 2, 3
_LIMITS = (0.01, 0.2, 0.2)
_LEVEL_LIMIT = 0.5
_STEP, _TOLERANCE, _MOST_STEPS = 1e-7, 1e-10, 80


@dataclass(frozen=True, slots=True)
class Point:
    """A state of the bus: `factor` multiplies the capacitors, `amplitude` is the positive
    sequence over rated volts; `levels` are Lu over chord inductance, forward and backward of
    every machine in turn."""

    w: float
    factor: float
    amplitude: float
    levels: tuple[float, ...]
    v_p: complex = 0j
    v_n: complex = 0j


@dataclass(frozen=True, slots=True)
class Drawn:
    """Sequence currents of one machine from the bus (iron included), its slip and braking."""

    slip: float
    i_p: complex
    i_n: complex
    braking_nm: float


@dataclass(frozen=True, slots=True)
class _Side:
    """One machine seen by one sequence: admittance without iron, and that of the air gap."""

    y: complex
    gap: complex


Sides = list[tuple[_Side, _Side]]
"""Every machine with and against its own rotation."""


class SpunBus:
    """Machines at held shaft speeds with the capacitors and resistors of a network."""

    def __init__(self, network: Network, speeds_rpm: tuple[float, ...]) -> None:
        rows: Floats = machine_rows(network)
        self.rows: list[list[float]] = rows.tolist()
        self.electrical: list[float] = (
            rows[:, PAIRS] * np.array(speeds_rpm) * math.pi / 30.0
        ).tolist()
        self.inverse_h: Floats = 1.0 / (rows[:, LU] + rows[:, LS])
        self.inverse_sum = float(np.sum(self.inverse_h))
        c, g = network.capacitance_f, network.conductance_s
        self.capacitances_f = (c.c12, c.c23, c.c31)
        self.conductances_s = (g.c12, g.c23, g.c31)
        self.phase_v = network.machines[0].circuit.line_voltage_v / math.sqrt(3.0)

    @property
    def saturates(self) -> bool:
        return any(row[S] > 0.0 for row in self.rows)

    def first_guess(self) -> Point:
        """Ideal machines without iron saturation: sum C = sum 1/(w^2 (Lu + Ls))."""
        inverse = self.inverse_h
        w = float(np.sum(inverse * self.electrical)) / self.inverse_sum
        factor = self.inverse_sum / (w * w * sum(self.capacitances_f))
        return Point(w, factor, 0.0, (1.0,) * (2 * len(self.rows)))

    def sides(self, w: float, levels: tuple[float, ...]) -> Sides:
        """Every machine's circuit with and against its own rotation."""
        found = []
        for k, row in enumerate(self.rows):
            slip = 1.0 - self.electrical[k] / w
            forward = _side(row, w, slip, levels[2 * k])
            found.append((forward, _side(row, w, 2.0 - slip, levels[2 * k + 1])))
        return found

    def ties(self, w: float, factor: float) -> tuple[complex, complex, complex]:
        """(Y_pp, Y_pn, Y_np) of what is connected between the lines."""
        y12, y23, y31 = (
            complex(g, w * factor * c)
            for g, c in zip(self.conductances_s, self.capacitances_f, strict=True)
        )
        return (
            y12 + y23 + y31, -A * (y12 + A2 * y23 + A * y31), -A2 * (y12 + A * y23 + A2 * y31)
        )  # fmt: skip


def solved(bus: SpunBus, start: Point, hold: int) -> Point | None:
    """Newton from `start` with the factor or the amplitude held; None where it does not settle."""
    x = np.log([start.w, start.factor, start.amplitude, *start.levels])
    free = [i for i in range(len(x)) if i != hold]
    for _ in range(_MOST_STEPS):
        misfit, point = _misfit(bus, x)
        if not np.all(np.isfinite(misfit)):
            return None
        if np.max(np.abs(misfit)) < _TOLERANCE:
            return point
        slopes = np.empty((len(misfit), len(free)))
        for column, i in enumerate(free):
            moved = x.copy()
            moved[i] += _STEP
            slopes[:, column] = (_misfit(bus, moved)[0] - misfit) / _STEP
        try:
            step = np.linalg.solve(slopes, -misfit)
        except np.linalg.LinAlgError:
            return None
        for column, i in enumerate(free):
            limit = _LIMITS[i] if i < FIRST_LEVEL else _LEVEL_LIMIT
            x[i] += min(max(step[column], -limit), limit)
    return None


def flux_ratios(bus: SpunBus, point: Point) -> tuple[float, ...]:
    """Forward flux of every machine over its rated flux."""
    sides = bus.sides(point.w, point.levels)
    return tuple(
        math.sqrt(2.0) * abs(volts[0]) / (point.w * row[PSI_RATED])
        for row, volts in zip(bus.rows, _gap_volts(bus, point, sides), strict=True)
    )


def machine_currents(bus: SpunBus, point: Point) -> list[Drawn]:
    """What every machine draws at a solved state."""
    found = []
    for k, (forward, backward) in enumerate(bus.sides(point.w, point.levels)):
        row = bus.rows[k]
        swapped = row[REVERSED] != 0.0
        v_f, v_b = (point.v_n, point.v_p) if swapped else (point.v_p, point.v_n)
        i_f, i_b = forward.y * v_f, backward.y * v_b
        gap = abs(i_f) ** 2 * forward.gap.real - abs(i_b) ** 2 * backward.gap.real
        t_f, t_b = i_f + row[G_FE] * v_f, i_b + row[G_FE] * v_b
        i_p, i_n = (t_b, t_f) if swapped else (t_f, t_b)
        slip = 1.0 - bus.electrical[k] / point.w
        braking = -3.0 * gap * row[PAIRS] / point.w
        found.append(Drawn(slip, i_p, i_n, braking))
    return found


def _side(row: list[float], w: float, slip: float, level: float) -> _Side:
    rotor = 1.0 / complex(row[R1], slip * w * row[L1]) + 1.0 / complex(row[R2], slip * w * row[L2])
    gap = 1.0 / (complex(0.0, -level / (w * row[LU])) + slip * rotor)
    return _Side(1.0 / (complex(row[RS], w * row[LS]) + gap), gap)


def _misfit(bus: SpunBus, x: Floats) -> tuple[Floats, Point]:
    """How far the bus is from singular (real, imaginary) and every saturation from its flux."""
    values = np.exp(x)
    w, factor, amplitude = (float(v) for v in values[:FIRST_LEVEL])
    levels = tuple(float(v) for v in values[FIRST_LEVEL:])
    y_pp, y_pn, y_np = bus.ties(w, factor)
    y_p = y_n = y_pp
    sides = bus.sides(w, levels)
    for row, (forward, backward) in zip(bus.rows, sides, strict=True):
        f, b = forward.y + row[G_FE], backward.y + row[G_FE]
        y_p, y_n = (y_p + b, y_n + f) if row[REVERSED] != 0.0 else (y_p + f, y_n + b)
    v_p = complex(amplitude * bus.phase_v)
    point = Point(w, factor, amplitude, levels, v_p, -y_np * v_p / y_n)
    scale = w * bus.inverse_sum / w**2
    odd = (y_p - y_pn * y_np / y_n) / scale
    misfit = [odd.real, odd.imag]
    for k, (row, volts) in enumerate(zip(bus.rows, _gap_volts(bus, point, sides), strict=True)):
        if row[S] == 0.0:
            misfit += [math.log(levels[2 * k]), math.log(levels[2 * k + 1])]
            continue
        unit = 2.0 / (w * row[PSI_K]) ** 2
        x_f, x_b = (unit * abs(v) ** 2 for v in volts)
        f_f, f_b, *_ = sequence_saturation(x_f, x_b, row[S])
        misfit += [math.log((1.0 + f_f) / levels[2 * k]), math.log((1.0 + f_b) / levels[2 * k + 1])]
    return np.array(misfit), point


def _gap_volts(bus: SpunBus, point: Point, sides: Sides) -> list[tuple[complex, complex]]:
    """Air-gap volts of every machine, forward and backward."""
    found = []
    for row, (forward, backward) in zip(bus.rows, sides, strict=True):
        swapped = row[REVERSED] != 0.0
        v_f, v_b = (point.v_n, point.v_p) if swapped else (point.v_p, point.v_n)
        found.append((forward.gap * forward.y * v_f, backward.gap * backward.y * v_b))
    return found
