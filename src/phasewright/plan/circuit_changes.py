"""Changes to what stands there of a circuit, the smallest first, in the shop file's own terms."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from phasewright.circuits.cables import sizes
from phasewright.circuits.devices import CURVES
from phasewright.circuits.standing import Standing
from phasewright.plan.circuit_jobs import Job
from phasewright.plan.circuit_study import PlanCircuit
from phasewright.quantities.codes import Quantity, Region
from phasewright.quantities.finding import Remedy
from phasewright.quantities.units import format as printed
from phasewright.quantities.units import parse, spelt
from phasewright.quantities.value import Value, exact
from phasewright.shop.standing import IsolatorThere, ResidualCurrent, SocketThere, read_breaker
from phasewright.tables.circuits import (
    breaking_sizes_ka,
    isolator_sizes_a,
    residual_ratings_ma,
)
from phasewright.tables.efficiency import W_PER_HP
from phasewright.tables.published import table
from phasewright.tables.sizes import SOCKETS_A, breaker_sizes_a
from phasewright.tables.trip_bands import fuse_sizes_a

_THICKEST = 1e-3


@dataclass(frozen=True, slots=True)
class Change:
    """One key changed: what would stand there then, and the remedy that says so."""

    key: str
    of: Standing
    remedy: Remedy


def changes(job: Job, of: Standing, chosen: PlanCircuit) -> Iterator[Change]:
    """Every single change of what is told, key by key; `chosen` is the circuit as it would be
    made anew."""
    makers: dict[str, Callable[[], Iterator[Change]]] = {
        "undervoltage_release": lambda: _flag("undervoltage_release", of),
        "phase_relay": lambda: _flag("phase_relay", of),
        "capacitor_fuses": lambda: _flag("capacitor_fuses", of),
        "capacitors_behind_overload": lambda: _ahead_of_relay(of),
        "overload": lambda: _overload(of, chosen),
        "overload_units": lambda: _units(of, chosen),
        "earth_wire": lambda: _earth_wire(of),
        "isolator": lambda: _isolator(of, job.region),
        "residual_current": lambda: _residual(of, job),
        "socket": lambda: _socket(of, job, chosen),
        "breaking": lambda: _breaking(of, job.region),
        "breaker": lambda: _breaker(of, job.region),
        "discharge_resistor": lambda: _resistor(of, job),
        "protective_conductor": lambda: _thicker("protective_conductor", of, job.region),
        "conductor": lambda: _thicker("conductor", of, job.region),
    }
    for key, make in makers.items():
        if key in of.told:
            yield from make()


def _change(key: str, of: Standing, now: Any, words: str, text: str, at: str = "") -> Change:
    path = of.paths[key] + (f".{at}" if at else "")
    changed: dict[str, Any] = {key: now}
    return Change(key, replace(of, **changed), Remedy(words, path, text))


def _value(number: float, kind: Quantity, unit: str, region: Region) -> tuple[Value, str]:
    """A figure as the shop file has it, and its text there."""
    text = spelt((number,), kind, region)
    return _read(text, kind, unit), text


def _read(text: str, kind: Quantity, unit: str) -> Value:
    return exact(parse(text, kind), unit, "stated", "remedy")


def _flag(key: str, of: Standing) -> Iterator[Change]:
    words = {
        "undervoltage_release": "Fit a contactor or switch that drops out, and stays out, when the "
        "supply is lost.",
        "capacitor_fuses": "Fit a fuse in every line to the bank, as low as will hold.",
        "phase_relay": "Fit a phase-sequence and undervoltage relay in the outlets' contactor.",
    }
    yield _change(key, of, True, words[key], "true")


def _ahead_of_relay(of: Standing) -> Iterator[Change]:
    words = "Wire them between the contactor and the overload relay."
    yield _change("capacitors_behind_overload", of, False, words, "false")


def _units(of: Standing, chosen: PlanCircuit) -> Iterator[Change]:
    units = None if chosen.motor is None else chosen.motor.overload_units
    if units is not None:
        words = f"Fit an overload relay of {units} units, one in each line."
        yield _change("overload_units", of, units, words, str(units))


def _earth_wire(of: Standing) -> Iterator[Change]:
    words = {"in_pipe": "Lay it in a pipe.", "in_cable": "Lay a cable with an earth core."}
    for now, how in words.items():
        yield _change("earth_wire", of, now, how, now)


def _overload(of: Standing, chosen: PlanCircuit) -> Iterator[Change]:
    if chosen.overload_setting_a is None:
        return
    what = (
        "Fit an overload relay, set to" if of.overload == "none" else "Turn the overload relay to"
    )
    amps = math.floor(100.0 * chosen.overload_setting_a.number) / 100.0
    value, text = _value(amps, "current", "A", "IEC")
    yield _change("overload", of, value, f"{what} {text}.", text)


def _breaker(of: Standing, region: Region) -> Iterator[Change]:
    """Other breakers, the nearest rating first; of a fuse the nearest fuse first."""
    there = read_breaker(of.breaker, region)
    if there is None:
        return
    letter, amps = there
    for name in marked_near(letter, amps, region):
        yield _change("breaker", of, name, f"Fit {name} in its place.", name)


def marked_near(letter: str | None, amps: float, region: Region) -> list[str]:
    """Other breakers as they are marked, the nearest rating first; of a fuse fuses first."""
    if region == "NEC":
        rated = sorted(breaker_sizes_a("NEC"), key=lambda a: abs(math.log(a / amps)))
        return [f"{each:g} A" for each in rated if each != amps]
    fuses = [(abs(math.log(a / amps)), f"gG {a:g} A") for a in fuse_sizes_a() if letter == "gG"]
    breakers = [
        (abs(math.log(a / amps)), abs(CURVES.index(c) - _curve(letter)), f"{c}{a:g}")
        for a in breaker_sizes_a("IEC")
        for c in CURVES
        if (c, a) != (letter, amps)
    ]
    near = [name for off, name in sorted(fuses) if off > 0.0]
    return near + [name for _, _, name in sorted(breakers)]


def _curve(letter: str | None) -> int:
    return next((k for k, curve in enumerate(CURVES) if curve == letter), 1)


def _breaking(of: Standing, region: Region) -> Iterator[Change]:
    assert of.breaking is not None
    for ka in breaking_sizes_ka(region):
        if 1000.0 * ka > of.breaking.number:
            text = f"{ka:g} kA"
            value = _read(text, "current", "A")
            words = f"Fit a device that breaks {text}."
            yield _change("breaking", of, value, words, text)


def _residual(of: Standing, job: Job) -> Iterator[Change]:
    told = of.residual_current
    there = ResidualCurrent() if told is None or isinstance(told, str) else told
    if not isinstance(told, str) and there.type != job.residual_type:
        kind = job.residual_type
        yield _change(
            "residual_current", of, replace(there, type=kind),
            f"Have it changed for one of type {kind}.", kind, "type",
        )  # fmt: skip
    now = math.inf if there.rating is None else 1000.0 * there.rating.number
    for ma in sorted(residual_ratings_ma(), reverse=True):
        if ma < now * (1.0 - 1e-9):
            text = f"{ma:g} mA"
            value = _read(text, "current", "A")
            yield _change(
                "residual_current", of, replace(there, rating=value),
                f"Fit a residual-current device of {text} for this circuit.", text, "rating",
            )  # fmt: skip


def _socket(of: Standing, job: Job, chosen: PlanCircuit) -> Iterator[Change]:
    there, new = of.socket or SocketThere(), chosen.socket
    if new is None:
        return
    if there.voltage is not None:
        value, text = _value(_pattern_v(job), "voltage", "V", job.region)
        words = f"Fit a socket of the pattern {new.pattern}."
        yield _change("socket", of, replace(there, voltage=value), words, text, "voltage")
    if there.rating is not None:
        for amps in sorted(SOCKETS_A):
            if amps > there.rating.number:
                value, text = _value(amps, "current", "A", "IEC")
                words = f"Fit a socket of {amps:g} A."
                yield _change("socket", of, replace(there, rating=value), words, text, "rating")
    if there.poles is not None and there.poles != new.poles:
        words = f"Fit a socket of {new.poles} poles and earth."
        yield _change("socket", of, replace(there, poles=new.poles), words, str(new.poles), "poles")


def _pattern_v(job: Job) -> float:
    """The volts that the socket of a circuit's own pattern is marked with."""
    low = job.voltage_v < 300.0
    if job.region == "NEC":
        return 240.0 if low else 480.0
    return 230.0 if low else 400.0


