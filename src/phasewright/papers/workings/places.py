"""What a figure of an answer is of, what it is called and how it is written, from its place."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from phasewright.papers.plan_words import about
from phasewright.papers.workings.names import MONEY, NAMES, PLAIN, TIMES
from phasewright.plan.circuit_prices import CircuitPart
from phasewright.plan.circuit_study import PlanCircuit
from phasewright.plan.motor_study import SpeedSide
from phasewright.plan.network_study import NetworkEffects, StartEffect
from phasewright.plan.reading_study import ReadingExpected
from phasewright.plan.start_study import LargestStartSide, StartBeside, TurnedBack
from phasewright.plan.study import (
    LifetimeCost,
    MotorAmps,
    MotorSide,
    OtherSide,
    PlaceSide,
    PlanCase,
    PlanEquipment,
    PlanMotor,
    PlanSide,
    PlanStart,
    Study,
    SupplySide,
    WaySide,
)
from phasewright.quantities.codes import WAYS
from phasewright.quantities.finding import Assumed
from phasewright.quantities.plain import along, figures
from phasewright.quantities.told import money, spread
from phasewright.quantities.value import Value
from phasewright.quantities.words import WAY_SHORT, place_words
from phasewright.shop.model import Shop
from phasewright.ways.figures import Buy, Range, TravellingCapacitance

PAIRS = ("between lines 1 and 2", "between lines 2 and 3", "between lines 3 and 1")
LINES = ("of line 1", "of line 2", "of line 3")
IN_A_LINE = ("in line 1", "in line 2", "in line 3")
_TRIPLES = {
    "line_voltages_v": PAIRS, "lines_to_earth_v": LINES, "amps": IN_A_LINE,
}  # fmt: skip
"""What the places of a list of three stand for, by the list's name."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A figure with what it is of and its name; `key` is its place within what it is of."""

    of: str
    name: str
    key: str
    value: Value

    @property
    def title(self) -> str:
        """Both in one line."""
        return f"{self.of}: {self.name}" if self.of else self.name[:1].upper() + self.name[1:]


def placed(study: Study, shop: Shop, pointer: str) -> Placed:
    """The figure at a JSON pointer of the result file, named.

    Raises LookupError where no figure stands there.
    """
    found = along(study, pointer)
    value = found[-1]
    if not isinstance(value, Value):
        raise LookupError(f"no figure stands at {pointer}")
    value = _with_ends(value, found[-2])
    names = pointer.split("/")[1:]
    start = max(at for at, each in enumerate(found) if at == 0 or told_of(each, shop))
    key = "/".join(name for name in names[start:] if not name.isdecimal())
    key = key.removeprefix("figures/")
    of = thing(found, shop)
    last = found[start]
    if isinstance(last, ReadingExpected):
        return Placed(f"On the meter, {id_words(last.between)}", last.state, "value", value)
    if isinstance(last, Assumed):
        key = "tariff" if last.path.startswith("tariff") else _TAKEN.get(last.field, "rated")
        return Placed(of, last.field.replace("_", " "), key, value)
    if isinstance(last, CircuitPart):
        return Placed(of, f"price of {piece_words(last)}", key, value)
    name = NAMES.get(f"{names[start - 2]}/{key}", "") if start > 1 else ""
    name = name or NAMES[key]
    if names[-1].isdecimal() and names[-2] in _TRIPLES:
        name = f"{name} {_TRIPLES[names[-2]][int(names[-1])]}"
    return Placed(of, name + _inside(found[start:]), key, value)


def _with_ends(value: Value, around: object) -> Value:
    """The figure with the ends of the range it stands in, where it stands in one."""
    if not isinstance(around, Range | LifetimeCost):
        return value
    low, high = min(around.low, value.number), max(around.high, value.number)
    return replace(value, low=low, high=high)


def _inside(found: tuple[object, ...]) -> str:
    """Which motor a figure within a figure is of."""
    for each in found:
        if isinstance(each, MotorAmps | TravellingCapacitance | TurnedBack | StartBeside):
            return f", {each.motor}"
        if isinstance(each, LargestStartSide):
            return f", with {each.load.replace('_', ' ')} as its load"
    return ""


def thing(found: tuple[object, ...], shop: Shop) -> str:
    """What the last of these that has a name is, in words, with what it lies in where it needs
    that; empty where nothing of them has one."""
    told = [(each, words) for each in found if (words := told_of(each, shop))]
    if not told:
        return ""
    last, words = told[-1]
    motor = next((each for each, _ in reversed(told) if isinstance(each, MotorSide)), None)
    if isinstance(last, WaySide | SpeedSide) and motor is not None:
        return f"{motor.id}, {words}"
    return words


def told_of(each: object, shop: Shop) -> str:
    """A part of an answer in words; empty for what is no thing of its own."""
    if isinstance(each, Assumed):
        where = about(each.path, shop)
        return f"Taken for {where}" if where else "Taken"
    words = _WORDS.get(type(each))
    return "" if words is None else words(each)


