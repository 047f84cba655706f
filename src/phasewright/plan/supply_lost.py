"""What a plan's converter holds on its lines when the supply is lost while it spins.

The idler alone, at its idling speed, with all of its run capacitors: motors on the same lines
ask for capacitance of their own and brake. The iron of a motor that is not measured is not
known, so usual iron is told with the spread from soft to hard, at one no-load current.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from phasewright.machines.targets import HARD_SATURATION, SOFT_SATURATION
from phasewright.network.supply import Source
from phasewright.plan.study import SupplyLost
from phasewright.quantities.errors import NotComputable
from phasewright.quantities.finding import Finding
from phasewright.quantities.value import Value, figure
from phasewright.rules.supply_lost import lines_stay_live
from phasewright.running.converter import Converter, on_converter
from phasewright.running.self_excitation import SelfExcitation, self_excitation
from phasewright.ways.converter_design import Design
from phasewright.ways.figures import Range

Irons = tuple[SelfExcitation, SelfExcitation, SelfExcitation]
FORMULA = "running.self_excitation.self_excitation"
WORDS = "self-excitation of the idling converter without supply; usual iron, soft to hard"


def supply_lost(source: Source, of: Design) -> SupplyLost | None:
    """What the converter holds; None where that cannot be computed (`supply_lost_findings` says
    why)."""
    try:
        irons = _irons(source, of.converter, of.idle.machines[0].speed_rpm)
    except NotComputable:
        return None
    run = of.converter.run_f
    inputs = {
        "idler": (of.converter.idler_power_w, "W"),
        "shaft speed": (of.idle.machines[0].speed_rpm, "rpm"),
        "C12": (run.c12, "F"),
        "C23": (run.c23, "F"),
        "C31": (run.c31, "F"),
    }

    def out(number: float, unit: str, low: float | None = None, high: float | None = None) -> Value:
        return figure(number, unit, FORMULA, inputs, WORDS, low=low, high=high)

    def spread(numbers: list[float], unit: str) -> Range:
        low, high = min(numbers), max(numbers)
        return Range(low, out(numbers[1], unit, low, high), high)

    usual = irons[1]
    full = usual.full_volts_sum_f
    held = usual.volts is not None
    return SupplyLost(
        run_capacitance_sum_f=out(usual.sum_f, "F"),
        onset_sum_f=spread([iron.onset_sum_f for iron in irons], "F"),
        full_volts_sum_f=None if full is None else out(full, "F"),
        self_excites=spread([_highest(iron) for iron in irons], "V"),
        line_voltages_v=None if usual.volts is None else (
            out(usual.volts[0], "V"), out(usual.volts[1], "V"), out(usual.volts[2], "V")
        ),
        frequency_hz=None if usual.frequency_hz is None else out(usual.frequency_hz, "Hz"),
        braking_nm=out(usual.braking_nm, "N m") if held else None,
        law=usual.law if held else None,
    )  # fmt: skip


def supply_lost_findings(source: Source, of: Design) -> tuple[Finding, ...]:
    """The caution that the lines stay live, with the volts."""
    subject = "converter"
    try:
        irons = _irons(source, of.converter, of.idle.machines[0].speed_rpm)
    except NotComputable as refusal:
        return lines_stay_live(None, None, subject, str(refusal)).findings
    volts = [_highest(iron) for iron in irons]
    measured = all(iron.law == "measured" for iron in irons)
    return lines_stay_live(volts[1], max(volts), subject, measured=measured).findings


@lru_cache(maxsize=512)
def _irons(source: Source, converter: Converter, speed_rpm: float) -> Irons:
    """The converter with soft, its own and hard iron, at this shaft speed."""
    soft, usual, hard = (
        self_excitation(on_converter(source, replace(converter, idler=idler), ()), (speed_rpm,))
        for idler in (
            replace(converter.idler, saturation=SOFT_SATURATION),
            converter.idler,
            replace(converter.idler, saturation=HARD_SATURATION),
        )
    )
    return soft, usual, hard


def _highest(found: SelfExcitation) -> float:
    return 0.0 if found.volts is None else max(found.volts)
