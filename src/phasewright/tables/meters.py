"""What meters tell, and what a commissioning expects that no model gives (`data/meters.toml`)."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value, spread
from phasewright.tables.published import table


@dataclass(frozen=True, slots=True)
class Meter:
    """A kind of meter: what it is called, and its error as a share of the reading and a floor in
    its own unit."""

    name: str
    share: float
    floor: float
    unit: str

    def around(self, low: float, high: float) -> tuple[float, float]:
        """What it may show of an amount between these; no amount is below nothing."""
        return max(0.0, low - self.share * low - self.floor), high + self.share * high + self.floor


def meter(name: str) -> Meter:
    """The meter of this name. Raises TableEnds for an unknown one."""
    of = table("meters", "meters")
    if name not in of.rows:
        raise TableEnds(f"no meter {name!r}; known: {', '.join(of.rows)}")
    row = of.rows[name]
    return Meter(str(row["what"]), float(row["share"]), float(row["floor"]), str(row["unit"]))


def most_insulation_ohm() -> float:
    """What an insulation tester shows at the most [ohm]."""
    return table("meters", "insulation_tester").number("most_ohm")


def run_capacitor_tolerance() -> float:
    """How far a run capacitor may lie from its value, a share."""
    return table("meters", "run_capacitor_tolerance").number("share")


def winding_spread() -> float:
    """How far the ohms of a winding that was not measured may lie off, a share."""
    return table("meters", "winding_ohms").number("spread")


def warm_minutes() -> Value:
    """Thermal time constant of a small motor that runs [min]."""
    of = table("meters", "running_warm")
    return spread(
        of.number("minutes"), of.number("minutes_low"), of.number("minutes_high"), "min",
        of.origin, of.words,
    )  # fmt: skip


def rated_rise_k() -> Value:
    """Rise of the winding over the air at the rated point, for ever [K]."""
    of = table("meters", "running_warm")
    usual = of.number("rated_rise_k")
    return spread(
        usual, usual * of.number("rise_low"), usual * of.number("rise_high"), "K",
        of.origin, of.words,
    )  # fmt: skip


def copper_ratio(rise_k: float) -> float:
    """Ohms of a copper winding over those cold, that much above a cold of 20 °C."""
    of = table("meters", "running_warm")
    cold = of.number("copper_c") + of.number("from_c")
    return (cold + rise_k) / cold
