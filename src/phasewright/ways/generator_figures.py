"""The figures of one motor on one generator, each with the working that it came from.

What a supply would give has no power factor, no dip and no efficiency here: such figures are
absent. Its amps stand as the nought that they are, for the room on the supply is judged by them.
"""

from __future__ import annotations

from phasewright.quantities.value import Value, figure
from phasewright.tables.own_sources import (
    generator_reactance,
    generator_resistance,
    generator_va,
    litres_per_kwh,
    no_load_share,
    own_energy_price,
)
from phasewright.ways.balanced import Balanced
from phasewright.ways.balanced_figures import line_current, starting_torque, usable_power
from phasewright.ways.figures import Figures, Range
from phasewright.ways.generator_source import FROM_SUPPLY, Generator
from phasewright.ways.line_start import LineStarts
from phasewright.ways.site import Site
from phasewright.ways.start_figures import line_start_figures

_OF = "ways.generator_source.Generator"


def figures_of(
    one: Balanced, site: Site, of: Generator, starts: LineStarts | None = None
) -> Figures:
    """What the motor gets, how far its start pulls the generator down, what it burns."""
    amps = _from_supply(site)
    return Figures(
        input_current_a=Range(amps.number, amps, amps.number),
        usable_power_w=usable_power(one),
        starting_torque_ratio=starting_torque(one),
        starting_current_a=amps,
        idle_power_w=_empty(of),
        output_current_a=line_current(one),
        source_dip_ratio=_dip(one, of),
        fuel_l_per_h=_fuel(one, of),
        own_energy_price=own_energy_price(site.region, site.fuel_price),
        starts=(
            None if starts is None else line_start_figures(of.lines, starts, of.seen(starts.usual))
        ),
    )


def _from_supply(site: Site) -> Value:
    volts = site.source.voltage_v
    return figure(
        FROM_SUPPLY.current_a(volts), "A", "ways.way.Draw.current_a",
        {"taken from the supply": (FROM_SUPPLY.power_w, "W"), "supply": (volts, "V")},
        "a generator is a source of its own",
    )  # fmt: skip


def _empty(of: Generator) -> Value:
    share = no_load_share()
    return figure(
        of.empty_w, "W", f"{_OF}.empty_w",
        {"generator": (of.rating_w, "W"),
         "running empty over rated power": (share.number, "")}, share.source,
    )  # fmt: skip


def _dip(one: Balanced, of: Generator) -> Value:
    share = generator_reactance()
    (middle,), (low,), (high,) = (
        of.start_dips([one], each) for each in (share.number, share.low, share.high)
    )
    return figure(
        middle, "", f"{_OF}.start_dips",
        {"motor takes at standstill": (one.start.input_power_w, "W"),
         "and to magnetise it": (one.start.reactive_power_var, "var"),
         "between lines": (of.line_voltage_v, "V"), "generator": (generator_va(of.rating_w), "VA"),
         "transient reactance": (share.number, ""), "resistance": (generator_resistance(), "")},
        share.source, low=low, high=high,
    )  # fmt: skip


def _fuel(one: Balanced, of: Generator) -> Value:
    litres = litres_per_kwh()
    return figure(
        of.litres_per_h(one.typical.input_power_w), "l/h", f"{_OF}.litres_per_h",
        {"motor takes": (one.typical.input_power_w, "W"), "as if given to run empty":
         (of.empty_w, "W"), "fuel for one kWh more": (litres.number, "l/kWh")}, litres.source,
    )  # fmt: skip
