"""Efficiency of motors by class: laws and standards, 50 and 60 Hz.

Sources stand in `data/efficiency.toml`: the efficiency classes of UK SI 2021/745 (the text of
Regulation (EU) 2019/1781), IE1 from memory of IEC 60034-30-1, NEMA MG 1 and 10 CFR 431.
"""

from __future__ import annotations

import math
from typing import Literal

from phasewright.quantities.errors import TableEnds
from phasewright.tables.published import Table, between, pole_column, table

EfficiencyClass = Literal["IE2", "IE3", "IE4"]
NemaTable = Literal["nema_premium", "nema_efficient", "us_small"]

W_PER_HP = 745.699872


def class_efficiency(name: EfficiencyClass, power_w: float, poles: int) -> float:
    """Nominal efficiency of a 50 Hz class, a fraction, unrounded.

    0.12 to 200 kW and 2, 4, 6 or 8 poles; TableEnds outside. The law prints one polynomial to
    0.55 kW and another from 0.75 kW; between the two it is taken linear in log power.
    """
    power_kw = power_w / 1000.0
    small, large = table("efficiency", "classes_small"), table("efficiency", "classes_large")
    lowest, small_end = small.column("power_kw")
    large_start, highest = large.column("power_kw")
    if not lowest <= power_kw <= highest:
        raise TableEnds(
            f"efficiency class {name}: {power_kw:g} kW lies outside {lowest:g} to {highest:g} kW"
        )
    if power_kw <= small_end:
        return _polynomial(small, name, power_kw, poles)
    if power_kw >= large_start:
        return _polynomial(large, name, power_kw, poles)
    ends = (
        _polynomial(small, name, small_end, poles),
        _polynomial(large, name, large_start, poles),
    )
    return between(power_kw, (small_end, large_start), ends, "efficiency", "kW")


def _polynomial(of: Table, name: EfficiencyClass, power_kw: float, poles: int) -> float:
    by_poles = of.rows[name]
    if str(poles) not in by_poles:
        raise TableEnds(f"no efficiency class {name} for {poles} poles")
    a, b, c, d = (float(entry) for entry in by_poles[str(poles)])
    x = math.log10(power_kw)
    return (((a * x + b) * x + c) * x + d) / 100.0


def ie1_efficiency(power_w: float, poles: int) -> float:
    """Nominal efficiency of class IE1 at 50 Hz, a fraction; 0.12 to 45 kW (from memory)."""
    rows = table("efficiency", "ie1")
    percent = between(
        power_w / 1000.0, rows.column("power_kw"), pole_column(rows, poles), "class IE1", "kW"
    )
    return percent / 100.0


def nema_efficiency(name: NemaTable, power_w: float, poles: int) -> float:
    """Nominal efficiency of a 60 Hz table, a fraction; raises TableEnds outside its rows."""
    rows = table("efficiency", name)
    power_hp = power_w / W_PER_HP
    nearest = round(power_hp, 2)  # 0.75 kW is sold as 1 hp, 0.746 kW is 1 hp
    percent = between(nearest, rows.column("power_hp"), pole_column(rows, poles), name, "hp")
    return percent / 100.0
