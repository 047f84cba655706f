"""The one winding of a two-speed motor that a drive should feed, as a motor of its own."""

from __future__ import annotations

from dataclasses import replace

from phasewright.machines.motor import Motor
from phasewright.machines.two_speed import Speed
from phasewright.ways.asked import Asked, condition


def on_its_winding(motor: Motor, output_voltage_v: float) -> tuple[Motor, Asked]:
    """The motor as a drive of at most these volts [V] should see it, and what that costs.

    A two-speed motor is the winding that loses least at either speed, with its own circuit,
    rating and torques; its load asks for the same share of that winding's rated torque. Any
    other motor is left as it is.
    """
    choice = motor.drive_winding(output_voltage_v)
    if choice is None:
        return motor, Asked()
    speed, feed = choice
    asked = condition("drive_winding", feed.words)
    return (motor if speed.poles == motor.poles else _as_speed(motor, speed)), asked


def _as_speed(motor: Motor, speed: Speed) -> Motor:
    """The motor with the figures of this speed in place of those of the more powerful one.

    Both speeds are stamped for the same volts.
    """
    link = replace(
        motor.links[0],
        words=speed.words,
        full_load_current_a=speed.full_load_current_a.number,
        delta={"delta": True, "star": False, "double_star": False}.get(speed.winding),
    )
    return replace(
        motor,
        links=(link,),
        link=None if motor.link is None else link,
        circuit_link=link,
        circuit=speed.circuit,
        circuit_soft=None,
        circuit_hard=None,
        power_w=speed.power_w,
        speed_rpm=speed.speed_rpm,
        poles=speed.poles,
        synchronous_speed_rpm=speed.synchronous_speed_rpm,
        full_load_current_a=speed.full_load_current_a,
        locked_rotor_current_a=speed.locked_rotor_current_a,
        no_load_current_a=None,
        rated_nm=speed.rated_nm,
        locked_nm=speed.locked_nm,
        breakdown_nm=speed.breakdown_nm,
    )
