"""What may stand at a key of the shop file and what was found there, in words."""

from __future__ import annotations

from typing import Any

from phasewright.files.yaml_tree import Items, Node, Scalar
from phasewright.quantities.kinds import KINDS
from phasewright.quantities.text import listed
from phasewright.quantities.value import Value, exact
from phasewright.shop import keys
from phasewright.shop.keys import Shape, keys_of


def value_of(number: float, path: str, shape: keys.Quantity) -> Value:
    """A number in SI as the file gives it; its source is its path."""
    return exact(number, KINDS[shape.kind].si, shape.origin, path)


def found_in(node: Node) -> str:
    """What stands there, cut short and made printable."""
    if isinstance(node, Scalar):
        text = "".join(c if c.isprintable() else "?" for c in node.text[:60])
        return f"'{text}'" if text else "an empty text"
    return "a list" if isinstance(node, Items) else "keys and values"


def wanted(shape: Shape) -> str:
    """What may stand at a key, in words."""
    match shape:
        case keys.Quantity():
            word = "".join(f"{word}, or " for word in shape.words)
            return f"{word}{KINDS[shape.kind].words}, for example '{KINDS[shape.kind].example}'"
        case keys.Number():
            whole = "whole, " if shape.whole and shape.low != shape.high else ""
            bounds = f"{whole}from {shape.low:.12g} to {shape.high:.12g}"
            return shape.what if shape.low == shape.high else f"{shape.what} ({bounds})"
        case keys.Pair():
            return f"a list of two numbers: {shape.what}, for example [0.5, 1.2]"
        case keys.Text():
            return f"{shape.what}, at most {shape.longest} letters in one line"
        case keys.Choice():
            return f"one of {listed(shape.options)}"
        case keys.Flag():
            return "true or false"
        case keys.ListOf():
            return f"a list of {wanted(shape.item)}"
        case keys.Part():
            word = "".join(f"{word}, or " for word in shape.words)
            return f"{word}keys and values: {listed(keys_of(shape.made_of))}"
        case keys.Either():
            return f"{listed(shape.word.options)}, or {wanted(shape.number)}"


def stand_in(shape: Shape) -> Any:
    """Something of the right shape; it never leaves, for its mistake has been told."""
    match shape:
        case keys.Quantity():
            low = shape.low if shape.low is not None else KINDS[shape.kind].low
            high = shape.high if shape.high is not None else KINDS[shape.kind].high
            value = value_of((low + high) / 2, "", shape)
            return (value,) if shape.several else value
        case keys.Number() | keys.Either():
            return shape.low if isinstance(shape, keys.Number) else shape.number.low
        case keys.Text():
            return ""
        case keys.Choice():
            return shape.options[0]
        case keys.Flag():
            return False
        case keys.ListOf():
            return ()
        case keys.Pair():
            return None
        case keys.Part():
            required = {
                name: stand_in(key.shape)
                for name, key in keys_of(shape.made_of).items()
                if key.required
            }
            return shape.made_of(**required)
