"""Winding ohms as measured, turned into the stator resistance of the star equivalent, hot."""

from __future__ import annotations

from phasewright.machines.link import Link
from phasewright.machines.notes import Notes
from phasewright.shop.plate import Plate
from phasewright.tables.motors import default_winding_ohm

HOT = (235.0 + 75.0) / (235.0 + 20.0)
"""Copper at 75 degrees over copper at 20 (IEC 60034-2, constant 235, from memory)."""
CREDIBLE = (0.45, 2.2)
"""Measured over usual ohms of one winding; outside, something else was measured."""
TOLD = 0.10


def measured_stator_ohm(plate: Plate, link: Link, power_w: float, notes: Notes) -> float | None:
    """Stator resistance [ohm] per phase of the star equivalent at `link`, hot, or None.

    With six leads one winding is measured, links off: a third of it in delta, all of it in
    star. With three leads it is two terminals, half of it whatever is inside. Other windings
    (halves, unknown links) do not tell. A size that was itself taken from the ohms is not
    fitted to them again.
    """
    if plate.winding_resistance is None or not (plate.power or plate.current):
        return None
    ohm = plate.winding_resistance.number
    if plate.leads == 3 or link.connection == "fixed":
        phase = 0.5 * ohm
    elif link.delta is not None and link.connection in ("delta", "star"):
        phase = ohm / 3.0 if link.delta else ohm
    else:
        return None
    usual = default_winding_ohm(power_w, link.line_voltage_v).number / 3.0
    ratio = phase / usual
    if CREDIBLE[0] <= ratio <= CREDIBLE[1]:
        return HOT * phase
    notes.ask(
        "winding_resistance_not_credible", "caution",
        f"{ohm:.3g} ohm is {ratio:.2g} times what a winding of this power has; not used. Perhaps "
        "the links were on, two windings were in series, or it was measured through the cable.",
        found=ohm, allowed=ohm / ratio, unit="ohm", key="plate.winding_resistance",
        remedy="Measure one winding with all links off and the meter's own leads subtracted.",
    )  # fmt: skip
    return None


def tell_ohms(got_ohm: float, asked_ohm: float, notes: Notes) -> None:
    """Note where the rated point of the plate denies the measured ohms."""
    if abs(got_ohm / asked_ohm - 1.0) <= TOLD:
        return
    notes.ask(
        "circuit_misses_winding_resistance", "caution",
        f"With the plate's power, amps and speed the stator resistance comes out at "
        f"{got_ohm / HOT:.3g} ohm a phase cold, measured is {asked_ohm / HOT:.3g} ohm: the plate "
        "was kept.",
        found=got_ohm / HOT, allowed=asked_ohm / HOT, unit="ohm", key="plate.winding_resistance",
        remedy="Measure again, cold, at the motor's own terminals.",
    )  # fmt: skip
