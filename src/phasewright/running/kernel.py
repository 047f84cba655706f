"""Compiled: the operating point of a three-line network by Newton's method.

Node 2 is the reference. A three-wire machine draws the positive- and negative-sequence
currents y_p V_p and y_n V_n; together with the capacitors, the resistive loads and the source
behind its impedance two complex equations for V1 and V3 remain, whatever the number of
machines. Outside stand three real unknowns a machine: its slip (balance of torques) and the
logarithms of the saturation of its main flux in either sequence (balance of fluxes). Every
derivative is exact, so a point takes four to six steps.

Source: method of symmetrical components (C. L. Fortescue, Trans. AIEE 37, 1918), two-sequence
circuits of the induction motor at slips s and 2 - s; both from memory.
"""

from __future__ import annotations

import math
from typing import Any

from phasewright.network.compiled import jit_inlined
from phasewright.running.flux import sequence_saturation
from phasewright.running.rows import (
    A1,
    A2,
    C12,
    C23,
    C31,
    CONSTANT,
    FAN,
    FLUX_UNIT,
    G12,
    G23,
    G31,
    G_FE,
    L1,
    L2,
    LOAD,
    LOAD_NM,
    LOAD_RAD_S,
    LS,
    LU,
    LZ,
    PER_NM,
    R1,
    R2,
    REVERSED,
    RS,
    RZ,
    STRAY,
    SYNCHRONOUS,
    VISCOUS,
    E,
    S,
    W,
)  # fmt: skip

TURN = complex(-0.5, math.sqrt(0.75))
BACK = complex(-0.5, -math.sqrt(0.75))

# Columns of a machine's branch: admittance and air-gap impedance of the sequence that turns
# with it (F) and against it (B), volts and currents of both, then the slopes of the first four
# with each unknown: slip, ln(saturation forward), ln(saturation backward).
YF, ZF, YB, ZB, VF, VB, IF, IB = range(8)
SLOPES = 8
BRANCHES = 20

# Columns of a machine's balance: how saturations answer to the squared fluxes; slope of all
# torques that brake, stray torque over current squared.
NEED_F, NEED_B, FX, FY, BX, BY, DRAG, STRAY_NM = range(8)
BALANCES = 8


@jit_inlined
def inverse(z: complex) -> complex:
    """The reciprocal, without the guards of the general division."""
    scale = 1.0 / (z.real * z.real + z.imag * z.imag)
    return complex(z.real * scale, -z.imag * scale)


@jit_inlined
def sequence_branch(
    rows: Any, k: int, w: float, slip: float, saturation: float
) -> tuple[complex, complex, complex, complex, complex, complex]:
    """(y, z, dy/ds, dz/ds, dy/du, dz/du) at a slip; y without iron, z that of the air gap.

    `saturation` is lu times the reciprocal chord inductance, u its logarithm.
    """
    magnetising = complex(0.0, -saturation / (w * rows[k, LU]))
    first = inverse(complex(rows[k, R1], slip * w * rows[k, L1]))
    second = inverse(complex(rows[k, R2], slip * w * rows[k, L2]))
    gap = inverse(magnetising + slip * (first + second))
    gap_s = -gap * gap * (rows[k, R1] * first * first + rows[k, R2] * second * second)
    gap_u = -gap * gap * magnetising
    y = inverse(complex(rows[k, RS], w * rows[k, LS]) + gap)
    square = -y * y
    return y, gap, square * gap_s, gap_s, square * gap_u, gap_u


