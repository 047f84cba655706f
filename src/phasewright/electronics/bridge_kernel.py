"""Compiled half of the rectifier: a diode bridge with its link, exact between its events.

Three modes, each linear, so each is solved in closed form; the grid only samples the wave and
shows in which step an event lies, which bisection then finds.

- conducting (direction q = +-1): L di/dt = q e - 2 Vd - R i - v, C dv/dt = i - I - G v
- off: C dv/dt = -I - G v; ends when |e| - 2 Vd > v
- turning over (only with a link choke): the line side is shorted by the four diodes,
  Lac di/dt = e - (Rac + Rd) i, while the choke feeds the link through them; ends when the line
  current reaches the choke current in either direction

e = amplitude sin(wt). Parameters, all in SI, in one array `p`:
0 amplitude, 1 angular frequency, 2 line-side R, 3 line-side L, 4 choke R, 5 choke L, 6 C,
7 diode drop, 8 diode resistance, 9 load current I, 10 load conductance G, 11 one half of a
doubler (1: conducts in positive half waves only), else 0.
State `x`: 0 line current, 1 choke current, 2 link voltage, 3 mode (0 off, 1 or -1 conducting,
2 turning over).
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from phasewright.network.compiled import jit, jit_inlined

Floats = NDArray[np.float64]

OFF = 0.0
TURNING = 2.0
_HALVINGS = 40


@jit_inlined
def _pair(
    p: Floats,
    forced: float,
    drop_v: float,
    r: float,
    ind: float,
    t: float,
    tau: float,
    i0: float,
    v0: float,
) -> tuple[float, float]:
    """Current and link voltage `tau` after `t` of a series branch r, ind into the link.

    `forced` is the direction of the source (+1, -1) or 0 without one.
    """
    c, g, w = p[6], p[10], p[1]
    v_rest = (-drop_v - r * p[9]) / (1.0 + r * g)
    i_rest = p[9] + g * v_rest
    i_end, v_end = i_rest, v_rest
    if forced != 0.0:
        y = complex(g, w * c)
        current = forced * p[0] / (complex(r, w * ind) + 1.0 / y)
        volts = current / y
        before, after = w * t, w * (t + tau)
        i_rest += current.real * math.sin(before) + current.imag * math.cos(before)
        v_rest += volts.real * math.sin(before) + volts.imag * math.cos(before)
        i_end += current.real * math.sin(after) + current.imag * math.cos(after)
        v_end += volts.real * math.sin(after) + volts.imag * math.cos(after)
    alpha = 0.5 * (r / ind + g / c)
    skew = 0.5 * (g / c - r / ind)
    square = alpha * alpha - (1.0 + r * g) / (ind * c)
    decay = math.exp(-alpha * tau)
    if square < 0.0:
        beta = math.sqrt(-square)
        even, odd = math.cos(beta * tau), math.sin(beta * tau) / beta
    else:
        beta = math.sqrt(square)
        even = math.cosh(beta * tau)
        odd = math.sinh(beta * tau) / beta if beta * tau > 1e-9 else tau
    di, dv = i0 - i_rest, v0 - v_rest
    i_out = i_end + decay * ((even + odd * skew) * di - odd * dv / ind)
    v_out = v_end + decay * (odd * di / c + (even - odd * skew) * dv)
    return i_out, v_out


@jit_inlined
def _line(p: Floats, t: float, tau: float, i0: float) -> float:
    """Line current `tau` after `t` while the diodes short the line side."""
    w, r, ind = p[1], p[2] + p[8], p[3]
    current = p[0] / complex(r, w * ind)
    before, after = w * t, w * (t + tau)
    start = current.real * math.sin(before) + current.imag * math.cos(before)
    end = current.real * math.sin(after) + current.imag * math.cos(after)
    return float(end + math.exp(-r / ind * tau) * (i0 - start))


@jit_inlined
def _advance(p: Floats, t: float, tau: float, x: Floats, out: Floats) -> None:
    """State `tau` after `t` if the mode lasts that long."""
    out[3] = x[3]
    if x[3] == OFF:
        out[0] = 0.0
        out[1] = 0.0
        if p[10] > 0.0:
            rest = -p[9] / p[10]
            out[2] = rest + (x[2] - rest) * math.exp(-p[10] / p[6] * tau)
        else:
            out[2] = x[2] - p[9] / p[6] * tau
    elif x[3] == TURNING:
        out[0] = _line(p, t, tau, x[0])
        out[1], out[2] = _pair(p, 0.0, 2.0 * p[7], p[4] + p[8], p[5], t, tau, x[1], x[2])
    else:
        r = p[2] + p[4] + 2.0 * p[8]
        i, v = _pair(p, x[3], 2.0 * p[7], r, p[3] + p[5], t, tau, x[1], x[2])
        out[0] = x[3] * i
        out[1] = i
        out[2] = v


@jit_inlined
def _terminal_v(p: Floats, t: float, x: Floats) -> float:
    """While conducting: volts at the bridge's line terminals less those that turn it over."""
    driven = x[3] * p[0] * math.sin(p[1] * t)
    i = x[1]
    slope = (driven - 2.0 * p[7] - (p[2] + p[4] + 2.0 * p[8]) * i - x[2]) / (p[3] + p[5])
    return float(driven - p[2] * i - p[3] * slope - p[8] * i)


@jit_inlined
def _event(p: Floats, t: float, x: Floats) -> float:
    """Positive while the mode lasts, not positive once it has ended."""
    if x[3] == OFF:
        e = p[0] * math.sin(p[1] * t)
        return float(x[2] - ((e if p[11] > 0.0 else abs(e)) - 2.0 * p[7]))
    if x[3] == TURNING:
        return float(x[1] - abs(x[0]))
    if p[5] > 0.0:
        return float(min(x[1], _terminal_v(p, t, x)))
    return float(x[1])


