"""The picture of a start: speeds, volts between the lines and supply amps over one time axis."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from phasewright.papers.axes import Axis, Floats, points, time_axis, value_axis
from phasewright.papers.font import width_of
from phasewright.papers.svg import (
    Mark,
    drawing,
    group,
    line,
    mark,
    polyline,
    svg,
    words,
    wrapped,
)
from phasewright.starts.waves import Waves

WIDTH, EDGE, PANEL, GAP = 800.0, 16.0, 150.0, 34.0
LEFT, NARROWEST = 64.0, 360.0
TITLE, CAPTION, LABEL, TICK = 15.0, 11.5, 11.0, 10.0
LANE, APART = 15.0, 13.0
INKS = 4
STYLE = """
.plot line,.plot polyline{fill:none;stroke:currentColor;stroke-width:1}
.plot polyline{stroke-width:1.4;stroke-linejoin:round}
.plot .words{fill:currentColor}
.plot .quiet{fill:currentColor;fill-opacity:.7}
.plot .rule{stroke-opacity:.14}
.plot .frame{stroke-opacity:.55}
.plot .event{stroke-opacity:.5;stroke-dasharray:1 3}
.plot .leader{stroke-opacity:.35}
.plot .peaks{stroke-width:.8;stroke-opacity:.55}
.plot .ink0{stroke:#1b5e8c}.plot .name0{fill:#1b5e8c}
.plot .ink1{stroke:#a8431c}.plot .name1{fill:#a8431c}
.plot .ink2{stroke:#3a6f35}.plot .name2{fill:#3a6f35}
.plot .ink3{stroke:#6b4a8f}.plot .name3{fill:#6b4a8f}
.plot .ink4{stroke:#856000}.plot .name4{fill:#856000}
.plot .ink5{stroke:#006b68}.plot .name5{fill:#006b68}
.plot .broken{stroke-dasharray:7 3}
.plot .dotted{stroke-dasharray:2 2}
"""


@dataclass(frozen=True, slots=True)
class Curve:
    """One line of a panel with the name that stands at its end."""

    name: str
    values: Floats
    look: str
    name_look: str


Family = tuple[str, str, tuple[Curve, ...]]
"""Caption, what it is in words, curves."""


@dataclass(frozen=True, slots=True)
class Panel:
    """One part of the picture: what is drawn, over which axis."""

    caption: str
    about: str
    curves: tuple[Curve, ...]
    up: Axis

    @property
    def top(self) -> float:
        return self.up.end

    @property
    def bottom(self) -> float:
        return self.up.start


def start_plot(waves: Waves, title: str, events: Sequence[tuple[float, str]] = ()) -> str:
    """The SVG text of a run in time; `events` are marked with their words at their instants [s].

    Speeds are means, volts and amps rms values over half cycles; the supply's peaks are drawn
    thinly behind.
    """
    seconds = float(waves.time_s[-1] + waves.time_s[0])
    told = sorted((at, text) for at, text in events if 0.0 <= at <= seconds)
    families = _families(waves)
    across, width = _across(seconds, told, families)
    lanes = _lanes(told, across)
    heading = wrapped(title, TITLE, width - 2 * EDGE)
    flags = EDGE + 20.0 * len(heading) + 4.0 + LANE * max(lanes, default=0)
    panels = _panels(families, flags + 26.0)
    marks = [
        mark("style", STYLE),
        *(words(text, (EDGE, EDGE + 14.0 + 20.0 * at), TITLE) for at, text in enumerate(heading)),
        *_flags(told, lanes, across, flags, panels),
        *(_panel(panel, across, waves.time_s) for panel in panels),
        *_time_ticks(across, panels[-1].bottom),
    ]
    about = "Speed of every machine, rms volts between the lines and supply amps over time. "
    about += " ".join(f"At {at:.3f} s: {text}." for at, text in told)
    return svg(drawing(width, panels[-1].bottom + 42.0, title, about.strip(), *marks, look="plot"))


def _across(
    seconds: float, told: Sequence[tuple[float, str]], families: Sequence[Family]
) -> tuple[Axis, float]:
    """The axis of time and the width of the drawing: beside it every name at the end of a curve
    has room, above it the words of every event."""
    names = max(width_of(curve.name, LABEL) for _, _, curves in families for curve in curves)
    room = WIDTH - EDGE - LEFT - 18.0 - names
    for at, text in told:
        if at > 0.0:
            flag = width_of(_flag(at, text), LABEL) + 4.0
            room = min(room, (WIDTH - EDGE - LEFT - flag) * seconds / at)
    room = max(room, NARROWEST)
    across = time_axis(seconds, LEFT, LEFT + room)
    ends = [_span(event, across)[1] for event in told]
    return across, max(WIDTH, LEFT + room + 18.0 + names + EDGE, *(end + EDGE for end in ends))


def _panels(families: Sequence[Family], top: float) -> list[Panel]:
    panels: list[Panel] = []
    for caption, about, curves in families:
        tall = max(PANEL, APART * len(curves))
        values = np.concatenate([curve.values for curve in curves])
        up = value_axis(float(values.min()), float(values.max()), top + tall, top)
        panels.append(Panel(caption, about, curves, up))
        top += tall + GAP
    return panels


def _families(waves: Waves) -> list[Family]:
    rpm = 30.0 / math.pi
    speeds = tuple(
        _curve(starter.machine.name, rpm * waves.speed_rad_s[:, at], at)
        for at, starter in enumerate(waves.course.starters)
    )
    volts = (
        Curve("lines 1\N{EN DASH}2", waves.volts_v[:, 0], "", "words"),
        Curve("lines 2\N{EN DASH}3", waves.volts_v[:, 1], "ink4", "name4"),
        Curve("lines 3\N{EN DASH}1", waves.volts_v[:, 2], "ink5", "name5"),
    )
    amps = (
        Curve("peak", waves.supply_peak_a, "peaks", "quiet"),
        Curve("rms", waves.supply_a, "", "words"),
    )
    three = waves.course.three_lines
    fed = "Current in the fullest line (A)" if three else "Current from the supply (A)"
    return [
        ("Speed (rpm)", "speed of every machine", speeds),
        ("Volts between the lines (V rms)", "rms volts between the lines", volts),
        (fed, "supply current by half cycles", amps),
    ]


def _curve(name: str, values: Floats, at: int) -> Curve:
    pattern = ("", " broken", " dotted")[at // INKS % 3]
    return Curve(name, values, f"ink{at % INKS}{pattern}", f"name{at % INKS}")


def _panel(panel: Panel, across: Axis, times: Floats) -> Mark:
    left, right = across.start, across.end
    marks = [words(panel.caption, (left, panel.top - 8.0), CAPTION)]
    for value in panel.up.ticks():
        y = panel.up.place(value)
        marks.append(line((left, y), (right, y), "rule"))
        marks.append(words(panel.up.written(value), (left - 8.0, y + 3.5), TICK, "end", "quiet"))
    for value in across.ticks():
        x = across.place(value)
        marks.append(line((x, panel.bottom), (x, panel.bottom + 4.0), "frame"))
    marks.append(line((left, panel.bottom), (right, panel.bottom), "frame"))
    for curve in panel.curves:
        drawn = polyline(points(across, panel.up, times, curve.values), curve.look)
        marks.append(group(drawn, title=curve.name))
    ends = [panel.up.place(float(curve.values[-1])) for curve in panel.curves]
    places = _spread(ends, panel.top, panel.bottom)
    last = across.place(float(times[-1]))
    for curve, end, y in zip(panel.curves, ends, places, strict=True):
        marks.append(line((last, end), (right + 14.0, y), "leader"))
        marks.append(words(curve.name, (right + 18.0, y + 4.0), LABEL, "start", curve.name_look))
    return group(*marks, title=panel.about)


def _spread(wanted: Sequence[float], top: float, bottom: float) -> list[float]:
    """Places for labels as near to the wanted ones as they go without touching."""
    order = sorted(range(len(wanted)), key=lambda at: wanted[at])
    places = [0.0] * len(wanted)
    floor = top
    for at in order:
        places[at] = floor = max(floor, wanted[at])
        floor += APART
    ceiling = max(bottom, top + APART * (len(wanted) - 1))
    for at in reversed(order):
        places[at] = min(places[at], ceiling)
        ceiling = places[at] - APART
    return places


def _flag(at_s: float, text: str) -> str:
    return f"{at_s:.2f} s {text}"


def _lanes(told: Sequence[tuple[float, str]], across: Axis) -> list[int]:
    """A lane for each event's words, counted upwards from the panels: above every later event
    that begins before these words end, so that no line runs through words."""
    lanes = [0] * len(told)
    for at in range(len(told) - 1, -1, -1):
        end = _span(told[at], across)[1] + 8.0
        later = (
            lanes[other] for other in range(at + 1, len(told)) if across.place(told[other][0]) < end
        )
        lanes[at] = 1 + max(later, default=0)
    return lanes


def _span(event: tuple[float, str], across: Axis) -> tuple[float, float]:
    """Left and right end of an event's words."""
    left = across.place(event[0]) + 4.0
    return left, left + width_of(_flag(*event), LABEL)


def _flags(
    told: Sequence[tuple[float, str]], lanes: Sequence[int], across: Axis, lowest: float,
    panels: Sequence[Panel],
) -> list[Mark]:  # fmt: skip
    """Words of each event, and its line beside them and through every panel."""
    marks = []
    for event, lane in zip(told, lanes, strict=True):
        x, y = across.place(event[0]), lowest - LANE * (lane - 1)
        through = [line((x, panel.top), (x, panel.bottom), "event") for panel in panels]
        beside = line((x, y - 9.0), (x, lowest + 3.0), "event")
        text = _flag(*event)
        marks.append(
            group(beside, *through, words(text, (_span(event, across)[0], y), LABEL), title=text)
        )
    return marks


def _time_ticks(across: Axis, bottom: float) -> list[Mark]:
    marks = [
        words(across.written(value), (across.place(value), bottom + 17.0), TICK, "middle", "quiet")
        for value in across.ticks()
    ]
    return [*marks, words("Time (s)", (across.start, bottom + 33.0), CAPTION)]
