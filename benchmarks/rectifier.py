"""Rectifier points a second, and the same by time stepping in scipy until it is periodic.

Run: python benchmarks/rectifier.py (a quiet machine; one core; the kernel is compiled first).
Random powers, link capacitors and chokes behind one supply; every point is a state whose link and
current repeat within 1e-7, with 40 harmonics. scipy gets the two equations of `rectifier.md` in
plain Python, 30 cycles each, no coarser than a hundredth of a cycle.
"""

from __future__ import annotations

import math
import time

import numpy as np
from scipy.integrate import solve_ivp

from phasewright.electronics.rectifier import Bridge, settle_bridge
from phasewright.network.supply import Source

TOWN = Source(230.0, 0.25, 0.15, 50.0)
POINTS, STEPPED, CYCLES = 600, 5, 30


def bridges(count: int, seed: int) -> list[Bridge]:
    rng = np.random.default_rng(seed)
    powers = rng.uniform(300.0, 4000.0, count)
    links = rng.uniform(200e-9, 1000e-9, count) * powers
    chokes = rng.choice([0.0, 0.0, 2e-3, 5e-3], count)
    return [
        Bridge(TOWN, float(c), float(p), ac_choke_h=float(choke))
        for p, c, choke in zip(powers, links, chokes, strict=True)
    ]


def stepped(bridge: Bridge) -> float:
    """Rms current of the last of `CYCLES` cycles."""
    source = bridge.source
    omega = 2.0 * math.pi * source.frequency_hz
    inductance = source.reactance_ohm / omega + bridge.ac_choke_h
    resistance = source.resistance_ohm + 2.0 * bridge.diode_resistance_ohm
    peak, drop = math.sqrt(2.0) * source.voltage_v, 2.0 * bridge.diode_drop_v
    load_a = bridge.link_power_w / settle_bridge(bridge).link_mean_v

    def slopes(t: float, x: np.ndarray) -> list[float]:
        amps, volts = max(float(x[0]), 0.0), float(x[1])
        push = abs(peak * math.sin(omega * t)) - drop - volts - resistance * amps
        rises = push / inductance if amps > 0.0 or push > 0.0 else -float(x[0]) * 1e4
        return [rises, (amps - load_a) / bridge.capacitance_f]

    period = 1.0 / source.frequency_hz
    times = np.linspace((CYCLES - 1) * period, CYCLES * period, 1001)[:-1]
    run = solve_ivp(
        slopes, (0.0, CYCLES * period), [0.0, 0.95 * peak], t_eval=times,
        max_step=period / 100.0, rtol=1e-5,
    )  # fmt: skip
    return float(np.sqrt(np.mean(np.maximum(run.y[0], 0.0) ** 2)))


def main() -> None:
    settle_bridge(bridges(1, 1)[0])
    best, busy = math.inf, math.inf
    for seed in range(5):
        some = bridges(POINTS, 100 + seed)
        begun, worked = time.perf_counter(), time.process_time()
        for bridge in some:
            settle_bridge(bridge)
        best = min(best, time.perf_counter() - begun)
        busy = min(busy, time.process_time() - worked)
    ours = best / POINTS
    print(
        f"settled with 40 harmonics: {1.0 / ours:.0f} points/s "
        f"({POINTS / busy:.0f} a second of the processor)"
    )
    some, worst = bridges(STEPPED, 7), 0.0
    begun = time.perf_counter()
    rms = [stepped(bridge) for bridge in some]
    theirs = (time.perf_counter() - begun) / STEPPED
    for amps, bridge in zip(rms, some, strict=True):
        worst = max(worst, abs(amps / settle_bridge(bridge).current_a - 1.0))
    print(f"scipy, {CYCLES} cycles: {1.0 / theirs:.2f} points/s, ratio {theirs / ours:.0f}")
    print(f"largest difference of rms current: {worst:.2%}")


if __name__ == "__main__":
    main()
