"""Several motors turning on one rotary converter: their network, and whether it stands."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from phasewright.network.supply import Source
from phasewright.quantities.errors import NoOperatingPoint, NotComputable
from phasewright.running.converter import Converter, on_converter
from phasewright.running.network import Connected, Network, Settled
from phasewright.running.rectifier import Rectifier
from phasewright.running.usable import stays_cool
from phasewright.tables.published import table
from phasewright.ways.conditions import demand_ratio, typical_ratio
from phasewright.ways.converter_drive_inside import drives_of, has_drive_inside
from phasewright.ways.converter_rectifier import rectified
from phasewright.ways.hardest_start import hardest_start
from phasewright.ways.lasting import mean_ratio
from phasewright.ways.on_converter import draw_of, idler_refusals, start_refusals, together
from phasewright.ways.on_two_lines import Linked, linked
from phasewright.ways.rectified import in_one, rectifiers_of
from phasewright.ways.shared_source import (
    Feeders,
    Lines,
    MachineLines,
    Turning,
    softest,
)
from phasewright.ways.way import Task


@dataclass(frozen=True, slots=True)
class OnConverter:
    """Several motors on one converter: the largest at its highest load, and all over their duty."""

    source: Source
    converter: Converter
    feeders: Feeders = ()
    idler_heat_share: float = 1.0
    surge_a: float | None = None

    def __call__(self, tasks: tuple[Task, ...]) -> Turning | None:
        """Settles the network; None where one stalls."""
        linked_motors = [_linked(task) for task in tasks]
        motors = [
            motor
            for task, motor in zip(tasks, linked_motors, strict=True)
            if not has_drive_inside(task)
        ]
        source = softest(self.source, self.feeders, tasks)
        consumers = rectifiers_of(tasks, source.voltage_v)
        rectifier = in_one((drives_of(tasks, linked_motors), consumers))
        at_once = self._settled(source, at_most(motors) if motors else (), rectifier)
        if at_once is None:
            return None
        point, _, distortion_a = at_once
        draw = replace(draw_of(point), distortion_a=distortion_a)
        # one alone was judged when the converter was tried
        stands = len(tasks) == 1 or (
            self._stands(source, motors, rectifier, point)
            and self._starts(source, tasks, linked_motors)
        )
        return Turning(draw, lines_of(point), stands)

    def _settled(
        self, source: Source, motors: tuple[Connected, ...], rectifier: Rectifier | None
    ) -> tuple[Settled, Network, float] | None:
        """The point, its network, and harmonics in the supply's lines; None where one stalls or
        the rectifier does not get its power."""
        if rectifier is None:
            point = together(source, self.converter, motors)
            network = on_converter(source, self.converter, motors)
            return None if point is None else (point, network, 0.0)
        try:
            of = rectified(source, self.converter, motors, rectifier)
        except (NoOperatingPoint, NotComputable):
            return None
        return of.found.settled, of.found.network, of.distortion_a

    def _starts(self, source: Source, tasks: tuple[Task, ...], linked_motors: list[Linked]) -> bool:
        """Whether every motor starts in its hardest case, beside all others of the set, on what a
        generator or inverter that feeds it all gives for a while."""
        motors = [
            (task, motor)
            for task, motor in zip(tasks, linked_motors, strict=True)
            if not has_drive_inside(task)
        ]
        most_a = math.inf if self.surge_a is None else self.surge_a
        try:
            starts = [(one, hardest_start(source, self.converter, motors, one)) for one in motors]
        except NoOperatingPoint:
            return False
        return all(
            not start_refusals(one[1], start) and start.supply_a <= most_a for one, start in starts
        )

    def _stands(
        self, source: Source, motors: list[Linked], rectifier: Rectifier | None, point: Settled
    ) -> bool:  # fmt: skip
        """Whether the idler stays cool at the highest load, and every motor over its duty."""
        if idler_refusals(self.converter, point, self.idler_heat_share):
            return False
        if rectifier is not None and _far_apart(point):
            return False
        usual = tuple(motor.connected(typical_ratio(motor.load)) for motor in motors)
        at_usual = self._settled(source, usual, rectifier)
        if at_usual is None:
            return False
        network = at_usual[1]
        return all(
            stays_cool(
                network,
                one.motor.id,
                mean_ratio(one.load),
                windings=one.windings,
                heat_share=one.motor.heat_share,
            )
            for one in motors
        )


def at_most(motors: list[Linked]) -> tuple[Connected, ...]:
    """The motors with their loads: usual ones, the heaviest motor at its highest."""
    heaviest = max(range(len(motors)), key=lambda k: motors[k].rated_w)
    return tuple(
        motor.connected(_highest(motor) if k == heaviest else typical_ratio(motor.load))
        for k, motor in enumerate(motors)
    )


def _highest(motor: Linked) -> float:
    """The highest load asked for, but no more than the motor may give for ever alone here."""
    return max(typical_ratio(motor.load), min(demand_ratio(motor.load), 1.0))


def _far_apart(point: Settled) -> bool:
    """Whether line volts are further apart than motors bear for long."""
    return point.nema > table("limits", "unbalance").number("continuous")


def _linked(task: Task) -> Linked:
    motor = linked(task.motor)
    assert isinstance(motor, Linked)
    return motor


def lines_of(point: Settled) -> Lines:
    """The three lines of a settled network."""
    return Lines(
        point.line_voltages_v, point.vuf, point.nema,
        tuple(MachineLines(each.name, each.line_currents_a) for each in point.machines),
    )  # fmt: skip
