"""Power factor, efficiency and current at rated load: stamped first, usual values for the rest."""

from __future__ import annotations

import math
from dataclasses import dataclass

from phasewright.machines.link import Link
from phasewright.machines.misread import explanations
from phasewright.machines.notes import Notes
from phasewright.machines.speed import Turning
from phasewright.machines.targets import least_input_w
from phasewright.quantities.value import Value, exact, figure, spread
from phasewright.shop.plate import Plate
from phasewright.tables.motors import (
    default_efficiency,
    default_friction_ratio,
    default_power_factor,
)

ROOT3 = math.sqrt(3.0)
CREDIBLE_PRODUCT = (0.15, 0.93)
"""Power factor times efficiency of any three-phase cage motor up to 45 kW."""
TEMPERATURE_RISE_PRODUCT = 3.0
"""Above this the power itself is some other number of the plate."""
CREDIBLE_EFFICIENCY = (0.25, 0.965)
CREDIBLE_POWER_FACTOR = (0.25, 0.95)


@dataclass(frozen=True, slots=True)
class RatedPoint:
    """The rated point at one link: watts, amps, power factor, efficiency, friction loss."""

    power_w: Value
    current_a: Value
    power_factor: Value
    efficiency: Value
    friction_w: Value
    contradicts: bool = False


def power_from_current(plate: Plate, link: Link, hertz: float, poles: int, notes: Notes) -> Value:
    """Shaft power [W] where only volts and amps are stamped: usual power factor, efficiency."""
    amps = link.full_load_current_a
    assert amps is not None
    apparent = ROOT3 * link.line_voltage_v * amps
    power = low = high = 0.6 * apparent
    for _ in range(30):
        pf = default_power_factor(power, poles)
        efficiency = default_efficiency(power, poles, plate.year, hertz)
        power = apparent * pf.number * efficiency.number
        low = apparent * pf.low * efficiency.low
        high = apparent * pf.high * efficiency.high
    value = figure(
        power, "W", "machines.rated_point.power_from_current",
        {
            "volts": (link.line_voltage_v, "V"), "amps": (amps, "A"),
            "power factor": (pf.number, ""), "efficiency": (efficiency.number, ""),
        },
        f"{pf.source}; {efficiency.source}", low=low, high=high,
    )  # fmt: skip
    notes.take("power", "plate.power", value)
    return value


def rated_point(
    plate: Plate, power_w: Value, link: Link, turning: Turning, notes: Notes
) -> RatedPoint:
    """Everything the fit needs of the rated point, with questions where the plate contradicts.

    The stamped amps, watts and speed are kept; power factor and efficiency give way.
    """
    watts, poles = power_w.number, turning.poles
    usual_pf = default_power_factor(watts, poles)
    usual_eff = default_efficiency(watts, poles, plate.year, turning.frequency_hz.number)
    ratio = default_friction_ratio(watts)
    friction = ratio.scaled(watts)
    friction = Value(friction.number, "W", friction.low, friction.high, ratio.origin, ratio.source)
    slip = 1.0 - turning.speed_rpm.number / turning.synchronous_speed_rpm
    top_eff = watts / least_input_w(watts, slip, friction.number)
    amps = link.full_load_current_a
    contradicts = False
    if amps is not None:
        product = watts / (ROOT3 * link.line_voltage_v * amps)
        contradicts = not CREDIBLE_PRODUCT[0] <= product <= CREDIBLE_PRODUCT[1]
        if contradicts:
            _ask_power(plate, watts, link, product, (usual_pf, usual_eff), notes)
    if amps is None or contradicts:
        pf, eff = _from_stamp_or_table(plate, usual_pf, usual_eff, top_eff, notes)
        current = _current(watts, link.line_voltage_v, pf, eff)
        if amps is None:
            notes.take("current", "plate.current", current)
        return RatedPoint(power_w, current, pf, eff, friction, contradicts)
    pf_number, eff_number = _shared(plate, product, usual_pf, usual_eff, top_eff, notes)
    pf = _stamped_or(plate.power_factor, pf_number, usual_pf, "power factor", notes)
    eff = _stamped_or(plate.efficiency, eff_number, usual_eff, "efficiency", notes)
    stamped = exact(amps, "A", "plate", "plate")
    return RatedPoint(power_w, stamped, pf, eff, friction)


def _stamped_or(stamp: float | None, number: float, usual: Value, what: str, notes: Notes) -> Value:
    if stamp is not None and abs(number / stamp - 1.0) < 1e-9:
        return exact(number, "", "plate", "plate")
    half = (usual.high - usual.low) / 2.0
    high = min(0.99, number + half)
    source = f"volts, amps and power of the plate; {usual.source}"
    value = spread(number, number - half, high, "", usual.origin, source)
    if stamp is None:
        notes.take(what, f"plate.{what.replace(' ', '_')}", value)
    return value


