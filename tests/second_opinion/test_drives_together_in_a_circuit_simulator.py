"""Two drives behind one impedance, a linear load beside them, in ngspice: one network there, each
settled by itself and added with its angles here."""

from __future__ import annotations

import math
import shutil
import subprocess
from dataclasses import replace

import numpy as np
import pytest
from second_opinion.test_rectifier_in_a_circuit_simulator import DIODE_V

from phasewright.electronics.harmonics import Beside, at_the_service
from phasewright.electronics.rectifier import Bridge, settle_bridge
from phasewright.network.supply import Source

pytestmark = pytest.mark.ngspice

TOWN = Source(230.0, 0.25, 0.15, 50.0)
# leads of 10 milliohm each: the simulator wants some between two bridges
BARE = Bridge(TOWN, 880e-6, 2200.0, ac_choke_ohm=0.01)
SMALL = Bridge(TOWN, 300e-6, 750.0, ac_choke_ohm=0.01)
CHOKED = Bridge(TOWN, 600e-6, 1500.0, ac_choke_h=5e-3, ac_choke_ohm=0.08)
CYCLES, PER_CYCLE = 40, 1000


def branch(k: int, bridge: Bridge, load_a: float) -> list[str]:
    """A bridge with its choke between node t and ground; its link floats."""
    lift = bridge.diode_drop_v - DIODE_V
    choke = [f"rc{k} t c{k} {bridge.ac_choke_ohm + 1e-4}", f"lc{k} c{k} a{k} {bridge.ac_choke_h}"]
    lines = choke if bridge.ac_choke_h else [f"rc{k} t a{k} {bridge.ac_choke_ohm}"]
    lines += [f"rp{k} p{k} n{k} 1meg", f"rn{k} n{k} 0 1meg", f"cs{k} a{k} 0 10n",
              f"rs{k} a{k} 0 20k"]  # fmt: skip
    for n, (anode, cathode) in enumerate((("a", "p"), ("0", "p"), ("n", "a"), ("n", "0"))):
        ends = [node if node == "0" else f"{node}{k}" for node in (anode, cathode)]
        lines += [f"d{k}{n} {ends[0]} x{k}{n} dm", f"vd{k}{n} x{k}{n} {ends[1]} {lift}"]
    peak = math.sqrt(2.0) * bridge.source.voltage_v
    return [
        *lines,
        f"cl{k} p{k} n{k} {bridge.capacitance_f} ic={0.95 * peak}",
        f"il{k} p{k} n{k} {load_a}",
    ]


def simulate(source, bridges, loads_a, beside, folder) -> np.ndarray:
    program = shutil.which("ngspice")
    assert program, "ngspice is not installed: tools/system.sh installs it"
    omega, period = 2.0 * math.pi * source.frequency_hz, 1.0 / source.frequency_hz
    lines = [
        "drives together",
        f"v_supply s 0 SIN(0 {math.sqrt(2.0) * source.voltage_v} {source.frequency_hz})",
        f"rl s s1 {source.resistance_ohm}",
        f"ll s1 t {source.reactance_ohm / omega} ic=0",
    ]
    for k, (bridge, load_a) in enumerate(zip(bridges, loads_a, strict=True)):
        lines += branch(k, bridge, load_a)
    if beside is not None:
        lines += [f"rb t b {beside.resistance_ohm}", f"lb b 0 {beside.reactance_ohm / omega}"]
    rs = bridges[0].diode_resistance_ohm
    lines += [
        f".model dm d(is=1e-12 n=0.3 rs={rs} cjo=JUNCTION)",
        ".options reltol=1e-4 abstol=1e-9 vntol=1e-5",
        f".tran {period / PER_CYCLE} {CYCLES * period} {(CYCLES - 1) * period} 20u uic",
        ".control", "run", "linearize", "wrdata out.data i(v_supply) v(t)", "quit 0", ".endc",
        ".end",
    ]  # fmt: skip
    # its step control gives up on some junctions: another one then, with as little effect
    for junction in ("30n", "10n", "60n"):
        deck = "\n".join(lines).replace("JUNCTION", junction)
        (folder / "together.cir").write_text(deck)
        subprocess.run(
            [program, "-b", "together.cir"],
            check=True, capture_output=True, timeout=120, cwd=folder,
        )  # fmt: skip
        if (folder / "out.data").exists():
            break
    rows = np.loadtxt(folder / "out.data")[:PER_CYCLE]
    current, volts = (np.fft.rfft(w) * math.sqrt(2.0) / w.size for w in (-rows[:, 1], rows[:, 3]))
    turned = np.exp(-1j * np.angle(volts[1]) * np.arange(41))
    return np.array([current[:41] * turned, volts[:41] * turned])