def _large(words: str) -> str:
    return words[:1].upper() + words[1:]


def _case_words(of: PlanCase) -> str:
    alone = "Turning alone" if len(of.running) == 1 else "Turning together"
    return f"{alone}: {', '.join(of.running)}" if of.running else "Nothing turning"


def circuit_words(of: PlanCircuit) -> str:
    """A circuit by its ends."""
    return f"Circuit from {id_words(of.id)}"


_PIECES = {
    "cable": "cable", "breaker_two_pole": "breaker", "isolator": "isolator",
    "plug_and_socket": "plug and socket",
}  # fmt: skip


def piece_words(of: CircuitPart) -> str:
    """A piece of a circuit as it is asked for."""
    name = _PIECES.get(of.kind, "residual-current device")
    size = of.size.replace("mm2", "mm²")
    count = f"{of.quantity:g} m of " if of.kind == "cable" else "its "
    return f"{count}{name}, {size}"


def id_words(id: str) -> str:
    """An id of equipment or circuit as it is said: `drive of Press/pump`."""
    for way in WAYS:
        said = "drive" if way == "drive_per_motor" else WAY_SHORT[way]
        id = id.replace(f"{way} ", f"{said} of ")
    return id.replace("_", " ")


def input_words(name: str) -> str:
    """The name of what was put into a figure: `own drive for Press/pump`."""
    for way in WAYS:
        name = name.replace(f"{way} for ", f"{WAY_SHORT[way]} for ")
    return name.replace("_", " ")


_TAKEN = {
    "power factor": "value", "efficiency": "share", "discount rate": "share",
    "share of time under load": "share",
}  # fmt: skip
"""How a fact that was taken is written where it has no unit; torques and amps are the rated ones'
multiples."""
_KV_PER_US, _SHORT_S = 1e-9, 1e-4
_PER = {"per l": "a litre", "per kWh": "a kWh", "1/kWh": "a kWh"}


def figure_words(of: Placed, currency: str | None) -> str:
    """A figure as it is written: money in its currency, shares as percent."""
    value = of.value
    if of.key in MONEY:
        if value.unit in _PER:
            low, middle, high = (priced(n, value.unit, currency) for n in _three(value))
            return middle if low == high else f"{middle} ({low} to {high})"
        return _between(value, lambda n: money(n, None), currency)
    if value.unit == "V/s":
        return _between(value, lambda n: f"{n * _KV_PER_US:.3g}", "kV/µs")
    if value.unit == "s" and value.high < _SHORT_S:
        return _between(value, lambda n: f"{n * 1e6:.3g}", "µs")
    if value.unit or of.key in PLAIN or of.key == "value":
        return spread(value)
    if of.key == "rated":
        return f"{_between(value, lambda n: f'{n:.3g}', None)} times the rated"
    if of.key in TIMES:
        return f"{_between(value, lambda n: f'{n:.3g}', None)} times"
    return _between(value, lambda n: f"{n:.1%}", None)


def priced(number: float, unit: str, currency: str | None) -> str:
    """A price of so much of something (`per kWh`); empty where the unit is none of that kind."""
    if unit not in _PER:
        return ""
    return " ".join(filter(None, (f"{number:.3g}", currency, _PER[unit])))


def _three(value: Value) -> tuple[float, float, float]:
    return value.low, value.number, value.high


def _between(value: Value, said: Callable[[float], str], unit: str | None) -> str:
    """A number with its low and high where they differ as printed; the unit once."""
    low, middle, high = map(said, _three(value))
    unit = f" {unit}" if unit else ""
    return f"{middle}{unit}" if low == high else f"{middle}{unit} ({low} to {high})"


def figures_of(study: Study, shop: Shop, pointer: str) -> list[tuple[str, Placed]]:
    """Every figure at and below a place, named, with its own place."""
    tree = along(study, pointer)[-1]
    return [(at, placed(study, shop, at)) for at, _ in figures(tree, pointer)]


_WORDS: dict[type, Callable[[Any], str]] = {
    SupplySide: lambda of: "The supply",
    PlaceSide: lambda of: _large(place_words(of.name)),
    MotorSide: lambda of: str(of.id),
    SpeedSide: lambda of: f"{of.name} speed",
    WaySide: lambda of: f"{WAY_SHORT[of.way]}, judged alone",
    OtherSide: lambda of: of.id.replace("_", " "),
    PlanSide: lambda of: str(of.title),
    PlanMotor: lambda of: f"{of.motor}, as built",
    PlanEquipment: lambda of: _large(id_words(of.id)),
    PlanCase: _case_words,
    PlanStart: lambda of: f"The start of {of.motor}",
    PlanCircuit: circuit_words,
    CircuitPart: lambda of: f"Circuit from {id_words(of.circuit)}",
    NetworkEffects: lambda of: "What the network sees",
    StartEffect: lambda of: f"What the network sees of the start of {of.motor}",
    ReadingExpected: lambda of: "On the meter",
    Buy: lambda of: f"For {', '.join(of.serves)}",
}
"""What the parts of an answer are called, by their kind."""
