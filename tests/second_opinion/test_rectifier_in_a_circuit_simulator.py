"""The same bridge in ngspice: a transient run to its periodic state, measured there."""

from __future__ import annotations

import math
import shutil
import subprocess

import numpy as np
import pytest

from phasewright.electronics.rectifier import Bridge, settle_bridge
from phasewright.network.supply import Source

pytestmark = pytest.mark.ngspice

CYCLES, PER_CYCLE = 24, 1000
# The junction capacitance and the leaks keep the simulator's steps finite.
# n = 0.3 keeps the knee sharp; with this saturation current it drops 0.23 V at 10 A
DIODE_V = 0.3 * 0.02585 * math.log(10.0 / 1e-12)


def deck(bridge: Bridge, load_a: float, out: str) -> str:
    source = bridge.source
    omega = 2.0 * math.pi * source.frequency_hz
    line_h = source.reactance_ohm / omega + bridge.ac_choke_h
    line_r = source.resistance_ohm + bridge.ac_choke_ohm
    period = 1.0 / source.frequency_hz
    lift = bridge.diode_drop_v - DIODE_V
    amplitude = math.sqrt(2.0) * source.voltage_v
    link = "p" if bridge.dc_choke_h == 0.0 else "c"
    lines = [
        "bridge with link",
        f"v_supply s 0 SIN(0 {amplitude} {source.frequency_hz})",
        f"rl s s1 {line_r}",
        f"ll s1 a {line_h} ic=0",
        "rs a 0 20k",
        "cs a 0 10n",
        "rp p n 1meg",
        "rn n 0 1meg",
    ]
    for n, (anode, cathode) in enumerate((("a", "p"), ("0", "p"), ("n", "a"), ("n", "0"))):
        lines += [f"d{n} {anode} x{n} dm", f"vd{n} x{n} {cathode} {lift}"]
    if link == "c":
        lines += [f"rc p p1 {bridge.dc_choke_ohm + 1e-6}", f"lc p1 c {bridge.dc_choke_h} ic=0"]
    lines += [
        f".model dm d(is=1e-12 n=0.3 rs={bridge.diode_resistance_ohm} cjo=10n)",
        f"cl {link} n {bridge.capacitance_f} ic={amplitude * 0.95}",
        f"il {link} n {load_a}",
        ".options reltol=1e-4",
        f".tran {period / PER_CYCLE} {CYCLES * period} {(CYCLES - 1) * period} 20u uic",
        ".control",
        "run",
        "linearize",
        f"wrdata {out} i(v_supply) v({link})-v(n)",
        "quit 0",
        ".endc",
        ".end",
    ]
    return "\n".join(lines)


def simulate(bridge: Bridge, load_a: float, folder) -> tuple[np.ndarray, np.ndarray]:
    program = shutil.which("ngspice")
    assert program, "ngspice is not installed: tools/system.sh installs it"
    netlist = folder / "bridge.cir"
    netlist.write_text(deck(bridge, load_a, str(folder / "out.data")))
    subprocess.run(
        [program, "-b", str(netlist)], check=True, capture_output=True, timeout=120, cwd=folder
    )
    rows = np.loadtxt(folder / "out.data")[:PER_CYCLE]
    return -rows[:, 1], rows[:, 3]


TOWN = Source(230.0, 0.25, 0.15, 50.0)
SOFT = Source(230.0, 0.8, 0.4, 50.0)
AMERICAN = Source(240.0, 0.12, 0.08, 60.0)

CASES = {
    "2.2 kW without a choke": Bridge(TOWN, 600e-6, 2200.0),
    "60 Hz on a stiff supply": Bridge(AMERICAN, 1000e-6, 2200.0),
    "a choke in the line": Bridge(TOWN, 600e-6, 2200.0, ac_choke_h=2e-3, ac_choke_ohm=0.05),
    "a choke in the link": Bridge(TOWN, 600e-6, 2200.0, dc_choke_h=8e-3, dc_choke_ohm=0.11),
    "chokes in both": Bridge(
        TOWN, 800e-6, 4000.0, ac_choke_h=2e-3, ac_choke_ohm=0.05, dc_choke_h=5e-3, dc_choke_ohm=0.08
    ),
    "a small link on a soft supply": Bridge(SOFT, 150e-6, 750.0),
    # made for three-phase input and fed by one phase: twice the rating, so twice the link
    "twice the size, with its choke": Bridge(
        TOWN, 1600e-6, 1900.0, ac_choke_h=1.7e-3, ac_choke_ohm=0.047
    ),
}


@pytest.mark.parametrize("bridge", CASES.values(), ids=CASES)
def test_same_current_and_link(bridge: Bridge, tmp_path) -> None:
    state = settle_bridge(bridge)
    current, link = simulate(bridge, bridge.link_power_w / state.link_mean_v, tmp_path)
    phasors = np.fft.rfft(current) * math.sqrt(2.0) / current.size
    rms = math.sqrt(float(np.mean(current**2)))
    assert state.current_a == pytest.approx(rms, rel=0.005)
    assert state.peak_a == pytest.approx(float(np.max(np.abs(current))), rel=0.005)
    assert state.link_mean_v == pytest.approx(float(np.mean(link)), rel=0.005)
    assert state.link_min_v == pytest.approx(float(np.min(link)), rel=0.005)
    assert state.link_ripple_v == pytest.approx(float(np.ptp(link)), rel=0.01)
    first = abs(phasors[1])
    large = [n for n in range(1, 41) if abs(phasors[n]) > 0.02 * first]
    assert len(large) >= 3
    for n in range(1, 41):
        own, there = state.harmonics_a[n - 1], phasors[n]
        limit = 0.01 * abs(there) if n in large else 0.002 * first
        assert abs(abs(own) - abs(there)) <= limit, n
