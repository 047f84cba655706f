"""What is taken for drives that raise their supply's volts, and for transformers before a drive."""

from __future__ import annotations

from dataclasses import dataclass, replace

from phasewright.quantities.codes import Region
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value, spread
from phasewright.tables.published import Table, between, table
from phasewright.tables.sizes import TRANSFORMER_SIZES_VA, next_size


@dataclass(frozen=True, slots=True)
class Transformer:
    """A single-phase transformer by its rating [VA], with its shares of that rating.

    `resistance` and `reactance` are of both windings in series, `idle_loss` and `magnetising`
    what it takes idling, `inrush` the peak at switching on over the rated current.
    """

    rating_va: float
    resistance: float
    reactance: float
    magnetising: float
    idle_loss: Value
    inrush: Value

    def impedance_ohm(self, voltage_v: float) -> tuple[float, float]:
        """Series resistance and reactance [ohm] seen at a winding of these rated volts."""
        base = voltage_v * voltage_v / self.rating_va
        return self.resistance * base, self.reactance * base

    def idle_power_w(self) -> Value:
        """What it takes for as long as it is on."""
        return replace(self.idle_loss.scaled(self.rating_va), unit="W")

    def inrush_a(self, voltage_v: float) -> Value:
        """Peak current at switching on [A], at these volts."""
        return replace(self.inrush.scaled(self.rating_va / voltage_v), unit="A")


def transformer(rating_va: float) -> Transformer:
    """A transformer of this rating; raises TableEnds outside 0.5 to 40 kVA."""
    of = table("stepping_up", "transformer_impedance")
    points = of.column("rating_kva")

    def share(name: str) -> float:
        return between(rating_va / 1000.0, points, of.column(name), "transformer", "kVA")

    shares = table("stepping_up", "transformer")
    return Transformer(
        rating_va=rating_va,
        resistance=share("resistance"),
        reactance=share("reactance"),
        magnetising=of.number("magnetising"),
        idle_loss=_value(shares, "idle_loss", "transformer's idle loss"),
        inrush=_value(shares, "inrush", "transformer's inrush"),
    )


def transformer_apart() -> Value:
    """Impedance a transformer may have over that of the table: usual, least and most."""
    return _value(table("stepping_up", "transformer_impedance"), "apart", "transformer's impedance")


def transformer_for(passing_va: float) -> Transformer:
    """The smallest one made with the usual margin over what passes; TableEnds above the largest."""
    margin = transformer_margin().number
    return transformer(next_size(margin * passing_va, TRANSFORMER_SIZES_VA, "transformer [VA]"))


def transformer_margin() -> Value:
    """Rating over the volt-amperes that pass: usual, least and most."""
    return _value(table("stepping_up", "transformer"), "margin", "transformer's margin")


def secondary_volts(region: Region, least_v: float) -> float:
    """The lowest usual secondary that gives at least these volts; TableEnds where none does."""
    volts = table("stepping_up", "secondary_volts").column(region)
    return next_size(least_v, volts, "secondary of a step-up transformer [V]")


def boost_efficiency() -> Value:
    """Efficiency of the stage that raises the link's volts inside a step-up drive."""
    return _value(table("stepping_up", "boost_stage"), "efficiency", "boost stage")


def boost_output_v() -> float:
    """Line volts a step-up drive gives, by the class on the market."""
    return table("stepping_up", "boost_stage").number("output_v")


def doubles(supply_v: float) -> bool:
    """Whether drives for this supply double its volts inside."""
    low, high = table("stepping_up", "input_volts").column("doubling")
    return low <= supply_v <= high


def usual_input_v() -> tuple[float, float]:
    """Lowest and highest volts that drives on one phase are made for which double nothing."""
    low, high = table("stepping_up", "input_volts").column("usual")
    return low, high


def sine_power_factor() -> float:
    """Power factor of an input stage that draws a sine."""
    return table("stepping_up", "active_front").number("power_factor")


def old_winding() -> tuple[float, float]:
    """(year before which windings bear steep steps badly, longest motor lead then [m])."""
    of = table("stepping_up", "old_winding")
    return of.number("before"), of.number("lead_m")


def _value(of: Table, key: str, what: str) -> Value:
    number, low, high = of.column(key)
    if not low <= number <= high:
        raise TableEnds(f"{what}: {number:g} does not lie between {low:g} and {high:g}")
    return spread(number, low, high, "", of.origin, f"{what}: {of.words}")
