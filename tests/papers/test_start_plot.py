"""The picture of a start: nothing cut, nothing on top of another, whatever was run."""

import math
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from reference_machines import M2K2, NO_LOAD, constant, fan
from starts.courses import idler_start, then_motor

from phasewright.papers.axes import points, time_axis, value_axis
from phasewright.papers.font import width_of
from phasewright.papers.picture import png
from phasewright.papers.start_plot import start_plot
from phasewright.papers.svg import Box
from phasewright.running.network import Connected
from phasewright.starts.course import Starter
from phasewright.starts.waves import waves

SPACE = "{http://www.w3.org/2000/svg}"
TWO = waves(then_motor(idler_start(300), fan(14.5, 1445), seconds=1.2))
MANY = waves(
    replace(
        idler_start(0, speed=150.0, seconds=0.2),
        starters=tuple(
            Starter(Connected(f"Machine {n}/a motor with a long name", M2K2, NO_LOAD), 0.01,
                    closes_s=0.01 * n)
            for n in range(40)
        ),
    )
)  # fmt: skip


def words_of(text: str) -> list[Box]:
    """Room of every line of words, read from the file itself."""
    found = []
    for each in ET.fromstring(text).iter(f"{SPACE}text"):
        size, x, y = (float(each.get(name)) for name in ("font-size", "x", "y"))
        wide = width_of(each.text, size)
        left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[each.get("text-anchor")] * wide
        found.append(Box(each.text, left, y - 0.76 * size, left + wide, y + 0.24 * size))
    return found


def judge(text: str) -> None:
    top = ET.fromstring(text)
    _, _, width, height = map(float, top.get("viewBox").split())
    boxes = words_of(text)
    for box in boxes:
        assert min(box.left, box.top) >= 0, box
        assert box.right <= width, box
        assert box.bottom <= height, box
    for one, other in combinations(boxes, 2):
        assert not one.meets(other), (one, other)
    for each in top.iter(f"{SPACE}line"):
        x1, y1, x2, y2 = (float(each.get(name)) for name in ("x1", "y1", "x2", "y2"))
        if x1 == x2:
            struck = [b for b in boxes if b.left < x1 < b.right and y1 < b.bottom and b.top < y2]
            assert not struck, struck
    for each in top.iter(f"{SPACE}polyline"):
        for x, y in re.findall(r"(\S+),(\S+)", each.get("points")):
            assert 0 <= float(x) <= width
            assert 0 <= float(y) <= height


EVENTS = [
    (0.0, "idler closes"), (0.126, "start capacitor drops out"), (0.6, "Saw/motor closes"),
    (0.6, "lights fall by 7 %"), (1.19, "the breaker of the outlet may trip"),
]  # fmt: skip


def test_a_start_with_events():
    text = start_plot(TWO, "Start of Saw/motor on a rotary converter", EVENTS)
    judge(text)
    said = " ".join(box.words for box in words_of(text))
    for wanted in (
        "idler",
        "motor",
        "rpm",
        "V rms",
        "Current",
        "Time (s)",
        "1.19 s",
        "peak",
        "rms",
    ):
        assert wanted in said


def test_forty_machines_with_long_names():
    judge(start_plot(MANY, "Forty", [(0.01 * n, f"Machine {n} closes") for n in range(20)]))


@settings(max_examples=40, deadline=None)
@example([], "W" * 300)
@given(
    st.lists(
        st.tuples(st.floats(0.0, 1.2), st.text("abc mMW", min_size=1, max_size=60)), max_size=9
    ),
    st.text("abc mMW", min_size=1, max_size=300),
)
def test_any_events_and_titles(events, title):
    judge(start_plot(TWO, title, events))


def test_the_curves_are_where_the_axes_say():
    text = start_plot(TWO, "Start")
    top = ET.fromstring(text)
    curve = next(
        group.find(f"{SPACE}polyline")
        for group in top.iter(f"{SPACE}g")
        if group.find(f"{SPACE}title") is not None and group.find(f"{SPACE}title").text == "rms"
    )
    drawn = np.array([list(map(float, p.split(","))) for p in curve.get("points").split()])
    panel = next(
        group for group in top.iter(f"{SPACE}g")
        if group.find(f"{SPACE}title") is not None
        and group.find(f"{SPACE}title").text == "supply current by half cycles"
    )  # fmt: skip
    scale = [
        (float(each.text.replace(" ", "")), float(each.get("y")) - 3.5)
        for each in panel.iter(f"{SPACE}text")
        if each.get("text-anchor") == "end"
    ]
    (v0, y0), (v1, y1) = scale[0], scale[-1]
    amps = v0 + (drawn[:, 1] - y0) / (y1 - y0) * (v1 - v0)
    assert amps == pytest.approx(TWO.supply_a, abs=0.02 * TWO.supply_a.max())


def test_a_long_run_keeps_its_peaks_with_few_points():
    times = np.linspace(0.0, 60.0, 30_000)
    values = np.sin(2 * math.pi * 50 * times)
    values[12_345] = 9.0
    across, up = time_axis(60.0, 0.0, 600.0), value_axis(-1.0, 9.0, 150.0, 0.0)
    drawn = points(across, up, times, values)
    assert len(drawn) <= 2 * 600 + 2
    assert min(y for _, y in drawn) == pytest.approx(up.place(9.0))
    assert [x for x, _ in drawn] == sorted(x for x, _ in drawn)


@pytest.mark.parametrize(
    ("least", "most"), [(0, 0), (5, 5), (-30, 1500), (-3, 1500), (227, 231), (0, 1e-3), (3, 90)]
)
def test_axes_hold_what_they_are_made_for(least, most):
    axis = value_axis(least, most, 100.0, 0.0)
    assert axis.low - 0.01 * abs(most) <= least <= most <= axis.high
    assert 2 <= len(axis.ticks()) <= 8
    shown = [axis.written(value) for value in axis.ticks()]
    assert len(set(shown)) == len(shown)


def test_a_machine_that_is_pulled_backwards_and_nothing_else():
    judge(start_plot(waves(idler_start(0, speed=-150.0, seconds=0.3)), "Backwards"))
    judge(
        start_plot(waves(then_motor(idler_start(0), constant(60.0), at=0.1, seconds=0.3)), "Stuck")
    )


def test_the_picture_is_the_drawing_and_repeats():
    text = start_plot(TWO, "Start", EVENTS)
    assert start_plot(TWO, "Start", EVENTS) == text
    assert png(text) == png(text)
