"""How an idler is brought up to speed: its start capacitor, and a series resistor where it must."""

from __future__ import annotations

from dataclasses import dataclass, replace

from phasewright.machines.circuit import Circuit
from phasewright.machines.performance import rated
from phasewright.network.supply import Source
from phasewright.quantities.errors import NoOperatingPoint
from phasewright.running.converter import Converter, on_converter
from phasewright.running.network import Between, Settled
from phasewright.running.settle import at_slips, locked
from phasewright.tables.sizes import START_CAPACITORS_F

IDLER_START_RATIO = 0.25
"""Standstill torque of the unloaded idler over its rated torque that turns it from rest with
room for friction and frost (common practice, no source)."""
LEAST_START_RATIO = 0.10
"""Below this standstill torque an idler is not trusted to turn (common practice, no source)."""
DEEPEST_DIP = 0.10
"""Dip at the idler's start from which a series resistor is fitted (common practice)."""
START_RESISTOR_SHARES = (0.25, 0.5, 0.75, 1.0, 1.5, 2.0)
"""Series resistances tried, over rated volts by direct starting amps."""


@dataclass(frozen=True, slots=True)
class IdlerStart:
    """The idler at standstill with its start capacitor, before anything hangs on it.

    `resistor_ohm` in series with the whole converter is bypassed when it has run up; 0 for a
    direct start.
    """

    torque_ratio: float
    supply_a: float
    dip_ratio: float
    resistor_ohm: float = 0.0


def start_of(source: Source, converter: Converter) -> tuple[float, IdlerStart]:
    """Start capacitor and start of the idlers: direct where the supply bears it, else through a
    series resistor with bypass, the smallest that keeps the dip (an electronic soft starter with
    capacitors behind it is no way). Several start one after the other, the hardest of them told;
    the bypass closes when all run. Where one of several would then hardly turn, the resistor
    with the least dip that turns all of them is taken."""
    direct = _one_by_one(source, converter, 0.0)
    if direct[1].dip_ratio <= DEEPEST_DIP:
        return direct
    tried = [direct]
    for share in START_RESISTOR_SHARES:
        ohm = share * converter.idler.line_voltage_v / direct[1].supply_a
        try:
            tried.append(_one_by_one(source, converter, ohm))
        except NoOperatingPoint:  # those that run do not hold through so much resistance
            break
        if tried[-1][1].dip_ratio <= DEEPEST_DIP:
            break
    if not converter.beside:
        return tried[-1]
    turns = [each for each in tried if each[1].torque_ratio >= LEAST_START_RATIO]
    return min(turns or tried[-1:], key=lambda each: each[1].dip_ratio)


def _one_by_one(
    source: Source, converter: Converter, resistor_ohm: float
) -> tuple[float, IdlerStart]:
    """The start capacitor that suits this resistor, and the starts with it."""
    start_f, _ = _start_capacitor(source, converter.started_first, resistor_ohm)
    return start_f, start_through(source, replace(converter, start_f=start_f), resistor_ohm)


def start_through(source: Source, converter: Converter, resistor_ohm: float) -> IdlerStart:
    """The converter's start through a series resistor: the first idler by the start capacitor
    with nothing beside it, every other one on those that run; the least torque and the hardest
    current and dip of these starts. Raises NoOperatingPoint as `started_beside` does."""
    alone = converter.started_first
    starts = [idler_standstill(source, alone, converter.start_f, resistor_ohm)]
    for count in range(1, len(converter.beside) + 1):
        running = replace(converter, beside=converter.beside[:count])
        starts.append(started_beside(source, running, resistor_ohm))
    return IdlerStart(
        torque_ratio=min(start.torque_ratio for start in starts),
        supply_a=max(start.supply_a for start in starts),
        dip_ratio=max(start.dip_ratio for start in starts),
        resistor_ohm=resistor_ohm,
    )


def started_beside(source: Source, converter: Converter, resistor_ohm: float = 0.0) -> IdlerStart:
    """The last idler at standstill while the others run, switched onto their lines.

    Raises NoOperatingPoint where the others do not run through the resistor.
    """
    last = converter.idlers[-1]
    held = locked(on_converter(_through(source, resistor_ohm), converter, ()), last.name)
    return _told(source, held, last.circuit, resistor_ohm)


def _through(source: Source, resistor_ohm: float) -> Source:
    return replace(source, resistance_ohm=source.resistance_ohm + resistor_ohm)


def _told(source: Source, held: Settled, starting: Circuit, resistor_ohm: float) -> IdlerStart:
    """The start of the last machine of a network, seen ahead of the resistor."""
    volts = held.line_voltages_v[0]
    current = complex(held.supply_power_w, -held.supply_reactive_var) / volts
    return IdlerStart(
        torque_ratio=held.machines[-1].shaft_torque_nm / rated(starting).shaft_torque_nm,
        supply_a=held.supply_current_a,
        dip_ratio=1.0 - abs(volts + resistor_ohm * current) / source.voltage_v,
        resistor_ohm=resistor_ohm,
    )


def _start_capacitor(
    source: Source, converter: Converter, resistor_ohm: float
) -> tuple[float, IdlerStart]:
    """The smallest start capacitor that gives the idler its standstill torque, else the best.

    Cans of the stock, then several of the largest in parallel.
    """
    largest = START_CAPACITORS_F[-1]
    tries = (*START_CAPACITORS_F, *(cans * largest for cans in range(2, 9)))
    found = [(tries[0], idler_standstill(source, converter, tries[0], resistor_ohm))]
    for capacitance in tries[1:]:
        if found[-1][1].torque_ratio >= IDLER_START_RATIO:
            break
        found.append((capacitance, idler_standstill(source, converter, capacitance, resistor_ohm)))
    if found[-1][1].torque_ratio >= IDLER_START_RATIO:
        return found[-1]
    return max(found, key=lambda pair: pair[1].torque_ratio)


def idler_standstill(
    source: Source, converter: Converter, start_f: float, resistor_ohm: float = 0.0
) -> IdlerStart:
    """The idler at rest with this start capacitor across 3-1 beside its run capacitors."""
    run = converter.run_f
    network = on_converter(
        _through(source, resistor_ohm),
        replace(converter, run_f=Between(run.c12, run.c23, run.c31 + start_f)),
        (),
    )
    return _told(source, at_slips(network, (1.0,)), converter.idler, resistor_ohm)
