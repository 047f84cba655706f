"""The network of a plan's converter settled at what the model leaves open.

Corners: the supply's volts from lowest to highest, iron from soft with little no-load current to
hard with much, run capacitors at both ends of their tolerance, loads from the lowest to the
highest they ask for. The first point is the plan's own.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace

from phasewright.machines.circuit import Circuit, Saturation
from phasewright.machines.targets import HARD_SATURATION, SOFT_SATURATION
from phasewright.network.supply import Source
from phasewright.quantities.errors import NoOperatingPoint
from phasewright.quantities.value import Value
from phasewright.running.converter import Converter, on_converter
from phasewright.running.network import Between, Connected, Settled
from phasewright.running.settle import settle
from phasewright.tables.meters import run_capacitor_tolerance
from phasewright.tables.motors import default_no_load_current_ratio
from phasewright.ways.on_two_lines import Linked

SOFT, USUAL, HARD = range(3)


@dataclass(frozen=True, slots=True)
class Corner:
    """One end of what is not known: supply volts, the run capacitors' share, the iron."""

    voltage_v: float
    capacitance: float
    iron: int


@dataclass(frozen=True, slots=True)
class Told:
    """A plan's converter where it stands, and the supply's volts with their spread there."""

    source: Source
    converter: Converter
    mains: Value

    def corners(self) -> tuple[Corner, ...]:
        """The plan's own point first."""
        off = run_capacitor_tolerance()
        ends = itertools.product(
            (self.mains.low, self.mains.high), (1.0 - off, 1.0 + off), (SOFT, HARD)
        )
        own = Corner(self.source.voltage_v, 1.0, USUAL)
        return own, *(Corner(*each) for each in ends)


def idling(of: Told) -> tuple[Settled, ...]:
    """The converter alone."""
    return tuple(_settled(of, corner, ()) for corner in of.corners())


def turning(of: Told, motor: Linked, torques: Sequence[float]) -> tuple[Settled, ...]:
    """The converter with one motor, its own torque first; a corner at which it stalls is left out.

    Raises NoOperatingPoint where it stalls at the plan's own point.
    """
    found = []
    for place, (corner, ratio) in enumerate(
        (corner, ratio) for corner in of.corners() for ratio in dict.fromkeys(torques)
    ):
        try:
            found.append(_settled(of, corner, (_ironed(motor, corner.iron, ratio),)))
        except NoOperatingPoint:
            if place == 0:
                raise
    return tuple(found)


def _settled(of: Told, corner: Corner, motors: tuple[Connected, ...]) -> Settled:
    source = replace(of.source, voltage_v=corner.voltage_v)
    return settle(on_converter(source, _at(of.converter, corner), motors))


def _at(of: Converter, corner: Corner) -> Converter:
    """The converter with its iron and its capacitors at a corner."""
    usual = default_no_load_current_ratio(of.idler_power_w / (1 + len(of.beside)), of.idler.poles)
    return replace(
        of,
        idler=iron(of.idler, usual, corner.iron),
        beside=tuple(iron(each, usual, corner.iron) for each in of.beside),
        run_f=_times(of.run_f, corner.capacitance),
        carried=tuple((name, _times(bank, corner.capacitance)) for name, bank in of.carried),
    )


def _ironed(motor: Linked, end: int, ratio: float) -> Connected:
    current = motor.motor.no_load_current_a
    of = motor.connected(ratio)
    return of if current is None else replace(of, circuit=iron(of.circuit, current, end))


def iron(of: Circuit, no_load: Value, end: int) -> Circuit:
    """A circuit with the iron of one end: soft and little no-load current, or hard and much.

    `no_load` is its no-load current (any unit) with its spread.
    """
    if end == USUAL or of.saturation is None:
        return of
    law, amps = (SOFT_SATURATION, no_load.low) if end == SOFT else (HARD_SATURATION, no_load.high)
    return _magnetised(of, law, no_load.number / amps)


def _magnetised(of: Circuit, law: Saturation, factor: float) -> Circuit:
    return replace(of, saturation=law, magnetising_ohm=of.magnetising_ohm * factor)


def _times(of: Between, factor: float) -> Between:
    return Between(of.c12 * factor, of.c23 * factor, of.c31 * factor)
