"""The electrical check of a wiring: what is wrong with it, in words, or nothing.

Two terminals are one net where conductors join them; they are one circuit where closed contacts
and fuses join them as well. Every position that switches can be in is looked at.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from phasewright.papers.wiring.model import Device, Wiring
from phasewright.papers.wiring.nets import Nets, nets
from phasewright.papers.wiring.origin import EARTH_PIN
from phasewright.papers.wiring.volts import CAPACITORS, wrong_volts
from phasewright.quantities.finding import Reason

MOTORS = ("motor", "idler", "pony_motor")
PASSIVE = ("PE", "SH", "E1", "E2")
"""Terminals of earth and screen, which nothing feeds."""


@dataclass(frozen=True, slots=True)
class Source:
    """A terminal at which a voltage arises."""

    terminal: str
    device: Device
    generated: bool


def faults(wiring: Wiring) -> tuple[Reason, ...]:
    """Everything the check finds; empty where the wiring is sound."""
    wires = nets(wiring)
    found = [*_designations(wiring), *_ends(wiring), *_open(wiring), *_discharged(wiring, wires)]
    for position in range(_positions(wiring)):
        closed = nets(wiring, position)
        found += [
            *_one_source(wiring, closed),
            *_coils(wiring, closed),
            *_marked(wiring, closed),
            *wrong_volts(wiring, closed),
        ]
    for position in range(_positions(wiring)):
        found += _protected(wiring, nets(wiring, position, without=("overload_relay",)))
    found += [*_fed(wiring), *_earthed(wiring, wires), *_wanted(wiring), *_told(wiring)]
    return tuple(dict.fromkeys(found))


def sources(wiring: Wiring) -> Iterator[Source]:
    """Every terminal at which a voltage arises."""
    for device in wiring.devices:
        for terminal in device.sources:
            yield Source(device.at(terminal), device, terminal == device.generated)


def _positions(wiring: Wiring) -> int:
    return max((len(device.positions) for device in wiring.devices), default=1) or 1


def _designations(wiring: Wiring) -> Iterator[Reason]:
    names = [device.id for device in wiring.devices]
    for name in sorted({name for name in names if names.count(name) > 1}):
        yield Reason("designation_twice", f"{name} stands for two devices.")


def _ends(wiring: Wiring) -> Iterator[Reason]:
    """Conductors whose ends are no terminals of the wiring."""
    known = {device.at(terminal) for device in wiring.devices for terminal in device.terminals}
    for each in wiring.conductors:
        for end in (each.from_, each.to):
            if end not in known:
                yield Reason("no_such_terminal", f"{each.id} leads to {end}, which is not there.")


def _open(wiring: Wiring) -> Iterator[Reason]:
    wired = {end for each in wiring.conductors for end in (each.from_, each.to)}
    for device in wiring.devices:
        for terminal in device.terminals:
            at = device.at(terminal)
            if at not in wired and terminal not in device.left_open:
                yield Reason("open_terminal", f"Nothing is wired to {at} ({device.words}).")
            if at in wired and terminal in device.left_open:
                yield Reason("not_open", f"{at} is to stay open, but something is wired to it.")


def _one_source(wiring: Wiring, closed: Nets) -> Iterator[Reason]:
    first: dict[str, Source] = {}
    for source in sources(wiring):
        other = first.setdefault(closed.of(source.terminal), source)
        together = other.device.kind == source.device.kind == "idler"  # they make line 3 as one
        if other is not source and not together:
            yield Reason(
                "two_sources", f"{other.terminal} and {source.terminal} feed the same conductor."
            )


def _protected(wiring: Wiring, behind: Nets) -> Iterator[Reason]:
    """Motors that a source other than a drive reaches with every overload relay taken out."""
    feeding = {
        behind.of(source.terminal): source
        for source in sources(wiring)
        if source.device.kind != "drive"
    }
    for motor in wiring.devices:
        if motor.kind not in MOTORS:
            continue
        for terminal in motor.terminals:
            source = feeding.get(behind.of(motor.at(terminal)))
            if source is not None and source.device is not motor:
                yield Reason(
                    "motor_unprotected",
                    f"{source.terminal} reaches {motor.at(terminal)} without an overload relay.",
                )


def _discharged(wiring: Wiring, wires: Nets) -> Iterator[Reason]:
    bridged = {
        frozenset(wires.of(device.at(terminal)) for terminal in device.terminals)
        for device in wiring.devices
        if device.kind == "discharge_resistor"
    }
    for device in wiring.devices:
        ends = frozenset(wires.of(device.at(terminal)) for terminal in device.terminals)
        if device.kind in CAPACITORS and ends not in bridged:
            yield Reason("not_discharged", f"No resistor discharges {device.id}.")


def _coils(wiring: Wiring, closed: Nets) -> Iterator[Reason]:
    generated = {
        closed.of(source.terminal): source for source in sources(wiring) if source.generated
    }
    for device in wiring.devices:
        for terminal in device.coil or ():
            source = generated.get(closed.of(device.at(terminal)))
            if source is not None:
                yield Reason(
                    "coil_on_line_3",
                    f"The coil end {device.at(terminal)} hangs on the generated line "
                    f"({source.terminal}); coils belong on lines 1 and 2.",
                )


def _marked(wiring: Wiring, closed: Nets) -> Iterator[Reason]:
    generated = {closed.of(source.terminal) for source in sources(wiring) if source.generated}
    for each in wiring.conductors:
        if each.kind == "wire" and closed.of(each.from_) in generated and "L3" not in each.mark:
            yield Reason("line_3_unmarked", f"{each.id} carries the generated line unmarked.")


def _fed(wiring: Wiring) -> Iterator[Reason]:
    """Terminals that no source reaches in any position; ends of windings inside a motor are fed
    through the windings and are not looked at."""
    fed = {end for position in range(_positions(wiring)) for end in _reached(wiring, position)}
    for device in wiring.devices:
        for terminal in device.terminals:
            passive = terminal in PASSIVE or terminal in device.left_open
            if not passive and device.kind not in MOTORS and device.at(terminal) not in fed:
                yield Reason("not_fed", f"No source reaches {device.at(terminal)}.")


def _reached(wiring: Wiring, position: int) -> Iterator[str]:
    """Terminals that a source reaches with all switches in this position."""
    closed = nets(wiring, position)
    for device in wiring.devices:
        if device.kind in ("potentiometer", "brake_resistor"):
            for one, other in device.windings:
                closed.join(device.at(one), device.at(other))
    alive = {closed.of(source.terminal) for source in sources(wiring)}
    for device in wiring.devices:
        for terminal in device.terminals:
            if closed.of(device.at(terminal)) in alive:
                yield device.at(terminal)


def _earthed(wiring: Wiring, wires: Nets) -> Iterator[Reason]:
    """Whatever has an earth terminal is joined to the intake's by conductors and plugs alone."""
    for device in wiring.devices:
        if EARTH_PIN[0] in device.terminals:
            wires.join(device.at(EARTH_PIN[0]), device.at(EARTH_PIN[1]))
    ends = list(_earth_terminals(wiring.devices))
    for end in ends[1:]:
        if wires.of(end) != wires.of(ends[0]):
            yield Reason("not_earthed", f"{end} is not joined to the earth of the intake.")


