"""What is switched in a run, through its netlist, by a general circuit simulator: load steps,
capacitors that travel with a machine, a machine switched off, a bleeder, loss and return of supply,
a coil that lets go, a bypass and a machine that wait. Within 0.5 % of speed, rms volts and amps."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from network_deck import run
from reference_machines import FARM, I4A, L2A, M2K2, M4K0, NO_LOAD, TOWN, constant, fan, uf
from starts.courses import IDLER, J_IDLER, MOTOR, idler_start, then_motor

from phasewright.files.spice import netlist, opened_of
from phasewright.network.supply import Source
from phasewright.running.network import Connected
from phasewright.starts.course import (
    WHEN_SETTLED,
    Course,
    Drop,
    LoadStep,
    StartBranch,
    Starter,
    StartResistor,
)
from phasewright.starts.layout import HEAD, PER_MACHINE, SUPPLY, V12, V23, V31
from phasewright.starts.waves import as_run, waves

STEPS = 800
RUNNING = idler_start(0, circuit=I4A, speed=156.9, run=uf(0, 25, 118), steps=STEPS)

THREE = replace(
    RUNNING,
    capacitance_f=uf(0, 0, 0),
    starters=(Starter(Connected(IDLER, L2A, fan(14.5, 1445)), 0.02, breakaway_nm=4.0),),
    three_lines=True,
    seconds=0.8,
)


def motor(course: Course, **more) -> Course:
    """The same with a 2.2 kW motor on the running idler."""
    made = then_motor(course, fan(14.5, 1445), circuit=L2A, at=0.2, seconds=0.9)
    return replace(made, starters=(made.starters[0], replace(made.starters[1], **more)))


CASES = {
    "load steps": replace(
        motor(RUNNING), load_steps=(LoadStep(MOTOR, 0.55, 0.3), LoadStep(MOTOR, 0.7, 1.2))
    ),
    "travelling": motor(
        replace(RUNNING, capacitance_f=uf(0, 20, 40)), travelling_f=uf(0, 8, 75)
    ),
    "switched off": motor(RUNNING, opens_s=0.605),
    "switched off, keeps itself excited": motor(
        RUNNING, opens_s=0.505, travelling_f=uf(0, 60, 60), inertia_kg_m2=0.3, closes_s=0.1,
        speed_rad_s=150.0,
    ),
    "switched off with one capacitor": motor(RUNNING, opens_s=0.505, travelling_f=uf(0, 0, 40)),
    "bleeder": replace(
        idler_start(0, circuit=I4A, seconds=0.7, steps=STEPS),
        start=StartBranch(300e-6, 0.5, 2000.0, Drop("volts", 190.0), joins_s=0.02),
    ),
    "lost and back": replace(motor(RUNNING), lost_s=0.5, returns_s=0.56, seconds=1.0),
    "lets go": replace(motor(RUNNING, releases_below_v=120.0), lost_s=0.5, returns_s=0.65, seconds=0.9),
    "waits": replace(
        then_motor(
            idler_start(300, steps=STEPS, resistor=StartResistor(1.0, WHEN_SETTLED)),
            constant(5.0), at=WHEN_SETTLED, seconds=9.0,
        ),
        stops_when_settled=True,
    ),
    "three lines, stiff": replace(THREE, source=replace(FARM, resistance_ohm=0.1, reactance_ohm=0.0)),
    "three lines, soft, two motors": replace(
        then_motor(THREE, constant(6.0), at=0.5, seconds=1.2), source=FARM
    ),
    "weak and wrong way": replace(
        then_motor(idler_start(300, source=FARM, steps=STEPS), NO_LOAD, at=0.5, seconds=1.0),
        starters=(
            Starter(Connected(IDLER, M4K0, NO_LOAD), J_IDLER),
            Starter(Connected(MOTOR, M2K2, constant(4.0), reversed=True), 0.02, closes_s=0.5,
                    breakaway_nm=6.0),
        ),
    ),
}  # fmt: skip


@pytest.mark.ngspice
@pytest.mark.parametrize("case", CASES)
def test_a_run_with_switching_against_the_simulator(case: str, tmp_path: Path) -> None:
    course = CASES[case]
    ours = waves(course, every=1)
    theirs = run(netlist(ours, step_s=2.5e-5), tmp_path)
    record, hertz = ours.record, course.source.frequency_hz
    time = record[:, 0]
    synchronous = math.pi * hertz

    def its(name: str) -> np.ndarray:
        return np.interp(time, theirs["time"], theirs[name])

    def rms(wave: np.ndarray) -> np.ndarray:
        return np.sqrt((wave[: wave.size // STEPS * STEPS].reshape(-1, STEPS) ** 2).mean(axis=1))

    for k in range(len(course.starters)):
        speed = record[:, HEAD + PER_MACHINE * k + 4]
        assert abs(speed - its(f"v(w{k})")).max() < 0.005 * synchronous, k
    v1, v3 = its("v(n1)"), its("v(n3)")
    for column, wave in ((V12, v1), (V23, -v3), (V31, v3 - v1)):
        assert abs(rms(record[:, column]) - rms(wave)).max() < 0.005 * course.source.voltage_v
    mine = rms(record[:, SUPPLY])
    assert abs(mine - rms(its("i(v_supply)"))).max() < 0.005 * mine.max()
    assert abs(record[:, SUPPLY]).max() == pytest.approx(abs(theirs["i(v_supply)"]).max(), rel=0.01)
    for k, opened in enumerate(opened_of(ours)):
        on = np.ones_like(time) if opened is None else time < opened
        for line in range(3):
            own = rms(record[:, HEAD + PER_MACHINE * k + line])
            other = rms(
                on * its(f"v(i{line + 1}m{k})")
            )  # what it takes from its own capacitors is no line current
            assert abs(own - other).max() < 0.005 * own.max(), (k, line)


def test_what_waited_is_written_where_it_happened() -> None:
    """The netlist of a run that waited is that of the same run with its instants put in."""
    found = waves(CASES["waits"])
    assert netlist(waves(as_run(found))) == netlist(found)


def test_the_cases_do_what_they_are_named_for() -> None:
    lets_go, back = waves(CASES["lets go"]), waves(CASES["lost and back"])
    assert lets_go.released_s[1] is not None
    assert lets_go.returned_s is not None
    assert back.returned_s is not None
    assert waves(CASES["bleeder"]).dropped_s is not None
    waited = waves(CASES["waits"])
    assert waited.bypassed_s is not None
    assert waited.closed_s[1] > waited.bypassed_s


def test_a_supply_without_impedance_has_the_least_one_in_the_netlist_too() -> None:
    course = replace(CASES["load steps"], source=Source(230.0, 0.0, 0.0, TOWN.frequency_hz))
    found = waves(course)
    ohm = next(
        line.split()[3] for line in netlist(found).splitlines() if line.startswith("r_supply")
    )
    assert found.told
    assert float(ohm) > 1e-3
