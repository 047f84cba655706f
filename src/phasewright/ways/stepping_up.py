"""What a drive for a 400 V class motor takes from a supply of lower volts.

Two ways to raise the volts: inside the drive (a stage that doubles or boosts the link), or by a
transformer before a drive of the higher class.

The drive that raises the volts inside: whether its link is doubled (two capacitors, each charged
by one half wave) or boosted behind a plain bridge, the supply sees the charging pulses of a
bridge with a capacitor at the supply's own volts: a doubler with two capacitors of C takes the
same charge in each half wave as a bridge with one of C. So its input is the bridge's periodic
state at the power over the boost stage's efficiency. The lowest credible current is that of an
input stage which draws a sine, which some makers fit.

The transformer: everything behind it is referred to its primary, where the ratio drops out: the
supply's impedance grows by that of its windings, the link capacitor is that of a low-voltage
drive of the same stored energy, and its own idling watts and vars are added.
"""

from __future__ import annotations

from dataclasses import replace

from phasewright.machines.circuit import Circuit
from phasewright.network.supply import Source
from phasewright.quantities.value import Value, figure
from phasewright.tables.drives import standby_power_w
from phasewright.tables.stepping_up import (
    Transformer,
    boost_efficiency,
    sine_power_factor,
    transformer_for,
)
from phasewright.ways.chokes import usual
from phasewright.ways.drive_duty import Duty, duty_of
from phasewright.ways.drive_supply import behind_boost, behind_transformer
from phasewright.ways.way import Draw


def boosted_duty(
    source: Source, circuit: Circuit, drive_rating_w: float, *,
    typical: float, demand: float, room_a: float,
) -> Duty:  # fmt: skip
    """Work of a drive that raises its supply's volts inside; arguments as `duty_of` has them.

    A bridge at k times the power on an impedance Z draws k times what it draws at the power on
    k Z (its link capacitor k times as large, which is within what makers' capacitors spread).
    Raises NotComputable where the supply cannot give the power.
    """
    stage = boost_efficiency()
    more = 1.0 / stage.number
    behind = replace(
        source,
        resistance_ohm=source.resistance_ohm * more,
        reactance_ohm=source.reactance_ohm * more,
    )
    bare = duty_of(
        behind, circuit, drive_rating_w,
        typical=typical, demand=demand, choke=None, room_a=room_a / more,
    )  # fmt: skip
    worst, best = 1.0 / stage.low, 1.0 / stage.high
    power = _spread_by(bare.input_power_w, more, best, worst, "boost stage", stage)
    current = _spread_by(bare.input_current_a, more, best, worst, "boost stage", stage)
    sine_a = power.low / (source.voltage_v * sine_power_factor())
    return replace(
        bare,
        unloaded=_times(bare.unloaded, more),
        typical=_times(bare.typical, more),
        demand=_times(bare.demand, more),
        input_current_a=replace(current, low=min(current.low, sine_a)),
        input_power_w=power,
        efficiency=bare.efficiency.scaled(1.0 / more),
        side=None if bare.side is None else behind_boost(bare.side, source, more),
    )


def transformer_of(
    source: Source, circuit: Circuit, drive_rating_w: float, demand: float, *,
    three_phase_type: bool,
) -> Transformer:  # fmt: skip
    """The transformer for a drive behind it, by the volt-amperes it draws at its highest load.

    Judged without the transformer's own impedance, which only smooths the current. Raises
    TableEnds above the largest and NotComputable where the supply cannot give the power.
    """
    bare = duty_of(
        source, circuit, drive_rating_w,
        typical=demand, demand=demand, choke=usual(), three_phase_type=three_phase_type,
        room_a=float("inf"),
    )  # fmt: skip
    return transformer_for(source.voltage_v * bare.input_current_a.number)


def transformed_duty(
    source: Source, of: Transformer, circuit: Circuit, drive_rating_w: float, *,
    typical: float, demand: float, room_a: float, secondary_v: float, three_phase_type: bool,
) -> Duty:  # fmt: skip
    """Work of a drive behind a transformer to `secondary_v`, at the transformer's primary.

    The usual input choke is fitted, as drives made for three-phase input want on one phase;
    `three_phase_type`: the drive is of that make and has its smaller link.
    """
    resistance, reactance = of.impedance_ohm(source.voltage_v)
    behind = replace(
        source,
        resistance_ohm=source.resistance_ohm + resistance,
        reactance_ohm=source.reactance_ohm + reactance,
    )
    own = Draw(of.idle_power_w().number, of.magnetising * of.rating_va)
    left_a = room_a - own.current_a(source.voltage_v)
    bare = duty_of(
        behind, circuit, drive_rating_w,
        typical=typical, demand=demand, choke=usual(), three_phase_type=three_phase_type,
        room_a=max(0.0, left_a),
    )  # fmt: skip
    whole = {
        name: _through(getattr(bare, name), own, resistance, source.voltage_v)
        for name in ("unloaded", "typical", "demand")
    }
    volts = source.voltage_v
    more_a = bare.demand.with_other(own).current_a(volts) / bare.demand.current_a(volts)
    current = bare.input_current_a.scaled(more_a)
    more_w = whole["demand"].power_w / bare.input_power_w.number
    power = _spread_by(bare.input_power_w, more_w, more_w, more_w, "transformer", of.idle_loss)
    standby, idle = standby_power_w(), of.idle_power_w()
    return replace(
        bare,
        unloaded=whole["unloaded"],
        typical=whole["typical"],
        demand=whole["demand"],
        input_current_a=current,
        input_power_w=power,
        input_power_factor=figure(
            power.number / (volts * current.number), "", "ways.stepping_up.transformed_duty",
            {
                "power": (power.number, "W"),
                "current": (current.number, "A"),
                "supply": (volts, "V"),
            },
            "rectifier and transformer, at the supply's volts without load",
        ),
        idle_power_w=figure(
            standby.number + idle.number, "W", "ways.stepping_up.transformed_duty",
            {"drive": (standby.number, "W"), "transformer": (idle.number, "W")}, idle.source,
            low=standby.low + idle.low, high=standby.high + idle.high,
        ),
        efficiency=bare.efficiency.scaled(1.0 / more_w),
        side=None if bare.side is None else behind_transformer(
            bare.side, source, current.number, secondary_v / volts
        ),
    )  # fmt: skip


def _through(behind: Draw, own: Draw, resistance_ohm: float, voltage_v: float) -> Draw:
    """A draw at the primary: what is behind, the loss in the windings, the transformer's own."""
    lost = behind.current_a(voltage_v) ** 2 * resistance_ohm
    return behind.with_other(own).with_other(Draw(power_w=lost))


def _times(draw: Draw, factor: float) -> Draw:
    return Draw(draw.power_w * factor, draw.reactive_var * factor, draw.distortion_a * factor)


def _spread_by(value: Value, middle: float, low: float, high: float, what: str, by: Value) -> Value:
    return figure(
        value.number * middle, value.unit, "ways.stepping_up.boosted_duty"
        if what == "boost stage" else "ways.stepping_up.transformed_duty",
        {"behind": (value.number, value.unit), what: (by.number, by.unit)},
        f"{value.source}; {by.source}", low=value.low * low, high=value.high * high,
    )  # fmt: skip
