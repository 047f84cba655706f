"""A battery inverter of one size with a battery of one size: what it bears, gives and takes.

Its three lines come from the battery; the supply only fills that, with the charger's power
whatever turns. Losses: the energy of the three lines and of the inverter's own standby over the
round trip, of which half (its square root) is taken to be lost on the way in, half on the way out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from phasewright.circuits.fault_source import FaultSource, of_electronics
from phasewright.machines.performance import Operation
from phasewright.network.supply import Source
from phasewright.quantities.codes import Region
from phasewright.tables.own_sources import (
    battery_output_va,
    battery_round_trip,
    battery_short_time,
    battery_standby_w,
    battery_usable,
    own_line_v,
    recharge_hours,
    session_hours,
)
from phasewright.tables.shared_sources import electronic_input_distortion
from phasewright.ways.balanced import (
    Balanced,
    greatest_a,
    lines_of,
    motors_on,
)
from phasewright.ways.line_start import LineStart, Seen, followed, start_amps
from phasewright.ways.shared_source import Turning
from phasewright.ways.way import Draw, Task

DAYS_PER_YEAR = 365.25


@dataclass(frozen=True, slots=True)
class BatteryInverter:
    """One sold by `rating_w` with a battery of `battery_kwh`, charged from this supply.

    `room_a` is what the supply has left for the charger.
    """

    source: Source
    region: Region
    rating_w: float
    battery_kwh: float
    room_a: float

    @property
    def line_voltage_v(self) -> float:
        """Volts between its lines, held whatever the supply does."""
        return own_line_v(self.region)

    @property
    def frequency_hz(self) -> float:
        """Frequency of its lines: the supply's."""
        return self.source.frequency_hz

    @property
    def lines(self) -> Source:
        """Its three lines: its volts stand as long as it gives the amps that are asked."""
        return Source(self.line_voltage_v, 0.0, 0.0, self.frequency_hz)

    def starts_straight_on(self, task: Task, one: Balanced) -> bool:
        """Whether a motor's start can be followed in time."""
        return followed(task)

    def seen(self, start: LineStart) -> Seen:
        """What the supply sees of a start: its charger, as before, and no fall beyond that."""
        return Seen(math.sqrt(2.0) * self.charger.current_a(self.source.voltage_v), 0.0)

    @property
    def output_a(self) -> float:
        """Lasting current of a line."""
        return battery_output_va(self.rating_w) / (math.sqrt(3.0) * self.line_voltage_v)

    @property
    def short_time_a(self) -> float:
        """Current of a line that it is taken to give for the seconds of a motor's start."""
        return self.output_a * battery_short_time().number

    def fault_source(self, name: str) -> FaultSource:
        """What it gives into a fault behind it."""
        return of_electronics(
            name, self.line_voltage_v, self.output_a, battery_short_time(), isolates=True
        )

    @property
    def stored_wh(self) -> float:
        """What a filling gives the inverter."""
        return 1000.0 * battery_usable().number * self.battery_kwh

    @property
    def idle_w(self) -> float:
        """What it takes from the supply, as a mean, while nothing turns [W]."""
        return self.taken_w(battery_standby_w().number)

    @property
    def most_kwh_per_year(self) -> float:
        """Energy from the supply for one filling a day [kWh a year]."""
        filling = self.stored_wh / math.sqrt(battery_round_trip().number)
        return DAYS_PER_YEAR * filling / 1000.0

    @property
    def fills_in_h(self) -> float:
        """Hours its charger is set to fill the battery in; more on a supply with little room."""
        usual, slow = recharge_hours().number, recharge_hours().high
        return usual if self._drawn(usual).current_a(self.source.voltage_v) <= self.room_a else slow

    @property
    def charger_w(self) -> float:
        """Power its charger is set to."""
        return self.charger.power_w

    @property
    def charger(self) -> Draw:
        """What the charger takes from lines 1 and 2: a sine in phase with the volts."""
        return self._drawn(self.fills_in_h)

    @property
    def charger_dip(self) -> float:
        """Fall of the supply's volts when the charger begins; nothing of a start gets there."""
        return self.charger_w / self.source.voltage_v**2 * self.source.resistance_ohm

    def _drawn(self, hours: float) -> Draw:
        """What a charger takes that fills the battery in so many hours, standby with it."""
        filling = self.stored_wh / math.sqrt(battery_round_trip().number)
        watts = filling / hours + self.idle_w
        amps = watts / self.source.voltage_v
        return Draw(watts, 0.0, electronic_input_distortion().number * amps)

    def taken_w(self, delivered_w: float) -> float:
        """What the supply gives, as a mean, for so many watts on the three lines."""
        return delivered_w / battery_round_trip().number

    def efficiency_at(self, point: Operation) -> float:
        """Shaft power of a motor over what the supply gives for it, as a mean, standby with it."""
        return point.shaft_power_w / (self.taken_w(point.input_power_w) + self.idle_w)

    def session_wh(self, motors: list[Balanced]) -> float:
        """What a session of these motors together takes out of the battery."""
        given = sum(mean_w(one) for one in motors) + battery_standby_w().number
        return session_hours().number * given / math.sqrt(battery_round_trip().number)

    def __call__(self, tasks: tuple[Task, ...]) -> Turning | None:
        """Several motors on it, one at its highest load; None where one does not run."""
        motors = motors_on(tasks, self.line_voltage_v, self.frequency_hz)
        if motors is None:
            return None
        stands = (
            greatest_a(motors) <= self.output_a
            and max(start_amps(tasks, motors)) <= self.short_time_a
            and self.session_wh(motors) <= self.stored_wh
        )
        return Turning(self.charger, lines_of(motors), stands)


def mean_w(one: Balanced) -> float:
    """What a motor takes as a mean over its duty, at its usual load."""
    duty = one.load.duty.number
    return duty * one.typical.input_power_w + (1.0 - duty) * one.unloaded.input_power_w
