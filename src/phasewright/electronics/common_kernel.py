"""Compiled half of drives on one supply: one period of bridges and linear branches on one node.

Trapezoidal companion branches; a step in which a diode begins or ends to conduct is done again as
two backward Euler steps of half the length, which have the same conductances and damp what the
switching rings on (critical damping adjustment; H. W. Dommel's companion circuits, from memory).
Bridges hang between lines 1 and 2 only: what they see of the rest is volts behind one resistance,
and each takes a current that grows with the volts, so their node has one solution.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from phasewright.network.compiled import jit, jit_inlined

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@jit_inlined
def _branches_off(
    ends: Ints, part: Floats, state: Floats, g: Floats, euler: bool, h: float, emf: float,
    nodes: Floats, offset: Floats, into: Floats,
) -> None:  # fmt: skip
    """Each branch as g (v - offset); its share of the current that flows into the nodes."""
    for k in range(g.size):
        r, ind, per_c = part[k, 0], part[k, 1], part[k, 2]
        i, q = state[k, 0], state[k, 1]
        own = emf if k == 0 else 0.0
        if euler:
            offset[k] = own + q - 2.0 * ind / h * i
        else:
            offset[k] = own + q + 0.5 * h * per_c * i
            if ind > 0.0:
                v = nodes[ends[k, 0]] - nodes[ends[k, 1]]
                offset[k] -= v - state[k, 2] - q - r * i + 2.0 * ind / h * i
        into[ends[k, 0]] += g[k] * offset[k]
        into[ends[k, 1]] -= g[k] * offset[k]


@jit_inlined
def _bridges_off(
    part: Floats, state: Floats, euler: bool, h: float, line_v: float, offset: Floats
) -> None:
    """Volts from which each bridge would conduct forward and, as far below, backward."""
    for k in range(state.shape[0]):
        r, ind, per_c, drop, load = part[k, 0], part[k, 1], part[k, 2], part[k, 3], part[k, 4]
        i, link = state[k, 0], state[k, 1]
        for side in range(2):
            s = 1.0 if side == 0 else -1.0
            held = i if s * i > 0.0 else 0.0
            if euler:
                against = s * (drop + link - 0.5 * h * per_c * load) - 2.0 * ind / h * held
            else:
                against = s * (drop + link - h * per_c * load) + 0.5 * h * per_c * held
                if ind > 0.0 and held != 0.0:
                    against -= line_v - s * (drop + link) - r * held + 2.0 * ind / h * held
            offset[k, side] = against


@jit_inlined
def _drawn(offset: Floats, g: Floats, k: int, v: float) -> float:
    """Current of one bridge at these volts."""
    if v > offset[k, 0]:
        return float(g[k] * (v - offset[k, 0]))
    if v < offset[k, 1]:
        return float(g[k] * (v - offset[k, 1]))
    return 0.0


@jit_inlined
def _line_v(open_v: float, behind: float, offset: Floats, g: Floats) -> float:
    """Volts of the node: v + behind * (all bridges' currents) = open_v, by Newton's steps."""
    v = open_v
    for _ in range(4 * g.size + 8):
        total, slope = v - open_v, 1.0
        for k in range(g.size):
            i = _drawn(offset, g, k, v)
            total += behind * i
            if i != 0.0:
                slope += behind * g[k]
        step = total / slope
        v -= step
        if abs(step) <= 1e-12 * (abs(v) + 1.0):
            break
    return v


@jit_inlined
def _node_volts(inverse: Floats, into: Floats, offset: Floats, g: Floats, fresh: Floats) -> float:
    """All nodes' volts into `fresh` from the currents into them; those of line 1 are returned."""
    m = into.size
    for a in range(1, m):
        fresh[a] = 0.0
        for b in range(1, m):
            fresh[a] += inverse[a - 1, b - 1] * into[b]
    open_v = fresh[1]
    v = _line_v(open_v, inverse[0, 0], offset, g)
    lowered = (v - open_v) / inverse[0, 0]
    fresh[0] = 0.0
    for a in range(1, m):
        fresh[a] += inverse[a - 1, 0] * lowered
    fresh[1] = v
    return v


@jit_inlined
def _switches(offset: Floats, g: Floats, drive: Floats, v: float) -> bool:
    """Whether a bridge begins or ends to conduct in this step."""
    switched = False
    for k in range(g.size):
        switched |= (_drawn(offset, g, k, v) != 0.0) != (drive[k, 0] != 0.0)
    return switched


@jit_inlined
def _moved(
    ends: Ints, part: Floats, branch: Floats, g: Floats, bridge: Floats, drive: Floats,
    drive_g: Floats, euler: bool, h: float, emf: float, v: float, fresh: Floats,
    offset: Floats, against: Floats, means: Floats,
) -> None:  # fmt: skip
    """The state of branches and bridges at the end of a step, and the links' volts summed up."""
    for k in range(g.size):
        i = g[k] * (fresh[ends[k, 0]] - fresh[ends[k, 1]] - offset[k])
        whole = i if euler else i + branch[k, 0]
        branch[k, 1] += 0.5 * h * part[k, 2] * whole
        branch[k, 0] = i
        branch[k, 2] = emf if k == 0 else 0.0
    for k in range(drive_g.size):
        i = _drawn(against, drive_g, k, v)
        amps = abs(i) - bridge[k, 4]
        whole = amps if euler else amps + abs(drive[k, 0]) - bridge[k, 4]
        before = drive[k, 1]
        drive[k, 1] += 0.5 * h * bridge[k, 2] * whole
        drive[k, 0] = i
        means[k] += (0.25 if euler else 0.5) * (before + drive[k, 1])


@jit
def run_period(
    wave: Floats, ends: Ints, part: Floats, branch: Floats, g: Floats, inverse: Floats,
    bridge: Floats, drive: Floats, drive_g: Floats, nodes: Floats, inject: Floats,
    line: Floats, supply: Floats, taken: Floats, link: Floats, means: Floats,
) -> None:  # fmt: skip
    """One period on; `line`, `supply`, `taken`, `link` hold its waves, `means` the mean links.

    `wave`: the source's volts at the 2 N + 1 half steps; `wave[2 N + 1]` is the step [s].
    Branches (0 is the source's): `ends` their nodes (0 is line 2, 1 line 1), `part` R, L, 1/C,
    `branch` their current, charge volts and emf. Bridges: `bridge` R, L, 1/C, drop, load current;
    `drive` line current and link volts. `inverse` is that of the linear nodes' conductances,
    without line 2; `inject` amps into line 1 at the N + 1 grid points.
    """
    steps, count, m = line.size, bridge.shape[0], nodes.size
    h = wave[2 * steps + 1]
    offset, against = np.empty(g.size), np.empty((count, 2))
    into, fresh = np.empty(m), np.empty(m)
    kept, had = np.empty_like(branch), np.empty_like(drive)
    means[:] = 0.0
    for n in range(steps):
        line[n], supply[n] = nodes[1], -branch[0, 0]
        for k in range(count):
            taken[k, n], link[k, n] = drive[k, 0], drive[k, 1]
        kept[:, :] = branch
        had[:, :] = drive
        switched = False
        for part_step in range(3):
            # 0: the whole step, trapezoidal; 1 and 2: its halves where a diode switched
            euler = part_step > 0
            if euler and not switched:
                break
            if part_step == 1:
                branch[:, :] = kept
                drive[:, :] = had
            at = 2 * n + (1 if part_step == 1 else 2)
            share = 0.5 if part_step == 1 else 1.0
            fed = (1.0 - share) * inject[n] + share * inject[n + 1]
            into[:] = 0.0
            into[1] = fed
            _branches_off(ends, part, branch, g, euler, h, wave[at], nodes, offset, into)
            _bridges_off(bridge, drive, euler, h, nodes[1], against)
            v = _node_volts(inverse, into, against, drive_g, fresh)
            if not euler and _switches(against, drive_g, drive, v):
                switched = True
                continue
            _moved(
                ends, part, branch, g, bridge, drive, drive_g, euler, h, wave[at], v, fresh,
                offset, against, means,
            )  # fmt: skip
            nodes[:] = fresh
    means[:] /= steps


def warm() -> None:
    """Compile the kernel."""
    run_period(
        np.append(np.zeros(9), 1e-3), np.array([[1, 0]]), np.array([[1.0, 1e-3, 0.0]]),
        np.zeros((1, 3)), np.ones(1), np.ones((1, 1)),
        np.array([[0.1, 0.0, 1e3, 1.8, 1.0]]), np.array([[0.0, 300.0]]), np.ones(1), np.zeros(2),
        np.zeros(5), np.empty(4), np.empty(4), np.empty((1, 4)), np.empty((1, 4)), np.empty(1),
    )  # fmt: skip
