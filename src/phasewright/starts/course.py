"""What is run in time, as data: supply, capacitors, start branch, machines with their instants.

A `Course` says everything there is to know of one run, so that the same course gives the same
waves; nothing in it is computed.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from phasewright.network.supply import Source
from phasewright.running.network import Between, Connected

DropRule = Literal["never", "speed", "time", "volts"]
FOREVER = 1e9
"""An instant that never comes [s]."""
WHEN_SETTLED = -1.0
"""In place of an instant: as soon as all that was switched before has settled."""
WITH_THE_LAST = -2.0
"""In place of an instant: together with the machine before it, which waits."""


@dataclass(frozen=True, slots=True)
class Starter:
    """A machine with what only time needs: all inertia at its shaft, when its contactor closes
    and opens, how fast it turns to begin with (a pony motor, or running already), and the torque
    its load takes to break away where that is more than its law says.

    `closes_s` may be `WHEN_SETTLED`: at the first half cycle's end, plus `point_on_wave` of a half
    cycle, after all before it has settled; several such machines close in their order. Or
    `WITH_THE_LAST`: by the same event as the machine before it.
    `travelling_f` are capacitors across the lines that its contactor switches with it.
    `releases_below_v` is where its contactor, its coil on lines 1 and 2, lets go for good
    (undervoltage release): rms volts seen through a lag of 20 ms, 0 for a contactor that holds.
    """

    machine: Connected
    inertia_kg_m2: float
    closes_s: float = 0.0
    opens_s: float = FOREVER
    speed_rad_s: float = 0.0
    breakaway_nm: float = 0.0
    point_on_wave: float = 0.0
    travelling_f: Between = field(default_factory=Between)
    releases_below_v: float = 0.0


@dataclass(frozen=True, slots=True)
class LoadStep:
    """From an instant on the load of a machine asks `share` times what its law says."""

    machine: str
    at_s: float
    share: float


@dataclass(frozen=True, slots=True)
class Drop:
    """When the start branch opens: at a share of synchronous speed of the machine `of`, at a time
    [s], or at an rms voltage across 3-1 [V] seen through a lag of 20 ms."""

    rule: DropRule = "never"
    at: float = 0.0
    of: str = ""


@dataclass(frozen=True, slots=True)
class StartBranch:
    """Start capacitor with its series resistance across 3-1, and the bleeder beside it."""

    capacitance_f: float
    resistance_ohm: float = 0.5
    bleeder_ohm: float | None = None
    drop: Drop = field(default_factory=Drop)
    joins_s: float = 0.0


@dataclass(frozen=True, slots=True)
class StartResistor:
    """A resistor ahead of everything, bridged by a contactor at `bypass_s`, which may be
    `WHEN_SETTLED`: at the first settling, before any machine that waits for one."""

    ohm: float
    bypass_s: float


@dataclass(frozen=True, slots=True)
class Course:
    """One run of a three-line network from rest of all currents.

    The source is e = sqrt(2) E sin(w t + phase), between lines 1 and 2. With `three_lines` it is a
    symmetrical one: E between every two of lines 1, 2, 3, in that order, each line behind half of
    the loop's impedance. `lost_s` is when the supply is lost (the
    contactor opens at the next zero of its current), `returns_s` when it is back. With
    `stops_when_settled` the run ends, `seconds` at the latest, when nothing is left to be switched
    and all has settled.
    """

    source: Source
    capacitance_f: Between
    starters: tuple[Starter, ...]
    seconds: float
    three_lines: bool = False
    start: StartBranch | None = None
    resistor: StartResistor | None = None
    conductance_s: Between = field(default_factory=Between)
    phase_rad: float = 0.0
    lost_s: float = FOREVER
    returns_s: float = FOREVER
    load_steps: tuple[LoadStep, ...] = ()
    stops_when_settled: bool = False
    steps_per_cycle: int = 100
