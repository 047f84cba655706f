"""What may stand at a place of the shop file, told as short as beside the field of a form."""

from __future__ import annotations

import re
from functools import lru_cache

from phasewright.quantities.codes import Region
from phasewright.quantities.kinds import KINDS
from phasewright.quantities.units import format as printed
from phasewright.shop import keys
from phasewright.shop.keys import Shape, keys_of
from phasewright.shop.model import Shop


def shape_at(path: str) -> Shape | None:
    """The shape of what stands at a path as `machines[0].cable.length`; None where nothing may."""
    here: Shape = keys.Part(Shop)
    for name in re.sub(r"\[\d*\]", "", path).split("."):
        while isinstance(here, keys.ListOf):
            here = here.item
        if not isinstance(here, keys.Part):
            return None
        key = keys_of(here.made_of).get(name)
        if key is None:
            return None
        here = key.shape
    return here


@lru_cache(maxsize=1024)
def bounds(path: str, region: Region) -> str:
    """From where to where a quantity or a number may go at a path; empty for anything else."""
    shape = shape_at(path)
    if isinstance(shape, keys.Either):
        shape = shape.number
    if isinstance(shape, keys.Quantity):
        kind = KINDS[shape.kind]
        low = kind.low if shape.low is None else shape.low
        high = kind.high if shape.high is None else shape.high
        ends = (printed(end, shape.kind, region=region) for end in (low, high))
        return "From {} to {}.".format(*ends)
    if isinstance(shape, keys.Number | keys.Pair) and shape.high < _NO_LIMIT:
        return f"From {shape.low:.12g} to {shape.high:.12g}."
    return ""


_NO_LIMIT = 1e6
"""Money has no limit worth telling."""
