"""Drives, a motor, capacitors and a heater behind one impedance, in ngspice: one network there and
here. What a turning motor takes of the fundamental beside its windings at standstill is a sine of
current there, of the size that goes with the volts found here."""

from __future__ import annotations

import cmath
import math
import shutil
import subprocess

import numpy as np
import pytest
from second_opinion.test_rectifier_in_a_circuit_simulator import DIODE_V

from phasewright.electronics.common_supply import (
    Branch,
    BridgeThere,
    Common,
    Linear,
    admittance,
    settle_common,
    windings,
)
from phasewright.electronics.harmonics import at_the_service
from phasewright.electronics.rectifier import Bridge, settle_bridge
from phasewright.network.supply import Source

pytestmark = pytest.mark.ngspice

TOWN = Source(230.0, 0.25, 0.15, 50.0)
SOFT = Source(240.0, 0.5, 0.4, 60.0)
# leads of 10 milliohm each: the simulator wants some between two bridges
BARE = BridgeThere(880e-6, 2200.0, 0.0, 0.01)
SMALL = BridgeThere(300e-6, 750.0, 0.0, 0.01)
CHOKED = BridgeThere(600e-6, 1500.0, 5e-3, 0.08)
# a 2.2 kW motor of 230 V: star ohms at standstill, and what it takes as it turns loaded
STANDS = 1.9 + 2.6j
MOTOR = Linear(windings(STANDS, 50.0), 2700.0 + 1800.0j)
CONVERTER = Linear(
    (*windings(0.9 + 1.5j, 50.0), Branch((1, 2), 0.01, 0.0, 40e-6), Branch((2, 3), 0.01, 0.0, 48e-6),
     Branch((1, 3), 0.01, 0.0, 63e-6)), 600.0 - 250.0j,
)  # fmt: skip
CORRECTOR = Linear((Branch((1, 2), 0.02, 0.0, 60e-6),))
HEATER = Linear((Branch((1, 2), 26.5),))
LAGGING = Linear((Branch((1, 2), 9.0, 0.02),))
CYCLES, PER_CYCLE = 60, 1000


def branch(k: int, bridge: BridgeThere, load_a: float, peak: float) -> list[str]:
    """A bridge with its choke between node t and ground; its link floats."""
    lift = bridge.diode_drop_v - DIODE_V
    choke = [f"rc{k} t c{k} {bridge.choke_ohm + 1e-4}", f"lc{k} c{k} a{k} {bridge.choke_h}"]
    lines = choke if bridge.choke_h else [f"rc{k} t a{k} {bridge.choke_ohm}"]
    lines += [f"rp{k} p{k} n{k} 1meg", f"rn{k} n{k} 0 1meg", f"cs{k} a{k} 0 10n",
              f"rs{k} a{k} 0 20k"]  # fmt: skip
    for n, (anode, cathode) in enumerate((("a", "p"), ("0", "p"), ("n", "a"), ("n", "0"))):
        ends = [node if node == "0" else f"{node}{k}" for node in (anode, cathode)]
        lines += [f"d{k}{n} {ends[0]} x{k}{n} dm", f"vd{k}{n} x{k}{n} {ends[1]} {lift}"]
    return [
        *lines,
        f"cl{k} p{k} n{k} {bridge.capacitance_f} ic={0.95 * peak}",
        f"il{k} p{k} n{k} {load_a}",
    ]


def linear_lines(common: Common, fundamental_v: complex) -> list[str]:
    """The loads beside: R, L, C in series between nodes t (line 1), 0 (line 2), own thirds."""
    lines = []
    for n, load in enumerate(common.linear):
        node = {1: "t", 2: "0", 3: f"third{n}"}
        for k, each in enumerate(load.branches):
            a, b = (node[line] for line in each.lines)
            lines.append(f"rb{n}_{k} {a} u{n}_{k} {each.resistance_ohm}")
            inner = f"w{n}_{k}"
            lines.append(
                f"lb{n}_{k} u{n}_{k} {inner} {each.inductance_h}" if each.inductance_h
                else f"vb{n}_{k} u{n}_{k} {inner} 0"
            )  # fmt: skip
            lines.append(
                f"cb{n}_{k} {inner} {b} {each.capacitance_f}" if each.capacitance_f
                else f"vc{n}_{k} {inner} {b} 0"
            )  # fmt: skip
        if load.taken_va is not None:
            more = load.taken_va.conjugate() / common.source.voltage_v**2
            more -= admittance(load, common.source.frequency_hz)
            amps = more * fundamental_v * math.sqrt(2.0)
            hertz, angle = common.source.frequency_hz, math.degrees(cmath.phase(amps))
            lines.append(f"im{n} t 0 SIN(0 {abs(amps)} {hertz} 0 0 {angle})")
    return lines


