"""A three-line network as a netlist for the circuit simulator, and its waves read back.

The two-axis equations of every machine in phase coordinates, shafts included. Lines 1 and 3 are
nodes n1 and n3, line 2 is node 0.
"""

from __future__ import annotations

import math
import subprocess
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from phasewright.running.network import Connected, LoadLaw, Network, Settled

SECONDS, FLYWHEEL_KG_M2 = 2.0, 0.5


def netlist(shop: Network, found: Settled) -> str:
    """A transient of the network from empty fluxes; the shafts begin at the speeds found."""
    source, c, w = shop.source, shop.capacitance_f, 2 * math.pi * shop.source.frequency_hz
    lines = [
        "three-line network",
        f"vs s0 0 sin(0 {math.sqrt(2) * source.voltage_v!r} {source.frequency_hz!r})",
        f"rz s0 s1 {source.resistance_ohm!r}",
        f"lz s1 n1 {source.reactance_ohm / w!r}",
    ]
    for name, nodes, farad in (
        ("c12", "n1 0", c.c12), ("c23", "0 n3", c.c23), ("c31", "n3 n1", c.c31)
    ):  # fmt: skip
        if farad > 0:
            lines.append(f"{name} {nodes} {farad!r}")
    saved = ["v(n1)", "v(n3)", "i(vs)"]
    for k, machine in enumerate(shop.machines):
        speed = found.machines[k].speed_rpm * math.pi / 30.0
        lines += _machine(k, machine, speed)
        saved += [f"v(w{k})", *(f"v(i{line}m{k})" for line in (1, 2, 3))]
    cycles = 10 / source.frequency_hz
    return "\n".join([
        *lines, ".options reltol=1e-5 method=trap", f".save {' '.join(saved)}",
        f".tran 50u {SECONDS!r} {SECONDS - cycles!r} 50u uic", ".end", "",
    ])  # fmt: skip


def _machine(k: int, machine: Connected, speed: float) -> list[str]:
    """Two-axis circuit of one machine: flux linkage of the main path is the volts of p*."""
    z = machine.circuit
    w0 = 2 * math.pi * z.frequency_hz
    p = z.poles // 2
    if z.saturation is None:
        reluctance = f"{w0 / z.magnetising_ohm!r}"
    else:
        law = z.saturation
        lu = (1 + law.k) * z.magnetising_ohm / w0
        knee = z.rated_flux_vs * law.k ** (-1 / law.s)
        flux = f"sqrt(v(pa{k})*v(pa{k})+v(pb{k})*v(pb{k}))"
        reluctance = f"(1+(({flux})/{knee!r})^{law.s!r})/{lu!r}"
    lines = []
    volts = {"a": "(2*v(n1)-v(n3))/3", "b": "(0-v(n3))/sqrt(3)"}
    other = {"a": ("-1", "b"), "b": ("1", "a")}
    for axis in "ab":
        sign, across = other[axis]
        lines += [
            f"bu{axis}{k} u{axis}{k} 0 v={volts[axis]}",
            f"vi{axis}{k} u{axis}{k} q{axis}{k} 0",
            f"rs{axis}{k} q{axis}{k} x{axis}{k} {z.stator_resistance_ohm!r}",
            f"ls{axis}{k} x{axis}{k} m{axis}{k} {z.stator_leakage_ohm / w0!r}",
            # main path: flux is the integral of its volts, current is flux times reluctance
            f"bp{axis}{k} 0 p{axis}{k} i=v(m{axis}{k})",
            f"cp{axis}{k} p{axis}{k} 0 1 ic=0",
            f"rp{axis}{k} p{axis}{k} 0 1e9",
            f"bm{axis}{k} m{axis}{k} 0 i=v(p{axis}{k})*({reluctance})",
            f"rm{axis}{k} m{axis}{k} 0 1e6",
        ]
        for n, cage in enumerate(z.cages):
            leak = cage.leakage_ohm / w0
            lines += [
                f"vr{axis}{k}c{n} e{axis}{k}c{n} f{axis}{k}c{n} 0",
                f"be{axis}{k}c{n} e{axis}{k}c{n} 0 "
                f"v={sign}*{p}*v(w{k})*({leak!r}*i(vr{across}{k}c{n})+v(p{across}{k}))",
                f"rr{axis}{k}c{n} f{axis}{k}c{n} g{axis}{k}c{n} {cage.resistance_ohm!r}",
                f"lr{axis}{k}c{n} g{axis}{k}c{n} m{axis}{k} {leak!r}",
            ]
    ia, ib = f"i(via{k})", f"i(vib{k})"
    lines += [
        f"bl1{k} n1 0 i={ia}",
        f"bl3{k} n3 0 i=-0.5*{ia}-{math.sqrt(0.75)!r}*{ib}",
        f"rf1{k} n1 st{k} {z.core_loss_ohm!r}",
        f"rf2{k} 0 st{k} {z.core_loss_ohm!r}",
        f"rf3{k} n3 st{k} {z.core_loss_ohm!r}",
        f"bi1{k} i1m{k} 0 v={ia}+(v(n1)-v(st{k}))/{z.core_loss_ohm!r}",
        f"bi2{k} i2m{k} 0 v=-0.5*{ia}+{math.sqrt(0.75)!r}*{ib}-v(st{k})/{z.core_loss_ohm!r}",
        f"bi3{k} i3m{k} 0 v=-0.5*{ia}-{math.sqrt(0.75)!r}*{ib}"
        f"+(v(n3)-v(st{k}))/{z.core_loss_ohm!r}",
        f"bt{k} 0 w{k} i=1.5*{p}*(v(pa{k})*{ib}-v(pb{k})*{ia})-({_drag(machine, f'v(w{k})')})",
        f"cw{k} w{k} 0 {FLYWHEEL_KG_M2!r} ic={speed!r}",
        f"rw{k} w{k} 0 1e12",
    ]
    return lines


