"""A start that was run, as a plan lists it, whatever makes the lines it is run on."""

from __future__ import annotations

import math
from collections.abc import Sequence

from phasewright.plan.study import PlanStart, StartTrip
from phasewright.quantities.value import Value, figure
from phasewright.starts.brief import Brief
from phasewright.starts.trips import Trip
from phasewright.ways.starting_order import Pair

WHERE = "starts.waves.waves"


def start_told(
    one: Pair, before: Sequence[Pair], told: Brief, weakest: Brief, *,
    dip_ratio: float, peak_a: float, lines_v: float, trips: Sequence[Trip],
    inputs: dict[str, tuple[float, str]], how: str,
) -> PlanStart:  # fmt: skip
    """The start of `one` with what runs `before` or begins with it; `weakest` is the same with
    least torque, `dip_ratio` and `peak_a` what the supply sees, `trips` what was judged."""

    def out(number: float, unit: str) -> Value:
        return figure(number, unit, WHERE, inputs, how)

    def seconds(of: Brief) -> Value | None:
        return out(of.seconds, "s") if of.runs_up and math.isfinite(of.seconds) else None

    return PlanStart(
        motor=one[1].motor.id,
        method="direct",
        with_=tuple(other[1].motor.id for other in before),
        runs_up=told.runs_up,
        time_s=seconds(told),
        time_high_s=seconds(weakest),
        dip=out(dip_ratio, ""),
        supply_peak_a=out(peak_a, "A"),
        line3_lowest_v=out(told.lowest_ratio * lines_v, "V"),
        trips=tuple(
            StartTrip(each.device, each.kind, each.verdict, each.to_be_confirmed, each.words)
            for each in trips
            if each.verdict != "holds"
        ),
        words=told.outcome.words,
    )
