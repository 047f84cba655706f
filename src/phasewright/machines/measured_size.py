"""What each thing that can be measured on a bare motor says about its power."""

from __future__ import annotations

import math

from phasewright.machines.notes import Notes
from phasewright.machines.voltages import ROOT3, voltage_groups
from phasewright.quantities.codes import Region
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value, spread
from phasewright.shop.plate import Plate
from phasewright.tables.frames import Frame, frames_near, stepped_kw
from phasewright.tables.motors import (
    default_efficiency,
    default_no_load_current_ratio,
    default_power_factor,
    default_winding_ohm,
    power_range_w,
)

FRAME_SPREAD = 1.5
"""One step of power up or down: what frames of other makers and years differ by."""
CONFIRMED_SPREAD = 1.25
"""The same where the shaft's diameter belongs to the height (common practice, no source)."""
SHAFT_TOLERANCE = 0.08
USUAL_PAIR_V: dict[Region, tuple[float, float]] = {"IEC": (230.0, 400.0), "NEC": (230.0, 460.0)}


def from_frame(plate: Plate, poles: int | None, region: Region, notes: Notes) -> Value | None:
    """Shaft power [W] of the frames with this shaft height, or with this shaft diameter alone."""
    height = None if plate.shaft_height is None else plate.shaft_height.number * 1000.0
    shaft = None if plate.shaft_diameter is None else plate.shaft_diameter.number * 1000.0
    if height is None and shaft is None:
        return None
    near = frames_near(region, height_mm=height, shaft_mm=shaft if height is None else None)
    if not near:
        what = f"{height:.0f} mm high" if height is not None else f"with a {shaft:.0f} mm shaft"
        notes.ask(
            "no_such_frame", "caution", f"No usual frame is {what}: its size says nothing.",
            found=height or shaft, unit="mm", key="plate.shaft_height",
            remedy="Measure from the middle of the shaft to the floor under the feet.",
        )  # fmt: skip
        return None
    wide = FRAME_SPREAD
    if height is not None and shaft is not None:
        fitting = tuple(f for f in near if abs(f.shaft_mm / shaft - 1.0) < SHAFT_TOLERANCE)
        wide = CONFIRMED_SPREAD if fitting else FRAME_SPREAD * 1.5
        if not fitting:
            _ask_about_shaft(near[0], height, shaft, notes)
        near = fitting or near
    low = stepped_kw(min(f.low_kw for f in near), poles, "low")
    high = stepped_kw(max(f.high_kw for f in near), poles, "high")
    return spread(
        1000.0 * math.sqrt(low * high), 1000.0 * low / wide, 1000.0 * high * wide, "W",
        near[0].origin, f"frame {' or '.join(dict.fromkeys(f.name for f in near))}: "
        f"{near[0].source}",
    )  # fmt: skip


def _ask_about_shaft(of: Frame, height: float, shaft: float, notes: Notes) -> None:
    notes.ask(
        "height_and_shaft_differ", "caution",
        f"A frame {height:.0f} mm high has a shaft of {of.shaft_mm:.0f} mm, not {shaft:.0f} mm: an "
        "old frame, another country's, or one of the two is misread.",
        found=shaft, allowed=of.shaft_mm, unit="mm", key="plate.shaft_diameter",
        remedy="Measure both again.",
    )  # fmt: skip


def from_winding(plate: Plate) -> Value | None:
    """Shaft power [W] from the ohms of one winding, links off."""
    if plate.winding_resistance is None:
        return None
    groups = voltage_groups(plate)
    ratio = groups[1].volts / groups[0].volts if len(groups) == 2 else 0.0
    volts = groups[0].volts if 1.6 < ratio < 1.85 else 230.0
    ohm = plate.winding_resistance.number
    one_kw = default_winding_ohm(1000.0, volts)
    ten_kw = default_winding_ohm(10000.0, volts)
    exponent = math.log10(ten_kw.number / one_kw.number)

    def power(resistance: float) -> float:
        return float(1000.0 * (resistance / one_kw.number) ** (1.0 / exponent))

    wide = one_kw.high / one_kw.number
    return spread(
        power(ohm), power(ohm * wide), power(ohm / wide), "W", one_kw.origin,
        f"one winding for {volts:.0f} V: {one_kw.source}",
    )  # fmt: skip


def from_no_load_current(plate: Plate, poles: int | None, region: Region) -> Value | None:
    """Shaft power [W] whose usual no-load current is the measured one.

    It is not told at which of two voltages it was taken: the spread covers both. None where no
    motor of the tables idles at such a current.
    """
    if plate.no_load_current is None:
        return None
    amps = plate.no_load_current.number
    groups = voltage_groups(plate)
    volts = [group.volts for group in groups] or list(USUAL_PAIR_V[region])
    try:
        ends = [_power_idling_at(amps, v, poles or 4) for v in (min(volts), max(volts))]
    except TableEnds:
        return None
    ratio = default_no_load_current_ratio(ends[0], poles or 4)
    wide = ratio.high / ratio.low
    return spread(
        math.sqrt(ends[0] * ends[1]), ends[0] / wide, ends[1] * wide, "W", ratio.origin,
        f"idles at {amps:.3g} A on {min(volts):.0f} or {max(volts):.0f} V: {ratio.source}",
    )  # fmt: skip


def _power_idling_at(amps: float, line_voltage_v: float, poles: int) -> float:
    """The power [W] whose usual no-load current is `amps`; TableEnds outside the tables."""

    def idle_a(power_w: float) -> float:
        pf = default_power_factor(power_w, poles).number
        eff = default_efficiency(power_w, poles).number
        share = default_no_load_current_ratio(power_w, poles).number
        return share * power_w / (ROOT3 * line_voltage_v * pf * eff)

    low, high = power_range_w()
    if not idle_a(low) <= amps <= idle_a(high):
        raise TableEnds(f"no-load current: {amps:g} A belongs to no motor of the tables")
    for _ in range(60):
        middle = math.sqrt(low * high)
        low, high = (middle, high) if idle_a(middle) < amps else (low, middle)
    return math.sqrt(low * high)