def simulate(common: Common, loads_a, fundamental_v: complex, folder) -> np.ndarray:
    program = shutil.which("ngspice")
    assert program, "ngspice is not installed: tools/system.sh installs it"
    source = common.source
    omega, period = 2.0 * math.pi * source.frequency_hz, 1.0 / source.frequency_hz
    peak = math.sqrt(2.0) * source.voltage_v
    lines = [
        "drives together",
        f"v_supply s 0 SIN(0 {peak} {source.frequency_hz})",
        f"rl s s1 {source.resistance_ohm}",
        f"ll s1 t {source.reactance_ohm / omega} ic=0",
    ]
    for k, (bridge, load_a) in enumerate(zip(common.bridges, loads_a, strict=True)):
        lines += branch(k, bridge, load_a, peak)
    lines += linear_lines(common, fundamental_v)
    lines += [
        f".model dm d(is=1e-12 n=0.3 rs={common.bridges[0].diode_resistance_ohm} cjo=JUNCTION)",
        ".options reltol=1e-4 abstol=1e-9 vntol=1e-5",
        f".tran {period / PER_CYCLE} {CYCLES * period} {(CYCLES - 1) * period} 8u uic",
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
    # as rms phasors, angle 0 for a sine
    current, volts = (
        np.fft.rfft(w) * 1j * math.sqrt(2.0) / w.size for w in (-rows[:, 1], rows[:, 3])
    )
    turned = np.exp(-1j * np.angle(volts[1]) * np.arange(41))
    return np.array([current[:41] * turned, volts[:41] * turned])


CASES = {
    "three drives": Common(TOWN, (BARE, SMALL, CHOKED)),
    "two alike": Common(TOWN, (BARE, BARE)),
    "a drive and a heater": Common(TOWN, (BARE,), (HEATER,)),
    "two drives, a motor and a heater": Common(TOWN, (BARE, CHOKED), (MOTOR, HEATER)),
    "two drives and a converter": Common(TOWN, (BARE, SMALL), (CONVERTER,)),
    "a drive and a capacitor": Common(TOWN, (CHOKED,), (CORRECTOR, LAGGING)),
    "all on a soft supply of 60 Hz": Common(SOFT, (SMALL, CHOKED), (CORRECTOR, HEATER, LAGGING)),
}


@pytest.mark.parametrize("common", CASES.values(), ids=CASES)
def test_the_same_amps_and_volts(common: Common, tmp_path) -> None:
    state = settle_common(common)
    loads = [
        b.link_power_w / f.link_mean_v for b, f in zip(common.bridges, state.bridges, strict=True)
    ]
    here, line = state.spectrum, complex(common.source.resistance_ohm, common.source.reactance_ohm)
    # the fundamental at the service against the source's sine
    lag = cmath.phase(here.fundamental_v + line * here.harmonics_a[0])
    amps, volts = simulate(common, loads, cmath.rect(here.fundamental_v, -lag), tmp_path)
    rms = math.sqrt(float(np.sum(np.abs(amps[1:]) ** 2)))
    assert here.current_a == pytest.approx(rms, rel=0.005)
    assert here.fundamental_v == pytest.approx(abs(volts[1]), rel=0.001)
    distortion = math.sqrt(float(np.sum(np.abs(volts[2:]) ** 2))) / abs(volts[1])
    assert here.voltage_thd == pytest.approx(distortion, rel=0.01)
    first = abs(amps[1])
    for n in range(2, 41):
        got, there = here.harmonics_a[n - 1], amps[n]
        limit = 0.01 * abs(there) if abs(there) > 0.02 * first else 0.002 * first
        assert abs(abs(got) - abs(there)) <= limit, n
        if abs(there) > 0.02 * first:
            assert abs(cmath.phase(got / there)) < 0.01 * n, n


@pytest.mark.parametrize(
    "bridges", [(BARE, BARE), (BARE, SMALL), (BARE, CHOKED), (SMALL, CHOKED)],
    ids=["two alike", "large and small", "large bare, choked", "small bare, choked"],
)  # fmt: skip
def test_drives_settled_alone_would_tell_their_sum_too_distorted(bridges, tmp_path):
    """What is gained by settling them together, by the simulator's own amps."""
    alone = [
        settle_bridge(
            Bridge(TOWN, b.capacitance_f, b.link_power_w, ac_choke_h=b.choke_h,
                   ac_choke_ohm=b.choke_ohm)
        ).harmonics_a
        for b in bridges
    ]  # fmt: skip
    common = Common(TOWN, bridges)
    means = [each.link_mean_v for each in settle_common(common).bridges]
    loads = [b.link_power_w / v for b, v in zip(bridges, means, strict=True)]
    _, volts = simulate(common, loads, 230.0 + 0j, tmp_path)
    distortion = math.sqrt(float(np.sum(np.abs(volts[2:]) ** 2))) / abs(volts[1])
    assert distortion < at_the_service(TOWN, alone).voltage_thd < 1.45 * distortion
