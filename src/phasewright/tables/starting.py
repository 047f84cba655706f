"""Locked-rotor current and torque of motors: code letters, greatest currents, least torques.

Sources stand in `data/starting.toml`: NFPA 70 (NEC) 430.7(B) and 430.251, NEMA MG 1-12.38 and
12.39 (from memory), IEC 60034-12 design N (from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value, spread
from phasewright.tables.efficiency import W_PER_HP
from phasewright.tables.published import Table, between, table


@dataclass(frozen=True, slots=True)
class TorqueMinimum:
    """Least torques of a standard motor, multiples of rated torque; None where no row tells."""

    locked: float
    breakdown: float
    pull_up: float | None = None


def code_letter_range(letter: str) -> tuple[float, float]:
    """Locked-rotor kVA per hp of a code letter, lowest and highest; V has no upper end.

    The upper end of V is infinity. Raises TableEnds for no letter of the table.
    """
    of = table("starting", "code_letters")
    for name, lowest, highest in of.rows["rows"]:
        if name == letter.upper():
            return float(lowest), float(highest)
    name, lowest = of.rows["last"]
    if name == letter.upper():
        return float(lowest), math.inf
    raise TableEnds(f"{letter!r} is no code letter of NEC 430.7(B)")


def code_letter(kva_per_hp: float) -> str:
    """The code letter of a locked-rotor apparent power per hp."""
    of = table("starting", "code_letters")
    if not kva_per_hp >= 0.0:
        raise TableEnds(f"{kva_per_hp:g} kVA per hp has no code letter")
    letters = [(str(name), float(lowest)) for name, lowest, _ in of.rows["rows"]]
    letters.append((str(of.rows["last"][0]), float(of.rows["last"][1])))
    return [name for name, lowest in letters if round(kva_per_hp, 2) >= lowest][-1]


def code_letter_current_a(letter: str, power_w: float, line_voltage_v: float) -> Value:
    """Locked-rotor line current of a three-phase motor by its code letter (middle of the range).

    For letter V, which has no upper end, TableEnds.
    """
    lowest, highest = code_letter_range(letter)
    if math.isinf(highest):
        raise TableEnds("code letter V has no upper end: the locked-rotor current is not bounded")
    per = 1000.0 * (power_w / W_PER_HP) / (math.sqrt(3.0) * line_voltage_v)
    of = table("starting", "code_letters")
    middle = (lowest + highest) / 2.0
    return spread(middle * per, lowest * per, highest * per, "A", of.origin, of.words)


def greatest_locked_current_a(power_hp: float, line_voltage_v: float, phases: int = 3) -> float:
    """Greatest locked-rotor current of a listed size (NEC 430.251), inverse with the voltage.

    Raises TableEnds for a power that is no row.
    """
    of = table("starting", "three_phase_locked" if phases == 3 else "single_phase_locked")
    listed = of.column("power_hp")
    if power_hp not in listed:
        raise TableEnds(f"NEC 430.251 has no row for {power_hp:g} hp")
    current_a = of.column("current_a")[listed.index(power_hp)]
    return current_a * of.number("voltage_v") / line_voltage_v


def mg1_minimum(power_hp: float, poles: int) -> TorqueMinimum:
    """Least locked-rotor and breakdown torque of design A and B (60 Hz, from memory).

    The pull-up torque is None (no row at hand). Raises TableEnds outside the rows.
    """
    return TorqueMinimum(
        _mg1(table("starting", "mg1_locked_torque"), power_hp, poles),
        _mg1(table("starting", "mg1_breakdown_torque"), power_hp, poles),
    )


def _mg1(of: Table, power_hp: float, poles: int) -> float:
    if str(poles) not in of.rows["percent"]:
        raise TableEnds(f"MG 1 torques: no figures for {poles} poles")
    points = tuple(float(entry) for entry in of.rows["power_hp"][str(poles)])
    values = tuple(float(entry) for entry in of.rows["percent"][str(poles)])
    return between(power_hp, points, values, "MG 1 torque", "hp") / 100.0


def design_n_minimum(power_w: float, poles: int) -> TorqueMinimum:
    """Least torques of an IEC 60034-12 design N motor; TableEnds outside 0.12 to 25 kW."""
    of = table("starting", "design_n")
    power_kw = power_w / 1000.0
    for above, to, locked, pull_up, breakdown in of.rows.get(str(poles), []):
        if above < power_kw <= to or power_kw == above == of.rows[str(poles)][0][0]:
            return TorqueMinimum(float(locked), float(breakdown), float(pull_up))
    raise TableEnds(f"IEC 60034-12 design N: no row for {power_kw:g} kW and {poles} poles")


def design_n_greatest_current_a(power_w: float, line_voltage_v: float) -> float:
    """Greatest locked-rotor line current of design N; TableEnds outside 0.4 to 630 kW."""
    power_kw = power_w / 1000.0
    for above, to, kva_per_kw in table("starting", "design_n_apparent").rows["rows"]:
        if above < power_kw <= to or power_kw == above == 0.4:
            return float(kva_per_kw) * power_w / (math.sqrt(3.0) * line_voltage_v)
    raise TableEnds(f"IEC 60034-12 design N: no row for {power_kw:g} kW")