def harmonic_phasors(source, bridges, beside, folder):
    """Of the supply current, and of the volts at the service: simulated; and the spectrum here."""
    states = [settle_bridge(bridge) for bridge in bridges]
    loads = [b.link_power_w / s.link_mean_v for b, s in zip(bridges, states, strict=True)]
    amps, volts = simulate(source, bridges, loads, beside, folder)
    here = at_the_service(
        source, [state.harmonics_a for state in states], (beside,) if beside else ()
    )
    return amps, volts, here


def linear(resistance_ohm: float, reactance_ohm: float) -> Beside:
    own = 1.0 / complex(resistance_ohm, reactance_ohm)
    square = TOWN.voltage_v**2
    return Beside(own.real * square, -own.imag * square, resistance_ohm, reactance_ohm)


# a motor's ohms at standstill would draw 57 A as fundamental here too: the hardest divider there is
@pytest.mark.parametrize(
    "beside", [None, linear(26.5, 0.0), linear(2.0, 3.5)], ids=["alone", "a heater", "a motor"]
)
def test_a_linear_load_beside_one_drive_takes_its_share_of_each_harmonic(beside, tmp_path):
    amps, volts, here = harmonic_phasors(TOWN, [BARE], beside, tmp_path)
    for n in (1, 3, 5, 7, 9):
        # angles against n times the angle of a sine, there against that of a cosine
        sine = np.exp(1j * np.pi / 2.0 * (1 - n))
        got = here.harmonics_a[n - 1]
        # 3 %: the load beside also softens the supply that the drive was settled on without it
        assert abs(got) == pytest.approx(abs(amps[n]), rel=0.03)
        assert abs(np.angle(got / (amps[n] * sine))) < 0.02 * n
        assert here.harmonics_v[n - 1] == pytest.approx(abs(volts[n]), rel=0.03)
    distortion = math.sqrt(float(np.sum(np.abs(volts[2:]) ** 2))) / abs(volts[1])
    assert here.voltage_thd == pytest.approx(distortion, rel=0.015)


@pytest.mark.parametrize(
    "bridges",
    [(BARE, BARE), (BARE, SMALL), (BARE, CHOKED), (SMALL, CHOKED)],
    ids=["two alike", "large and small", "large bare, choked", "small bare, choked"],
)
def test_drives_settled_alone_tell_their_sum_a_little_too_distorted(bridges, tmp_path):
    amps, volts, here = harmonic_phasors(TOWN, bridges, None, tmp_path)
    rms = math.sqrt(float(np.sum(np.abs(amps[1:]) ** 2)))
    assert abs(here.harmonics_a[0]) == pytest.approx(abs(amps[1]), rel=0.015)
    assert rms < here.current_a < 1.15 * rms
    distortion_a = math.sqrt(float(np.sum(np.abs(amps[2:]) ** 2)))
    told = math.sqrt(sum(abs(each) ** 2 for each in here.harmonics_a[1:]))
    assert distortion_a < told < 1.3 * distortion_a
    distortion_v = math.sqrt(float(np.sum(np.abs(volts[2:]) ** 2))) / abs(volts[1])
    assert distortion_v < here.voltage_thd < 1.45 * distortion_v


def test_n_drives_alike_are_each_one_on_n_times_the_impedance(tmp_path):
    """The same network cut in two: exact, so every harmonic agrees as for one drive."""
    own = replace(TOWN, resistance_ohm=0.5, reactance_ohm=0.3)
    state = settle_bridge(replace(BARE, source=own))
    load_a = BARE.link_power_w / state.link_mean_v
    amps, _ = simulate(TOWN, (BARE, BARE), (load_a, load_a), None, tmp_path)
    for n in (1, 3, 5, 7, 9):
        assert 2.0 * abs(state.harmonics_a[n - 1]) == pytest.approx(abs(amps[n]), rel=0.015)
