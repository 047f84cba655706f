"""What a plate was perhaps misread as, told by which mistake makes its numbers credible.

The usual mistakes (common practice, no source): the amps of another voltage, volts to earth,
kVA or input watts taken for the output, hp written as kW, the temperature rise as power, and
the plate of the whole machine.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from phasewright.machines.link import Link
from phasewright.machines.notes import Notes
from phasewright.machines.speed import Turning
from phasewright.machines.stamped import plain_stamp
from phasewright.machines.voltages import ROOT3, voltage_groups
from phasewright.machines.winding import STAR_DELTA_RATIOS
from phasewright.quantities.value import Value
from phasewright.shop.plate import Plate
from phasewright.tables.motors import default_efficiency, default_power_factor

W_PER_HP = 745.7
SUSPICIOUS_HIGH = 1.08
SUSPICIOUS_LOW = 0.85
"""Power factor times efficiency beyond the usual spread by these shares is asked about."""
EXPLAINS = 0.14
"""A mistake explains the plate where it brings the logarithm this near to usual motors."""
RISES_W = (40.0, 50.0, 55.0, 60.0, 65.0, 70.0, 75.0, 80.0)
"""Temperature rises stamped on old plates, read as watts or (times 1000) as kilowatts."""
LINE_VOLTS = (
    190.0, 200.0, 208.0, 220.0, 230.0, 240.0, 380.0, 400.0, 415.0, 440.0, 460.0, 480.0, 500.0,
    525.0, 575.0, 600.0, 660.0, 690.0,
)  # fmt: skip
"""Usual volts between lines (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Mistake:
    """A misreading, and what it multiplied power factor times efficiency by."""

    factor: float
    words: str


MISTAKES = (
    Mistake(ROOT3, "the amps are perhaps those of a 1.73 times higher voltage, or the volts those "
            "to earth"),
    Mistake(2.0, "the amps are perhaps those of the double voltage"),
    Mistake(1.0 / ROOT3, "the amps are perhaps those of a 1.73 times lower voltage"),
    Mistake(0.5, "the amps are perhaps those of half the voltage"),
    Mistake(1000.0 / W_PER_HP, "the power is perhaps horsepower written as kilowatts"),
    Mistake(W_PER_HP / 1000.0, "the power is perhaps kilowatts written as horsepower"),
)  # fmt: skip


def explanations(
    product: float, power_factor: Value, efficiency: Value, stamped_factor: float | None = None
) -> tuple[str, ...]:
    """The mistakes that would make this power factor times efficiency a usual one, best first."""
    usual = power_factor.number * efficiency.number

    def off(factor: float) -> float:
        return abs(math.log(product / factor / usual))

    found = [(off(one.factor), one.words) for one in MISTAKES]
    ratio = math.log(product)
    found.append((abs(ratio) * 2.0, "the power is perhaps the kVA"))
    cosine = power_factor.number if stamped_factor is None else stamped_factor
    given_in = "the power is perhaps the electrical input, not what the shaft gives"
    found.append((abs(math.log(product / cosine)), given_in))
    return tuple(words for miss, words in sorted(found) if miss < min(EXPLAINS, off(1.0)))


def ask_about_power(plate: Plate, power: Value, at: Link, turns: Turning, notes: Notes) -> None:
    """Question a plate that stands just within what is possible and outside what is usual."""
    amps = at.full_load_current_a
    _ask_about_earth_volts(plate, notes)
    _ask_about_links(plate, notes)
    if amps is None:
        _ask_about_rise(plate, power, notes)
        return
    if any(finding.rule == "power_and_amps_disagree" for finding in notes.findings):
        return
    if not plate.power:
        _ask_whose_plate(plate, notes)
        return
    poles, watts = turns.poles, power.number
    pf = default_power_factor(watts, poles)
    eff = default_efficiency(watts, poles, plate.year, turns.frequency_hz.number)
    product = watts / (ROOT3 * at.line_voltage_v * amps)
    high, low = SUSPICIOUS_HIGH * pf.high * eff.high, SUSPICIOUS_LOW * pf.low * eff.low
    as_input = plate.power_factor is not None and abs(product / plate.power_factor - 1.0) < 0.03
    if low <= product <= high and not as_input:
        return
    guesses = explanations(product, pf, eff, plate.power_factor)[:2]
    tail = f": {', or '.join(guesses)}" if guesses else ""
    notes.ask(
        "plate_perhaps_misread", "caution",
        f"{watts:.0f} W from {at.line_voltage_v:.0f} V and {amps:.3g} A is power factor times "
        f"efficiency {product:.2f}; usual is {low:.2f} to {high:.2f}{tail}.",
        found=product, allowed=high if product > high else low, key="plate.power",
        remedy="Read power, volts and amps again; is it the plate on the motor itself?",
    )  # fmt: skip


def _ask_about_earth_volts(plate: Plate, notes: Notes) -> None:
    """One voltage that only makes sense from a line to earth."""
    groups = voltage_groups(plate)
    if len(groups) != 1:
        return
    volts = groups[0].volts
    lines = [of for of in LINE_VOLTS if abs(volts * ROOT3 / of - 1.0) < 0.01]
    if not lines or any(abs(volts / of - 1.0) < 0.04 for of in LINE_VOLTS):
        return
    notes.ask(
        "volts_to_earth", "condition",
        f"Motors are not wound for {volts:.0f} V between lines; it is what a {lines[0]:.0f} V "
        "supply shows from a line to earth.",
        found=volts, allowed=lines[0], unit="V", key="plate.voltage",
        remedy="Read the volts on the plate, or measure from line to line.",
    )  # fmt: skip


def _ask_about_links(plate: Plate, notes: Notes) -> None:
    """Delta and star stamped beside two voltages that no such change makes."""
    groups = voltage_groups(plate)
    if len(groups) != 2 or plain_stamp(plate.connection) not in ("D/Y", "Y/D"):
        return
    low, high = groups
    ratio = high.volts / low.volts
    if STAR_DELTA_RATIOS[0] <= ratio <= STAR_DELTA_RATIOS[1]:
        return
    notes.ask(
        "links_and_volts", "condition",
        f"Delta and star stand for volts as 1 to 1.73, but the plate says {low.volts:.0f} and "
        f"{high.volts:.0f} V, as 1 to {ratio:.2f}: one of the two is perhaps misread.",
        found=ratio, allowed=ROOT3, key="plate.connection",
        remedy="Read both again and count the leads before any link is moved: six belong to delta "
        "and star, nine to half windings side by side or in series.",
    )  # fmt: skip


def _ask_about_rise(plate: Plate, power: Value, notes: Notes) -> None:
    """A power without amps that is also a usual temperature rise."""
    if not plate.power or not any(power.number in (of, 1000.0 * of) for of in RISES_W):
        return
    shown = f"{power.number:.0f} W" if power.number < 1000.0 else f"{power.number / 1000.0:.0f} kW"
    notes.ask(
        "power_perhaps_rise", "caution",
        f"{shown} with no amps beside it: is it the power, or the temperature rise?",
        found=power.number, unit="W", key="plate.power",
        remedy="Read power and amps again.",
    )  # fmt: skip


def _ask_whose_plate(plate: Plate, notes: Notes) -> None:
    """Volts and amps alone are what the plate of a whole machine shows."""
    if plate.speed:
        return
    notes.ask(
        "whose_plate", "caution",
        "Only volts and amps are given: the plate of a whole machine shows these, and its amps "
        "are those of all its motors and controls together.",
        key="plate.power", remedy="Look for the plate on the motor itself.",
    )  # fmt: skip
