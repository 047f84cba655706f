"""Starts in time against a general circuit simulator, through the netlist an owner would be given.

The idler starts, then a motor on the running idler, then its load asks for more; networks drawn
by a seeded generator over the size of the motor, the supply, the bank, the frequency and the law of
the iron, two of them too hard for the motor to run up.
"""

from __future__ import annotations

import math
import shutil
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from network_deck import run
from numpy.typing import NDArray
from reference_machines import K3HP_IRON, M2K2, M4K0, NO_LOAD, saturating_by, scaled

from phasewright.files.spice import netlist
from phasewright.machines.circuit import Circuit
from phasewright.network.supply import Source
from phasewright.running.network import Between, Connected, LoadLaw
from phasewright.starts.course import Course, Drop, LoadStep, StartBranch, Starter
from phasewright.starts.layout import HEAD, PER_MACHINE, SUPPLY, V12, V23, V31
from phasewright.starts.waves import Waves, waves

Floats = NDArray[np.float64]
SECONDS, SWITCHED_S, STEP_S = 0.9, 0.4, 0.72
NETWORKS = 8
FAILS = (2, 5)


def drawn(number: int) -> Course:
    """One network of the series; steps short enough for the capacitors' inrush through a stiff line."""
    draw = np.random.default_rng(1_000 + number)
    hertz = 60.0 if number % 3 == 2 else 50.0
    volts = 240.0 if hertz == 60.0 else 230.0
    idler: Circuit = scaled(K3HP_IRON, 1.5) if hertz == 60.0 else M4K0
    base: Circuit = K3HP_IRON if hertz == 60.0 else M2K2
    size = (0.3, 0.8, 1.1, 0.5, 0.9, 1.5, 0.6, 1.3)[number] * idler.rated_current_a
    motor = scaled(base, size / base.rated_current_a)
    if number % 2:
        idler, motor = saturating_by(idler, 0.45, 6.0), saturating_by(motor, 0.45, 6.0)
    ohm = float(draw.choice([0.08, 0.25, 0.8]))
    bank = Between(0.0, 1e-6 * draw.uniform(20, 70), 1e-6 * draw.uniform(60, 130))
    if number == 4:
        bank = Between(0.0, 5e-6, 10e-6)  # next to none
    torque = motor.rated_current_a / base.rated_current_a * draw.uniform(4.0, 9.0)
    if number in FAILS:
        torque *= 8.0
    kind = "constant" if number % 2 else "fan"
    load = LoadLaw(kind, float(torque), 2 * math.pi * hertz / 2 * 0.96)  # type: ignore[arg-type]
    return Course(
        source=Source(volts, ohm, 0.6 * ohm, hertz),
        capacitance_f=bank,
        starters=(
            Starter(Connected("idler", idler, NO_LOAD), max(idler.inertia_kg_m2, 0.01)),
            Starter(Connected("motor", motor, load), 1.5 * motor.inertia_kg_m2 + 0.004,
                    closes_s=SWITCHED_S),
        ),
        seconds=SECONDS,
        start=StartBranch(350e-6, 0.5, None, Drop("speed", 0.85, "idler")),
        load_steps=(LoadStep("motor", STEP_S, 1.1),),
        phase_rad=float(draw.uniform(0.0, math.pi)),
        steps_per_cycle=1600,
    )  # fmt: skip


@pytest.mark.ngspice
@pytest.mark.parametrize("number", range(NETWORKS))
def test_a_start_against_the_simulator(number: int, tmp_path: Path) -> None:
    course = drawn(number)
    ours = waves(course, every=1)
    theirs = run(netlist(ours, step_s=2.5e-5), tmp_path)
    time = ours.record[:, 0]

    def same(column: int, name: str, sign: float = 1.0) -> tuple[Floats, Floats]:
        return ours.record[:, column], sign * np.interp(time, theirs["time"], theirs[name])

    speeds = [same(HEAD + PER_MACHINE * k + 4, f"v(w{k})") for k in range(2)]
    synchronous = math.pi * course.source.frequency_hz
    for mine, its in speeds:
        assert abs(mine - its).max() < 0.005 * synchronous
    v3 = theirs["v(n3)"]
    theirs = {**theirs, "v31": v3 - theirs["v(n1)"], "v23": -v3}
    for column, name in ((V12, "v(n1)"), (V23, "v23"), (V31, "v31")):
        mine, its = (by_cycle(wave, course) for wave in same(column, name))
        assert abs(mine - its).max() < 0.005 * course.source.voltage_v
    mine, its = same(SUPPLY, "i(v_supply)", -1.0)
    assert (
        abs(by_cycle(mine, course) - by_cycle(its, course)).max()
        < 0.005 * by_cycle(mine, course).max()
    )
    assert abs(mine).max() == pytest.approx(abs(its).max(), rel=0.01)
    for line in range(3):
        mine, its = same(HEAD + PER_MACHINE + line, f"v(i{line + 1}m1)")
        assert (
            abs(by_cycle(mine, course) - by_cycle(its, course)).max()
            < 0.005 * by_cycle(mine, course).max()
        )


def by_cycle(wave: Floats, course: Course) -> Floats:
    """Rms of every cycle."""
    return np.asarray(np.sqrt((wave.reshape(-1, course.steps_per_cycle) ** 2).mean(axis=1)))


def test_the_series_holds_starts_that_fail_and_starts_that_do_not() -> None:
    ends: list[Waves] = [waves(replace(drawn(n), seconds=4.0)) for n in range(NETWORKS)]
    shares = [w.speed_rad_s[-1, 1] / (math.pi * w.course.source.frequency_hz) for w in ends]
    assert all(shares[n] < 0.8 for n in FAILS)
    assert all(share > 0.9 for n, share in enumerate(shares) if n not in FAILS)
    sizes = [w.course.starters[1].machine.circuit.rated_current_a
             / w.course.starters[0].machine.circuit.rated_current_a for w in ends]  # fmt: skip
    assert min(sizes) == pytest.approx(0.3)
    assert max(sizes) == pytest.approx(1.5)


def test_the_simulator_is_there() -> None:
    assert shutil.which("ngspice"), "ngspice is part of the test environment (tools/system.sh)"
