"""Plates made for one frequency on another, and where a drive reaches their full volts.

Flux follows volts per hertz; torque at a given flux does not ask for the frequency. The power
of pumps and fans grows with the cube of the speed (affinity laws).
"""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.quantities.finding import Reason

FLUX_TOLD = 1.06
FLUX_CONDITION = 1.10
FLUX_REFUSED = 1.15
FLUX_WEAK = 0.94
FLUX_WEAK_CONDITION = 0.90
FLUX_WEAK_REFUSED = 0.85
"""Volts per hertz over the plate's: told, made a condition, refused (high mains: common
practice, no source; +-10 % is the usual range of a motor, NEMA MG 1 12.44, from memory)."""


def flux_ratio(
    voltage_v: float, frequency_hz: float, rated_voltage_v: float, rated_frequency_hz: float
) -> float:
    """Volts per hertz over the rated ones: 1 where the iron is used as designed."""
    return (voltage_v / frequency_hz) / (rated_voltage_v / rated_frequency_hz)


@dataclass(frozen=True, slots=True)
class BasePoint:
    """Where a drive's output reaches the volts it has: full flux up to here."""

    voltage_v: float
    frequency_hz: float
    synchronous_speed_rpm: float
    power_ratio: float
    """Power at this point with rated torque, over the plate's power (= frequency ratio)."""


def base_point(
    rated_voltage_v: float, rated_frequency_hz: float, poles: int, output_voltage_v: float
) -> BasePoint:
    """The end of full flux on a drive that gives at most `output_voltage_v`.

    A 400 V 50 Hz winding on 230 V: 28.75 Hz. A 190 V 50 Hz winding on 230 V: 60.5 Hz.
    """
    hertz = rated_frequency_hz * output_voltage_v / rated_voltage_v
    return BasePoint(output_voltage_v, hertz, 120.0 * hertz / poles, hertz / rated_frequency_hz)


def centrifugal_power_ratio(speed_ratio: float) -> float:
    """Power of a pump or fan at another speed: the cube (1.2 times the speed: 1.73 times)."""
    return speed_ratio**3


def breakdown_ratio_above_base(frequency_hz: float, base_frequency_hz: float) -> float:
    """Breakdown torque above the base point over that below it: about (base/f) squared.

    Stator resistance neglected; the circuit itself (`performance.breakdown`) gives it exactly.
    """
    if frequency_hz <= base_frequency_hz:
        return 1.0
    return (base_frequency_hz / frequency_hz) ** 2


def flux_reasons(flux: float, at: str, wants: str) -> tuple[Reason, ...]:
    """What more or less flux than rated means; `at` and `wants` are volts and hertz in words."""
    above = flux - 1.0
    if flux > FLUX_CONDITION:
        text = (
            f"{at} is {above:.0%} more volts per hertz than the plate's {wants}: the iron "
            "saturates and the motor warms up even idling; measure the no-load current."
        )
        return (Reason("flux_high_condition", text),)
    if flux > FLUX_TOLD:
        text = f"{at} is {above:.0%} above the plate's {wants}: more no-load current."
        return (Reason("flux_high", text),)
    if flux < FLUX_WEAK_CONDITION:
        text = (
            f"{at} is {-above:.0%} below the plate's {wants}: starting and breakdown torque "
            f"fall to {flux * flux:.0%}."
        )
        return (Reason("flux_low_condition", text),)
    if flux < FLUX_WEAK:
        text = f"{at} is {-above:.0%} below the plate's {wants}: a little less torque."
        return (Reason("flux_low", text),)
    return (Reason("volts_fit", f"The plate's {wants} fits {at}."),)


def other_frequency(supply_hz: float, plate_hz: float) -> Reason:
    """What another mains frequency does to speed, pumps, fans and blades."""
    speed = supply_hz / plate_hz
    text = (
        f"On {supply_hz:g} Hz a {plate_hz:g} Hz motor turns {speed:.2f} times as fast: pumps and "
        f"fans take {speed**3:.2f} times the power, blades and wheels run {speed:.2f} times their "
        "speed; change the pulleys or set the frequency."
    )
    return Reason("other_frequency", text)