def _shared(
    plate: Plate, product: float, usual_pf: Value, usual_eff: Value, top_eff: float, notes: Notes
) -> tuple[float, float]:
    """Power factor and efficiency whose product the plate fixes."""
    pf, eff = plate.power_factor, plate.efficiency
    if pf is not None and eff is not None and abs(pf * eff / product - 1.0) > 0.08:
        notes.ask(
            "plate_power_mismatch", "caution",
            f"Volts, amps and power give {product:.2f} for power factor times efficiency; stamped "
            f"are {pf:.2f} times {eff:.2f}. Amps and watts were kept.",
            found=product, allowed=pf * eff, key="plate.power_factor",
        )  # fmt: skip
    if pf is not None and CREDIBLE_EFFICIENCY[0] <= product / pf <= CREDIBLE_EFFICIENCY[1]:
        return _with_slip(pf, product / pf, top_eff, product, notes)
    if pf is not None:
        notes.ask(
            "power_factor_not_credible", "caution",
            f"A power factor of {pf:.2f} would mean an efficiency of {product / pf:.2f}.",
            found=pf, key="plate.power_factor",
        )  # fmt: skip
        pf = None
    if eff is not None and CREDIBLE_POWER_FACTOR[0] <= product / eff <= CREDIBLE_POWER_FACTOR[1]:
        return _with_slip(product / eff, eff, top_eff, product, notes)
    gap = math.log(product / (usual_pf.number * usual_eff.number))
    eff = min(usual_eff.number * math.exp(0.35 * gap), top_eff, CREDIBLE_EFFICIENCY[1])
    eff = max(eff, product / CREDIBLE_POWER_FACTOR[1])
    return product / eff, eff


def _with_slip(
    pf: float, eff: float, top_eff: float, product: float, notes: Notes
) -> tuple[float, float]:
    """The slip alone makes a rotor loss: an efficiency that denies it is questioned."""
    if eff <= top_eff * 1.02:
        return pf, eff
    notes.ask(
        "slip_and_efficiency", "caution",
        f"The stamped speed alone costs so much in the rotor that the efficiency is at most "
        f"{top_eff:.2f}; amps and power factor say {eff:.2f}.",
        found=eff, allowed=top_eff, key="plate.power_factor",
    )  # fmt: skip
    eff = max(top_eff, product / CREDIBLE_POWER_FACTOR[1])
    return product / eff, eff


def _from_stamp_or_table(
    plate: Plate, usual_pf: Value, usual_eff: Value, top_eff: float, notes: Notes
) -> tuple[Value, Value]:
    if plate.power_factor is not None:
        pf = exact(plate.power_factor, "", "plate", "plate")
    else:
        pf = notes.take("power factor", "plate.power_factor", usual_pf)
    if plate.efficiency is not None:
        eff = exact(plate.efficiency, "", "plate", "plate")
    else:
        eff = usual_eff
        if eff.number > top_eff:
            eff = spread(top_eff, min(eff.low, top_eff), top_eff, "", eff.origin, eff.source)
        notes.take("efficiency", "plate.efficiency", eff)
    return pf, eff


def _current(watts: float, volts: float, pf: Value, eff: Value) -> Value:
    def amps(a: float, b: float) -> float:
        return watts / (ROOT3 * volts * a * b)

    return figure(
        amps(pf.number, eff.number), "A", "machines.rated_point.rated_point",
        {
            "power": (watts, "W"), "volts": (volts, "V"), "power factor": (pf.number, ""),
            "efficiency": (eff.number, ""),
        },
        f"{pf.source}; {eff.source}", low=amps(pf.high, eff.high), high=amps(pf.low, eff.low),
    )  # fmt: skip


def _ask_power(
    plate: Plate, watts: float, link: Link, product: float, usual: tuple[Value, Value], notes: Notes
) -> None:
    amps = link.full_load_current_a
    at = f"{link.line_voltage_v:.0f} V and {amps:.3g} A"
    guesses = explanations(product, *usual, plate.power_factor)[:2]
    perhaps = ", or ".join(guesses) or (
        "perhaps the amps belong to a higher voltage, or the power is read wrongly"
    )
    if product > TEMPERATURE_RISE_PRODUCT:
        words = (
            f"{at} cannot carry {watts:.0f} W by far: perhaps the temperature rise or another "
            "number was read as the power. The current was computed from the power instead."
        )
    elif product > CREDIBLE_PRODUCT[1]:
        words = (
            f"{at} cannot carry {watts:.0f} W: {perhaps}. The current was computed from the power "
            "instead."
        )
    else:
        hint = (
            " Perhaps the temperature rise or another number was read as power."
            if watts < 200.0
            else " Perhaps the amps belong to a lower voltage or to the whole machine."
        )
        words = f"{at} is far more than {watts:.0f} W needs.{hint}"
    notes.ask(
        "power_and_amps_disagree", "condition", words,
        found=product, allowed=CREDIBLE_PRODUCT[1 if product > CREDIBLE_PRODUCT[1] else 0],
        key="plate.current",
    )  # fmt: skip
