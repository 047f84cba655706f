"""Plates for tests, in SI numbers."""

from __future__ import annotations

from typing import Any

from phasewright.machines.motor import Motor, motor_of
from phasewright.quantities.codes import Region
from phasewright.quantities.value import Value, exact
from phasewright.shop.machine import Load, Machine
from phasewright.shop.machine import Motor as ShopMotor
from phasewright.shop.plate import Plate

UNITS = {
    "power": "W", "voltage": "V", "current": "A", "speed": "rpm", "frequency": "Hz",
    "shaft_height": "m", "shaft_diameter": "m", "winding_resistance": "ohm",
    "no_load_current": "A",
}  # fmt: skip
SEVERAL = ("power", "voltage", "current", "speed")
HP = 745.7


def plate(**facts: Any) -> Plate:
    """A plate from plain numbers; power, voltage, current and speed may be pairs."""
    made: dict[str, Any] = {}
    for key, fact in facts.items():
        if key in SEVERAL:
            numbers = fact if isinstance(fact, tuple) else (fact,)
            made[key] = tuple(exact(float(n), UNITS[key], "plate") for n in numbers)
        elif key in UNITS:
            made[key] = exact(float(fact), UNITS[key], "plate")
        else:
            made[key] = fact
    return Plate(**made)


def motor(
    of: Plate,
    *,
    volts: float = 230.0,
    hertz: float = 50.0,
    region: Region = "IEC",
    load: Load | None = None,
    **machine: Any,
) -> Motor:
    """The motor of this plate in a machine called `Machine`."""
    shop_motor = ShopMotor(name="motor", plate=of, load=load or Load())
    whole = Machine(name="Machine", motors=(shop_motor,), **machine)
    return motor_of(
        whole, shop_motor, supply_voltage_v=volts, frequency_hz=hertz, region=region,
        path="machines[0].motors[0]",
    )  # fmt: skip


def number(value: Value | None) -> float:
    """The number of a figure that must be there."""
    assert value is not None
    return value.number


def rules(of: Motor) -> set[str]:
    """Names of everything the motor's findings are about."""
    return {finding.rule for finding in of.findings}
