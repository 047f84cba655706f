"""What happened in a start in an owner's words, for the picture and for the screen."""

from __future__ import annotations

from collections.abc import Iterator

from phasewright.starts.seen import Event
from phasewright.starts.trips import Trip
from phasewright.starts.verdict import StartVerdict
from phasewright.starts.waves import Waves


def event_words(event: Event) -> str:
    """An event in a few words."""
    name = event.machine or ""
    return {
        "machine_on": f"{name} on",
        "machine_off": f"{name} off",
        "machine_let_go": f"{name} let go for want of volts",
        "load_step": f"load of {name} changes",
        "start_capacitor_out": "start capacitor out",
        "resistor_bridged": "series resistor bridged",
        "supply_lost": "supply lost",
        "supply_back": "supply back",
    }[event.what]


def marks_of(found: Waves, told: StartVerdict) -> list[tuple[float, str]]:
    """Instants [s] with the words that stand at them in the picture: what was switched, when the
    machine that was asked about ran up, what trips."""
    running = {
        starter.machine.name
        for starter in found.course.starters
        if starter.closes_s == 0.0 and starter.speed_rad_s != 0.0
    }
    marks = [
        (event.at_s, event_words(event))
        for event in told.events
        if not (event.what == "machine_on" and event.machine in running and event.at_s == 0.0)
    ]
    marks += [
        (each.closed_s + each.time_s, f"{each.machine} up to speed")
        for each in told.outcomes
        if each.machine == told.machine and each.runs_up and each.time_s
        if each.closed_s is not None
    ]
    return sorted([*marks, *_trips(told.trips)])


def _trips(trips: tuple[Trip, ...]) -> Iterator[tuple[float, str]]:
    for trip in trips:
        if trip.surely_s is not None:
            yield trip.surely_s, f"{trip.device} trips"
        elif trip.may_s is not None:
            yield trip.may_s, f"{trip.device} may trip"
