"""A study filled by its types alone, full or bare: it fits the types and means nothing."""

import dataclasses
import itertools
import types
import typing

from phasewright.quantities.value import Value, figure

COUNT = itertools.count(1)


def fill(kind, *, full):
    """An instance of an annotated type: everything given, or only what must be."""
    simple = {
        float: lambda: next(COUNT) / 7,
        int: lambda: next(COUNT),
        bool: lambda: bool(next(COUNT) % 2),
        str: lambda: f"words {next(COUNT)}",
        Value: lambda: figure(next(COUNT) / 7, "A", "by_test", {"x": (1.0, "V")}, "here"),
        type(None): lambda: None,
    }
    if kind in simple:
        return simple[kind]()
    origin, parts = typing.get_origin(kind), typing.get_args(kind)
    if origin is typing.Literal:
        return parts[next(COUNT) % len(parts)]
    if origin in (types.UnionType, typing.Union):
        given = [part for part in parts if part is not type(None)]
        if type(None) in parts and not full:
            return None
        return fill(given[next(COUNT) % len(given)], full=full)
    if origin is tuple and parts[1:] == (Ellipsis,):
        return tuple(fill(parts[0], full=full) for _ in range(2 if full else 0))
    if origin is tuple:
        return tuple(fill(part, full=full) for part in parts)
    hints = typing.get_type_hints(kind)
    return kind(
        **{
            entry.name: fill(hints[entry.name], full=full)
            for entry in dataclasses.fields(kind)
            if entry.init
        }
    )
