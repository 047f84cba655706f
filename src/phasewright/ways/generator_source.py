"""A three-phase generator of one size: what it bears, how far a start pulls it down, what it burns.

Behind its transient reactance its voltage stands still while a motor starts: at the instant the
motor closes, the terminals fall by what the start draws through that reactance (P. Kundur, Power
System Stability and Control, ch. 3 and 5; from memory). What its regulator makes good afterwards
is left out, which is never too little. Fuel: a straight line over the power given (the Willans
line, from memory), told as the power that would burn as much without the part for running empty.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from phasewright.circuits.fault_source import FaultSource, of_generator
from phasewright.machines.performance import Operation
from phasewright.network.supply import Source
from phasewright.quantities.codes import Region
from phasewright.tables.own_sources import (
    generator_reactance,
    generator_resistance,
    generator_subtransient,
    generator_sustained,
    generator_va,
    generator_zero_sequence,
    litres_per_kwh,
    no_load_share,
    own_line_v,
)
from phasewright.tables.published import table
from phasewright.ways.balanced import Balanced, greatest_a, greatest_draw, lines_of, motors_on
from phasewright.ways.line_start import LineStart, Seen, all_run_up, followed, pairs_of
from phasewright.ways.shared_source import Turning
from phasewright.ways.way import Draw, Task

FROM_SUPPLY = Draw()
"""What a generator and all that hangs on it take from the supply: nothing."""


def deepest_hold() -> float:
    """Dip beyond which a contactor that is closed may let go (IEC 60947-4-1)."""
    return 1.0 - table("limits", "coils").number("drop_out_high")


@dataclass(frozen=True, slots=True)
class Generator:
    """One sold by `rating_w`, running at the frequency of the place."""

    region: Region
    frequency_hz: float
    rating_w: float

    @property
    def line_voltage_v(self) -> float:
        """Volts between its lines, held by its regulator."""
        return own_line_v(self.region)

    @property
    def lines(self) -> Source:
        """Its three lines, each behind its transient impedance."""
        line = complex(generator_resistance(), generator_reactance().number) * self._ohms
        return Source(self.line_voltage_v, 2.0 * line.real, 2.0 * line.imag, self.frequency_hz)

    def starts_straight_on(self, task: Task, one: Balanced) -> bool:
        """Whether a motor's start can be followed in time."""
        return followed(task)

    def seen(self, start: LineStart) -> Seen:
        """What the supply sees of a start: nothing."""
        return Seen(0.0, 0.0)

    @property
    def _ohms(self) -> float:
        """Volts squared per rated VA."""
        return self.line_voltage_v**2 / generator_va(self.rating_w)

    @property
    def output_a(self) -> float:
        """Rated current of a line."""
        return generator_va(self.rating_w) / (math.sqrt(3.0) * self.line_voltage_v)

    def fault_source(self, name: str) -> FaultSource:
        """What it gives into a fault behind it."""
        return of_generator(
            name, self.line_voltage_v, self.output_a, generator_resistance(),
            generator_subtransient(), generator_zero_sequence(), generator_sustained(),
        )  # fmt: skip

    @property
    def empty_w(self) -> float:
        """What it burns running empty, as power given."""
        return no_load_share().number * self.rating_w

    def burnt_w(self, given_w: float) -> float:
        """What it burns while it gives so many watts, as power given; never less than empty."""
        return given_w + self.empty_w

    def litres_per_h(self, given_w: float) -> float:
        """Fuel an hour while it gives so many watts."""
        return self.burnt_w(given_w) / 1000.0 * litres_per_kwh().number

    def start_dips(self, motors: list[Balanced], reactance: float | None = None) -> list[float]:
        """Fall of its volts at the start of each motor while the others work, a fraction.

        `reactance` is the transient one over volts squared per rated VA.
        """
        share = generator_reactance().number if reactance is None else reactance
        behind = complex(generator_resistance(), share) * self._ohms
        working = [self._siemens(one.typical) for one in motors]
        dips = []
        for one, mine in zip(motors, working, strict=True):
            before = 1.0 + behind * (sum(working) - mine)
            after = before + behind * self._siemens(one.start)
            dips.append(1.0 - abs(before / after))
        return dips

    def _siemens(self, point: Operation) -> complex:
        """What a motor at this point is to one phase of the star."""
        return complex(point.input_power_w, -point.reactive_power_var) / self.line_voltage_v**2

    def bears(self, motors: list[Balanced]) -> bool:
        """Whether it gives them their watts and amps lastingly."""
        return (
            greatest_a(motors) <= self.output_a
            and greatest_draw(motors).power_w <= self.rating_w
        )  # fmt: skip

    def __call__(self, tasks: tuple[Task, ...]) -> Turning | None:
        """Several motors on it, one at its highest load; None where one does not run."""
        motors = motors_on(tasks, self.line_voltage_v, self.frequency_hz)
        if motors is None:
            return None
        stands = (
            self.bears(motors)
            and max(self.start_dips(motors)) <= deepest_hold()
            and all_run_up(self.lines, pairs_of(tasks, motors))
        )
        return Turning(FROM_SUPPLY, lines_of(motors), stands)
