"""The figures of one motor on one battery inverter, each with the working that it came from."""

from __future__ import annotations

from phasewright.quantities.value import Value, exact, figure
from phasewright.tables.own_sources import battery_round_trip, battery_standby_w, battery_usable
from phasewright.tables.shared_sources import electronic_input_distortion
from phasewright.ways.balanced import Balanced
from phasewright.ways.balanced_figures import line_current, starting_torque, usable_power
from phasewright.ways.battery_source import BatteryInverter
from phasewright.ways.figures import Figures, Range
from phasewright.ways.line_start import LineStarts
from phasewright.ways.start_figures import line_start_figures

_OF = "ways.battery_source.BatteryInverter"


def figures_of(one: Balanced, of: BatteryInverter, starts: LineStarts | None = None) -> Figures:
    """What the motor gets, and what the supply gives for it: the charger's, whatever turns."""
    amps = _charged(of, of.charger.current_a(of.source.voltage_v), "A", "charger")
    return Figures(
        input_current_a=Range(amps.number, amps, amps.number),
        input_power_w=_charged(of, of.charger_w, "W", "charger_w"),
        input_power_factor=_charged(
            of, of.charger_w / (of.source.voltage_v * amps.number), "", "charger"
        ),
        usable_power_w=usable_power(one),
        starting_torque_ratio=starting_torque(one),
        starting_current_a=amps,
        voltage_dip_ratio=_dip(of),
        idle_power_w=_idle(of),
        output_current_a=line_current(one),
        efficiency=_efficiency(one, of),
        charger_power_w=_charged(of, of.charger_w, "W", "charger_w"),
        battery_kwh=exact(of.battery_kwh, "kWh", "assumed", "standard size that serves"),
        round_trip_efficiency=battery_round_trip(),
        starts=(
            None if starts is None else line_start_figures(of.lines, starts, of.seen(starts.usual))
        ),
    )


def _charged(of: BatteryInverter, number: float, unit: str, name: str) -> Value:
    trip, usable = battery_round_trip(), battery_usable()
    return figure(
        number, unit, f"{_OF}.{name}",
        {"battery": (of.battery_kwh, "kWh"), "share of it that is used": (usable.number, ""),
         "round trip": (trip.number, ""), "filled in": (of.fills_in_h, "h"),
         "standby": (battery_standby_w().number, "W"), "supply": (of.source.voltage_v, "V"),
         "distortion over the rest of the current": (electronic_input_distortion().number, "")},
        trip.source,
    )  # fmt: skip


def _dip(of: BatteryInverter) -> Value:
    source = of.source
    return figure(
        of.charger_dip, "", f"{_OF}.charger_dip",
        {"charger": (of.charger_w, "W"), "supply": (source.voltage_v, "V"),
         "resistance of the supply": (source.resistance_ohm, "ohm")}, "Ohm's law",
    )  # fmt: skip


def _idle(of: BatteryInverter) -> Value:
    standby, trip = battery_standby_w(), battery_round_trip()
    return figure(
        of.idle_w, "W", f"{_OF}.idle_w",
        {"standby": (standby.number, "W"), "round trip": (trip.number, "")}, standby.source,
    )  # fmt: skip


def _efficiency(one: Balanced, of: BatteryInverter) -> Value:
    standby, trip, point = battery_standby_w(), battery_round_trip(), one.highest
    return figure(
        of.efficiency_at(point), "", f"{_OF}.efficiency_at",
        {"at the shaft": (point.shaft_power_w, "W"), "motor takes": (point.input_power_w, "W"),
         "standby": (standby.number, "W"), "round trip": (trip.number, "")}, trip.source,
    )  # fmt: skip
