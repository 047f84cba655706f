"""Plates made for one frequency on another, and where a drive reaches their full volts.

Flux follows volts per hertz; torque at a given flux does not ask for the frequency. The power
of pumps and fans grows with the cube of the speed (affinity laws).
"""

from __future__ import annotations

from dataclasses import dataclass


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
