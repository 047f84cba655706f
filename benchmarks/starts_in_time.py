"""Starts in time: how fast against a circuit simulator and against scipy's integrators.

Run: python benchmarks/starts_in_time.py (a quiet machine; kernels are compiled first). One run of
4 s: the idler by its start capacitor, then at 2 s a motor at its rated torque; all write a record
every half millisecond. The truth is the eighth-order method of scipy with a tolerance of 1e-10 on
the equations written as states in compiled code here; a method counts only if its speeds (over
synchronous), cycle volts (over the supply's) and cycle amps (over the greatest) keep within 0.5 %.
The simulator runs the netlist that `start.cir` is.
"""

from __future__ import annotations

import math
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path
from typing import Any

import numba
import numpy as np
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

sys.path[:0] = [str(Path(__file__).parents[1] / "tests" / part) for part in ("", "second_opinion")]

from network_deck import waves_in  # noqa: E402
from reference_machines import I4A, L2A, M2K2, M4K0, NO_LOAD, TOWN, constant, uf  # noqa: E402

from phasewright.files.spice import netlist  # noqa: E402
from phasewright.running.network import Connected  # noqa: E402
from phasewright.running.rows import PAIRS, friction_coefficients, machine_row  # noqa: E402
from phasewright.starts.course import (  # noqa: E402
    WHEN_SETTLED,
    Course,
    Drop,
    StartBranch,
    Starter,
)
from phasewright.starts.layout import HEAD, PER_MACHINE, SUPPLY, V12, V23, V31  # noqa: E402
from phasewright.starts.waves import waves  # noqa: E402

Floats = NDArray[np.float64]
SECONDS, AT_S, RECORD_S, ALLOWED = 4.0, 2.0, 0.5e-3, 0.005
TORQUE_NM = 2200.0 / (1445.0 * math.pi / 30.0)
PER_CYCLE = 40
STEPS = (40, 80, 120, 160, 200)
SIMULATOR_STEPS_S = (250e-6, 100e-6, 50e-6, 40e-6, 30e-6, 20e-6)
METHODS = (
    ("RK45", 1e-3), ("DOP853", 1e-3), ("DOP853", 1e-4), ("LSODA", 1e-5), ("LSODA", 1e-6),
    ("Radau", 1e-3), ("Radau", 1e-4), ("BDF", 1e-4),
)  # fmt: skip


def course(saturating: bool, steps: int = 80) -> Course:
    """The scenario."""
    idler, motor = (I4A, L2A) if saturating else (M4K0, M2K2)
    return Course(
        source=TOWN,
        capacitance_f=uf(0, 60, 60),
        starters=(
            Starter(Connected("idler", idler, NO_LOAD), 0.0125),
            Starter(Connected("motor", motor, constant(TORQUE_NM)), 0.0275, closes_s=AT_S),
        ),
        seconds=SECONDS,
        start=StartBranch(200e-6, 0.5, None, Drop("speed", 0.85, "idler")),
        steps_per_cycle=steps,
    )


