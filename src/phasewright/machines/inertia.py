"""The inertia of what a motor turns, from a wheel's size or from a timed run-up.

Nobody knows a moment of inertia; everybody can put a rule to a wheel or look at a watch.
"""

from __future__ import annotations

import math

from phasewright.quantities.value import Value, figure
from phasewright.shop.machine import Wheel
from phasewright.tables.inertia import density_kg_m3, run_up_torque_ratio, shape_ratio


def ring_inertia_kg_m2(
    diameter_m: float, width_m: float, density_kg_m3: float, rim_m: float | None = None
) -> float:
    """Moment of inertia [kg m2] of a solid disc, or of a rim `rim_m` thick in the radius.

    density x pi/2 x width x (R^4 - r^4), textbook mechanics; with r = 0 the disc's m R^2 / 2.
    Raises ValueError where the rim is thicker than the radius.

    >>> round(ring_inertia_kg_m2(0.6, 0.05, 7200.0), 2)
    4.58
    """
    outer = diameter_m / 2.0
    inner = 0.0 if rim_m is None else outer - rim_m
    if inner < 0.0:
        raise ValueError("a rim cannot be thicker than the wheel's radius")
    return density_kg_m3 * math.pi / 2.0 * width_m * (outer**4 - inner**4)


def at_motor_shaft(inertia_kg_m2: float, speed_rpm: float, motor_speed_rpm: float) -> float:
    """An inertia turning at `speed_rpm` as the motor at `motor_speed_rpm` feels it [kg m2].

    With the square of the speed ratio, so that the energy of motion is the same.
    """
    return inertia_kg_m2 * (speed_rpm / motor_speed_rpm) ** 2


def wheel_inertia(wheel: Wheel, motor_speed_rpm: float) -> Value:
    """The wheel's inertia at the motor shaft, with its spread.

    Without a speed of its own the wheel turns as fast as the motor.
    """
    density = density_kg_m3(wheel.material)
    shape = shape_ratio(rim=wheel.rim is not None)
    speed = motor_speed_rpm if wheel.speed is None else wheel.speed.number
    plain = wheel.count * ring_inertia_kg_m2(
        wheel.diameter.number,
        wheel.width.number,
        1.0,
        None if wheel.rim is None else wheel.rim.number,
    )
    at_shaft = at_motor_shaft(plain, speed, motor_speed_rpm)
    inputs = {
        "diameter": (wheel.diameter.number, "m"),
        "width": (wheel.width.number, "m"),
        "wheels": (float(wheel.count), ""),
        "density": (density.number, "kg/m3"),
        "true inertia over plain form": (shape.number, ""),
        "speed of the wheel": (speed, "rpm"),
        "speed of the motor": (motor_speed_rpm, "rpm"),
    }
    if wheel.rim is not None:
        inputs["rim"] = (wheel.rim.number, "m")
    return figure(
        at_shaft * density.number * shape.number,
        "kg m2",
        "machines.inertia.wheel_inertia",
        inputs,
        f"textbook mechanics; {density.source}; {shape.source}",
        low=at_shaft * density.low * shape.low,
        high=at_shaft * density.high * shape.high,
    )


def run_up_inertia(
    run_up_s: float, rated_nm: float, motor_speed_rpm: float, rotor_kg_m2: Value
) -> Value | None:
    """The load's inertia at the motor shaft from the seconds a direct start took.

    On a real three-phase supply and with nothing being worked the mean accelerating torque is
    about 1.6 times the rated torque (1.2 to 2.0, common practice), so that the whole inertia is
    1.6 x rated torque x time / angular speed; the rotor's own is taken off. None where even the
    largest credible load would be below nought: the time is too short for this rotor.
    """
    torque = run_up_torque_ratio()
    speed_rad_s = motor_speed_rpm * math.pi / 30.0
    whole = rated_nm * run_up_s / speed_rad_s
    high = torque.high * whole - rotor_kg_m2.low
    if high <= 0.0:
        return None
    return figure(
        max(0.0, torque.number * whole - rotor_kg_m2.number),
        "kg m2",
        "machines.inertia.run_up_inertia",
        {
            "run-up time": (run_up_s, "s"),
            "rated torque": (rated_nm, "N m"),
            "speed of the motor": (motor_speed_rpm, "rpm"),
            "accelerating over rated torque": (torque.number, ""),
            "rotor inertia": (rotor_kg_m2.number, "kg m2"),
        },
        torque.source,
        low=max(0.0, torque.low * whole - rotor_kg_m2.high),
        high=high,
    )