@jit_inlined
def _switch(p: Floats, t: float, x: Floats) -> None:
    """Put the state into the mode that follows its event."""
    if x[3] == OFF:
        x[3] = 1.0 if math.sin(p[1] * t) >= 0.0 else -1.0
    elif x[3] == TURNING:
        x[3] = 1.0 if x[0] >= 0.0 else -1.0
        x[0] = x[3] * x[1]
    elif p[5] > 0.0 and x[1] > 1e-9 and _terminal_v(p, t, x) <= 1e-9 * p[0]:
        x[3] = TURNING
    else:
        x[3] = OFF
        x[0] = 0.0
        x[1] = 0.0


@jit_inlined
def _area(p: Floats, h: float, x: Floats, after: Floats) -> float:
    """Integral of the link voltage over an eventless stretch: trapezoid and the ends' slopes."""
    bend = x[1] - p[10] * x[2] - after[1] + p[10] * after[2]  # C times that of dv/dt
    return float(h * (0.5 * (x[2] + after[2]) + h / 12.0 / p[6] * bend))


@jit
def _step(p: Floats, t: float, h: float, x: Floats, trial: Floats) -> float:
    """One grid step with all the events in it; `x` is changed. Integral of the link voltage."""
    left, area = h, 0.0
    for _ in range(16):
        _advance(p, t, left, x, trial)
        if _event(p, t + left, trial) > 0.0:
            break
        low, high = 0.0, left
        for _ in range(_HALVINGS):
            middle = 0.5 * (low + high)
            _advance(p, t, middle, x, trial)
            if _event(p, t + middle, trial) > 0.0:
                low = middle
            else:
                high = middle
        _advance(p, t, high, x, trial)
        area += _area(p, high, x, trial)
        for k in range(4):
            x[k] = trial[k]
        _switch(p, t + high, x)
        t += high
        left -= high
        if left <= 0.0:
            return area
    area += _area(p, left, x, trial)
    for k in range(4):
        x[k] = trial[k]
    return area


@jit_inlined
def _limit(row: Floats) -> float:
    """Where three numbers that draw together in equal ratios end (Aitken); else the last."""
    last, bend = row[2] - row[1], row[2] - 2.0 * row[1] + row[0]
    shrinks = abs(last) < 0.8 * abs(row[1] - row[0])
    return float(row[2] - last * last / bend if shrinks and bend != 0.0 else row[2])


@jit
def settle(
    p: Floats, power_w: float, x: Floats, most: int, tolerance: float,
    current: Floats, link: Floats,
) -> int:  # fmt: skip
    """Run on from state `x` to the periodic one; `current` and `link` hold its last period.

    Their length is the number of grid steps a period. `power_w` > 0: a load current I that
    times the mean link voltage is this power; 0: the load in `p` as it stands. Returns the
    periods run; negative when it did not settle in `most` periods, 0 when the link collapsed.
    """
    samples = current.size
    h = 2.0 * math.pi / p[1] / samples
    before = np.empty(4)
    trial = np.empty(4)
    volts = np.empty(3)
    loads = np.empty(3)
    kept = 0
    for period in range(most):
        for k in range(4):
            before[k] = x[k]
        total, top = 0.0, 0.0
        for n in range(samples):
            current[n] = x[0]
            link[n] = x[2]
            total += _step(p, n * h, h, x, trial)
            top = max(top, abs(x[0]))
        mean = total / (samples * h)
        if not mean > 0.02 * p[0]:
            return 0
        wanted = power_w / mean if power_w > 0.0 else p[9]
        still = abs(wanted - p[9]) <= tolerance * wanted
        p[9] = wanted
        near = abs(x[2] - before[2]) <= tolerance * p[0]
        if still and near and abs(x[1] - before[1]) <= tolerance * top:
            return period + 1
        volts[kept], loads[kept] = x[2], p[9]
        kept += 1
        if kept == 3:
            x[2] = _limit(volts)
            if power_w > 0.0:
                p[9] = _limit(loads)
            kept = 0
    return -most


@jit
def switch_on(
    p: Floats, begins_s: float, h: float, steps: int, full_v: float, x: Floats
) -> tuple[float, float, float]:
    """Run on from state `x`, switched on `begins_s` after the source's zero, until `full_v`.

    Returns the greatest line current [A], the integral of its square [A2 s] and the time taken
    [s]; the run goes on until the diodes block once the link is full, so that no peak is
    lost, and ends after `steps` at the latest.
    """
    trial = np.empty(4)
    top, squares, full_s = 0.0, 0.0, -1.0
    for n in range(steps):
        before = x[0]
        _step(p, begins_s + n * h, h, x, trial)
        top = max(top, abs(x[0]))
        squares += h * (before * before + before * x[0] + x[0] * x[0]) / 3.0
        if full_s < 0.0 and x[2] >= full_v:
            full_s = (n + 1) * h
        if full_s >= 0.0 and x[3] == OFF:
            break
    return top, squares, full_s if full_s >= 0.0 else steps * h


def warm() -> None:
    """Compile the kernel."""
    p = np.array([325.0, 314.159, 0.25, 5e-4, 0.0, 1e-3, 1e-3, 0.9, 0.01, 1.0, 0.0, 0.0])
    settle(p, 100.0, np.array([0.0, 0.0, 300.0, OFF]), 3, 1e-6, np.empty(200), np.empty(200))
    switch_on(p, 0.0, 1e-4, 3, 300.0, np.array([0.0, 0.0, 0.0, OFF]))
