"""Standard sizes of what can be bought, and the next one that serves.

Rows and sources stand in `data/sizes.toml`. SI: watts, farads, volts, amperes; wires by their
own names (mm2 and AWG).
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from phasewright.quantities.errors import TableEnds
from phasewright.tables.efficiency import W_PER_HP
from phasewright.tables.published import table

_ROOM = 1e-9  # a size serves a need that is equal to it but for rounding


def _scaled(name: str, factor: float, column: str = "sizes") -> tuple[float, ...]:
    """Rounded to 12 digits, so that 22 kW is 22000.0 W and 50 µF is 5e-05 F."""
    return tuple(float(f"{size * factor:.12g}") for size in table("sizes", name).column(column))


MOTOR_SIZES_KW_W = _scaled("motor_kw", 1000.0)
MOTOR_SIZES_HP_W = _scaled("motor_hp", W_PER_HP)
IDLER_SIZES_KW_W = _scaled("idler_kw", 1000.0)
IDLER_SIZES_HP_W = _scaled("idler_hp", W_PER_HP)
DRIVE_SIZES_W = _scaled("drive_single_phase_kw", 1000.0)
DRIVE_OUTPUT_A = _scaled("drive_single_phase_kw", 1.0, "output_a")
DOUBLING_DRIVE_SIZES_W = _scaled("doubling_drive_kw", 1000.0)
DOUBLING_DRIVE_OUTPUT_A = _scaled("doubling_drive_kw", 1.0, "output_a")
THREE_PHASE_DRIVE_SIZES_W = _scaled("drive_three_phase_kw", 1000.0)
THREE_PHASE_DRIVE_OUTPUT_A = _scaled("drive_three_phase_kw", 1.0, "output_a")
DRIVE_400_SIZES_W = _scaled("drive_three_phase_400_kw", 1000.0)
DRIVE_400_OUTPUT_A = _scaled("drive_three_phase_400_kw", 1.0, "output_a")
STEP_UP_DRIVE_SIZES_W = _scaled("step_up_drive_kw", 1000.0)
STEP_UP_DRIVE_OUTPUT_A = _scaled("step_up_drive_kw", 1.0, "output_a")
ELECTRONIC_CONVERTER_SIZES_W = _scaled("electronic_converter_kw", 1000.0)
BATTERY_INVERTER_SIZES_W = _scaled("battery_inverter_kw", 1000.0)
BATTERY_SIZES_KWH = _scaled("battery_kwh", 1.0)
GENERATOR_SIZES_W = _scaled("generator_kw", 1000.0)
TRANSFORMER_SIZES_VA = _scaled("transformer_kva", 1000.0)
RUN_CAPACITORS_F = _scaled("run_capacitor_uf", 1e-6)
RUN_CAPACITOR_STEP_F = 1e-6 * table("sizes", "run_capacitor_uf").number("bank_step")
START_CAPACITORS_F = _scaled("start_capacitor_uf", 1e-6)
CAPACITOR_VOLTAGES_V = _scaled("capacitor_voltage", 1.0)
BREAKERS_IEC_A = _scaled("breaker_iec", 1.0)
BREAKERS_NEC_A = _scaled("breaker_nec", 1.0)
CABLES_MM2 = _scaled("cable_mm2", 1.0)
AWG_SIZES: tuple[str, ...] = tuple(table("sizes", "awg").rows["sizes"])
CONTACTORS_A = _scaled("contactor_ac3_a", 1.0)
SOCKETS_A = _scaled("socket_a", 1.0)


def next_size(value: float, sizes: Sequence[float], what: str) -> float:
    """The smallest of the growing `sizes` that is not below `value`.

    Raises TableEnds above the largest and for a value that is no number; `what` names the thing
    in the message.
    """
    for size in sizes:
        if value <= size * (1.0 + _ROOM):
            return size
    largest = f"{sizes[-1]:g}" if sizes else "nothing"
    raise TableEnds(f"{what}: {value:g} is more than the largest size made, {largest}")


def idler_sizes_w(region: str) -> tuple[float, ...]:
    """Idler motors on the market of a region (IEC: kW steps, NEC: hp steps)."""
    return IDLER_SIZES_HP_W if region == "NEC" else IDLER_SIZES_KW_W


def motor_size(power_w: float, region: str) -> str:
    """A motor's power as its region names it: 4 kW, 7.5 hp."""
    if region == "NEC":
        return f"{power_w / W_PER_HP:.3g} hp"
    return f"{power_w / 1000.0:.3g} kW"


def motor_sizes_w(region: str) -> tuple[float, ...]:
    """Standard motor powers of a region (IEC: kW steps, NEC: hp steps)."""
    return MOTOR_SIZES_HP_W if region == "NEC" else MOTOR_SIZES_KW_W


def breaker_sizes_a(region: str) -> tuple[float, ...]:
    """Standard breaker ratings of a region."""
    return BREAKERS_NEC_A if region == "NEC" else BREAKERS_IEC_A


def awg_mm2(size: str) -> float:
    """Cross-section of an AWG size; TableEnds for none of the listed."""
    if size not in AWG_SIZES:
        raise TableEnds(f"no AWG size {size!r} in the table; known: {', '.join(AWG_SIZES)}")
    gauge = 1 - int(size[0]) if "/" in size else int(size)
    diameter_mm = 0.127 * math.exp((36 - gauge) / 39.0 * math.log(92.0))
    return math.pi / 4.0 * diameter_mm * diameter_mm


def capacitor_bank_f(capacitance_f: float) -> float:
    """The nearest value cans joined in parallel can make: a multiple of the stock step."""
    steps = round(capacitance_f / RUN_CAPACITOR_STEP_F)
    return float(f"{steps * RUN_CAPACITOR_STEP_F:.12g}")
