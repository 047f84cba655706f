"""Full-load currents of motors by the National Electrical Code, tables 430.248 and 430.250."""

from __future__ import annotations

from phasewright.quantities.errors import TableEnds
from phasewright.tables.published import Table, table

# the code lets a column serve motors of its nominal system: 220 to 240 V take the 230 V column
_COLUMN = {
    115: (110.0, 120.0), 200: (200.0, 200.0), 208: (208.0, 208.0), 230: (220.0, 240.0),
    460: (440.0, 480.0),
}  # fmt: skip


def full_load_current_a(power_hp: float, line_voltage_v: float, phases: int = 3) -> float:
    """The code's full-load current of a listed size; raises TableEnds for no row or column."""
    of = table("currents", "three_phase" if phases == 3 else "single_phase")
    values = of.column(_column(of, line_voltage_v))
    listed = of.column("power_hp")
    if power_hp not in listed or listed.index(power_hp) >= len(values):
        raise TableEnds(f"no full-load current for {power_hp:g} hp at {line_voltage_v:g} V")
    return values[listed.index(power_hp)]


def _column(of: Table, line_voltage_v: float) -> str:
    for volts, (lowest, highest) in _COLUMN.items():
        if lowest <= line_voltage_v <= highest and str(volts) in of.rows:
            return str(volts)
    raise TableEnds(f"no full-load currents for {line_voltage_v:g} V")
