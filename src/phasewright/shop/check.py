"""What no single key can tell: whether the facts of a shop file agree with each other."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from phasewright.quantities.finding import Finding
from phasewright.quantities.text import listed, nearest
from phasewright.quantities.units import format as printed
from phasewright.shop.check_circuit import (
    breaker_faults,
    circuit_faults,
    machine_circuit_faults,
)
from phasewright.shop.check_plate import plate_faults
from phasewright.shop.faults import Fault, given
from phasewright.shop.machine import Load, Machine, Motor
from phasewright.shop.model import OwnedPart, Quote, Shop
from phasewright.shop.supply import Feeder, Supply

_SIZED_PARTS = {
    "idler_motor": ("power", "current"),
    "drive": ("power", "current"),
    "rotary_converter": ("power", "rating", "current"),
    "static_converter": ("power", "rating"),
    "electronic_converter": ("power", "rating", "current"),
    "battery_inverter": ("power", "rating"),
    "generator": ("power", "rating"),
    "transformer": ("rating", "power"),
    "run_capacitor": ("capacitance",),
    "start_capacitor": ("capacitance",),
    "brake_resistor": ("resistance", "power"),
}
_GENTLE_STARTERS = ("star_delta", "drive_inside", "soft_starter")
_SIZES = ("power", "rating", "current", "capacitance")
_MACHINE_QUOTES = ("machine_replaced", "job_hired_out")
_SIZELESS_QUOTES = (
    "utility_service", "bigger_single_phase_service", "drop_out_relay", "phase_sequence_relay",
    "isolator", "plug_and_socket", "residual_current_device", "breaker", "cable",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Names:
    """The names that other keys of the file may use."""

    machines: tuple[str, ...]
    places: tuple[str, ...]
    motors: tuple[str, ...]


def faults(shop: Shop) -> tuple[Fault, ...]:
    """Everything in the shop that cannot be as it is written, in the order of the file."""
    return tuple(_all_faults(shop))


def _all_faults(shop: Shop) -> Iterator[Fault]:
    yield from _supply(shop.supply)
    yield from circuit_faults(
        "supply.converter_circuit", shop.supply.converter_circuit, shop.region
    )
    names = _Names(
        tuple(machine.name for machine in shop.machines),
        tuple(place.name for place in shop.places),
        tuple(f"{machine.name}/{motor.name}" for _, machine, motor in shop.each_motor()),
    )
    yield from _unique("places", names.places)
    yield from _unique("machines", names.machines)
    for i, place in enumerate(shop.places):
        yield from _feeder(f"places[{i}].feeder", place.feeder)
        if place.feeder is not None:
            at = f"places[{i}].feeder.breaker"
            yield from breaker_faults(at, place.feeder.breaker, shop.region)
        if place.feeder is not None:
            yield from breaker_faults(
                f"places[{i}].feeder.breaker", place.feeder.breaker, shop.region
            )
    if not shop.machines:
        yield Fault("machines", "there is no machine", "a shop has at least one machine")
    for i, machine in enumerate(shop.machines):
        yield from _machine(f"machines[{i}]", machine, names)
        yield from machine_circuit_faults(f"machines[{i}]", machine, shop.region)
    for i, part in enumerate(shop.owned_parts):
        yield from _owned_part(f"owned_parts[{i}]", part)
    for i, quote in enumerate(shop.quotes):
        yield from _quote(f"quotes[{i}]", quote, shop)


def cautions(shop: Shop) -> tuple[Finding, ...]:
    """What is accepted and yet so unusual that the owner should look again."""
    hz = shop.supply.frequency.number
    if any(abs(hz - usual) <= 1.0 for usual in (50.0, 60.0)):
        return ()
    return (
        Finding(
            id="supply.frequency",
            rule="supply.frequency",
            severity="caution",
            subject="supply",
            words=f"A supply of {printed(hz, 'frequency')} is unusual: public supplies run at "
            "50 Hz or 60 Hz. The figures are computed for what is written.",
            found=hz,
            unit="Hz",
            source="common practice, no source",
        ),
    )


def _supply(supply: Supply) -> Iterator[Fault]:
    volts = supply.voltage.number
    if supply.kind == "split_phase" and volts < 180:
        yield Fault(
            "supply.voltage",
            f"{printed(volts, 'voltage')} is the voltage from one line to the centre",
            "with split_phase the voltage between the two lines",
            f"write '{printed(2 * volts, 'voltage')}' if that is what the meter shows between them",
            also=("supply.kind",),
        )
    if supply.kind == "split_phase" and supply.earthed == "line_2":
        yield Fault(
            "supply.earthed",
            "line_2 cannot be earthed where the centre is",
            "centre, none or unknown with split_phase",
            "write kind: single_phase for a supply of line and neutral",
            also=("supply.kind",),
        )
    if supply.surge and supply.kind not in ("generator", "inverter"):
        yield Fault(
            "supply.surge",
            f"a {supply.kind} supply has no surge rating",
            "surge stands only with a generator or an inverter",
            also=("supply.kind",),
        )
    if supply.country and not re.fullmatch(r"[A-Z]{2}", supply.country):
        yield Fault(
            "supply.country",
            f"'{supply.country}' is no country code",
            "two capital letters, for example GB",
        )
    yield from _measured(supply)
    yield from _feeder("supply.feeder", supply.feeder)
    if supply.feeder is not None and supply.feeder.breaker:
        yield Fault(
            "supply.feeder.breaker",
            "a breaker of the supply's own feeder",
            "service_rating: its amps; a breaker stands with the feeder of a place",
        )


def _measured(supply: Supply) -> Iterator[Fault]:
    volts = supply.voltage.number
    if (between := supply.measured_voltage) and between.low.number > between.high.number:
        yield Fault("supply.measured_voltage", "low is above high", "low is the lower one")
    test = supply.heater_test
    if test and test.loaded.number > test.unloaded.number:
        yield Fault(
            "supply.heater_test",
            "the voltage rises when the heater is on",
            "loaded not above unloaded",
            "measure again, off and on several times, while nothing else is switched",
        )
    readings = {
        "supply.measured_voltage.low": between.low if between else None,
        "supply.measured_voltage.high": between.high if between else None,
        "supply.heater_test.unloaded": test.unloaded if test else None,
    }
    for path, reading in readings.items():
        if reading and not 0.7 * volts <= reading.number <= 1.3 * volts:
            yield Fault(
                path,
                f"{printed(reading.number, 'voltage')} does not belong to a supply of "
                f"{printed(volts, 'voltage')}",
                f"between {printed(0.7 * volts, 'voltage')} and {printed(1.3 * volts, 'voltage')}",
                "measure between the two lines that supply.voltage names",
                also=("supply.voltage",),
            )


def _feeder(path: str, feeder: Feeder | None) -> Iterator[Fault]:
    if feeder and feeder.length is None and feeder.conductor is None:
        yield Fault(path, "says neither length nor conductor", "at least one of the two")


def _unique(path: str, names: tuple[str, ...]) -> Iterator[Fault]:
    first: dict[str, int] = {}
    for i, name in enumerate(names):
        where = f"{path}[{i}].name"
        if not name.strip():
            yield Fault(where, "is empty", "a name")
        elif "/" in name:
            yield Fault(where, f"'{name}' holds a slash", "a name without '/'")
        earlier = first.setdefault(name.casefold().strip(), i)
        if earlier != i:
            yield Fault(
                where,
                f"'{name}' is the name of {path}[{earlier}] too",
                "a name that stands once",
                also=(f"{path}[{earlier}].name",),
            )


def _machine(path: str, machine: Machine, names: _Names) -> Iterator[Fault]:
    yield from _coming(path, machine)
    if machine.place and machine.place not in names.places:
        yield _no_such(f"{path}.place", "place", machine.place, names.places)
    others = tuple(name for name in names.machines if name != machine.name)
    for key in ("runs_with", "starts_with"):
        for i, name in enumerate(getattr(machine, key)):
            if name not in others:
                yield _no_such(f"{path}.{key}[{i}]", "other machine", name, others)
    for i, words in enumerate(machine.starts_before):
        yield from _order(f"{path}.starts_before[{i}]", words, machine, names)
    hours = (machine.hours_per_year or 0) + (machine.idle_hours_per_year or 0)
    if hours > 8784:
        yield Fault(
            f"{path}.idle_hours_per_year",
            f"turning and idle hours together are {hours:g}",
            "no more than the 8784 hours of a year",
            also=(f"{path}.hours_per_year",),
        )
    if not machine.motors and not machine.others:
        yield Fault(f"{path}.motors", "there is no motor", "at least one motor, or others")
    for i, consumer in enumerate(machine.others):
        if consumer.phases == 2:
            yield Fault(f"{path}.others[{i}].phases", "2 is no count of phases", "1 or 3")
    yield from _unique(f"{path}.motors", tuple(motor.name for motor in machine.motors))
    for i, motor in enumerate(machine.motors):
        yield from _motor(f"{path}.motors[{i}]", machine, motor)


def _coming(path: str, machine: Machine) -> Iterator[Fault]:
    if machine.have == "planned":
        return
    if machine.chance not in (None, 1):
        yield Fault(
            f"{path}.chance",
            f"{machine.chance:g} for a machine that is there already",
            "1 with have: owned",
            "write have: planned for a machine to come",
            also=(f"{path}.have",),
        )
    if machine.year not in (None, 0):
        yield Fault(
            f"{path}.year",
            f"{machine.year:g} for a machine that is there already",
            "0 with have: owned",
            "write have: planned for a machine to come",
            also=(f"{path}.have",),
        )


def _order(path: str, words: str, machine: Machine, names: _Names) -> Iterator[Fault]:
    first, before, then = (part.strip() for part in words.partition(" before "))
    known = (*(motor.name for motor in machine.motors), *names.machines, *names.motors)
    if not before:
        yield Fault(path, f"'{words}' names no order", "as: pump before spindle")
        return
    for name in (first, then):
        if name not in known:
            yield _no_such(path, "motor or machine", name, known)


def _no_such(path: str, what: str, name: str, known: tuple[str, ...]) -> Fault:
    like = nearest(name, known)
    shown = listed(known[:12]) if known else "there is none"
    return Fault(
        path,
        f"there is no {what} '{name}'",
        f"a name that stands in this file: {shown}",
        f"did you mean '{like}'?" if like else "",
        about_names="motors" if "motor" in what else "machines",
    )


def _motor(path: str, machine: Machine, motor: Motor) -> Iterator[Fault]:
    yield from plate_faults(f"{path}.plate", motor.plate)
    if (speed := motor.wants.speed) and speed[0] > speed[1]:
        yield Fault(f"{path}.wants.speed", f"{list(speed)} falls", "the slower speed first")
    yield from _load(f"{path}.load", machine, motor.load)


def _load(path: str, machine: Machine, load: Load) -> Iterator[Fault]:
    """Ways to tell an inertia: one of them, and each only where it can be read."""
    ways = [name for name in ("inertia", "wheel", "run_up") if getattr(load, name) is not None]
    for name in ways[1:]:
        yield Fault(
            f"{path}.{name}",
            f"{name} beside {ways[0]}",
            "one of inertia, wheel and run_up",
            "leave the less certain one out",
            also=tuple(f"{path}.{other}" for other in ways if other != name),
        )
    if load.run_up is not None and machine.starter in _GENTLE_STARTERS:
        yield Fault(
            f"{path}.run_up",
            f"a run-up timed with starter: {machine.starter}",
            "a run-up switched straight on",
            "leave run_up out and give the wheel's size",
            also=(f"{path.split('.motors')[0]}.starter",),
        )
    wheel = load.wheel
    if wheel and wheel.rim and wheel.rim.number > wheel.diameter.number / 2:
        yield Fault(
            f"{path}.wheel.rim",
            f"{printed(wheel.rim.number, 'length')} is more than the wheel's radius",
            "the thickness of the rim, measured towards the hub",
            also=(f"{path}.wheel.diameter",),
        )


def _owned_part(path: str, part: OwnedPart) -> Iterator[Fault]:
    sizes = _SIZED_PARTS.get(part.kind, ())
    if sizes and not any(given(getattr(part, size)) for size in sizes):
        yield Fault(path, f"{part.kind} without a size", f"{listed(sizes)}")
    if part.input_phases == 2:
        yield Fault(f"{path}.input_phases", "2 is no count of phases", "1 or 3")
    if part.phases == 2:
        yield Fault(f"{path}.phases", "2 is no count of phases", "1 or 3")


def _quote(path: str, quote: Quote, shop: Shop) -> Iterator[Fault]:
    names = tuple(machine.name for machine in shop.machines)
    if quote.kind in _MACHINE_QUOTES and not quote.machine:
        found = f"a quote for {quote.kind} without its machine"
        yield Fault(path, found, "machine: a name out of machines")
    if quote.machine and quote.machine not in names:
        yield _no_such(f"{path}.machine", "machine", quote.machine, names)
    if quote.kind in _MACHINE_QUOTES or quote.kind in _SIZELESS_QUOTES:
        return
    if not any(given(getattr(quote, size)) for size in _SIZES):
        yield Fault(path, f"a quote for {quote.kind} without a size", f"{listed(_SIZES)}")
