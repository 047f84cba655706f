"""A tree of frozen data as plain data (what JSON can hold), and the past of its figures.

Of a `Value` the plain tree keeps the number; its past stands in the workings by JSON pointer
(RFC 6901). A field that is None is not computed and is left out, unless the field says that
nothing is an answer there (`field(metadata={"null": "what null means"})`). A field whose name
ends in an underscore, because the language keeps the word, loses it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import Field, fields, is_dataclass
from typing import Any

from phasewright.quantities.finding import Assumed
from phasewright.quantities.value import Value

DIGITS = 9
"""Significant digits that are written: cents of ten million, and far beyond any meter."""


def rounded(number: float) -> float:
    """The number as it is written; raises ValueError for what is no number."""
    if not math.isfinite(number):
        raise ValueError(f"a figure came out as {number}; nothing that is no number is written")
    return float(f"{number:.{DIGITS}g}") + 0.0


def name_of(entry: Field[Any]) -> str:
    """The name under which a field is written."""
    return entry.name.removesuffix("_")


def may_be_null(entry: Field[Any]) -> bool:
    """True where None is written as null because it is an answer."""
    return "null" in entry.metadata


def as_it_is(number: float) -> float:
    """The number with all its digits, for what is read back to the same run."""
    if not math.isfinite(number):
        raise ValueError(f"a figure came out as {number}; nothing that is no number is written")
    return number


def plain(tree: object, digits: Callable[[float], float] = rounded) -> Any:
    """The tree as dicts, lists, text, numbers and truths; `digits` says how numbers are written.

    Raises ValueError for a number that is not finite and TypeError for a foreign leaf.
    """
    if tree is None or isinstance(tree, (str, bool, int)):
        return tree
    if isinstance(tree, float):
        return digits(tree)
    if isinstance(tree, Value):
        return digits(tree.number)
    if isinstance(tree, Assumed):
        return _assumed(tree)
    if is_dataclass(tree) and not isinstance(tree, type):
        return {
            name_of(entry): plain(part, digits)
            for entry in fields(tree)
            if (part := getattr(tree, entry.name)) is not None or may_be_null(entry)
        }
    if isinstance(tree, Mapping):
        return {str(key): plain(part, digits) for key, part in tree.items()}
    if isinstance(tree, (tuple, list)):
        return [plain(part, digits) for part in tree]
    raise TypeError(f"{type(tree).__name__} has no place in a result")


def figures(tree: object, pointer: str = "") -> Iterator[tuple[str, Value]]:
    """Every `Value` of a tree with its JSON pointer in the plain tree, in the tree's order."""
    for place, part in parts(tree, pointer):
        if isinstance(part, Value):
            yield place, part


def parts(tree: object, pointer: str = "") -> Iterator[tuple[str, object]]:
    """Every `Value` and every frozen part of a tree with its JSON pointer, from above downwards."""
    if is_dataclass(tree) and not isinstance(tree, type):
        yield pointer, tree
        if isinstance(tree, Value):
            return
        for entry in fields(tree):
            yield from parts(getattr(tree, entry.name), f"{pointer}/{_escaped(name_of(entry))}")
    elif isinstance(tree, Mapping):
        for key, part in tree.items():
            yield from parts(part, f"{pointer}/{_escaped(str(key))}")
    elif isinstance(tree, (tuple, list)):
        for place, part in enumerate(tree):
            yield from parts(part, f"{pointer}/{place}")


def along(tree: object, pointer: str) -> tuple[object, ...]:
    """What lies on the way of a JSON pointer of the plain tree, from the tree itself to its end.

    Raises LookupError where the pointer leads nowhere.
    """
    found = [tree]
    for name in pointer.split("/")[1:]:
        found.append(_below(found[-1], name))
    return tuple(found)


def _below(tree: object, name: str) -> object:
    if is_dataclass(tree) and not isinstance(tree, type):
        below = {_escaped(name_of(entry)): entry.name for entry in fields(tree)}
        return getattr(tree, below[name])
    if isinstance(tree, Mapping):
        return {_escaped(str(key)): part for key, part in tree.items()}[name]
    if isinstance(tree, (tuple, list)) and name.isdecimal() and name.isascii():
        return tree[int(name)]
    raise LookupError(f"there is nothing at {name}")


def past(value: Value) -> dict[str, Any]:
    """What is known about a figure besides its number."""
    return {
        "value": rounded(value.number),
        "unit": value.unit,
        "low": rounded(value.low),
        "high": rounded(value.high),
        "origin": value.origin,
        "formula": value.formula,
        "inputs": [
            {"name": entry.name, "value": rounded(entry.number), "unit": entry.unit}
            for entry in value.inputs
        ],
        "source": value.source,
    }


def _assumed(fact: Assumed) -> dict[str, Any]:
    value = fact.value
    return {
        "field": fact.field,
        "path": fact.path,
        "value": rounded(value.number),
        "unit": value.unit,
        "low": rounded(value.low),
        "high": rounded(value.high),
        "origin": value.origin,
        "source": value.source,
    }


def _escaped(name: str) -> str:
    return name.replace("~", "~0").replace("/", "~1")
