"""`phasewright start`: one start in time, on the screen and in files."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import nullcontext
from pathlib import Path
from typing import TYPE_CHECKING

from rich.console import Console

from phasewright.command.progress import compile_once
from phasewright.command.screen import amount, heading, line, screen
from phasewright.files.folder import renewed
from phasewright.files.start_network import read_network
from phasewright.job.read import read
from phasewright.ways.cautions import GENERATED_LINE_LIVE, STORED_CHARGE, THREE_LINES_LIVE

if TYPE_CHECKING:
    from phasewright.job.start import Started
    from phasewright.running.points import OperatingPoint

FILES = ("start.json", "start.csv", "start.svg", "start.png", "start.cir")
PAIRS = ("1-2", "2-3", "3-1")


def start_shop(path: Path, motor: str, way: str, plan: str | None, out: Path | None) -> None:
    """Run one motor's start in a shop, say what came of it, write the files."""
    shop = read(path)
    compile_once()
    from phasewright.job.start import run_shop

    _run(lambda: run_shop(shop, motor, way, plan), out)


def start_network(path: Path, out: Path | None) -> None:
    """Run a network file, say what came of it, write the files."""
    course = read_network(path)
    compile_once()
    from phasewright.job.start import run_network

    _run(lambda: run_network(course), out)


def _run(start: Callable[[], Started], out: Path | None) -> None:
    """Run, show and write; the folder is made before the work."""
    from phasewright.job.start import write_run

    with nullcontext() if out is None else renewed(out) as room:
        started = start()
        if room is not None:
            write_run(started, room)
    console = screen()
    _show(console, started)
    heading(console, "take care")
    three = started.waves.course.three_lines
    for caution in (THREE_LINES_LIVE,) if three else (STORED_CHARGE, GENERATED_LINE_LIVE):
        line(console, caution.words)
    for words in started.waves.told:
        line(console, words, inset=0)
    if out is not None:
        console.print()
        line(console, f"Written in {out}: {', '.join(FILES)}", inset=0)


def settle_network(path: Path, out: Path | None) -> None:
    """Find the operating points a network file ends in, and say them."""
    course = read_network(path)
    compile_once()
    from phasewright.job.start import settled_points, write_points

    with nullcontext() if out is None else renewed(out) as room:
        points, why_none = settled_points(course)
        if room is not None:
            write_points(points, why_none, course, room)
    console = screen()
    if why_none:
        line(console, why_none, inset=0)
    for number, point in enumerate(points, 1):
        _point(console, number, point)
    if out is not None:
        console.print()
        line(console, f"Written: {out}/start.json", inset=0)


def _show(console: Console, started: Started) -> None:
    from phasewright.papers.start_events import event_words

    told, found = started.verdict, started.waves
    for sentence in (*told.words, *((started.stands_on,) if started.stands_on else ())):
        line(console, sentence, inset=0)
    falls = "the lines fall" if found.course.three_lines else "the supply falls"
    heading(console, "what happens when")
    for event in told.events:
        fall = "" if event.dip < 5e-4 else f", {falls} {event.dip:.1%}"
        peak = f"{event.supply_peak_a:.0f} A at the crest, {event.supply_rms_max_a:.0f} A rms"
        line(console, f"{event.at_s:.3f} s: {event_words(event)} ({peak}{fall})")
    heading(console, "every machine")
    for outcome in told.outcomes:
        line(console, outcome.words)
    volts = zip(PAIRS, found.volts_v[-1].tolist(), strict=True)
    shown = ", ".join(f"{pair} {value:.0f} V" for pair, value in volts)
    line(console, f"At the end the lines have {shown}.")
    others = [trip.words for trip in told.trips]
    others += [coil.words for coil in told.coils]
    others += [each.words for each in told.capacitors]
    if told.heat is not None:
        others.append(told.heat.words)
    if told.starts_an_hour is not None:
        others.append(told.starts_an_hour.words)
    if others:
        heading(console, "what it asks of the parts")
        for words in others:
            line(console, words)


def _point(console: Console, number: int, point: OperatingPoint) -> None:
    of = point.settled
    kind = "everything runs" if point.running else "not everything runs as it should"
    heading(console, f"operating point {number}: {kind}")
    pairs = zip(PAIRS, of.line_voltages_v, strict=True)
    line(console, "Lines " + ", ".join(f"{pair} {volts:.1f} V" for pair, volts in pairs))
    taken = f"{amount(of.supply_current_a, 'A')}, {amount(of.supply_power_w, 'W')}"
    line(console, f"From the supply {taken}")
    for each in of.machines:
        amps = ", ".join(f"{current:.2f}" for current in each.line_currents_a)
        line(console, f"{each.name}: {each.speed_rpm:.0f} rpm, lines {amps} A, "
                      f"{amount(each.shaft_power_w, 'W')} at the shaft")  # fmt: skip
