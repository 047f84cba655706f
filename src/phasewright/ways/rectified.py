"""Rectifiers that hang on three lines: of spark erosion, direct-current feeds, numerical controls
and drives that are inside a machine. Common practice, no source, where no rule is named.

The smoothing capacitor is hardly ever printed: what makers of drives usually fit is taken. All of
a machine on three lines is taken as one bridge with one link.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from phasewright.electronics.rectifier import Bridge, settle_bridge
from phasewright.electronics.three_line_rectifier import (
    Feed,
    ThreeLineBridge,
    ThreeLineState,
    settle_on_three_lines,
)
from phasewright.network.phasors import phasors_of
from phasewright.network.supply import Source
from phasewright.quantities.errors import NotComputable
from phasewright.running.rectifier import Rectifier
from phasewright.shop.machine import Consumer, Machine
from phasewright.tables.drives import typical_link_capacitance_f
from phasewright.ways.consumers import rectifies
from phasewright.ways.drive_duty import link_power_at
from phasewright.ways.on_two_lines import Linked
from phasewright.ways.way import Draw, Task


def rectifier_of(machine: Machine, line_voltage_v: float) -> Rectifier | None:
    """What of a machine's consumers is rectified from three lines, all at work; None where
    there is none, or where neither watts nor amps are told."""
    return in_one(
        of_power(_watts(each, line_voltage_v)) for each in machine.others if rectifies(each)
    )


def rectifiers_of(tasks: tuple[Task, ...], line_voltage_v: float) -> Rectifier | None:
    """All rectifiers of the machines of these motors, each machine's once."""
    machines = {task.machine.name: task.machine for task in tasks}
    return in_one(rectifier_of(each, line_voltage_v) for each in machines.values())


def of_power(link_power_w: float) -> Rectifier | None:
    """A rectifier of so many watts with a usual link; None for none."""
    if not link_power_w > 0.0:
        return None
    return Rectifier(link_power_w, typical_link_capacitance_f(link_power_w))


def _watts(consumer: Consumer, line_voltage_v: float) -> float:
    """Its watts, or its amps taken as watts, which is never too little; 0 where not known."""
    if consumer.power is not None:
        return consumer.power.number
    if consumer.current is None:
        return 0.0
    volts = line_voltage_v if consumer.voltage is None else consumer.voltage.number
    return math.sqrt(3.0) * volts * consumer.current.number


def in_one(parts: Iterable[Rectifier | None]) -> Rectifier | None:
    """Several rectifiers on the same lines as one; None where there is none."""
    there = [part for part in parts if part is not None]
    if not there:
        return None
    return Rectifier(
        sum(part.link_power_w for part in there), sum(part.capacitance_f for part in there)
    )


def drive_inside(motor: Linked, torque_ratio: float) -> Rectifier:
    """The rectifier of a drive inside the machine, its motor at this share of rated torque.

    Raises TableEnds for a motor beyond the table of drives' losses.
    """
    power = link_power_at(motor.circuit, torque_ratio * motor.rated_nm, motor.rated_w)
    return Rectifier(power.number, typical_link_capacitance_f(motor.rated_w))


def on_equal_lines(source: Source, line_voltage_v: float, rectifier: Rectifier) -> ThreeLineState:
    """The same rectifier on three equal lines, each behind half of the supply's loop.

    Raises NotComputable where they cannot give its power.
    """
    half = complex(source.resistance_ohm, source.reactance_ohm) / 2.0
    volts = phasors_of(complex(line_voltage_v / math.sqrt(3.0)), 0j)
    return settle_on_three_lines(
        ThreeLineBridge(
            Feed(volts, (half, half, half), source.frequency_hz),
            rectifier.capacitance_f, rectifier.link_power_w,
        )
    )  # fmt: skip


def draw_on_equal_lines(
    source: Source, line_voltage_v: float, rectifier: Rectifier
) -> Draw | None:  # fmt: skip
    """What it takes evenly from three equal lines; None where they cannot give its power."""
    try:
        state = on_equal_lines(source, line_voltage_v, rectifier)
    except NotComputable:
        return None
    watts, var = _taken(state)
    return Draw(watts, var, state.distortion_a, balanced_w=watts, balanced_var=var)


def draw_on_two_lines(source: Source, rectifier: Rectifier) -> Draw | None:
    """What it takes fed from lines 1 and 2 alone; None where they cannot give its power."""
    try:
        state = settle_bridge(Bridge(source, rectifier.capacitance_f, rectifier.link_power_w))
    except NotComputable:
        return None
    first = state.harmonics_a[0] * state.service_voltage_v
    distortion = math.sqrt(max(state.current_a**2 - abs(state.harmonics_a[0]) ** 2, 0.0))
    return Draw(first.real, -first.imag, distortion)


def _taken(state: ThreeLineState) -> tuple[float, float]:
    """Watts and vars of the fundamentals."""
    whole = sum(
        volts * amps.conjugate()
        for volts, amps in zip(state.pair_volts_v, state.pair_currents_a, strict=True)
    )
    return complex(whole).real, complex(whole).imag
