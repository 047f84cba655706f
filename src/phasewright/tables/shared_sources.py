"""What is taken for electronic three-phase sources and for a three-phase service."""

from __future__ import annotations

import math
from functools import cache

from phasewright.quantities.codes import Region
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value, spread
from phasewright.tables.published import table


def electronic_efficiency() -> Value:
    """Output over input of an electronic source at its rated output."""
    return _value("electronic", "efficiency", "")


def electronic_short_time() -> Value:
    """Current it gives for a few seconds over its rated current."""
    return _value("electronic", "short_time", "")


def electronic_input_distortion() -> Value:
    """Harmonics over fundamental of its input current, with a sinusoidal front end."""
    return _value("electronic", "input_distortion", "")


def electronic_standby_w() -> Value:
    """What it takes while it is on and nothing turns [W]."""
    return _value("electronic_standby", "power_w", "W")


def electronic_output_v(supply_v: float) -> float:
    """Volts between the lines of a source made for a supply of so many volts.

    Raises TableEnds for a supply outside the class.
    """
    of = table("shared_sources", "electronic")
    low, high = of.column("input_v")
    if not low <= supply_v <= high:
        raise TableEnds(
            f"electronic sources in the tables are made for {low:.0f} to {high:.0f} V, not "
            f"{supply_v:.0f} V"
        )
    return of.number("output_v")


def electronic_output_va(rating_w: float) -> float:
    """Rated output [VA] of a source sold for motors of so many watts together."""
    return rating_w * table("shared_sources", "electronic").number("kva_per_kw")


def three_phase_volts(region: Region, single_phase_v: float) -> tuple[float, float]:
    """(volts between lines, volts line to neutral) of the service an operator would bring.

    IEC: today's supply is one of its phases. NEC: the volts of the table.
    """
    if region == "IEC":
        return single_phase_v * math.sqrt(3.0), single_phase_v
    of = table("shared_sources", "three_phase")
    return of.number("NEC_line_v"), of.number("NEC_phase_v")


def largest_phase_fuse_a(region: Region) -> float:
    """Fuse of a phase [A] that a small new service has at most."""
    return float(table("shared_sources", "three_phase").rows["largest_fuse_a"][region])


@cache
def _value(name: str, key: str, unit: str) -> Value:
    of = table("shared_sources", name)
    number, low, high = of.column(key)
    return spread(number, low, high, unit, of.origin, of.words)
