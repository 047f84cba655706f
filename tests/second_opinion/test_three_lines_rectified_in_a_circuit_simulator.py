"""The bridge on three lines in ngspice: behind fixed impedances, and on a whole converter.

The second runs idler, capacitors, motor and bridge in time together. There the run capacitors
stand right at the bridge and carry a part of its harmonics, which the settled computation leaves
out: its margins are those of a model and not of a computation.
"""

from __future__ import annotations

import cmath
import math
from pathlib import Path

import numpy as np
import pytest
from network_deck import netlist, run
from numpy.typing import NDArray
from reference_machines import M2K2, M4K0, NO_LOAD, TOWN, constant, network, rated_torque, uf

from phasewright.electronics.three_line_rectifier import (
    Feed,
    ThreeLineBridge,
    pair_currents,
    settle_on_three_lines,
)
from phasewright.running.network import Network
from phasewright.running.rectifier import Rectifier, with_rectifier

pytestmark = pytest.mark.ngspice

CYCLES, CABLE_H = 8, 5e-5
# drops 0.77 V at 10 A; the lift makes it the bridge's drop
DIODE_V = 0.02585 * math.log(10.0 / 1e-12)
EASE = ".options reltol=1e-3 abstol=1e-5 vntol=1e-4 itl4=200 gmin=1e-9 method=gear maxord=2"


def six_diodes(capacitance_f: float, load: str, drop_v: float, ohm: float) -> list[str]:
    """Bridge and link between nodes b1, b2, b3 and the rails p, n; small snubbers ease it."""
    lines = [f".model dm d(is=1e-12 n=1 rs={ohm} cjo=2n)", "rp p 0 1meg", "rn n 0 1meg"]
    for k in (1, 2, 3):
        lines += [
            f"du{k} b{k} xu{k} dm", f"vu{k} xu{k} p {drop_v - DIODE_V}",
            f"dl{k} n xl{k} dm", f"vl{k} xl{k} b{k} {drop_v - DIODE_V}",
            f"rs{k} b{k} y{k} 200", f"cs{k} y{k} 0 47n",
        ]  # fmt: skip
    return [*lines, f"cl p n {capacitance_f} ic=0", f"bl p n i={load}"]


class Waves:
    """The last cycles of a run, evenly sampled."""

    def __init__(self, wave: dict[str, NDArray[np.float64]], hertz: float) -> None:
        time = wave["time"]
        self.grid = np.linspace(time[-1] - CYCLES / hertz, time[-1], 2000 * CYCLES, endpoint=False)
        self.of = {name: np.interp(self.grid, time, values) for name, values in wave.items()}
        self.turn = np.exp(-2j * math.pi * hertz * self.grid)
        self.currents = np.stack([self.of[f"i(vb{k})"] for k in (1, 2, 3)], axis=1)
        self.link = self.of["v(p)"] - self.of["v(n)"]

    def first(self, values: NDArray[np.float64]) -> float:
        return float(math.sqrt(2.0) * abs(np.mean(values * self.turn)))

    def rms(self, k: int) -> float:
        return float(np.sqrt(np.mean(self.currents[:, k] ** 2)))

    def shares(self, v12, v23, v31) -> list[float]:
        """Shares of the pairs in the power taken."""
        powers = np.mean(pair_currents(self.currents) * np.stack([v12, v23, v31], axis=1), axis=0)
        return [float(power / np.sum(powers)) for power in powers]


def fixed(volts: tuple[complex, complex, complex], third: complex) -> Feed:
    half = complex(0.125, 0.075)
    return Feed(volts, (half, half, third), 50.0)


STAR = tuple(cmath.rect(230.0 / math.sqrt(3.0), -2.0 * math.pi * k / 3.0) for k in range(3))
FEEDS = {
    "three stiff lines": (fixed(STAR, complex(0.125, 0.075)), 2200.0),
    "a soft third": (fixed((115 + 0j, -115 + 0j, -210j), complex(1.4, 1.9)), 2200.0),
    "a third too high, lightly loaded": (fixed((115 + 0j, -115 + 0j, -225j), 0.9 + 4j), 600.0),
}