@jit_inlined
def fill_branches(rows: Any, w: float, slips: Any, levels: Any, branches: Any) -> None:
    """Branches of all machines at their slips and saturations, shape (machines, BRANCHES)."""
    for k in range(rows.shape[0]):
        for column in range(SLOPES, BRANCHES):
            branches[k, column] = 0.0
        y, z, y_s, z_s, y_u, z_u = sequence_branch(rows, k, w, slips[k], levels[k, 0])
        branches[k, YF], branches[k, ZF] = y, z
        branches[k, SLOPES + YF], branches[k, SLOPES + ZF] = y_s, z_s
        branches[k, SLOPES + 4 + YF], branches[k, SLOPES + 4 + ZF] = y_u, z_u
        y, z, y_s, z_s, y_u, z_u = sequence_branch(rows, k, w, 2.0 - slips[k], levels[k, 1])
        branches[k, YB], branches[k, ZB] = y, z
        branches[k, SLOPES + YB], branches[k, SLOPES + ZB] = -y_s, -z_s
        branches[k, SLOPES + 8 + YB], branches[k, SLOPES + 8 + ZB] = y_u, z_u


@jit_inlined
def fill_currents(rows: Any, v_p: complex, v_n: complex, branches: Any) -> None:
    """Volts and currents (without iron) of both sequences of every machine."""
    for k in range(rows.shape[0]):
        if rows[k, REVERSED] != 0.0:
            branches[k, VF], branches[k, VB] = v_n, v_p
        else:
            branches[k, VF], branches[k, VB] = v_p, v_n
        branches[k, IF] = branches[k, YF] * branches[k, VF]
        branches[k, IB] = branches[k, YB] * branches[k, VB]


@jit_inlined
def solve_lines(
    line: Any, rows: Any, branches: Any
) -> tuple[complex, complex, complex, complex, complex, complex]:
    """(V1, V3) against node 2 and how the bus answers to a sequence current drawn from it.

    The last four: dVp/dIp, dVp/dIn, dVn/dIp, dVn/dIn. The source equation is multiplied by
    the source impedance, so that a stiff source needs no special case.
    """
    w = line[W]
    source = complex(line[RZ], w * line[LZ])
    y12 = complex(line[G12], w * line[C12])
    y23 = complex(line[G23], w * line[C23])
    y31 = complex(line[G31], w * line[C31])
    y_p = complex(0.0, 0.0)
    y_n = complex(0.0, 0.0)
    for k in range(rows.shape[0]):
        iron = rows[k, G_FE]
        forward = branches[k, YF] + iron
        backward = branches[k, YB] + iron
        if rows[k, REVERSED] != 0.0:
            forward, backward = backward, forward
        y_p += forward
        y_n += backward
    own = (y_p + y_n) / 3.0
    m11 = 1.0 + source * (y12 + y31 + own)
    m13 = source * (-y31 + (y_p * BACK + y_n * TURN) / 3.0)
    m31 = -y31 + (y_p * TURN + y_n * BACK) / 3.0
    m33 = y23 + y31 + own
    over = inverse(m11 * m33 - m13 * m31)
    v1 = over * m33 * line[E]
    v3 = -over * m31 * line[E]
    p1 = -over * (m33 * source - m13 * TURN)
    p3 = -over * (m11 * TURN - m31 * source)
    n1 = -over * (m33 * source - m13 * BACK)
    n3 = -over * (m11 * BACK - m31 * source)
    return (
        v1, v3,
        (p1 + BACK * p3) / 3.0, (n1 + BACK * n3) / 3.0,
        (p1 + TURN * p3) / 3.0, (n1 + TURN * n3) / 3.0,
    )  # fmt: skip


@jit_inlined
def load_torque(rows: Any, k: int, speed: float) -> tuple[float, float]:
    """Torque the load asks for at a shaft speed in rad/s, and its slope."""
    if rows[k, LOAD] == CONSTANT:
        if speed > 1.0:
            return rows[k, LOAD_NM], 0.0
        if speed < -1.0:
            return -rows[k, LOAD_NM], 0.0
        return rows[k, LOAD_NM] * speed, rows[k, LOAD_NM]
    ratio = speed / rows[k, LOAD_RAD_S]
    if rows[k, LOAD] == FAN:
        slope = 2.0 * rows[k, LOAD_NM] * abs(ratio) / rows[k, LOAD_RAD_S]
        return rows[k, LOAD_NM] * ratio * abs(ratio), slope
    if rows[k, LOAD] == VISCOUS:
        return rows[k, LOAD_NM] * ratio, rows[k, LOAD_NM] / rows[k, LOAD_RAD_S]
    return 0.0, 0.0