def _drag(machine: Connected, w: str) -> str:
    z, load = machine.circuit, machine.load
    rated = z.rated_speed_rpm * math.pi / 30.0
    friction = f"{0.4 * z.friction_w / rated**2!r}*{w}+{0.6 * z.friction_w / rated**3!r}*{w}*{w}"
    return f"{friction}+{_asked(load, w)}"


def _asked(load: LoadLaw, w: str) -> str:
    if load.kind == "constant":
        return f"{load.torque_nm!r}"
    if load.kind == "fan":
        return f"{load.torque_nm / load.speed_rad_s**2!r}*{w}*{w}"
    return "0"


def run(netlist: str, folder: Path) -> dict[str, NDArray[np.float64]]:
    """Every saved wave of the netlist by its name, as the simulator computes it in `folder`."""
    (folder / "deck.cir").write_text(netlist)
    done = subprocess.run(
        ["ngspice", "-b", "-n", "-r", "out.raw", "deck.cir"],
        cwd=folder, capture_output=True, text=True, timeout=300, check=False,
    )  # fmt: skip
    said = done.stdout + done.stderr
    assert done.returncode == 0, said
    for bad in ("error", "warning"):
        assert bad not in said.lower(), said
    return waves_in(folder / "out.raw")


def waves_in(raw: Path) -> dict[str, NDArray[np.float64]]:
    """Every wave of a file of the simulator, by its name."""
    head, _, data = raw.read_bytes().partition(b"Binary:\n")
    text = head.decode()
    count = int(text.split("No. Variables:")[1].split()[0])
    names = [line.split()[1] for line in text.split("Variables:\n")[1].splitlines()[:count]]
    rows = np.frombuffer(data, np.float64).reshape(-1, count)
    return {name: rows[:, at] for at, name in enumerate(names)}


def fundamental(time: NDArray[np.float64], values: NDArray[np.float64], hertz: float) -> float:
    """Rms of the fundamental over the last eight cycles."""
    end = time[-1]
    grid = np.linspace(end - 8 / hertz, end, 8000, endpoint=False)
    wave = np.interp(grid, time, values) * np.exp(-2j * np.pi * hertz * grid)
    return float(np.sqrt(2.0) * abs(np.mean(wave)))