def _earth_terminals(devices: Iterable[Device]) -> Iterator[str]:
    return (device.at("PE") for device in devices if "PE" in device.terminals)


def _wanted(wiring: Wiring) -> Iterator[Reason]:
    """What the plan's circuits and purchases ask for stands in the wiring."""
    for each in wiring.wanted:
        there = [
            device for device in wiring.devices
            if device.kind == each.kind and (device.unit == each.unit if each.unit
                                             else device.priced)
        ]  # fmt: skip
        if len(there) < each.count:
            yield Reason(
                "not_wired",
                f"The plan has {each.words}; the wiring has {len(there)} "
                f"{each.kind.replace('_', ' ')} for it, not {each.count}.",
            )


def _told(wiring: Wiring) -> Iterator[Reason]:
    """Drawing, parts list and wire list name the same devices: each is drawn in some column, and
    each column draws what is there."""
    known = {device.id for device in wiring.devices}
    drawn = {
        each.device
        for unit in wiring.units
        for band in unit.bands
        for column in band.columns
        for each in column.elements
    } | {
        rail.terminal.partition(":")[0]
        for unit in wiring.units
        for band in unit.bands
        for rail in band.rails
    }  # fmt: skip
    wired = {end.partition(":")[0] for each in wiring.conductors for end in (each.from_, each.to)}
    for name in sorted(known - drawn):
        yield Reason("not_drawn", f"{name} is in the parts list and on no drawing.")
    for name in sorted(drawn - known):
        yield Reason("not_listed", f"{name} is drawn and in no parts list.")
    for name in sorted(known - wired):
        yield Reason("no_wire", f"{name} is in the parts list and no wire leads to it.")
