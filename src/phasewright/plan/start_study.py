"""What the result file says of starts beyond whether a motor runs up: of the answer's plan only."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from phasewright.quantities.codes import LoadKindName
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value
from phasewright.starts.heat import HeatVerdict
from phasewright.starts.starts_an_hour import Ruler
from phasewright.ways.figures import Range

Effect = Literal["helps", "hinders", "hardly_matters"]
WindingVerdict = HeatVerdict


@dataclass(frozen=True, slots=True)
class StartBeside:
    """A start with one other motor running at its usual load, against the same with nothing beside.

    `time_ratio` is the time over that with nothing beside, absent where one of both does not run
    up; `line3_change_v` the change of the lowest volts of lines 2-3 and 3-1 in the start, below
    zero where line 3 is dragged down.
    """

    motor: str
    runs_up: bool
    time_ratio: Value | None
    line3_change_v: Value
    effect: Effect
    words: str


@dataclass(frozen=True, slots=True)
class Span:
    """From the lowest to the highest credible."""

    low: Value
    high: Value


@dataclass(frozen=True, slots=True)
class StartsPerHour:
    """Starts an hour that a machine bears and what its owner asks.

    `windings` by the band of how well it cools at rest; `start_capacitor` absent where this start
    uses none, 0 where one start is longer than it is made for.
    """

    windings: Span
    start_capacitor: Value | None
    asked: Value
    ruled_by: Ruler
    words: str


@dataclass(frozen=True, slots=True)
class LargestStartSide:
    """The largest standard motor that starts on a converter with a kind of load, nothing beside; 0
    where not even the smallest does. `limited_by` is what bars the next size."""

    load: LoadKindName
    power_w: Value
    limited_by: Reason


@dataclass(frozen=True, slots=True)
class IdlerNotTurned:
    """The first idler switched on with nothing to turn it: amps at the end, and the seconds until
    its winding is too hot (absent where it runs up by its run capacitors)."""

    runs_up: bool
    supply_current_a: Value
    idler_current_a: Value
    too_hot_s: Range | None
    words: str


@dataclass(frozen=True, slots=True)
class TurnedBack:
    """A motor switched on to the lines of a converter that runs backwards; `speed_rpm` below zero:
    backwards, absent where it is not computed or does not follow the lines."""

    motor: str
    speed_rpm: Value | None
    harms: bool
    words: str


@dataclass(frozen=True, slots=True)
class WrongDirection:
    """A converter that is not brought up the right way, computed in time.

    `stays_backwards`: turned backwards when it is switched on it goes on so, with these
    `line_voltages_v`; `motors` are then switched on one at a time.
    """

    not_turned: IdlerNotTurned
    stays_backwards: bool
    idler_speed_rpm: Value
    line_voltages_v: tuple[Value, Value, Value]
    motors: tuple[TurnedBack, ...]
    words: str
