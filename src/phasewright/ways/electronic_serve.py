"""One motor on one electronic source: what it gets and takes, or why it must not hang there."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from phasewright.quantities.codes import WayName
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value, figure
from phasewright.tables.shared_sources import (
    electronic_efficiency,
    electronic_short_time,
    electronic_standby_w,
)
from phasewright.ways.asked import Asked, condition, refusal, told
from phasewright.ways.balanced import Balanced, draw_at
from phasewright.ways.balanced_asks import asked_on_three_lines, on_lines
from phasewright.ways.drive_duty import starting_torque_ratio
from phasewright.ways.electronic_source import ElectronicSource, plain_input_a
from phasewright.ways.figures import Figures, Range, StartFigures
from phasewright.ways.line_start import LineStarts, as_linked, lasts, line_starts
from phasewright.ways.mains import over_room, surge_not_known
from phasewright.ways.shared_source import Served
from phasewright.ways.site import Site
from phasewright.ways.start_figures import line_start_figures
from phasewright.ways.surroundings import of_electronics
from phasewright.ways.way import Service, Task

NAME: WayName = "electronic_converter"


@lru_cache(maxsize=2048)
def serve(task: Task, site: Site, of: ElectronicSource) -> Served | tuple[Reason, ...]:
    """This motor on this source: what it gets, or every reason why it must not be."""
    one = on_lines(task, NAME, of.line_voltage_v, of.source.frequency_hz)
    if isinstance(one, tuple):
        return one
    starts = None
    if of.starts_straight_on(task, one):
        starts = line_starts(of.lines, as_linked(one))
    asked = asked_on_three_lines(task, one, NAME, starts, has_neutral=False, behind_converter=True)
    asked += _of_size(one, of, starts) + _of_supply(one, site, of) + of_electronics(site)
    if asked.refusals:
        return asked.refusals
    start_a, dip = start_of(one, of)
    service = Service(
        unloaded=of.takes(draw_at(one.unloaded)),
        typical=of.takes(draw_at(one.typical)),
        demand=of.takes(draw_at(one.highest)),
        starting_current_a=start_a,
        dip_ratio=dip,
    )
    return Served(
        one.link, one.circuit.rated_current_a, service, asked.conditions,
        replace(_figures(one, of, start_a, dip), starts=_starts(of, starts)), asked.told,
    )  # fmt: skip


def start_of(one: Balanced, of: ElectronicSource) -> tuple[float, float]:
    """(amps from the supply, its dip) at the motor's start: straight on, or by the ramp, which
    asks for no more than its highest load does."""
    return of.start_dip(draw_at(one.highest) if of.against_direct(one) else of.straight_on(one))


def _starts(of: ElectronicSource, starts: LineStarts | None) -> StartFigures | None:
    return None if starts is None else line_start_figures(of.lines, starts, of.seen(starts.usual))


def _of_size(one: Balanced, of: ElectronicSource, starts: LineStarts | None) -> Asked:
    """Its rated current against the motor's load, its short-time current against the start.

    No source is taken smaller than the motor's own rating (common practice, no source).
    """
    steady, starting = max(one.highest.current_a, one.circuit.rated_current_a), one.start.current_a
    kw = of.rating_w / 1000.0
    if steady > of.output_a:
        return refusal(
            "source_too_small",
            f"It takes {steady:.1f} A; a source of {kw:g} kW gives {of.output_a:.1f} A.",
        )
    why = of.against_direct(one)
    if why:
        return _by_ramp(one, of, why)
    spread = electronic_short_time()
    if starting > spread.low * of.output_a:
        return condition(
            "short_time_current",
            f"Straight on it takes {starting:.0f} A at standstill. Sources of {kw:g} kW give "
            f"{spread.low * of.output_a:.0f} to {spread.high * of.output_a:.0f} A for a few "
            f"seconds: ask for this one's figure, or start the motor by its ramp.{lasts(starts)}",
        )
    return condition("one_by_one", "Start motors on it one after another, never two at once.")


def _by_ramp(one: Balanced, of: ElectronicSource, why: str) -> Asked:
    """A start by the source's own ramp of volts and hertz, with nothing else on it."""
    torque, wanted = starting_torque_ratio(one.circuit, of.output_a), one.load.breakaway_torque
    if torque < wanted.number:
        return refusal(
            "start_too_hard",
            f"{why[0].upper()}{why[1:]}; by a ramp it gives {torque:.0%} of rated torque, and the "
            f"machine usually needs {wanted.number:.0%} to break away: a larger source.",
        )
    return condition(
        "start_by_ramp",
        f"Start it first, by the source's ramp and with nothing else on it: {why}. Ask whether "
        "this source has such a ramp, or take a larger one.",
    )


def _of_supply(one: Balanced, site: Site, of: ElectronicSource) -> Asked:
    """What it takes from the supply, with a sinusoidal front end and with a plain one."""
    draw = of.takes(draw_at(one.highest))
    amps = draw.current_a(site.source.voltage_v)
    found = over_room(site, amps, "With a sinusoidal front end it draws")
    plain = plain_input_a(of.source, of.rating_w, draw.power_w)
    whole = Asked(refusals=tuple(found)) + surge_not_known(site, start_of(one, of)[0])
    if plain is None or plain > site.room_a:
        drawn = "more than the supply can give" if plain is None else f"{plain:.1f} A"
        return whole + condition(
            "sinusoidal_input",
            f"Only one whose input draws a sine ({amps:.1f} A): a plain rectifier would draw "
            f"{drawn}.",
        )
    return whole + told(
        "front_end",
        f"Taken with a front end that draws a sine ({amps:.1f} A); a plain rectifier would draw "
        f"{plain:.1f} A.",
    )


def _figures(one: Balanced, of: ElectronicSource, start_a: float, dip: float) -> Figures:
    source = of.source
    draw = of.takes(draw_at(one.highest))
    inputs = {
        "at the shaft": (one.highest.shaft_power_w, "W"),
        "motor takes": (one.highest.input_power_w, "W"),
        "source": (of.rating_w, "W"),
        "efficiency at rated output": (electronic_efficiency().number, ""),
        "standby": (electronic_standby_w().number, "W"),
        "supply": (source.voltage_v, "V"),
    }

    def out(number: float, unit: str) -> Value:
        return figure(
            number, unit, "ways.electronic_source.ElectronicSource.takes", inputs,
            electronic_efficiency().source,
        )  # fmt: skip

    amps = draw.current_a(source.voltage_v)
    best = of.takes(draw_at(one.highest), electronic_efficiency().high)
    plain = plain_input_a(source, of.rating_w, draw.power_w)
    return Figures(
        input_current_a=Range(
            best.current_a(source.voltage_v), out(amps, "A"), amps if plain is None else plain
        ),
        input_power_w=out(draw.power_w, "W"),
        input_power_factor=out(draw.power_w / (source.voltage_v * amps), ""),
        usable_power_w=out(one.usable_w, "W"),
        starting_torque_ratio=out(
            starting_torque_ratio(one.circuit, of.output_a)
            if of.against_direct(one)
            else one.starting_ratio,
            "",
        ),
        starting_current_a=out(start_a, "A"),
        voltage_dip_ratio=out(dip, ""),
        idle_power_w=electronic_standby_w(),
        output_current_a=out(one.highest.current_a, "A"),
        efficiency=out(one.highest.shaft_power_w / draw.power_w, ""),
    )
