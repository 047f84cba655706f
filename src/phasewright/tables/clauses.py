"""Limits that single clauses set (`data/clauses.toml`)."""

from __future__ import annotations

from phasewright.quantities.errors import TableEnds
from phasewright.tables.published import table
from phasewright.tables.sizes import AWG_SIZES


def limit(clause: str, name: str) -> float:
    """A number of a clause's table, as `touch`, `volts`."""
    return table("clauses", clause).number(name)


def disconnection_by_voltage_s(earthing: str, to_earth_v: float, final: bool = True) -> float:
    """Longest time to cut off an earth fault, by the volts of a line to earth.

    TN-S and TN-C-S as TN; anything else, the unknown too, as TT, which is stricter. Raises
    TableEnds above the table's last volts.
    """
    of = table("clauses", "disconnection_by_voltage")
    family = "TN" if earthing.startswith("TN") else "TT"
    if not final:
        return of.number(f"{family}_distribution")
    for volts, seconds in zip(of.column("to_earth_v"), of.column(family), strict=True):
        if to_earth_v <= volts * (1.0 + 1e-9):
            return seconds
    raise TableEnds(f"no time to disconnect for {to_earth_v:g} V to earth")


def electrode_conductor_size(line: str) -> str:
    """Copper grounding electrode conductor (AWG) by the largest line conductor's AWG size."""
    of = table("clauses", "nec_250_66")
    if line not in AWG_SIZES:
        raise TableEnds(f"no grounding electrode conductor for a line of {line} AWG")
    for most, size in zip(of.rows["up_to"], of.rows["sizes"], strict=True):
        if AWG_SIZES.index(line) <= AWG_SIZES.index(str(most)):
            return str(size)
    raise TableEnds(f"no grounding electrode conductor for a line of {line} AWG")
