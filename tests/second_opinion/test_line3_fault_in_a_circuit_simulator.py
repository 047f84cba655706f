"""An earth fault of line 3 in a general circuit simulator: the idler runs, then line 3 is shorted."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from network_deck import run
from reference_machines import M2K2, M4K0, NO_LOAD, saturating_by

from phasewright.files.spice import netlist
from phasewright.machines.circuit import Circuit
from phasewright.network.supply import Source
from phasewright.running.line3_fault import line3_fault
from phasewright.running.network import Between, Connected, Network
from phasewright.starts.course import Course, Drop, StartBranch, Starter
from phasewright.starts.waves import waves

SOURCE = Source(230.0, 0.01, 0.005, 50.0)
FAULT_S, END_S = 1.2, 2.2


@pytest.mark.ngspice
@pytest.mark.parametrize(
    ("idler", "bank", "ohm"),
    [
        (M2K2, Between(0.0, 26e-6, 35e-6), 0.15),
        (M4K0, Between(0.0, 48e-6, 63e-6), 0.5),
        (saturating_by(M4K0, 0.45, 6.0), Between(0.0, 48e-6, 63e-6), 0.5),
    ],
)
def test_settled_and_first_cycle(
    idler: Circuit, bank: Between, ohm: float, tmp_path: Path
) -> None:  # fmt: skip
    machine = Connected("idler", idler, NO_LOAD)
    course = Course(
        source=SOURCE, capacitance_f=bank,
        starters=(Starter(machine, max(idler.inertia_kg_m2, 0.01)),),
        seconds=END_S, start=StartBranch(350e-6, 0.5, None, Drop("speed", 0.85, "idler")),
        steps_per_cycle=800,
    )  # fmt: skip
    deck = netlist(waves(course, every=1), step_s=2.5e-5)
    fault = (
        f"v_fault fault 0 pwl(0 0 {FAULT_S!r} 0 {FAULT_S + 1e-5!r} 1)\n"
        f"b_fault n3 0 i=v(n3)*v(fault)/{ohm!r}\n"
    )
    theirs = run(deck.replace(".options", f"{fault}.options", 1), tmp_path)
    grid = np.arange(FAULT_S + 2e-5, END_S, 1e-4)
    amps = np.interp(grid, theirs["time"], theirs["v(n3)"]) / ohm

    def rms(start: float, end: float) -> float:
        chosen = (grid >= FAULT_S + start) & (grid < FAULT_S + end)
        return math.sqrt(float((amps[chosen] ** 2).mean()))

    ours = line3_fault(Network(SOURCE, bank, (machine,)), complex(ohm), "line_2")
    assert ours.settled_a == pytest.approx(rms(0.8, 0.98), rel=0.01)
    assert 0.7 * ours.first_cycles_a < rms(0.0, 0.02) < ours.first_cycles_a


@pytest.mark.ngspice
def test_where_the_centre_is_earthed(tmp_path: Path) -> None:
    """Half of the source on either side of earth: line 3 then has 0.87 of the volts to drive it, and
    two sequences of other sizes."""
    machine, bank, ohm = Connected("idler", M4K0, NO_LOAD), Between(0.0, 48e-6, 63e-6), 0.5
    course = Course(
        source=SOURCE, capacitance_f=bank, starters=(Starter(machine, 0.0125),),
        seconds=END_S, start=StartBranch(350e-6, 0.5, None, Drop("speed", 0.85, "idler")),
        steps_per_cycle=800,
    )  # fmt: skip
    deck = netlist(waves(course, every=1), step_s=2.5e-5)
    peak = math.sqrt(2.0) * SOURCE.voltage_v
    whole, half = f"v_supply s0 0 sin(0 {peak!r}", f"v_supply s0 mid sin(0 {peak / 2.0!r}"
    assert whole in deck
    more = (
        f"v_low mid 0 sin(0 {peak / 2.0!r} 50.0 0 0 0)\n"
        f"v_fault fault 0 pwl(0 0 {FAULT_S!r} 0 {FAULT_S + 1e-5!r} 1)\n"
        f"b_fault n3 mid i=v(n3,mid)*v(fault)/{ohm!r}\n"
    )
    deck = deck.replace(whole, half).replace(".options", f"{more}.options", 1)
    theirs = run(deck, tmp_path)
    grid = np.arange(FAULT_S + 0.8, FAULT_S + 0.98, 1e-4)
    amps = np.interp(grid, theirs["time"], theirs["v(n3)"] - theirs["v(mid)"]) / ohm
    ours = line3_fault(Network(SOURCE, bank, (machine,)), complex(ohm), "centre")
    assert ours.settled_a == pytest.approx(math.sqrt(float((amps**2).mean())), rel=0.01)
