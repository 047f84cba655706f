"""Courses of the reference cases, and figures read off their waves."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from reference_machines import M2K2, M4K0, NO_LOAD, TOWN, uf

from phasewright.machines.circuit import Circuit
from phasewright.network.supply import Source
from phasewright.running.network import Between, Connected, LoadLaw
from phasewright.starts.course import Course, Drop, StartBranch, Starter, StartResistor
from phasewright.starts.layout import HEAD, PER_MACHINE
from phasewright.starts.waves import Waves

IDLER, MOTOR = "idler", "motor"
J_IDLER, J_MOTOR = 0.0125, 0.0275


def idler_start(
    start_uf: float = 300.0, *, circuit: Circuit = M4K0, source: Source = TOWN,
    run: Between | None = None, inertia: float = J_IDLER, drop: Drop | None = None,
    resistor: StartResistor | None = None, speed: float = 0.0, phase: float = 0.0,
    seconds: float = 1.0, steps: int = 200,
) -> Course:  # fmt: skip
    """The idler alone: run capacitors 47.5/63 uF, start capacitor out at 85 % of speed."""
    branch = StartBranch(1e-6 * start_uf, 0.5, None, drop or Drop("speed", 0.85, IDLER))
    return Course(
        source=source,
        capacitance_f=uf(0, 47.5, 63) if run is None else run,
        starters=(Starter(Connected(IDLER, circuit, NO_LOAD), inertia, speed_rad_s=speed),),
        seconds=seconds,
        start=branch if start_uf else None,
        resistor=resistor,
        phase_rad=phase,
        steps_per_cycle=steps,
    )


def then_motor(
    course: Course, load: LoadLaw, *, circuit: Circuit = M2K2, at: float = 0.6,
    inertia: float = J_MOTOR, seconds: float = 2.0,
) -> Course:  # fmt: skip
    """The same with a motor switched on once the idler runs."""
    motor = Starter(Connected(MOTOR, circuit, load), inertia, closes_s=at)
    return replace(course, starters=(*course.starters, motor), seconds=seconds)


def cycles(waves: Waves, by_half: np.ndarray) -> np.ndarray:
    """Rms over whole cycles from rms by half cycle."""
    return np.sqrt(0.5 * (by_half[0::2] ** 2 + by_half[1::2] ** 2))


def passes(waves: Waves, share: float, machine: int = 0) -> float:
    """When a machine passes a share of its synchronous speed [s]; needs a record."""
    of = waves.course.starters[machine].machine.circuit
    synchronous = 4.0 * math.pi * waves.course.source.frequency_hz / of.poles
    speed = waves.record[:, HEAD + PER_MACHINE * machine + 4]
    over = np.flatnonzero(speed >= share * synchronous)
    return float(waves.record[over[0], 0]) if over.size else math.inf
