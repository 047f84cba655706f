"""What a plan does to the network, as the result file tells it; field names are the file's."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.quantities.value import Value
from phasewright.ways.figures import Range


@dataclass(frozen=True, slots=True)
class StartEffect:
    """What one motor's start does to the volts, fractions of them.

    `change_at_intake` is seen by neighbours and by lights fed from there, `change_in_place` by
    lights on the same feeder as the motor, `change_on_reference` would be on the reference supply
    of IEC 60725. `starting_current_a` is drawn from the supply.
    """

    motor: str
    starts_per_hour: Value
    starting_current_a: Value | None
    change_at_intake: Value
    change_in_place: Value
    change_on_reference: Value | None


@dataclass(frozen=True, slots=True)
class NetworkEffects:
    """Starts that are not softened, and the severity of flicker they make together: the short-term
    one of ten minutes and the long-term one of two hours.

    1 is where most people are disturbed. Low: the volts come back slowly and starts are spread
    evenly; high: they come back at once, and the worst start falls into the ten minutes (of the
    long-term severity: into the two hours).
    """

    starts: tuple[StartEffect, ...]
    flicker_at_intake: Range
    flicker_in_place: Range
    long_flicker_at_intake: Range
    long_flicker_in_place: Range
