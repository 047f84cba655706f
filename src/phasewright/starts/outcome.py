"""Whether a machine runs up in a run, how long it takes, and why not.

It has run up once it turns faster than its breakdown speed (at balanced volts: beyond it a slower
motor pulls harder) and within 5 % of the speed it ends at, and either that speed no longer changes
or it lies above 93 % of synchronous. Everything is judged on means over half cycles.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from phasewright.machines.circuit import Circuit
from phasewright.machines.performance import curve
from phasewright.network.supply import Source
from phasewright.running.rows import COLUMNS, machine_row
from phasewright.starts import layout
from phasewright.starts.course import Starter
from phasewright.starts.halves import at_the_end, end_s, half_of, half_s
from phasewright.starts.instants import instants, load_share, opened_s
from phasewright.starts.machine import load_torque
from phasewright.starts.waves import Waves

Floats = NDArray[np.float64]
Code = Literal[
    "runs_up", "keeps_running", "not_settled", "stands_still", "stalls", "runs_backwards",
    "pulled_down", "never_closed", "switched_off", "let_go",
]  # fmt: skip

NEAR_END = 0.95
"""Share of the speed it ends at from which a machine counts as run up."""
NEAR_SYNCHRONOUS = 0.93
"""Share of synchronous speed from which it counts so even while its speed still changes."""
STEADY = 2e-4
"""Change of speed over `STEADY_S`, over synchronous speed, below which it is settled: slower than
any run-up that a motor lives through."""
STEADY_S = 0.1
SLIPS = np.geomspace(1e-3, 1.0, 70)
"""Slips among which that of breakdown is looked for: each a tenth above the one before."""
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
    closed = waves.closed_s[of]
    name = waves.course.starters[of].machine.name
    if closed is None:
        rpm = float(at_the_end(waves.speed_rad_s[:, of])) * 30.0 / math.pi
        words = f"The contactor of {name} never closed in this run."
        return Outcome(name, False, "never_closed", words, rpm)
    opened = opened_s(waves, of)
    first, last = half_of(waves, closed), len(waves.time_s)
    if opened is not None:
        last = max(half_of(waves, opened), first + 1)
    speeds = waves.speed_rad_s[first:last, of]
    told = _Run(waves, of, closed, speeds, to_the_end=opened is None).outcome()
    if opened is None:
        return told
    after = f"after {opened - closed:.2g} s"
    if waves.released_s[of] is None:
        return replace(
            told, code="switched_off", words=f"{name} was switched off {after}. {told.words}"
        )
    words = f"The contactor of {name} let go {after}, for want of volts; it stays out. {told.words}"
    return replace(told, runs_up=False, code="let_go", words=words)


def outcomes(waves: Waves) -> tuple[Outcome, ...]:
    """What became of every machine, in the order of the course."""
    return tuple(outcome(waves, of) for of in range(len(waves.course.starters)))


def asked_nm(starter: Starter, source: Source, speed_rad_s: float, share: float = 1.0) -> float:
    """What load (`share` of its law), friction and breaking away ask at a speed [N m].

    Below one radian a second: what it has to break away from, the law of the run fading there.
    """
    row = np.zeros((1, layout.ROW))
    row[0, :COLUMNS] = machine_row(starter.machine, source)
    row[0, layout.BREAKAWAY] = starter.breakaway_nm
    asked = float(load_torque(row, 0, share, max(speed_rad_s, 1.0)))
    return asked if speed_rad_s >= 1.0 else max(asked, starter.breakaway_nm)


@dataclass(frozen=True, slots=True)
class _Run:
    """One machine's half-cycle speeds [rad/s] while its contactor was closed."""

    waves: Waves
    of: int
    closed: float
    speeds: Floats
    to_the_end: bool

    def outcome(self) -> Outcome:
        """Judged by where it ends, then by how it came there."""
        starter, source = self.waves.course.starters[self.of], self.waves.course.source
        synchronous = 4.0 * math.pi * source.frequency_hz / starter.machine.circuit.poles
        pull_out = breakdown_rad_s(starter.machine.circuit, source.frequency_hz)
        end = float(at_the_end(self.speeds))
        drift = self._drift() / synchronous
        settled = abs(drift) <= STEADY or (self.to_the_end and self.waves.settled_s is not None)
        if end >= pull_out and (settled or end >= NEAR_SYNCHRONOUS * synchronous):
            return self._up(starter, pull_out, end, settled)
        name, rpm = starter.machine.name, end * 30.0 / math.pi
        if end < -STANDSTILL * synchronous:
            words = f"{name} is pulled backwards: {-rpm:.0f} rpm against its direction."
            return self._failed("runs_backwards", words, rpm)
        if float(self.speeds.max()) >= pull_out > end:
            return self._pulled_down(name, pull_out, rpm)
        if not settled:
            seen_s, way = (
                self.speeds.size * half_s(self.waves),
                "speeding up" if drift > 0.0 else "slowing down",
            )
            words = (
                f"{name} was still {way}, at {rpm:.0f} rpm, {seen_s:.2g} s after it was "
                "switched on, when it was seen last: where it ends was not computed."
            )
            return Outcome(name, None, "not_settled", words, rpm, self.closed)
        share = load_share(self.waves, self.of, end_s(self.waves))
        against = asked_nm(starter, source, max(end, 0.0), share)
        if end < STANDSTILL * synchronous:
            words = f"{name} does not turn: it hums against {against:.2g} N m, growing hot."
            return self._failed("stands_still", words, rpm, against)
        words = f"{name} stalls at {rpm:.0f} rpm against {against:.2g} N m, growing hot."
        return self._failed("stalls", words, rpm, against)

    def _up(self, starter: Starter, pull_out: float, end: float, settled: bool) -> Outcome:
        name, rpm, step = starter.machine.name, end * 30.0 / math.pi, half_s(self.waves)
        if starter.speed_rad_s >= pull_out and float(self.speeds.min()) >= pull_out:
            words = f"{name} was turning already and keeps running, at {rpm:.0f} rpm."
            return Outcome(name, True, "keeps_running", words, rpm, self.closed, 0.0)
        wanted = max(pull_out, NEAR_END * end)
        time_s = _passes_s(self.speeds, wanted, step)
        still = "" if settled else " (not quite settled when the run ended)"
        words = f"{name} runs up in {time_s:.2g} s, to {rpm:.0f} rpm{still}."
        return Outcome(name, True, "runs_up", words, rpm, self.closed, time_s)

    def _pulled_down(self, name: str, pull_out: float, rpm: float) -> Outcome:
        """It ran and does not any more: since when, and what had been switched on last before."""
        fast = int(np.flatnonzero(self.speeds >= pull_out)[-1]) + 1
        at_s = self.closed + fast * half_s(self.waves)
        others = [
            each.machine
            for each in instants(self.waves)
            if each.what == "machine_on" and each.machine != name and each.at_s <= at_s
        ]
        by = f" after {others[-1]} was switched on" if others else ""
        words = f"{name} ran and was pulled down{by}: at {at_s:.2g} s, to {rpm:.0f} rpm."
        return self._failed("pulled_down", words, rpm)

    def _failed(self, code: Code, words: str, rpm: float, against: float | None = None) -> Outcome:
        name = self.waves.course.starters[self.of].machine.name
        return Outcome(name, False, code, words, rpm, self.closed, None, against)

    def _drift(self) -> float:
        """Change of the mean speed over `STEADY_S` [rad/s]; infinite where less was seen."""
        back = max(1, round(STEADY_S / half_s(self.waves)))
        earlier = self.speeds[: self.speeds.size - back]
        if earlier.size == 0:
            return math.inf
        return float(at_the_end(self.speeds) - at_the_end(earlier))


def _passes_s(speeds: Floats, wanted: float, step: float) -> float:
    """When the means of half cycles pass a speed: on a straight line between their middles [s]."""
    at = int(np.argmax(speeds >= wanted))
    if at == 0:
        return step
    part = float((wanted - speeds[at - 1]) / (speeds[at] - speeds[at - 1]))
    return (at - 0.5 + part) * step


@lru_cache(maxsize=2048)
def breakdown_rad_s(circuit: Circuit, hertz: float) -> float:
    """Breakdown speed at balanced volts of the plate's volts per hertz [rad/s]: the slip with most
    torque of those looked at, near enough to tell running from stalled."""
    volts = circuit.line_voltage_v * hertz / circuit.frequency_hz
    torque = curve(circuit, SLIPS, volts, hertz).airgap_torque_nm
    slip = float(SLIPS[int(np.argmax(torque))])
    return 4.0 * math.pi * hertz / circuit.poles * (1.0 - slip)
