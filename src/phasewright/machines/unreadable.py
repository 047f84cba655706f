"""Power of a motor without a readable plate: from its frame, shaft and winding ohms."""

from __future__ import annotations

import math

from phasewright.machines.notes import Notes
from phasewright.quantities.value import Value, spread
from phasewright.shop.plate import Plate
from phasewright.tables.motors import default_winding_ohm
from phasewright.tables.published import table

FRAME_SPREAD = 1.5
"""One step of power up or down: what frames of other years and poles differ by."""


def power_from_measures(plate: Plate, notes: Notes) -> Value | None:
    """Shaft power [W] from shaft height (and diameter) and winding resistance, or None.

    Frame powers are those of four-pole motors (EN 50347, from memory); the winding resistance
    is that of one winding made for 230 V. Both given: the geometric mean, and a question where
    they differ more than twofold.
    """
    found = [v for v in (_from_frame(plate), _from_winding(plate)) if v is not None]
    if not found:
        return None
    value = found[0]
    if len(found) == 2:
        first, second = found
        if not 0.5 < first.number / second.number < 2.0:
            notes.ask(
                "frame_and_winding_differ", "caution",
                f"The frame speaks for {first.number:.0f} W, the winding for "
                f"{second.number:.0f} W: measure again (one winding, links off).",
                found=second.number, allowed=first.number, unit="W",
                key="plate.winding_resistance",
            )  # fmt: skip
        value = spread(
            math.sqrt(first.number * second.number), min(first.low, second.low),
            max(first.high, second.high), "W", "table", f"{first.source}; {second.source}",
        )  # fmt: skip
    notes.take("power", "plate.power", value)
    notes.wanted(
        "power", "plate.power", value, "The power was taken from the size of the motor.",
        "Clean the plate, or compare the no-load current and the winding ohms.",
        "every figure of this motor",
    )  # fmt: skip
    return value


def _from_frame(plate: Plate) -> Value | None:
    if plate.shaft_height is None:
        return None
    height_mm = plate.shaft_height.number * 1000.0
    of = table("motors", "iec_frames")
    near = [row for row in of.rows["rows"] if abs(row[0] / height_mm - 1.0) < 0.06]
    if not near:
        return None
    _, shaft_mm, low_kw, high_kw = (float(entry) for entry in near[0])
    middle = 1000.0 * math.sqrt(low_kw * high_kw)
    wide = FRAME_SPREAD
    if plate.shaft_diameter is not None:
        thinner = plate.shaft_diameter.number * 1000.0 < 0.9 * shaft_mm
        wide *= 1.5 if thinner else 1.0
    return spread(
        middle, 1000.0 * low_kw / wide, 1000.0 * high_kw * wide, "W", of.origin,
        f"frame {near[0][0]}: {of.words}",
    )  # fmt: skip


def _from_winding(plate: Plate) -> Value | None:
    if plate.winding_resistance is None:
        return None
    ohm = plate.winding_resistance.number
    one_kw = default_winding_ohm(1000.0)
    ten_kw = default_winding_ohm(10000.0)
    exponent = math.log10(ten_kw.number / one_kw.number)

    def power(resistance: float) -> float:
        return float(1000.0 * (resistance / one_kw.number) ** (1.0 / exponent))

    ratio = one_kw.high / one_kw.number
    return spread(
        power(ohm), power(ohm * ratio), power(ohm / ratio), "W", one_kw.origin, one_kw.source
    )
