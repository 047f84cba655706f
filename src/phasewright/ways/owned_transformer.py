"""Transformers the owner has that may stand before a drive of the higher volts."""

from __future__ import annotations

from phasewright.quantities.errors import TableEnds
from phasewright.quantities.finding import Reason
from phasewright.shop.model import OwnedPart
from phasewright.tables.stepping_up import Transformer, transformer, transformer_margin
from phasewright.ways.site import Site

NEAR = 0.10
"""A primary stamped within this share of the supply's volts serves (common practice)."""


def owned_transformers(
    site: Site, wanted: Transformer, least_v: float
) -> list[tuple[Transformer, float, int] | Reason]:
    """(transformer, its secondary volts, its place among the owner's parts), fit for `wanted`.

    It must be told to have separate windings, be large enough by the least margin where `wanted`
    has the usual one, and carry both voltages. Other ones are left alone; one of a size beyond the
    tables is told.
    """
    margin = transformer_margin()
    enough_va = wanted.rating_va * margin.low / margin.number
    found: list[tuple[Transformer, float, int] | Reason] = []
    for place, part in enumerate(site.owned):
        volts = _secondary(part, site.source.voltage_v, least_v)
        if volts is None or part.rating is None or part.rating.number < enough_va:
            continue
        try:
            found.append((transformer(part.rating.number), volts, place))
        except TableEnds as refusal:
            found.append(Reason("owned_transformer_not_judged", f"Your transformer: {refusal}."))
    return found


def _secondary(part: OwnedPart, supply_v: float, least_v: float) -> float | None:
    """The lowest of its voltages that serves the drive; None where it is none for this."""
    if part.kind != "transformer" or part.isolating is not True:
        return None
    volts = [value.number for value in part.voltage]
    if not any(abs(each / supply_v - 1.0) <= NEAR for each in volts):
        return None
    high = [each for each in volts if each >= least_v and abs(each / supply_v - 1.0) > NEAR]
    return min(high, default=None)