@jit_inlined
def stray_shape(speed: float, synchronous: float) -> tuple[float, float]:
    """Torque of a stray loss of one watt: 1/speed, through zero at standstill; and its slope.

    The knee is that of the motor circuit (`machines.shaft_losses.STRAY_KNEE`).
    """
    knee = 0.8 * synchronous
    if abs(speed) > knee:
        return 1.0 / speed, -1.0 / (speed * speed)
    return speed / (knee * knee), 1.0 / (knee * knee)


@jit_inlined
def _along(a: complex, b: complex) -> float:
    """Slope of |a| squared where a changes by b."""
    return 2.0 * (a.real * b.real + a.imag * b.imag)


@jit_inlined
def _size(a: complex) -> float:
    return a.real * a.real + a.imag * a.imag


@jit_inlined
def balance(
    rows: Any, k: int, slips: Any, levels: Any, load_scale: Any, branches: Any,
    residual: Any, balances: Any,
) -> None:  # fmt: skip
    """Fill the three residuals of a machine and its row of balances, shape (BALANCES,)."""
    synchronous = rows[k, SYNCHRONOUS]
    speed = (1.0 - slips[k]) * synchronous
    current = _size(branches[k, IF]) + _size(branches[k, IB])
    stray, stray_slope = stray_shape(speed, synchronous)
    load, load_slope = load_torque(rows, k, speed)
    gap = _size(branches[k, IF]) * branches[k, ZF].real
    gap -= _size(branches[k, IB]) * branches[k, ZB].real
    drag = rows[k, A1] * speed + rows[k, A2] * speed * abs(speed)
    drag += rows[k, STRAY] * current * stray
    balances[k, STRAY_NM] = rows[k, STRAY] * stray
    net = 3.0 * gap / synchronous - drag - load_scale[k] * load
    residual[3 * k] = net * rows[k, PER_NM]
    balances[k, DRAG] = (
        rows[k, A1] + 2.0 * rows[k, A2] * abs(speed)
        + rows[k, STRAY] * current * stray_slope + load_scale[k] * load_slope
    )  # fmt: skip
    if rows[k, S] == 0.0:
        residual[3 * k + 1] = residual[3 * k + 2] = 0.0
        return
    unit = rows[k, FLUX_UNIT]
    x = unit * _size(branches[k, ZF] * branches[k, IF])
    y = unit * _size(branches[k, ZB] * branches[k, IB])
    f, b, f_x, f_y, b_x, b_y = sequence_saturation(x, y, rows[k, S])
    balances[k, FX], balances[k, FY] = f_x, f_y
    balances[k, BX], balances[k, BY] = b_x, b_y
    balances[k, NEED_F], balances[k, NEED_B] = (1.0 + f) / levels[k, 0], (1.0 + b) / levels[k, 1]
    residual[3 * k + 1] = balances[k, NEED_F] - 1.0
    residual[3 * k + 2] = balances[k, NEED_B] - 1.0


