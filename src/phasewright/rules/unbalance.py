"""What unequal lines cost a motor: IEC 60034-1, IEC 60034-26, NEMA MG 1.

A check beside the heat that is computed, never in its place.
"""

from __future__ import annotations

from phasewright.quantities.errors import TableEnds
from phasewright.quantities.finding import Remedy
from phasewright.rules.families import EDITIONS, iec
from phasewright.rules.register import Findings, at_most, found, rule
from phasewright.tables.clauses import limit
from phasewright.tables.limits import derating_factor

_WORDS = "Load it less, or balance the lines at its load with capacitors."
_LESS = Remedy(_WORDS)


def _loaded_to(ratio: float | None) -> Remedy:
    """A load of this share of its plate, by the key of its motor in the shop file."""
    return _LESS if ratio is None else Remedy(_WORDS, "load.torque", ratio)


@iec("60034-1", "7.2.1.1", "motor")
def lasting_unbalance(negative_over_positive: float | None, subject: str) -> Findings:
    """A motor gives its full power for ever only up to 1 % of negative sequence."""
    return at_most(
        negative_over_positive, limit("lasting_unbalance", "lasting"), "info", subject,
        "the volts of its lines are unequal: {found:.1%} of them pull backwards (negative "
        "sequence); a motor gives full power for ever up to {allowed:.0%}, above that what is "
        "computed here",
        unit="", remedy=_LESS,
    )  # fmt: skip


@iec("60034-26", "derating", "motor")
def derated_by_heat(load_ratio: float | None, usable_ratio: float | None, subject: str) -> Findings:
    """On unequal lines a motor is loaded no more than its winding bears.

    Both as shares of its rated power. The standard's curve was not read: `usable_ratio` is
    computed from the losses of both sequences.
    """
    return at_most(
        load_ratio, usable_ratio, "condition", subject,
        "it is loaded to {found:.0%} of its plate, and on these lines its winding bears "
        "{allowed:.0%}",
        unit="", remedy=_loaded_to(usable_ratio),
    )  # fmt: skip


@rule(
    "nema.mg1.12_45", status="published", looks_at="motor",
    body="NEMA MG 1", edition=EDITIONS["NEMA MG 1"], clause="12.45, figure 12-1",
)  # fmt: skip
def derated_by_curve(load_ratio: float | None, nema: float | None, subject: str) -> Findings:
    """On unequal lines a motor is loaded no more than the derating curve has, up to 5 %.

    `nema`: the greatest departure of a line voltage from their mean, over the mean.
    """
    if load_ratio is None or nema is None:
        return None
    try:
        allowed = derating_factor(nema)
    except TableEnds:
        return found(
            "condition", subject,
            f"its lines differ by {nema:.1%}: the derating curve ends at 5% and advises against "
            "more",
            found=nema, allowed=0.05, unit="", remedy=_LESS,
        )  # fmt: skip
    return at_most(
        load_ratio, allowed, "caution", subject,
        f"it is loaded to {{found:.0%}} of its plate, and at {nema:.1%} between its lines the "
        "curve allows {allowed:.0%}",
        unit="", remedy=_loaded_to(allowed),
    )  # fmt: skip
