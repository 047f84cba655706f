"""Money of swapping a motor: what the old one brings, what a ruined winding would cost."""

from __future__ import annotations

import math
from dataclasses import replace

from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value
from phasewright.tables.motor_swap import old_motor_share
from phasewright.tables.prices import price
from phasewright.ways.purchase import Item


def old_motor_sold(power_w: float) -> tuple[Item, ...]:
    """What the motor that comes out brings, a share of a new one's price: an income.

    Nothing where the price curve does not reach.
    """
    try:
        new, share = price("motor_swap_three_phase", power_w), old_motor_share()
    except TableEnds:
        return ()
    income = replace(
        new,
        kind="old_motor_sold",
        what="the old motor, sold",
        amount=-share * new.amount,
        low=-share * new.high,
        high=-share * new.low,
        life_years=math.inf,
        resale_share=0.0,
    )
    return (Item("old_motor_sold", power_w, "W", 1, income),)


def risk_of_ruin(power_w: float, chance: Value) -> Item:
    """Expected cost of a winding ruined in the work: the chance times the price of rewinding."""
    rewinding = price("rewind", power_w)
    expected = replace(
        rewinding,
        kind="risk_of_ruin",
        what=f"a ruined winding, {chance.number:.3g} likely, rewound",
        amount=chance.number * rewinding.amount,
        low=chance.low * rewinding.low,
        high=chance.high * rewinding.high,
        life_years=math.inf,
    )
    return Item("risk_of_ruin", power_w, "W", 1, expected)