@pytest.mark.parametrize("case", FEEDS)
def test_same_currents_and_link_behind_fixed_impedances(case: str, tmp_path: Path) -> None:
    feed, power_w = FEEDS[case]
    bridge = ThreeLineBridge(feed, 400e-9 * power_w, power_w)
    state = settle_on_three_lines(bridge)
    lines, w = ["three lines"], 2.0 * math.pi * feed.frequency_hz
    for k, (volts, ohm) in enumerate(zip(feed.volts_v, feed.impedance_ohm, strict=True), 1):
        peak, degrees = math.sqrt(2.0) * abs(volts), math.degrees(cmath.phase(volts))
        lines += [
            f"ve{k} e{k} 0 sin(0 {peak!r} {feed.frequency_hz!r} 0 0 {degrees!r})",
            f"rz{k} e{k} f{k} {ohm.real!r}", f"lz{k} f{k} g{k} {ohm.imag / w!r}",
            f"vb{k} g{k} b{k} 0",
        ]  # fmt: skip
    amps = power_w / state.link_mean_v
    lines += six_diodes(
        bridge.capacitance_f, f"{amps!r}", bridge.diode_drop_v, bridge.diode_resistance_ohm
    )
    saved = "v(p) v(n) i(vb1) i(vb2) i(vb3)"
    seen = Waves(
        run("\n".join([*lines, EASE, f".save {saved}", ".tran 10u 1 0.8 10u uic", ".end", ""]),
            tmp_path), feed.frequency_hz,
    )  # fmt: skip
    largest = max(state.line_currents_a)
    for k in range(3):
        assert state.line_currents_a[k] == pytest.approx(seen.rms(k), abs=0.01 * largest)
        first = abs(state.fundamentals_a[k])
        assert first == pytest.approx(seen.first(seen.currents[:, k]), abs=0.01 * largest)
    assert state.link_mean_v == pytest.approx(float(np.mean(seen.link)), rel=0.003)
    assert state.link_ripple_v == pytest.approx(float(np.ptp(seen.link)), rel=0.03)


T22 = rated_torque(2200, 1445)
CONVERTERS = {
    "half the idler's power": (network(TOWN, uf(0, 60, 60), ("idler", M4K0, NO_LOAD)), 2000.0),
    "beside a motor": (
        network(TOWN, uf(0, 25, 118), ("idler", M4K0, NO_LOAD), ("motor", M2K2, constant(T22))),
        1500.0,
    ),
}


@pytest.mark.parametrize("case", CONVERTERS)
def test_a_converter_with_a_rectifier_run_in_time(case: str, tmp_path: Path) -> None:
    shop, power_w = CONVERTERS[case]
    capacitance_f = 400e-9 * power_w
    found = with_rectifier(shop, Rectifier(power_w, capacitance_f))
    state = found.bridge
    wave = _in_time(shop, found, power_w / state.link_mean_v, capacitance_f, tmp_path)
    v12, v23, v31 = wave.of["v(n1)"], -wave.of["v(n3)"], wave.of["v(n3)"] - wave.of["v(n1)"]
    for volts, seen in zip(found.settled.line_voltages_v, (v12, v23, v31), strict=True):
        assert volts == pytest.approx(wave.first(seen), rel=0.016)
    for k in range(3):
        assert state.line_currents_a[k] == pytest.approx(wave.rms(k), rel=0.06)
    assert state.pair_shares == pytest.approx(wave.shares(v12, v23, v31), abs=0.04)
    assert state.link_mean_v == pytest.approx(float(np.mean(wave.link)), rel=0.01)
    taken_w = -float(np.mean(wave.of["i(vs)"] * v12))
    assert found.settled.supply_power_w == pytest.approx(taken_w, rel=0.01)


def _in_time(shop: Network, found, link_a: float, capacitance_f: float, folder: Path) -> Waves:
    """The whole converter from empty fluxes, the load brought on in 0.3 s."""
    plain = netlist(shop, found.settled).split("\n")
    at = next(k for k, line in enumerate(plain) if line.startswith(".options"))
    leads = [
        line
        for k, node in ((1, "n1"), (2, "0"), (3, "n3"))
        for line in (f"vb{k} {node} q{k} 0", f"lq{k} q{k} b{k} {CABLE_H}", f"rq{k} q{k} b{k} 50")
    ]
    load = f"{link_a!r}*(time>0.3 ? 1 : time/0.3)"
    plain[at : at + 1] = [*leads, *six_diodes(capacitance_f, load, 0.9, 0.010), EASE]
    deck = "\n".join(plain).replace(".save ", ".save v(p) v(n) i(vb1) i(vb2) i(vb3) ")
    return Waves(run(deck, folder), shop.source.frequency_hz)