def ours(of: Course) -> Floats:
    """Columns: time, v12, v23, v31, supply amps, speeds, every half millisecond."""
    record = waves(of, every=of.steps_per_cycle // PER_CYCLE).record
    columns = [0, V12, V23, V31, SUPPLY, HEAD + 4, HEAD + PER_MACHINE + 4]
    return record[:, columns]


# The equations as states, for scipy: node volts 1 and 3, source current, start capacitor's volts,
# three complex fluxes and the speed of every machine.


@numba.njit(error_model="numpy")
def _main_flux(linkage: float, gathered: float, lu: float, knee: float, s: float) -> float:
    x = linkage / (gathered + 1.0 / lu)
    if s == 0.0:
        return x
    for _ in range(50):
        bent = (x / knee) ** s
        miss = x * (gathered + (1.0 + bent) / lu) - linkage
        step = miss / (gathered + (1.0 + (1.0 + s) * bent) / lu)
        x -= step
        if abs(step) <= 1e-14 * (1e-12 + abs(x)):
            break
    return x


@numba.njit(error_model="numpy")
def _rates(t: float, y: Floats, of: Floats, motors: Floats, on: Floats, start: float) -> Floats:
    """of: E, R, L, w, C23, C31, start F, start ohm; a motor's row: Rs Ls R1 L1 R2 L2 Lu knee s gfe
    pairs J a1 a2 torque."""
    out = np.zeros_like(y)
    v1, v3, i_z, v_st = y[0], y[1], y[2], y[3]
    i_st = (v3 - v1 - v_st) / of[7] if start > 0.0 else 0.0
    i1, i3 = -i_st, i_st
    v = complex(2.0 / 3.0 * v1 - v3 / 3.0, -v3 / math.sqrt(3.0))
    for k in range(motors.shape[0]):
        m, at = motors[k], 4 + 7 * k
        w = y[at + 6]
        psi_s = complex(y[at], y[at + 1])
        psi_1 = complex(y[at + 2], y[at + 3])
        psi_2 = complex(y[at + 4], y[at + 5])
        linkage = psi_s / m[1] + psi_1 / m[3] + psi_2 / m[5]
        gathered = 1.0 / m[1] + 1.0 / m[3] + 1.0 / m[5]
        length = abs(linkage)
        x = _main_flux(length, gathered, m[6], m[7], m[8])
        psi_m = linkage * (x / length) if length > 0.0 else 0j
        i_s, i_1, i_2 = (psi_s - psi_m) / m[1], (psi_1 - psi_m) / m[3], (psi_2 - psi_m) / m[5]
        if on[k] > 0.0:
            i = i_s + m[9] * v
            i1 += i.real
            i3 += -0.5 * i.real - 0.5 * math.sqrt(3.0) * i.imag
            d_s = v - m[0] * i_s
            d_1, d_2 = 1j * m[10] * w * psi_1 - m[2] * i_1, 1j * m[10] * w * psi_2 - m[4] * i_2
            out[at], out[at + 1] = d_s.real, d_s.imag
            out[at + 2], out[at + 3] = d_1.real, d_1.imag
            out[at + 4], out[at + 5] = d_2.real, d_2.imag
        torque = 1.5 * m[10] * (psi_s.conjugate() * i_s).imag if on[k] > 0.0 else 0.0
        load = m[14] * min(max(w, -1.0), 1.0) + m[12] * w + m[13] * w * abs(w)
        out[at + 6] = (torque - load) / m[11]
    a, b = i_z - i1, -i3
    c23, c31 = of[4], of[5]
    det = c31 * (c23 + c31) - c31 * c31
    out[0] = (a * (c23 + c31) + b * c31) / det
    out[1] = (a * c31 + b * c31) / det
    e = math.sqrt(2.0) * of[0] * math.sin(of[3] * t)
    out[2] = (e - of[1] * i_z - v1) / of[2]
    out[3] = i_st / of[6] if start > 0.0 else 0.0
    return out


def by_states(of: Course, method: str, rtol: float, atol: float) -> Floats:
    """The scenario by scipy: until the start capacitor drops out, until the motor, to the end."""
    source, c = of.source, of.capacitance_f
    assert of.start is not None
    w = 2.0 * math.pi * source.frequency_hz
    own = np.array([
        source.voltage_v, source.resistance_ohm, source.reactance_ohm / w, w, c.c23, c.c31,
        of.start.capacitance_f, of.start.resistance_ohm,
    ])  # fmt: skip
    motors = np.array([_row(each, of) for each in of.starters])
    wanted = of.start.drop.at * w / motors[0, 10]
    times = np.arange(1, round(SECONDS / RECORD_S) + 1) * RECORD_S
    parts, y, t, start = [], np.zeros(4 + 7 * len(motors)), 0.0, 1.0

    def fast(_t: float, y: Floats, *_: Any) -> float:
        return float(y[10] - wanted)

    fast.terminal = True  # type: ignore[attr-defined]
    for until in (AT_S, SECONDS):
        on = np.array([1.0, 1.0 if t >= AT_S else 0.0])
        while t < until:
            at = times[(times > t + 1e-12) & (times <= until + 1e-12)]
            found = solve_ivp(
                _rates, (t, until), y, method, t_eval=at, args=(own, motors, on, start), rtol=rtol,
                atol=atol, max_step=1e-3, events=fast if start else None,
            )  # fmt: skip
            parts.append(np.c_[found.t, found.y.T])
            dropped = bool(start) and bool(found.t_events[0].size)
            y = found.y_events[0][0] if dropped else found.y[:, -1]
            t = float(found.t_events[0][0]) if dropped else until
            start = 0.0 if dropped else start
    whole = np.vstack(parts)
    v1, v3 = whole[:, 1], whole[:, 2]
    return np.c_[whole[:, 0], v1, -v3, v3 - v1, whole[:, 3], whole[:, 11], whole[:, 18]]


def _row(of: Starter, course: Course) -> Floats:
    row = machine_row(of.machine, course.source)
    a1, a2 = friction_coefficients(of.machine.circuit)
    return np.r_[
        row[:6], row[6], row[7], row[8], row[9], row[PAIRS], of.inertia_kg_m2, a1, a2,
        of.machine.load.torque_nm,
    ]  # fmt: skip


def simulated(of: Course, step_s: float, room: Path) -> tuple[Floats, float]:
    """The same by the circuit simulator through `start.cir`, and the seconds it took."""
    deck = netlist(waves(of), step_s=step_s, record_s=RECORD_S)
    deck = deck.replace(".options ", ".save v(n1) v(n3) i(v_supply) v(w0) v(w1)\n.options ")
    (room / "start.cir").write_text(deck, encoding="utf-8")
    began = time.perf_counter()
    subprocess.run(
        ["ngspice", "-b", "-n", "-r", "start.raw", "start.cir"], cwd=room, check=True,
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    )  # fmt: skip
    took = time.perf_counter() - began
    found = waves_in(room / "start.raw")
    grid = np.arange(1, round(SECONDS / RECORD_S) + 1) * RECORD_S

    def on_grid(name: str) -> Floats:
        return np.asarray(np.interp(grid, found["time"], found[name]))

    v1, v3 = on_grid("v(n1)"), on_grid("v(n3)")
    columns = [grid, v1, -v3, v3 - v1, -on_grid("i(v_supply)"), on_grid("v(w0)"), on_grid("v(w1)")]
    return np.stack(columns, axis=1), took


def miss(found: Floats, truth: Floats, of: Course) -> float:
    """The greatest error of speeds, cycle volts and cycle amps, each over its measure."""
    n = min(len(found), len(truth)) // PER_CYCLE * PER_CYCLE
    synchronous = math.pi * of.source.frequency_hz

    def cycles(columns: Floats) -> Floats:
        return np.sqrt((columns.reshape(-1, PER_CYCLE, columns.shape[1]) ** 2).mean(axis=1))

    rms, right = cycles(found[:n, 1:5]), cycles(truth[:n, 1:5])
    return max(
        float(abs(found[:n, 5:] - truth[:n, 5:]).max()) / synchronous,
        float(abs(rms[:, :3] - right[:, :3]).max()) / of.source.voltage_v,
        float(abs(rms[:, 3] - right[:, 3]).max() / right[:, 3].max()),
    )


def best(run: Callable[[], Any], times: int) -> float:
    """The least seconds of several runs."""
    took = []
    for _ in range(times):
        began = time.perf_counter()
        run()
        took.append(time.perf_counter() - began)
    return min(took)


def against_others(saturating: bool) -> None:
    """One scenario by all methods."""
    of = course(saturating)
    print(f"\n{'saturating' if saturating else 'linear'} machines, {SECONDS:g} s")
    began = time.perf_counter()
    truth = by_states(of, "DOP853", 1e-10, 1e-10)
    print(f"  truth by DOP853 at 1e-10: {time.perf_counter() - began:.1f} s")
    mine = math.inf
    for steps in STEPS:
        tried = course(saturating, steps)
        error, took = miss(ours(tried), truth, of), best(lambda t=tried: ours(t), 20)
        print(f"  ours, {steps} steps a cycle: {1e3 * took:8.3f} ms, error {error:.3%}")
        if error <= ALLOWED:
            mine = min(mine, took)
    with tempfile.TemporaryDirectory() as room:
        for step_s in SIMULATOR_STEPS_S:
            found, took = simulated(of, step_s, Path(room))
            error = miss(found, truth, of)
            print(f"  simulator, steps to {1e6 * step_s:.0f} us: {1e3 * took:8.0f} ms, "
                  f"error {error:.3%}, {took / mine:6.0f} times ours")  # fmt: skip
            if error <= ALLOWED:
                break
    for method, rtol in METHODS:
        by_states(of, method, rtol, rtol)
        took = best(lambda m=method, r=rtol: by_states(of, m, r, r), 1)
        error = miss(by_states(of, method, rtol, rtol), truth, of)
        print(f"  scipy {method} {rtol:g}: {1e3 * took:8.0f} ms, error {error:.3%}, "
              f"{took / mine:6.0f} times ours")  # fmt: skip


def a_thousand(steps: int) -> None:
    """1,000 different starts on two cores, saturating, each until settled, 4 s at most."""
    rng = np.random.default_rng(20261125)
    courses = []
    for _ in range(1000):
        of = course(True, steps)
        idler, motor = of.starters
        motor = replace(motor, closes_s=WHEN_SETTLED, inertia_kg_m2=0.0275 * rng.uniform(0.5, 2.0))
        bank = uf(0, rng.uniform(20, 80), rng.uniform(50, 130))
        courses.append(replace(of, starters=(idler, motor), capacitance_f=bank,
                               stops_when_settled=True))  # fmt: skip

    def all_of_them() -> list[Any]:
        with ThreadPoolExecutor(2) as two:
            return list(two.map(waves, courses, chunksize=50))

    found = all_of_them()
    settled = sum(each.settled_s is not None for each in found)
    took = best(all_of_them, 5)
    print(f"1,000 different starts on two cores, {steps} steps a cycle: {took:.3f} s, "
          f"{settled} settled within 4 s")  # fmt: skip


def in_proportion() -> None:
    """Cost against time and against the number of motors."""
    base = course(True)
    print("\nnanoseconds a step and machine, all running from rest")
    for count in (1, 2, 5, 10, 20, 40):
        one = base.starters[1]
        many = tuple(
            replace(one, machine=replace(one.machine, name=f"motor {k}"), closes_s=0.0)
            for k in range(count)
        )
        of = replace(base, starters=many, start=None, seconds=1.0)
        took = best(lambda of=of: waves(of), 5)
        print(f"  {count:3d} machines: {1e9 * took / (50 * 80 * count):6.1f}")
    for seconds in (1.0, 2.0, 4.0, 8.0):
        of = replace(base, seconds=seconds)
        print(f"  {seconds:g} s: {1e3 * best(lambda of=of: waves(of), 5):6.2f} ms")


if __name__ == "__main__":
    for saturates in (False, True):
        against_others(saturates)
    print()
    for steps in (50, 60):
        a_thousand(steps)
    in_proportion()
