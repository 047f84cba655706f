"""The figures of starts computed in time."""

from __future__ import annotations

import math

from phasewright.network.supply import Source
from phasewright.quantities.value import Value, figure
from phasewright.starts.brief import Brief
from phasewright.starts.on_converter import DROP_OUT
from phasewright.ways.converter_start import IdlerStart
from phasewright.ways.figures import IdlerStartFigures, StartFigures
from phasewright.ways.line_start import LineStarts, Seen

WHERE = "starts.waves.waves"
HOW = "three-line network in time"
Inputs = dict[str, tuple[float, str]]


def start_figures(
    start: Brief, inputs: Inputs, hardest: Brief | None = None, seen: Seen | None = None
) -> StartFigures:
    """The figures of one machine's start; `hardest` the same with the weakest torque. `seen` is
    what the supply sees of it, where that is not what the lines it starts on see."""
    peak_a, dip = (start.peak_a, start.dip_ratio) if seen is None else (seen.peak_a, seen.dip_ratio)

    def seconds(of: Brief | None) -> Value | None:
        if of is None or not of.runs_up or not math.isfinite(of.seconds):
            return None
        return figure(of.seconds, "s", WHERE, inputs, HOW)

    return StartFigures(
        runs_up=start.runs_up,
        time_s=seconds(start),
        dip=figure(dip, "", WHERE, inputs, HOW),
        supply_peak_a=figure(peak_a, "A", WHERE, inputs, HOW),
        time_high_s=seconds(hardest),
    )


def line_start_figures(lines: Source, starts: LineStarts, seen: Seen | None) -> StartFigures:
    """The figures of a start on three lines; `seen` None where the lines are the supply's."""
    inputs = {
        "between lines": (lines.voltage_v, "V"),
        "resistance of two lines": (lines.resistance_ohm, "ohm"),
        "reactance of two lines": (lines.reactance_ohm, "ohm"),
        "greatest watts of the three lines": (starts.usual.greatest_w, "W"),
    }
    return start_figures(starts.usual.brief, inputs, starts.worst.brief, seen)


def idler_start_figures(start: IdlerStart, start_f: float, inputs: Inputs) -> IdlerStartFigures:
    """The figures of a converter's own start."""

    def out(number: float, unit: str) -> Value:
        return figure(number, unit, WHERE, inputs, HOW)

    return IdlerStartFigures(
        method=start.method,
        runs_up=start.runs_up,
        time_s=out(start.seconds, "s"),
        dip=out(start.dip_ratio, ""),
        supply_peak_a=out(start.peak_a, "A"),
        resistor_ohm=out(start.resistor_ohm, "ohm") if start.resistor_ohm else None,
        drop_out_ratio=out(DROP_OUT, "") if start_f else None,
        start_capacitor_on_s=out(start.start_on_s, "s") if start_f else None,
    )
