"""The settled network a course ends in: what is still connected when its seconds are over."""

from __future__ import annotations

import math
from dataclasses import replace

from phasewright.network.supply import Source
from phasewright.quantities.errors import NotComputable
from phasewright.running.network import Between, Connected, Network
from phasewright.starts.course import Course, StartBranch, Starter


def network_at_end(course: Course) -> Network:
    """Supply, capacitors and machines that are connected at the end of a course.

    A start capacitor that watches a speed or volts counts as out; one that stays is put in as the
    capacitance and conductance that its series circuit has at the supply's frequency. Raises
    NotComputable where the supply is gone or no machine is on, and for a source of three lines.
    """
    if course.three_lines:
        raise NotComputable(
            "Operating points are looked for on two lines and a generated third; this run's "
            "source has three: run it in time, to see where it ends."
        )
    if course.lost_s <= course.seconds and course.returns_s > course.seconds:
        raise NotComputable("At the end of this run the supply is lost: nothing settles.")
    running = [starter for starter in course.starters if _on(starter, course)]
    if not running:
        raise NotComputable("At the end of this run no machine is switched on.")
    banks = [course.capacitance_f, *(starter.travelling_f for starter in running)]
    farad, siemens = _stays(course)
    g = course.conductance_s
    return Network(
        source=_source(course),
        capacitance_f=Between(
            sum(bank.c12 for bank in banks),
            sum(bank.c23 for bank in banks),
            sum(bank.c31 for bank in banks) + farad,
        ),
        machines=tuple(_loaded(starter, course) for starter in running),
        conductance_s=Between(g.c12, g.c23, g.c31 + siemens),
    )


def _on(starter: Starter, course: Course) -> bool:
    # an instant below zero waits for a settling, which is taken to come
    return starter.closes_s <= course.seconds < starter.opens_s


def _loaded(starter: Starter, course: Course) -> Connected:
    """The machine with what its load asks after the last load step."""
    machine = starter.machine
    steps = [step for step in course.load_steps if step.machine == machine.name]
    passed = sorted(
        (step for step in steps if step.at_s <= course.seconds), key=lambda step: step.at_s
    )
    if not passed:
        return machine
    load = replace(machine.load, torque_nm=machine.load.torque_nm * passed[-1].share)
    return replace(machine, load=load)


def _source(course: Course) -> Source:
    resistor = course.resistor
    if resistor is None or resistor.bypass_s <= course.seconds:
        return course.source
    whole = course.source.resistance_ohm + resistor.ohm
    return replace(course.source, resistance_ohm=whole)


def _stays(course: Course) -> tuple[float, float]:
    """Capacitance [F] and conductance [S] across 3-1 of a start branch that is still on."""
    start = course.start
    if start is None or start.joins_s > course.seconds or _out(start, course):
        return 0.0, 0.0
    w = 2.0 * math.pi * course.source.frequency_hz
    reactance = 1.0 / (w * start.capacitance_f)
    square = start.resistance_ohm**2 + reactance**2
    return reactance / square / w, start.resistance_ohm / square


def _out(start: StartBranch, course: Course) -> bool:
    if start.drop.rule == "time":
        return start.drop.at <= course.seconds
    return start.drop.rule != "never"
