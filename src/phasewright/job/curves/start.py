"""A start in time as charts: speeds, volts, amps, and what happens when."""

from __future__ import annotations

import math
from collections.abc import Sequence

from phasewright.job.curves.chart import Chart, Curve, Sheet, Spot, thinned
from phasewright.job.curves.lines import PAIRS
from phasewright.job.start import Started, run_shop
from phasewright.papers.start_events import marks_of
from phasewright.quantities.value import Input
from phasewright.shop.model import Shop
from phasewright.starts.waves import Floats

FORMULA = "starts.waves.waves"
SOURCE = "three-line network in time (docs/calculations/starts-in-time.md), means of half cycles"


def start_sheet(shop: Shop, motor: str, way: str, plan: str | None) -> Sheet:
    """The start of a motor from everything at rest; raises UsageError where none is followed."""
    run = run_shop(shop, motor, way, plan)
    return Sheet(f"The start of {motor} in time", _words(run), _charts(run))


def _words(run: Started) -> tuple[str, ...]:
    told = run.verdict
    said = [run.stands_on, *told.words, *run.waves.told, *(each.words for each in told.trips)]
    said += [each.words for each in told.coils]
    said += [each.words for each in told.capacitors]
    return tuple(dict.fromkeys(filter(None, said)))


def _charts(run: Started) -> tuple[Chart, ...]:
    waves = run.waves
    rpm = 30.0 / math.pi
    names = [starter.machine.name for starter in waves.course.starters]
    speeds = [waves.speed_rad_s[:, k] * rpm for k in range(len(names))]
    volts = [waves.volts_v[:, k] for k in range(3)]
    amps = [waves.supply_a, waves.supply_peak_a]
    three = waves.course.three_lines
    amp_names = ("fullest line, rms", "fullest line, crest") if three else ("rms", "crest")
    spots = tuple(Spot(at, words) for at, words in marks_of(waves, run.verdict))
    source = waves.course.source
    inputs = (
        Input("supply", source.voltage_v, "V"),
        Input("supply resistance", source.resistance_ohm, "ohm"),
        Input("supply reactance", source.reactance_ohm, "ohm"),
        *(Input(f"inertia at {each.machine.name}", each.inertia_kg_m2, "kg m2")
          for each in waves.course.starters),
    )  # fmt: skip

    def chart(
        key: str, title: str, up: tuple[str, str], labels: Sequence[str], rows: Sequence[Floats]
    ) -> Chart:
        columns: list[list[float]] = [row.tolist() for row in rows]
        times: list[float] = waves.time_s.tolist()
        kept = thinned(times, columns)
        curves = tuple(
            Curve(label, tuple(column[k] for k in kept), broken=label.endswith("crest"))
            for label, column in zip(labels, columns, strict=True)
        )
        return Chart(
            key, title, "", "time", "s", *up, tuple(times[k] for k in kept), curves, FORMULA,
            inputs, SOURCE, spots,
        )  # fmt: skip

    return (
        chart("start-speed", "Speed of every machine", ("speed", "rpm"), names, speeds),
        chart("start-volts", "Volts between the lines", ("volts", "V"), PAIRS, volts),
        chart("start-amps", "Amps from the supply", ("amps", "A"), amp_names, amps),
    )
