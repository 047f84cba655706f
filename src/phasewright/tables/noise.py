"""Sound levels of motors: typical ones, and upper bounds of the standard (from memory)."""

from __future__ import annotations

from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value, spread
from phasewright.tables.published import table


def greatest_no_load_sound_power_dba(power_w: float, poles: int) -> float:
    """IEC 60034-9 bound of the sound power level at no load; TableEnds outside 1 to 37 kW."""
    of = table("noise", "iec_no_load_limit")
    if str(poles) not in of.rows:
        raise TableEnds(f"no noise limit for {poles} poles")
    power_kw = power_w / 1000.0
    ends = zip(of.column("above_kw"), of.column("to_kw"), of.column(str(poles)), strict=True)
    for above, to, level in ends:
        if above < power_kw <= to or power_kw == above == 1.0:
            return level
    raise TableEnds(f"no noise limit for {power_kw:g} kW")


def typical_sound_pressure_dba(power_w: float) -> Value:
    """Sound pressure of a 4-pole fan-cooled motor at 1 m (common practice, 0.5 to 11 kW)."""
    of = table("noise", "typical")
    power_kw = power_w / 1000.0
    for above, to, low, high in of.rows["rows"]:
        if above < power_kw <= to or power_kw == above == of.rows["rows"][0][0]:
            middle = 0.5 * (float(low) + float(high))
            return spread(middle, float(low), float(high), "dB(A)", of.origin, of.words)
    raise TableEnds(f"no typical sound level for a motor of {power_kw:g} kW")
