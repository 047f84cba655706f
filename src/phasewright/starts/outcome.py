"""Whether a machine runs up in a run, how long it takes, and why not.

It has run up once it turns faster than its breakdown speed (at balanced volts: beyond it a slower
motor pulls harder) and within 5 % of the speed it ends at, and either that speed no longer changes
or it lies above 93 % of synchronous. Everything is judged on means over half cycles.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from phasewright.machines.circuit import Circuit
from phasewright.machines.performance import breakdown
from phasewright.machines.shaft_losses import friction_torque_nm
from phasewright.running.network import LoadLaw
from phasewright.starts.course import Starter
from phasewright.starts.halves import at_the_end, end_s, half_of, half_s
from phasewright.starts.instants import closed_s, instants, opened_s
from phasewright.starts.waves import Waves

Floats = NDArray[np.float64]
Code = Literal[
    "runs_up", "keeps_running", "still_speeding_up", "stands_still", "stalls", "runs_backwards",
    "pulled_down", "never_closed", "switched_off",
]  # fmt: skip

NEAR_END = 0.95
"""Share of the speed it ends at from which a machine counts as run up."""
NEAR_SYNCHRONOUS = 0.93
"""Share of synchronous speed from which it counts so even while its speed still changes."""
STEADY = 0.0015
"""Change of speed over `STEADY_S`, over synchronous speed, below which it is settled."""
STEADY_S = 0.1
STANDSTILL = 0.03
"""Share of synchronous speed below which a machine stands, humming."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a machine in a run.

    `runs_up` is None where the run ended too soon to tell. `time_s` counts from the closing of its
    contactor. `asked_nm` is what its load asks (friction and breaking away included) at the speed
    where it stalls; None where it does not.
    """

    machine: str
    runs_up: bool | None
    code: Code
    words: str
    end_speed_rpm: float
    closed_s: float | None = None
    time_s: float | None = None
    asked_nm: float | None = None


def outcome(waves: Waves, of: int) -> Outcome:
    """What became of machine `of` (its place in the course) since its contactor closed."""
    starter = waves.course.starters[of]
    closed = closed_s(waves, of)
    if closed is None:
        return _never(waves, starter)
    opened = opened_s(waves, of)
    first, last = half_of(waves, closed), len(waves.time_s)
    if opened is not None:
        last = max(half_of(waves, opened), first + 1)
    told = _of_speeds(waves, starter, waves.speed_rad_s[first:last, of], closed)
    if opened is None:
        return told
    words = f"{starter.machine.name} was switched off after {opened - closed:.2g} s. {told.words}"
    return Outcome(
        told.machine, told.runs_up, "switched_off", words, told.end_speed_rpm, closed,
        told.time_s, told.asked_nm,
    )  # fmt: skip


def outcomes(waves: Waves) -> tuple[Outcome, ...]:
    """What became of every machine, in the order of the course."""
    return tuple(outcome(waves, of) for of in range(len(waves.course.starters)))


def asked_nm(starter: Starter, speed_rad_s: float) -> float:
    """What load, friction and breaking away ask at a speed [N m], against the own direction.

    At rest a constant load is asked in full: that is what it stands against.
    """
    law = _law_nm(starter.machine.load, speed_rad_s)
    friction = float(friction_torque_nm(starter.machine.circuit, np.array(speed_rad_s)))
    fades = max(0.0, 1.0 - 0.1 * abs(speed_rad_s))
    more = max(0.0, starter.breakaway_nm - abs(law)) * fades
    return law + friction + math.copysign(more, speed_rad_s)


def _law_nm(load: LoadLaw, speed: float) -> float:
    turned = speed / load.speed_rad_s
    if load.kind == "constant":
        return math.copysign(load.torque_nm, speed)
    if load.kind == "fan":
        return load.torque_nm * turned * abs(turned)
    return load.torque_nm * turned if load.kind == "viscous" else 0.0


def _of_speeds(waves: Waves, starter: Starter, speeds: Floats, closed: float) -> Outcome:
    """The outcome from the half-cycle speeds since the contactor closed."""
    name, circuit = starter.machine.name, starter.machine.circuit
    hertz = waves.course.source.frequency_hz
    synchronous = 4.0 * math.pi * hertz / circuit.poles
    pull_out = _breakdown_rad_s(circuit, hertz)
    step, end = half_s(waves), float(at_the_end(speeds))
    rpm = end * 30.0 / math.pi
    drift = _drift(speeds, step) / synchronous
    up = end >= pull_out and (abs(drift) <= STEADY or end >= NEAR_SYNCHRONOUS * synchronous)
    if up:
        wanted = max(pull_out, NEAR_END * end)
        if starter.speed_rad_s >= wanted and closed == 0.0 and speeds.min() >= wanted:
            words = f"{name} was running and keeps running, at {rpm:.0f} rpm."
            return Outcome(name, True, "keeps_running", words, rpm, closed, 0.0)
        time_s = (int(np.argmax(speeds >= wanted)) + 1) * step
        still = "" if abs(drift) <= STEADY else " (not quite settled when the run ended)"
        words = f"{name} runs up in {time_s:.2g} s, to {rpm:.0f} rpm{still}."
        return Outcome(name, True, "runs_up", words, rpm, closed, time_s)
    if end < -STANDSTILL * synchronous:
        words = f"{name} is pulled backwards: {-rpm:.0f} rpm against its direction."
        return Outcome(name, False, "runs_backwards", words, rpm, closed)
    if speeds.max() >= pull_out and end < pull_out:
        return _pulled_down(waves, starter, speeds, closed, pull_out, rpm)
    if drift > STEADY:
        words = (
            f"{name} was still speeding up, at {rpm:.0f} rpm, when the run ended after "
            f"{end_s(waves) - closed:.2g} s: whether it gets there was not seen."
        )
        return Outcome(name, None, "still_speeding_up", words, rpm, closed)
    against = asked_nm(starter, max(end, 0.0))
    if end < STANDSTILL * synchronous:
        words = f"{name} does not turn: it hums against {against:.2g} N m, with locked-rotor amps."
        return Outcome(name, False, "stands_still", words, rpm, closed, None, against)
    words = (
        f"{name} stalls at {rpm:.0f} rpm against {against:.2g} N m and stays there, growing hot."
    )
    return Outcome(name, False, "stalls", words, rpm, closed, None, against)


def _pulled_down(
    waves: Waves, starter: Starter, speeds: Floats, closed: float, pull_out: float, rpm: float
) -> Outcome:
    """It ran and does not any more: since when, and what had been switched last before."""
    name = starter.machine.name
    at_s = closed + float(np.flatnonzero(speeds >= pull_out)[-1] + 1) * half_s(waves)
    before = [each for each in instants(waves) if closed < each.at_s <= at_s]
    by = f" after {before[-1].machine} was switched on" if before and before[-1].machine else ""
    words = f"{name} ran and was pulled down{by}: at {at_s:.2g} s, to {rpm:.0f} rpm."
    return Outcome(name, False, "pulled_down", words, rpm, closed)


def _never(waves: Waves, starter: Starter) -> Outcome:
    of = waves.course.starters.index(starter)
    rpm = float(at_the_end(waves.speed_rad_s[:, of])) * 30.0 / math.pi
    words = f"The contactor of {starter.machine.name} never closed in this run."
    return Outcome(starter.machine.name, False, "never_closed", words, rpm)


def _drift(speeds: Floats, step_s: float) -> float:
    """Change of the mean speed over `STEADY_S` at the end [rad/s]; of what there is if less."""
    back = max(1, round(STEADY_S / step_s))
    earlier = speeds[: len(speeds) - back]
    if earlier.size == 0:
        return float(speeds[-1] - speeds[0]) if speeds.size > 1 else math.inf
    return float(at_the_end(speeds) - at_the_end(earlier))


@lru_cache(maxsize=256)
def _breakdown_rad_s(circuit: Circuit, hertz: float) -> float:
    volts = circuit.line_voltage_v * hertz / circuit.frequency_hz
    return breakdown(circuit, volts, hertz).speed_rpm * math.pi / 30.0
