"""Compiled half of the rectifier on three lines: six diodes with their link, period by period.

Every line k is a sine e_k behind R_k and L_k (its diode's resistance counted in R_k); a line's
pole says where it conducts: 1 to the upper rail, -1 to the lower one, 0 not at all. While two
or three lines conduct, with b the line whose pole differs from the others' (direction q):

    L_a ja' + (L_b + Ld)(ja' + jc') = q (e_a - e_b) - 2 Vd - v - R_a ja - (R_b + Rd)(ja + jc)

likewise for c, and C v' = ja + jc - I; with none C v' = -I. Rd, Ld: a choke between bridge and
link. A line begins where its volts pass a rail's and ends where its current does; the classical
Runge-Kutta method takes the grid's steps, bisection finds the ends within one.

Parameters, all in SI, in one array `p`: 0 angular frequency; 1 to 6 the sine and cosine parts of
e_1, e_2, e_3; 7 to 9 R; 10 to 12 L; 13 choke R; 14 choke L; 15 C; 16 diode drop; 17 load current.
State `x`: 0 to 2 line currents, 3 link voltage.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from phasewright.network.compiled import jit, jit_inlined

Floats = NDArray[np.float64]
Poles = NDArray[np.int64]
Roles = tuple[int, int, int, float]

COLLAPSED, SHORTED = 0, -1
"""What `settle` returns beside the count of periods (below `SHORTED`: it did not settle)."""
_HALVINGS = 40


@jit_inlined
def _volts(p: Floats, t: float, volts: Floats) -> None:
    """Volts of the three lines at an instant."""
    sine, cosine = math.sin(p[0] * t), math.cos(p[0] * t)
    for k in range(3):
        volts[k] = p[1 + 2 * k] * sine + p[2 + 2 * k] * cosine


@jit_inlined
def _roles(pole: Poles) -> Roles:
    """(a, b, c, q): b the odd line, a and c those of the other pole, which is q; -1 for a line
    that is not there."""
    total = pole[0] + pole[1] + pole[2]
    a, b, c = -1, -1, -1
    for k in range(3):
        if pole[k] == 0:
            continue
        if (total == 0 and pole[k] < 0) or (total != 0 and pole[k] == -total):
            b = k
        elif a < 0:
            a = k
        else:
            c = k
    return a, b, c, float(pole[a]) if a >= 0 else 0.0


@jit_inlined
def _slopes(p: Floats, roles: Roles, volts: Floats, x: Floats, rates: Floats, row: int) -> float:
    """Slopes of the state, into a row of `rates`; returns the volts between the rails."""
    a, b, c, q = roles
    rates[row, 0], rates[row, 1], rates[row, 2] = 0.0, 0.0, 0.0
    if a < 0:
        rates[row, 3] = -p[17] / p[15]
        return float(x[3])
    ja = q * x[a]
    jc = 0.0 if c < 0 else q * x[c]
    shared_r, shared_l = p[7 + b] + p[13], p[10 + b] + p[14]
    back = 2.0 * p[16] + x[3] + shared_r * (ja + jc)
    to_a = q * (volts[a] - volts[b]) - back - p[7 + a] * ja
    if c < 0:
        da = to_a / (p[10 + a] + shared_l)
        dc = 0.0
    else:
        to_c = q * (volts[c] - volts[b]) - back - p[7 + c] * jc
        own_a, own_c = p[10 + a], p[10 + c]
        over = 1.0 / (own_a * own_c + shared_l * (own_a + own_c))
        da = over * ((own_c + shared_l) * to_a - shared_l * to_c)
        dc = over * ((own_a + shared_l) * to_c - shared_l * to_a)
        rates[row, c] = q * dc
    rates[row, a] = q * da
    rates[row, b] = -q * (da + dc)
    rates[row, 3] = (ja + jc - p[17]) / p[15]
    return float(x[3] + p[13] * (ja + jc) + p[14] * (da + dc))


@jit_inlined
def _advance(
    p: Floats, roles: Roles, t: float, tau: float, x: Floats, out: Floats,
    rates: Floats, volts: Floats,
) -> None:  # fmt: skip
    """State `tau` after `t` if no pole changes, and the `volts` then; the first row of `rates`
    holds the slopes at `t`."""
    for k in range(4):
        out[k] = x[k] + 0.5 * tau * rates[0, k]
    _volts(p, t + 0.5 * tau, volts)
    _slopes(p, roles, volts, out, rates, 1)
    for k in range(4):
        out[k] = x[k] + 0.5 * tau * rates[1, k]
    _slopes(p, roles, volts, out, rates, 2)
    for k in range(4):
        out[k] = x[k] + tau * rates[2, k]
    _volts(p, t + tau, volts)
    _slopes(p, roles, volts, out, rates, 3)
    for k in range(4):
        out[k] = x[k] + tau / 6.0 * (
            rates[0, k] + 2.0 * (rates[1, k] + rates[2, k]) + rates[3, k]
        )  # fmt: skip


@jit_inlined
def _event(
    p: Floats, pole: Poles, roles: Roles, volts: Floats, x: Floats, rates: Floats
) -> tuple[float, int, int]:
    """(positive while the poles last, the line that changes first, its new pole); the last row
    of `rates` is written over."""
    a, b, c, q = roles
    if a < 0:
        high, low = 0, 0
        for k in range(3):
            high = k if volts[k] > volts[high] else high
            low = k if volts[k] < volts[low] else low
        return float(x[3] + 2.0 * p[16] - volts[high] + volts[low]), high, 1
    if c >= 0:
        if x[a] * q < x[c] * q:
            return float(q * x[a]), a, 0
        return float(q * x[c]), c, 0
    _slopes(p, roles, volts, x, rates, 3)
    k = 3 - a - b
    upper = q * (volts[a] - p[7 + a] * x[a] - p[10 + a] * rates[3, a] - volts[k])
    lower = q * (volts[k] - volts[b] + p[7 + b] * x[b] + p[10 + b] * rates[3, b])
    current = q * x[a]
    # a current of no size ends the pair; the third line's volts are compared in volts
    if current <= 0.0 or (current < upper and current < lower):
        return float(current), a, 0
    if upper < lower:
        return float(upper), k, pole[a]
    return float(lower), k, pole[b]


@jit_inlined
def _switch(pole: Poles, roles: Roles, volts: Floats, x: Floats, line: int, becomes: int) -> None:
    """Give the line its new pole, with what follows for the others."""
    a, b, c, _ = roles
    if a < 0:
        low = line
        for k in range(3):
            low = k if volts[k] < volts[low] else low
        pole[line], pole[low] = 1, -1
        return
    pole[line] = becomes
    if becomes == 0:
        x[line] = 0.0
        if c < 0:
            pole[b] = 0
            x[b] = 0.0
        else:
            other = c if line == a else a
            x[b] = -x[other]


@jit
def _ahead(
    p: Floats, pole: Poles, roles: Roles, t: float, tau: float, x: Floats, out: Floats,
    rates: Floats, volts: Floats,
) -> tuple[float, int, int]:  # fmt: skip
    """`_advance`, and the `_event` there."""
    _advance(p, roles, t, tau, x, out, rates, volts)
    return _event(p, pole, roles, volts, out, rates)


@jit
def _step(
    p: Floats, t: float, h: float, x: Floats, pole: Poles, trial: Floats, rates: Floats,
    volts: Floats,
) -> None:  # fmt: skip
    """One grid step with all the changes in it; `x` and `pole` are changed.

    The first row of `rates` holds the slopes at `t`.
    """
    left = h
    roles = _roles(pole)
    for _ in range(24):
        if _ahead(p, pole, roles, t, left, x, trial, rates, volts)[0] > 0.0:
            break
        low, high = 0.0, left
        for _ in range(_HALVINGS):
            middle = 0.5 * (low + high)
            if _ahead(p, pole, roles, t, middle, x, trial, rates, volts)[0] > 0.0:
                low = middle
            else:
                high = middle
        _, line, becomes = _ahead(p, pole, roles, t, high, x, trial, rates, volts)
        for k in range(4):
            x[k] = trial[k]
        t += high
        left -= high
        _switch(pole, roles, volts, x, line, becomes)
        if left <= 0.0:
            return
        roles = _roles(pole)
        _slopes(p, roles, volts, x, rates, 0)
    for k in range(4):
        x[k] = trial[k]


@jit
def settle(
    p: Floats, power_w: float, x: Floats, pole: Poles, most: int, tolerance: float,
    currents: Floats, link: Floats, rails: Floats,
) -> int:  # fmt: skip
    """Run on from state `x` with poles `pole` (3,) to the periodic one.

    `currents` (n, 3), `link` (n,) and `rails` (n,) hold the last period, n grid steps. The load
    current times the mean link voltage is `power_w`. Returns the periods run; COLLAPSED where
    the link does, SHORTED where a choke's current would turn over through the diodes (not
    modelled), less where it did not settle in `most` periods.
    """
    samples = link.size
    h = 2.0 * math.pi / p[0] / samples
    before, trial, rates, volts = np.empty(4), np.empty(4), np.empty((4, 4)), np.empty(3)
    peak_v = 0.0
    for n in range(samples):
        _volts(p, n * h, volts)
        peak_v = max(peak_v, max(volts) - min(volts))
    for period in range(most):
        for k in range(4):
            before[k] = x[k]
        total, top, high_v, low_v = 0.0, 0.0, x[3], x[3]
        for n in range(samples):
            for k in range(3):
                currents[n, k] = x[k]
                top = max(top, abs(x[k]))
            link[n] = x[3]
            _volts(p, n * h, volts)
            rails[n] = _slopes(p, _roles(pole), volts, x, rates, 0)
            if p[14] > 0.0 and rails[n] < 0.0:
                return SHORTED
            _step(p, n * h, h, x, pole, trial, rates, volts)
            total += 0.5 * (link[n] + x[3])
            high_v, low_v = max(high_v, x[3]), min(low_v, x[3])
        mean = total / samples
        if not mean > 0.02 * peak_v:
            return COLLAPSED
        wanted = power_w / mean
        still = abs(wanted - p[17]) <= tolerance * wanted
        p[17] = wanted
        still = still and abs(x[3] - before[3]) <= tolerance * max(high_v - low_v, 1e-3 * peak_v)
        for k in range(3):
            still = still and abs(x[k] - before[k]) <= tolerance * top
        if still:
            return period + 1
    return -1 - most


def warm() -> None:
    """Compile the kernel."""
    p = np.array([
        314.0, 325.0, 0.0, 0.0, 0.0, 162.0, 281.0, 0.1, 0.1, 1.0, 3e-4, 3e-4, 4e-3,
        0.0, 0.0, 1e-3, 0.9, 0.3,
    ])  # fmt: skip
    x, pole = np.array([0.0, 0.0, 0.0, 300.0]), np.zeros(3, dtype=np.int64)
    settle(p, 100.0, x, pole, 3, 1e-6, np.empty((200, 3)), np.empty(200), np.empty(200))
