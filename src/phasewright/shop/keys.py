"""What a key of the shop file may hold, read from the annotations of the shop's data classes.

The reader, the writer and the schema for editors all work from these shapes; a key is written
down once, in the data class.
"""

from __future__ import annotations

from dataclasses import MISSING, dataclass, fields, is_dataclass
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from phasewright.quantities.codes import Quantity as QuantityName
from phasewright.quantities.value import Origin


@dataclass(frozen=True, slots=True)
class Quantity:
    """Text with a unit; `low` and `high` are the credible bounds in SI, both allowed.

    `several` lets two values stand in plate order with a slash between them; one of `words` may
    stand instead.
    """

    kind: QuantityName
    low: float | None = None
    high: float | None = None
    origin: Origin = "stated"
    several: bool = False
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Number:
    """A bare number: a ratio, hours, years or money."""

    low: float
    high: float
    what: str = "a number"
    whole: bool = False


Ratio = Number(0, 1, "a ratio")
Hours = Number(0, 8784, "hours in a year")
Money = Number(0, 1e9, "an amount of money, without a currency sign")
Years = Number(0, 100, "years")


@dataclass(frozen=True, slots=True)
class Pair:
    """A list of two bare numbers, the lower one first."""

    low: float
    high: float
    what: str


@dataclass(frozen=True, slots=True)
class Text:
    """A piece of text."""

    what: str = "some text"
    longest: int = 200


@dataclass(frozen=True, slots=True)
class Choice:
    """One word of a closed list."""

    options: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Flag:
    """True or false."""


@dataclass(frozen=True, slots=True)
class ListOf:
    """Any number of items of one shape."""

    item: Shape
    most: int = 1000


@dataclass(frozen=True, slots=True)
class Part:
    """A mapping with the keys of one of the shop's data classes, or one of `words` instead."""

    made_of: type[Any]
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Either:
    """A word of a closed list or a bare number."""

    word: Choice
    number: Number


Shape = Quantity | Number | Pair | Text | Choice | Flag | ListOf | Part | Either


@dataclass(frozen=True, slots=True)
class Says:
    """What a key means, in an owner's words; the schema for editors shows it."""

    words: str


@dataclass(frozen=True, slots=True)
class Key:
    """One key of the shop file."""

    name: str
    required: bool
    shape: Shape
    says: str


_KNOWN: dict[str, dict[str, Key]] = {}


def keys_of(made_of: type[Any]) -> dict[str, Key]:
    """The keys of one of the shop's data classes, in the order of the contract."""
    name = f"{made_of.__module__}.{made_of.__qualname__}"
    if name not in _KNOWN:
        _KNOWN[name] = _keys_of(made_of)
    return _KNOWN[name]


def _keys_of(made_of: type[Any]) -> dict[str, Key]:
    hints = get_type_hints(made_of, include_extras=True)
    found: dict[str, Key] = {}
    for field in fields(made_of):
        if field.metadata.get("not_a_key"):
            continue
        required = field.default is MISSING and field.default_factory is MISSING
        shape, says = _shape(hints[field.name])
        found[field.name] = Key(field.name, required, shape, says)
    return found


def _shape(hint: Any) -> tuple[Shape, str]:
    says, marks = "", []
    while get_origin(hint) is Annotated:
        hint, *extras = get_args(hint)
        for extra in extras:
            if isinstance(extra, Says):
                says = extra.words
            else:
                marks.append(extra)
    if marks and not isinstance(marks[0], Number):
        mark: Shape = marks[0]
        return mark, says
    plain = [part for part in _members(hint) if part is not NoneType]
    if len(plain) == 2 and is_dataclass(plain[0]) and isinstance(plain[0], type):
        return Part(plain[0], get_args(plain[1])), says
    if len(plain) == 2 and marks:
        return Either(Choice(get_args(plain[0])), marks[0]), says
    if marks:
        number: Shape = marks[0]
        return number, says
    return _bare(plain[0]), says


def _members(hint: Any) -> tuple[Any, ...]:
    return get_args(hint) if get_origin(hint) in (Union, UnionType) else (hint,)


def _bare(hint: Any) -> Shape:
    if hint is bool:
        return Flag()
    if hint is str:
        return Text()
    if get_origin(hint) is Literal:
        return Choice(get_args(hint))
    if get_origin(hint) is tuple:
        return ListOf(_shape(get_args(hint)[0])[0])
    if is_dataclass(hint) and isinstance(hint, type):
        return Part(hint)
    message = f"no shape for {hint!r}: the shop's data classes must say what the key holds"
    raise TypeError(message)
