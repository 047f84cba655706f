"""One motor on one battery inverter: what it gets and takes, or why it must not hang there."""

from __future__ import annotations

from functools import lru_cache

from phasewright.quantities.finding import Reason
from phasewright.tables.own_sources import battery_short_time, recharge_hours, session_hours
from phasewright.ways.asked import Asked, condition, refusal, told
from phasewright.ways.balanced import Balanced
from phasewright.ways.balanced_asks import asked_on_three_lines, on_lines
from phasewright.ways.battery_figures import figures_of
from phasewright.ways.battery_source import BatteryInverter
from phasewright.ways.electronic_serve import NAME
from phasewright.ways.line_start import (
    FEW_S,
    LineStarts,
    as_linked,
    lasts,
    line_starts,
    time_words,
)
from phasewright.ways.mains import over_room
from phasewright.ways.shared_source import Served
from phasewright.ways.site import Site
from phasewright.ways.surroundings import of_electronics
from phasewright.ways.way import Draw, Service, Task

LICENSED = Reason(
    "battery_licensed",
    "A battery and an inverter beside the mains are a licensed installer's work, by the network "
    "operator's rules: when the mains fails it must cut itself off from them before it carries on, "
    "and its neutral must then be earthed anew.",
)


@lru_cache(maxsize=2048)
def serve(task: Task, site: Site, of: BatteryInverter) -> Served | tuple[Reason, ...]:
    """This motor on this inverter: what it gets, or every reason why it must not be."""
    one = on_lines(task, NAME, of.line_voltage_v, of.frequency_hz)
    if isinstance(one, tuple):
        return one
    starts = line_starts(of.lines, as_linked(one)) if of.starts_straight_on(task, one) else None
    asked = asked_on_three_lines(task, one, NAME, starts, has_neutral=True, behind_converter=True)
    asked += _of_size(one, of, starts) + _of_battery(one, of) + _of_charger(site, of)
    asked += of_electronics(site)
    asked += Asked(conditions=(LICENSED,))
    if asked.refusals:
        return asked.refusals
    amps = of.charger.current_a(site.source.voltage_v)
    service = Service(
        unloaded=Draw(of.taken_w(one.unloaded.input_power_w)),
        typical=Draw(of.taken_w(one.typical.input_power_w)),
        demand=Draw(of.taken_w(one.highest.input_power_w)),
        starting_current_a=amps,
        dip_ratio=of.charger_dip,
    )
    return Served(
        one.link, one.circuit.rated_current_a, service, asked.conditions,
        figures_of(one, of, starts), asked.told,
    )  # fmt: skip


def _of_size(one: Balanced, of: BatteryInverter, starts: LineStarts | None) -> Asked:
    """Its lasting current against the motor's load, its current for some seconds against the start.

    It holds its hertz and has no ramp: a start too hard for it is not helped by waiting.
    """
    kw = of.rating_w / 1000.0
    steady, starting = max(one.highest.current_a, one.circuit.rated_current_a), one.start.current_a
    if steady > of.output_a:
        return refusal(
            "inverter_too_small",
            f"It takes {steady:.1f} A; an inverter of {kw:g} kW gives {of.output_a:.1f} A.",
        )
    spread = battery_short_time()
    if starting > of.short_time_a:
        return refusal(
            "inverter_start_too_hard",
            f"Straight on it takes {starting:.0f} A at standstill; an inverter of {kw:g} kW gives "
            f"about {of.short_time_a:.0f} A for some seconds and then switches off: a larger one, "
            "or a drive of its own for this motor.",
        )
    if starts is not None and starting > of.output_a and starts.usual.brief.seconds > FEW_S:
        return refusal(
            "inverter_start_too_long",
            f"Computed in time its start takes {time_words(starts.usual.brief)}; an inverter of "
            f"{kw:g} kW gives more than its lasting {of.output_a:.1f} A for some seconds only and "
            "then switches off: a larger one, or a drive of its own for this motor.",
        )
    if starting > spread.low * of.output_a:
        return condition(
            "inverter_short_time",
            f"Straight on it takes {starting:.0f} A at standstill. Inverters of {kw:g} kW give "
            f"{spread.low * of.output_a:.0f} to {spread.high * of.output_a:.0f} A for some "
            f"seconds: ask for this one's figure.{lasts(starts)}",
        )
    return condition("one_by_one", "Start motors on it one after another, never two at once.")


def _of_battery(one: Balanced, of: BatteryInverter) -> Asked:
    wanted, hours = of.session_wh([one]), session_hours()
    if wanted > of.stored_wh:
        return refusal(
            "battery_too_small",
            f"{hours.number:g} h of it take {wanted / 1000.0:.1f} kWh out of a battery that gives "
            f"{of.stored_wh / 1000.0:.1f} kWh.",
        )
    lasts = hours.number * of.stored_wh / wanted
    return told(
        "session",
        f"The battery of {of.battery_kwh:g} kWh is taken to last for {hours.number:g} h of turning "
        f"({hours.low:g} to {hours.high:g}) between two fillings; this motor alone it carries for "
        f"{lasts:.1f} h.",
    )


def _of_charger(site: Site, of: BatteryInverter) -> Asked:
    amps = of.charger.current_a(site.source.voltage_v)
    found = Asked(refusals=tuple(over_room(site, amps, "Its charger draws")))
    if of.fills_in_h > recharge_hours().number:
        return found + condition(
            "charge_slowly",
            f"Set its charger to {amps:.1f} A, for the supply has no room for more: the battery "
            f"then takes {of.fills_in_h:g} h to fill.",
        )
    return found + told(
        "supply_sees_the_mean",
        f"The supply gives its charger {amps:.1f} A and never a motor's start.",
    )
