"""Poles, frequency and rated speed from what a plate says about speed."""

from __future__ import annotations

import math
from dataclasses import dataclass

from phasewright.machines.notes import Notes
from phasewright.quantities.codes import Region
from phasewright.quantities.value import Value, exact, spread
from phasewright.shop.plate import Plate
from phasewright.tables.motors import default_slip

CREDIBLE_SLIP = (0.002, 0.16)
"""Slips at rated load from large motors to press motors (common practice, no source)."""

NEAR_SYNCHRONOUS = 0.03


@dataclass(frozen=True, slots=True)
class Turning:
    """How a motor turns: rated speed, poles, and the frequency the plate is for."""

    speed_rpm: Value
    poles: int
    frequency_hz: Value

    @property
    def synchronous_speed_rpm(self) -> float:
        return 120.0 * self.frequency_hz.number / self.poles


def poles_for(speed_rpm: float, frequency_hz: float) -> int | None:
    """The number of poles whose synchronous speed lies credibly above `speed_rpm`, or None."""
    poles = 2 * math.floor(60.0 * frequency_hz / speed_rpm + 1e-9)
    if poles < 2:
        return None
    slip = 1.0 - speed_rpm * poles / (120.0 * frequency_hz)
    return poles if CREDIBLE_SLIP[0] <= slip <= CREDIBLE_SLIP[1] else None


def turning(
    plate: Plate, power_w: float, region: Region, supply_hz: float, stamped_rpm: float | None,
    notes: Notes,
) -> Turning:  # fmt: skip
    """Poles and speed of a plate; `power_w` serves the default slip only.

    A missing frequency is the one the speed belongs to, else the supply's own.
    """
    frequency = plate.frequency
    if stamped_rpm is None:
        return _unknown_speed(plate, power_w, supply_hz, notes)
    if frequency is None:
        frequency = _frequency_of(stamped_rpm, region, supply_hz, notes)
    hertz = frequency.number
    poles = poles_for(stamped_rpm, hertz)
    if poles is not None:
        return Turning(exact(stamped_rpm, "rpm", "plate", "plate"), poles, frequency)
    return _odd_speed(plate, power_w, stamped_rpm, frequency, notes)


def _frequency_of(speed: float, region: Region, supply_hz: float, notes: Notes) -> Value:
    own = 60.0 if region == "NEC" else 50.0
    other = 110.0 - own
    fits = [hertz for hertz in (own, other) if poles_for(speed, hertz) is not None]
    hertz = fits[0] if fits else supply_hz
    low, high = (50.0, 60.0) if len(fits) == 2 else (hertz, hertz)
    value = spread(hertz, low, high, "Hz", "assumed", f"the speed {speed:.0f} rpm and the region")
    return notes.take("frequency", "plate.frequency", value)


def _unknown_speed(plate: Plate, power_w: float, supply_hz: float, notes: Notes) -> Turning:
    frequency = plate.frequency
    if frequency is None:
        value = exact(supply_hz, "Hz", "assumed", "the supply's frequency")
        frequency = notes.take("frequency", "plate.frequency", value)
    hertz = frequency.number
    slip = default_slip(power_w, 4, plate.year)
    synchronous = 30.0 * hertz
    speed = spread(
        synchronous * (1.0 - slip.number),
        synchronous * 0.5 * (1.0 - slip.high),
        synchronous * 2.0 * (1.0 - slip.low),
        "rpm", "assumed", f"four poles taken; {slip.source}",
    )  # fmt: skip
    notes.take("speed", "plate.speed", speed)
    notes.wanted(
        "speed", "plate.speed", speed, "Two, four or six poles change torque and current.",
        "Read the plate, or turn the shaft by hand with a milliammeter on one winding: the pulses "
        "in one turn are the poles.",
        "torque, power factor, starting current",
    )  # fmt: skip
    return Turning(speed, 4, frequency)


def _odd_speed(
    plate: Plate, power_w: float, speed: float, frequency: Value, notes: Notes
) -> Turning:
    """A speed that belongs to no number of poles at this frequency."""
    hertz = frequency.number
    other = 60.0 if hertz < 55.0 else 50.0
    own = 2 * max(1, round(60.0 * hertz / speed))
    near = abs(speed * own / (120.0 * hertz) - 1.0) < NEAR_SYNCHRONOUS
    poles = poles_for(speed, other)
    if poles is not None and not near and abs(hertz - 55.0) < 10.0:
        notes.ask(
            "speed_of_other_frequency", "caution",
            f"{speed:.0f} rpm is the speed of a {other:g} Hz motor, the plate says {hertz:g} Hz. "
            f"Taken as a {other:g} Hz motor.",
            found=hertz, allowed=other, unit="Hz", key="plate.frequency",
        )  # fmt: skip
        taken = exact(other, "Hz", "assumed", f"the speed {speed:.0f} rpm")
        notes.take("frequency", "plate.frequency", taken)
        return Turning(exact(speed, "rpm", "plate", "plate"), poles, taken)
    poles = own
    synchronous = 120.0 * hertz / poles
    slip = default_slip(power_w, poles if poles <= 8 else 8, plate.year)
    taken_rpm = spread(
        synchronous * (1.0 - slip.number), synchronous * (1.0 - slip.high),
        synchronous * (1.0 - slip.low), "rpm", "assumed", slip.source,
    )  # fmt: skip
    what = "is the synchronous speed or above it" if near else "lies far from any speed"
    notes.ask(
        "speed_not_credible", "caution",
        f"{speed:.0f} rpm {what} of a motor on {hertz:g} Hz ({synchronous:.0f} rpm for {poles} "
        f"poles); a cage motor turns slower. Taken as {taken_rpm.number:.0f} rpm.",
        found=speed, allowed=synchronous, unit="rpm", key="plate.speed",
    )  # fmt: skip
    notes.take("speed", "plate.speed", taken_rpm)
    return Turning(taken_rpm, poles, frequency)
