"""How often a machine may be started in an hour: its windings and its start capacitor.

Windings: per hour no more copper and cage loss than at the rated point for ever, less while the
motor stands (its fan too). With P the loss at the rated point, p while it works, d the share of
the hour it works, c the cooling at rest over that at speed, E the heat of one start:

    n E + 3600 d p = 3600 P (d + c (1 - d))

Start capacitor: so many seconds an hour, never longer than so many at a time.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from phasewright.machines.performance import rated
from phasewright.quantities.errors import TableEnds, UsageError
from phasewright.starts.halves import at_the_end, end_s
from phasewright.starts.heat import StartHeat
from phasewright.starts.waves import Waves
from phasewright.tables.winding_heat import capacitor_starts_an_hour, standing_cooling

HOUR_S = 3600.0
Ruler = Literal["windings", "start_capacitor"]


@dataclass(frozen=True, slots=True)
class StartsAnHour:
    """Starts an hour that a machine bears, and what rules them.

    `windings_low` and `windings_high` by the band of cooling at rest; `capacitor` is None where it
    has none that this start uses, 0 where one start is longer than it is made for.
    """

    machine: str
    windings_low: float
    windings_high: float
    capacitor: float | None
    allowed: float
    ruled_by: Ruler
    words: str


def start_capacitor_on_s(waves: Waves) -> float | None:
    """How long the start capacitor was on [s], to the end where it stayed; None without one."""
    start = waves.course.start
    if start is None or start.joins_s >= end_s(waves):
        return None
    out = end_s(waves) if waves.dropped_s is None else waves.dropped_s
    return out - start.joins_s


def starts_an_hour(
    waves: Waves, of: int, heat: StartHeat, *, duty: float, capacitor_on_s: float | None = None,
    working_w: float | None = None,
) -> StartsAnHour | None:  # fmt: skip
    """Starts an hour of machine `of`, which works the share `duty` of the time.

    `working_w` is the loss in copper and cages while it works, None for that at the end of the run.
    `capacitor_on_s`: how long one start keeps the start capacitor on, None where it uses none. None
    where the machine does not run up.
    Raises UsageError for no share.
    """
    if not 0.0 <= duty <= 1.0:
        raise UsageError("the share of the time a machine works lies between 0 and 1")
    if heat.runs_up is not True:
        return None
    point = rated(waves.course.starters[of].machine.circuit)
    borne_w = point.stator_loss_w + point.rotor_loss_w
    if working_w is None:
        working_w = float(at_the_end(waves.stator_w[:, of] + waves.rotor_w[:, of]))
    low, high = (
        max(0.0, HOUR_S * (borne_w * (duty + c * (1.0 - duty)) - working_w * duty))
        / (heat.stator_j + heat.rotor_j)
        for c in standing_cooling()
    )
    of_capacitor = None if capacitor_on_s is None else _by_capacitor(capacitor_on_s)
    if of_capacitor is not None and of_capacitor < low:
        return _told(heat.machine, low, high, of_capacitor, of_capacitor, "start_capacitor")
    return _told(heat.machine, low, high, of_capacitor, low, "windings")


def _by_capacitor(on_s: float) -> float:
    try:
        return capacitor_starts_an_hour(on_s)
    except TableEnds:
        return 0.0


def _told(
    machine: str, low: float, high: float, capacitor: float | None, allowed: float, ruler: Ruler
) -> StartsAnHour:
    """The answer with its words."""
    if ruler == "windings" and high < 1.0:
        words = f"{machine}: less than one start an hour beside such work, by its windings."
    elif ruler == "windings":
        span = f"{int(low)}" if int(low) == int(high) else f"{int(low)} to {int(high)}"
        words = (
            f"{machine}: {span} starts an hour beside such work, by its "
            "windings and how well it cools standing."
        )
    elif allowed == 0.0:
        words = (
            f"{machine}: the start takes longer than a start capacitor is made for; it must come "
            "out sooner or the start be lightened."
        )
    else:
        words = f"{machine}: up to {int(allowed)} starts an hour, by the start capacitor."
    return StartsAnHour(machine, low, high, capacitor, allowed, ruler, words)