@jit_inlined
def answer(
    rows: Any, k: int, levels: Any, branches: Any, balances: Any,
    dv_f: complex, dv_b: complex, unknown: int,
) -> tuple[float, float, float]:  # fmt: skip
    """How the three residuals of a machine change with its volts and with an unknown.

    `unknown` is 0 to 2 where the unknown is the machine's own, -1 where it is another's.
    """
    di_f, di_b = branches[k, YF] * dv_f, branches[k, YB] * dv_b
    dz_f = complex(0.0, 0.0)
    dz_b = complex(0.0, 0.0)
    if unknown >= 0:
        slope = SLOPES + 4 * unknown
        di_f += branches[k, slope + YF] * branches[k, VF]
        di_b += branches[k, slope + YB] * branches[k, VB]
        dz_f, dz_b = branches[k, slope + ZF], branches[k, slope + ZB]
    i_f, i_b, z_f, z_b = branches[k, IF], branches[k, IB], branches[k, ZF], branches[k, ZB]
    square_f, square_b = _along(i_f, di_f), _along(i_b, di_b)
    synchronous = rows[k, SYNCHRONOUS]
    gap = square_f * z_f.real + _size(i_f) * dz_f.real
    gap -= square_b * z_b.real + _size(i_b) * dz_b.real
    torque = 3.0 * gap / synchronous - balances[k, STRAY_NM] * (square_f + square_b)
    if unknown == 0:
        torque += balances[k, DRAG] * synchronous
    torque *= rows[k, PER_NM]
    if rows[k, S] == 0.0:
        return torque, 0.0, 0.0
    dx = rows[k, FLUX_UNIT] * _along(z_f * i_f, z_f * di_f + dz_f * i_f)
    dy = rows[k, FLUX_UNIT] * _along(z_b * i_b, z_b * di_b + dz_b * i_b)
    to_f = (balances[k, FX] * dx + balances[k, FY] * dy) / levels[k, 0]
    to_b = (balances[k, BX] * dx + balances[k, BY] * dy) / levels[k, 1]
    if unknown == 1:
        to_f -= balances[k, NEED_F]
    if unknown == 2:
        to_b -= balances[k, NEED_B]
    return torque, to_f, to_b


@jit_inlined
def misfit(
    line: Any, rows: Any, slips: Any, levels: Any, load_scale: Any,
    branches: Any, balances: Any, residual: Any,
) -> tuple[complex, complex, complex, complex]:  # fmt: skip
    """Fill residual (3 machines) at a point; returns how the bus answers to drawn currents.

    Unknown 3k is the slip of machine k, 3k+1 and 3k+2 the logarithms of its two saturations.
    Residual 3k is the net torque of the machine over its torque scale; 3k+1 and 3k+2 say how
    far the saturation is from what its flux asks for, relatively (left out on a linear machine).
    """
    fill_branches(rows, line[W], slips, levels, branches)
    v1, v3, z_pp, z_pn, z_np, z_nn = solve_lines(line, rows, branches)
    fill_currents(rows, (v1 + BACK * v3) / 3.0, (v1 + TURN * v3) / 3.0, branches)
    for k in range(rows.shape[0]):
        balance(rows, k, slips, levels, load_scale, branches, residual, balances)
    return z_pp, z_pn, z_np, z_nn


@jit_inlined
def fill_jacobian(
    rows: Any, levels: Any, branches: Any, balances: Any,
    z_pp: complex, z_pn: complex, z_np: complex, z_nn: complex, jacobian: Any,
) -> None:  # fmt: skip
    """Slopes of all residuals with all unknowns, after `misfit` at the same point."""
    m = rows.shape[0]
    for j in range(m):
        for q in range(3 if rows[j, S] > 0.0 else 1):
            slope = SLOPES + 4 * q
            di_p = branches[j, slope + YF] * branches[j, VF]
            di_n = branches[j, slope + YB] * branches[j, VB]
            if rows[j, REVERSED] != 0.0:
                di_p, di_n = di_n, di_p
            dv_p = z_pp * di_p + z_pn * di_n
            dv_n = z_np * di_p + z_nn * di_n
            for k in range(m):
                dv_f, dv_b = dv_p, dv_n
                if rows[k, REVERSED] != 0.0:
                    dv_f, dv_b = dv_n, dv_p
                torque, to_f, to_b = answer(
                    rows, k, levels, branches, balances, dv_f, dv_b, q if k == j else -1
                )
                jacobian[3 * k, 3 * j + q] = torque
                if rows[k, S] == 0.0:
                    continue
                jacobian[3 * k + 1, 3 * j + q] = to_f
                jacobian[3 * k + 2, 3 * j + q] = to_b


def warm() -> None:
    """The kernels of this module compile with those that call them."""
