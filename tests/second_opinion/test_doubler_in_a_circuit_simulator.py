"""A doubler of two capacitors on 120 V in ngspice, as drives for 120 V have it inside."""

from __future__ import annotations

import math
import shutil
import subprocess

import numpy as np
import pytest
from second_opinion.test_rectifier_in_a_circuit_simulator import DIODE_V

from phasewright.electronics.rectifier import Bridge, settle_bridge
from phasewright.network.supply import Source

pytestmark = pytest.mark.ngspice

CYCLES, PER_CYCLE = 40, 1000
OUTLET = Source(120.0, 0.15, 0.10, 60.0)
SOFT = Source(120.0, 0.5, 0.25, 60.0)
JAPAN = Source(100.0, 0.2, 0.1, 50.0)
CASES = {
    "0.75 kW": Bridge(OUTLET, 1500e-6, 900.0, doubler=True),
    "0.37 kW on a soft supply": Bridge(SOFT, 600e-6, 450.0, doubler=True),
    "1.1 kW behind a choke": Bridge(
        OUTLET, 2200e-6, 1300.0, ac_choke_h=1.0e-3, ac_choke_ohm=0.04, doubler=True
    ),
    "100 V 50 Hz": Bridge(JAPAN, 1000e-6, 500.0, doubler=True),
}


def simulate(bridge: Bridge, load_a: float, folder) -> tuple[np.ndarray, np.ndarray]:
    program = shutil.which("ngspice")
    assert program, "ngspice is not installed: tools/system.sh installs it"
    source = bridge.source
    omega, period = 2.0 * math.pi * source.frequency_hz, 1.0 / source.frequency_hz
    line_h = source.reactance_ohm / omega + bridge.ac_choke_h
    lift, peak = bridge.diode_drop_v - DIODE_V, math.sqrt(2.0) * source.voltage_v
    lines = [
        "doubler",
        f"v_supply s 0 SIN(0 {peak} {source.frequency_hz})",
        f"rl s s1 {source.resistance_ohm + bridge.ac_choke_ohm}",
        f"ll s1 a {line_h} ic=0",
        "rs a 0 20k",
        "cs a 0 10n",
        "d1 a x1 dm",
        f"vd1 x1 p {lift}",
        "d2 n x2 dm",
        f"vd2 x2 a {lift}",
        f"c1 p 0 {bridge.capacitance_f} ic={0.95 * peak}",
        f"c2 0 n {bridge.capacitance_f} ic={0.95 * peak}",
        f"il p n {load_a}",
        f".model dm d(is=1e-12 n=0.3 rs={bridge.diode_resistance_ohm} cjo=10n)",
        ".options reltol=1e-4",
        f".tran {period / PER_CYCLE} {CYCLES * period} {(CYCLES - 1) * period} 20u uic",
        ".control", "run", "linearize", "wrdata out.data i(v_supply) v(p)-v(n)", "quit 0",
        ".endc", ".end",
    ]  # fmt: skip
    (folder / "doubler.cir").write_text("\n".join(lines))
    subprocess.run(
        [program, "-b", "doubler.cir"], check=True, capture_output=True, timeout=120, cwd=folder
    )
    rows = np.loadtxt(folder / "out.data")[:PER_CYCLE]
    return -rows[:, 1], rows[:, 3]


@pytest.mark.parametrize("bridge", CASES.values(), ids=CASES)
def test_same_current_and_link(bridge: Bridge, tmp_path) -> None:
    state = settle_bridge(bridge)
    current, link = simulate(bridge, bridge.link_power_w / state.link_mean_v, tmp_path)
    phasors = np.fft.rfft(current) * math.sqrt(2.0) / current.size
    assert state.current_a == pytest.approx(float(np.sqrt(np.mean(current**2))), rel=0.005)
    assert state.peak_a == pytest.approx(float(np.max(np.abs(current))), rel=0.005)
    assert state.link_mean_v == pytest.approx(float(np.mean(link)), rel=0.005)
    assert state.link_min_v == pytest.approx(float(np.min(link)), rel=0.005)
    first = abs(phasors[1])
    for n in range(1, 41):
        own, there = abs(state.harmonics_a[n - 1]), abs(phasors[n])
        assert abs(own - there) <= (0.01 * there if there > 0.02 * first else 0.002 * first), n
