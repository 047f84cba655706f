"""An electronic three-phase source of one size: what it takes for what it gives, and bears.

Two conversions behind each other: its input goes to a link, its link makes three equal lines.
The loss is its standby and a part in proportion to the output, together the table's efficiency
at rated output. Its front end draws a sine in phase with the volts; what a plain rectifier in
its place would draw is told beside it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

from phasewright.circuits.fault_source import FaultSource, of_electronics
from phasewright.electronics.rectifier import Bridge, settle_bridge
from phasewright.network.supply import Source
from phasewright.quantities.errors import NotComputable
from phasewright.tables.published import table
from phasewright.tables.shared_sources import (
    electronic_efficiency,
    electronic_input_distortion,
    electronic_output_v,
    electronic_output_va,
    electronic_short_time,
    electronic_standby_w,
)
from phasewright.ways.balanced import (
    Balanced,
    draw_at,
    greatest_a,
    greatest_draw,
    lines_of,
    motors_on,
    total_draw,
)
from phasewright.ways.line_start import (
    FEW_S,
    LineStart,
    Seen,
    as_linked,
    followed,
    line_starts,
    start_amps,
    time_words,
)
from phasewright.ways.on_converter import deepest_dip, start_refusals
from phasewright.ways.rectified import draw_on_equal_lines, rectifiers_of
from phasewright.ways.shared_source import Feeders, Turning, softest
from phasewright.ways.way import Draw, Task

NOTHING = Draw()


@dataclass(frozen=True, slots=True)
class ElectronicSource:
    """One that is sold for motors of `rating_w` together, on this supply; makes its volts.

    `surge_a` is what a generator or inverter ahead of it gives for a while, where one is told;
    `feeders` lie behind it where motors stand in several places (see `softest`). In warm or thin
    air it gives `air_share` of its amps.
    """

    source: Source
    rating_w: float
    surge_a: float | None = None
    feeders: Feeders = ()
    air_share: float = 1.0

    @property
    def line_voltage_v(self) -> float:
        """Volts between its lines; raises TableEnds for a supply outside its class."""
        return electronic_output_v(self.source.voltage_v)

    @property
    def frequency_hz(self) -> float:
        """Frequency of its lines: the supply's."""
        return self.source.frequency_hz

    @property
    def output_a(self) -> float:
        """Rated output current."""
        return (
            self.air_share
            * electronic_output_va(self.rating_w)
            / (math.sqrt(3.0) * self.line_voltage_v)
        )

    @property
    def short_time_a(self) -> float:
        """Output current it is taken to give for the seconds of a motor's start."""
        return self.output_a * electronic_short_time().number

    def fault_source(self, name: str) -> FaultSource:
        """What it gives into a fault behind it."""
        return of_electronics(
            name, self.line_voltage_v, self.output_a, electronic_short_time(), isolates=False
        )

    def takes(self, output: Draw, efficiency: float | None = None) -> Draw:
        """What it takes from lines 1 and 2 for an output of so many watts."""
        share = electronic_efficiency().number if efficiency is None else efficiency
        standby = electronic_standby_w().number
        rated = electronic_output_va(self.rating_w)
        losses = max(rated * (1.0 / share - 1.0) - standby, 0.0) / rated
        watts = output.power_w * (1.0 + losses) + standby
        amps = watts / self.source.voltage_v
        return Draw(watts, 0.0, electronic_input_distortion().number * amps)

    def start_dip(self, output: Draw) -> tuple[float, float]:
        """(amps from the supply, its dip) while it gives this for a start, drawn in phase."""
        amps = self.takes(output).power_w / self.source.voltage_v
        across = amps * self.source.reactance_ohm / self.source.voltage_v
        if across >= 1.0:
            return amps, 1.0
        along = amps * self.source.resistance_ohm / self.source.voltage_v
        return amps, min(1.0, 1.0 - math.sqrt(1.0 - across * across) + along)

    @property
    def lines(self) -> Source:
        """Its three lines: its volts stand as long as it gives the amps that are asked."""
        return Source(self.line_voltage_v, 0.0, 0.0, self.frequency_hz)

    def straight_on(self, one: Balanced) -> Draw:
        """The greatest that all three lines give while it starts straight on, a mean over a cycle.

        The source's front end sees watts only.
        """
        return Draw(line_starts(self.lines, as_linked(one)).usual.greatest_w)

    def starts_straight_on(self, task: Task, one: Balanced) -> bool:
        """Whether its start can be followed in time: by the source's ramp it is not."""
        return followed(task) and self.against_direct(one) == ""

    def seen(self, start: LineStart) -> Seen:
        """What the supply sees of a start."""
        amps, dip = self.start_dip(Draw(start.greatest_w))
        return Seen(math.sqrt(2.0) * amps, dip)

    def against_direct(self, one: Balanced, beside: Draw = NOTHING) -> str:
        """Why the motor must not start straight on, with nothing else or with what takes `beside`
        running; empty where it may."""
        amps, dip = self.start_dip(beside.with_other(self.straight_on(one)))
        if one.start.current_a > self.short_time_a:
            return (
                f"straight on it takes {one.start.current_a:.0f} A at standstill, and a source of "
                f"{self.rating_w / 1000.0:g} kW gives about {self.short_time_a:.0f} A for a few "
                "seconds"
            )
        starts = line_starts(self.lines, as_linked(one)).usual.brief
        straight = one.motor.kind != "slip_ring"
        if straight and start_refusals(as_linked(one), starts):
            return f"straight on, computed in time, {starts.outcome.words[:-1]}"
        if straight and one.start.current_a > self.output_a and starts.seconds > FEW_S:
            return (
                f"straight on its start takes {time_words(starts)}, and a source of "
                f"{self.rating_w / 1000.0:g} kW gives more than its rated {self.output_a:.1f} A "
                "for a few seconds only"
            )
        if dip > deepest_dip():
            return (
                f"straight on its start pulls the supply down by {dip:.0%}, and a contactor needs "
                f"{1.0 - deepest_dip():.0%} of its volts to pull in"
            )
        if self.surge_a is not None and amps > self.surge_a:
            return (
                f"straight on its start takes {amps:.0f} A from a supply that gives "
                f"{self.surge_a:.1f} A for a while"
            )
        return ""

    def __call__(self, tasks: tuple[Task, ...]) -> Turning | None:
        """Several motors on it, one at its highest load; None where one does not run."""
        behind = softest(self.source, self.feeders, tasks)
        if behind != self.source:
            return replace(self, source=behind, feeders=())(tasks)
        motors = motors_on(tasks, self.line_voltage_v, self.source.frequency_hz)
        if motors is None:
            return None
        usual = total_draw([one.typical for one in motors])
        by_ramp = [
            amps > self.short_time_a
            or self.against_direct(one, usual.without(draw_at(one.typical))) != ""
            for one, amps in zip(motors, start_amps(tasks, motors), strict=True)
        ]
        draw, amps = greatest_draw(motors), greatest_a(motors)
        rectifier = rectifiers_of(tasks, self.line_voltage_v)
        if rectifier is not None:
            taken = draw_on_equal_lines(self.source, self.line_voltage_v, rectifier)
            if taken is None:
                return None
            draw = draw.with_other(taken)
            amps += taken.current_a(self.line_voltage_v)
        # one may be first, by the ramp with nothing else on; the others follow straight on
        stands = amps <= self.output_a and sum(by_ramp) <= 1
        return Turning(self.takes(draw), lines_of(motors), stands)


@lru_cache(maxsize=2048)
def plain_input_a(source: Source, rating_w: float, watts: float) -> float | None:
    """Amps of a plain rectifier that takes so many watts, from its settled wave; None where the
    supply cannot give them through it."""
    of = table("drives", "link")
    link_f = of.number("typical_uf_per_kw") * 1e-6 * rating_w / 1000.0
    try:
        return settle_bridge(Bridge(source, link_f, link_power_w=watts)).current_a
    except NotComputable:
        return None