def _isolator(of: Standing, region: Region) -> Iterator[Change]:
    told = of.isolator
    there = IsolatorThere() if told is None or isinstance(told, str) else told
    if isinstance(told, str) or there.lockable is False:
        words = "Fit an isolator at the machine that can be locked open."
        yield _change("isolator", of, replace(there, lockable=True), words, "true", "lockable")
    for poles in (2, 3, 4):
        if there.poles is not None and poles > there.poles:
            words = f"Fit an isolator of {poles} poles."
            yield _change("isolator", of, replace(there, poles=poles), words, str(poles), "poles")
    for hp in table("starting", "single_phase_locked").column("power_hp"):
        if there.power is not None and hp * W_PER_HP > there.power.number * (1.0 + 1e-6):
            text = f"{hp:g} hp"
            value = exact(parse(text, "power"), "W", "stated", "remedy")
            words = f"Fit a switch marked for {text}, or a breaker."
            yield _change("isolator", of, replace(there, power=value), words, text, "power")
    if there.in_sight is False:
        words = "Fit a disconnect in sight of what it cuts off."
        yield _change("isolator", of, replace(there, in_sight=True), words, "true", "in_sight")
    for amps in isolator_sizes_a(region):
        if there.rating is not None and amps > there.rating.number:
            value, text = _value(amps, "current", "A", region)
            words = f"Fit an isolator of {amps:g} A."
            yield _change("isolator", of, replace(there, rating=value), words, text, "rating")


def _resistor(of: Standing, job: Job) -> Iterator[Change]:
    """One value for all run capacitors, two figures of it, rounded down."""
    if job.resistor_ohm is None:
        return
    least = 10.0 ** (math.floor(math.log10(job.resistor_ohm)) - 1)
    text = printed(math.floor(job.resistor_ohm / least) * least, "resistance")
    value = _read(text, "resistance", "ohm")
    words = f"Fit a resistor of {text} or less across each run capacitor."
    yield _change("discharge_resistor", of, value, words, text)


def _thicker(key: str, of: Standing, region: Region) -> Iterator[Change]:
    lies: Value = getattr(of, key)
    what = "a cable" if key == "conductor" else "an earth conductor"
    for size in sizes(region):
        if lies.number < size.area_m2 * (1.0 - 1e-3) <= _THICKEST:
            value = _read(size.name, "area", "m2")
            yield _change(key, of, value, f"Lay {what} of {size.name}.", size.name)
