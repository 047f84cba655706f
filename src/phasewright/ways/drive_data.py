"""The motor as a drive is told of it, and the limits that are set with it; all computed.

Boost: at standstill the field turns with the slip frequency of the torque that breaks the load
away. With the flux the motor has at its plate's volts and that slip s, reactances are s times as
large and resistances as they are, so the impedance Z(s) of the plate's hertz becomes
R1 + s (Z(s) - R1). What the straight line of volts over hertz lacks there is the boost.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from phasewright.machines.circuit import Circuit
from phasewright.machines.motor import Motor
from phasewright.machines.performance import at_torque, breakdown, curve, no_load, rated
from phasewright.quantities.value import Value, exact, figure
from phasewright.shop.model import Quiet
from phasewright.starts.overload import seconds_to_trip
from phasewright.tables.drive_settings import (
    carrier_source,
    carriers,
    long_lead_m,
    usual_carrier_hz,
)
from phasewright.tables.drives import overload_share, winding_asks_short_lead
from phasewright.tables.trip_bands import OverloadClass, overload_relay
from phasewright.ways.drive_sheet import MotorOnDrive

CIRCUIT = "the motor's equivalent circuit, computed"
CLASSES: tuple[OverloadClass, ...] = ("10", "20", "30")
_SLIPS = 240


@dataclass(frozen=True, slots=True)
class Breakaway:
    """What breaks a load away at rated flux: line amps, slip at the plate's hertz, boost volts."""

    current_a: float
    slip: float
    boost_v: float


def breakaway_of(circuit: Circuit, torque_nm: float) -> Breakaway:
    """Amps, slip and boost for this torque at standstill, up to the breakdown torque [N m]."""
    most = breakdown(circuit).slip
    slips = np.linspace(most / _SLIPS, most, _SLIPS)
    line = curve(circuit, slips)
    enough = np.flatnonzero(line.airgap_torque_nm >= torque_nm)
    at = int(enough[0]) if enough.size else _SLIPS - 1
    low = max(at - 1, 0)
    pair = line.airgap_torque_nm[low : at + 1]
    slip = float(np.interp(torque_nm, pair, slips[low : at + 1]))
    if at == 0:  # less torque than the first slip gives: in proportion to it
        slip = float(slips[0] * max(torque_nm, 0.0) / line.airgap_torque_nm[0])
    one = curve(circuit, np.array([max(slip, 1e-9)]))
    amps = float(one.stator_current_a[0])
    volts = circuit.line_voltage_v
    iron_w = volts**2 / circuit.core_loss_ohm
    power = complex(float(one.input_power_w[0]) - iron_w, float(one.reactive_power_var[0]))
    resistance = circuit.stator_resistance_ohm
    running = volts**2 / power.conjugate()
    standing = resistance + slip * (running - resistance)
    boost = math.sqrt(3.0) * amps * abs(standing) - slip * volts
    return Breakaway(amps, slip, boost)


def motor_on_drive(motor: Motor, circuit: Circuit) -> MotorOnDrive:
    """The data of this motor at this link; its load's usual torque breaks away."""
    load, at = motor.load, rated(circuit)
    assert load is not None  # ways keep motors without one out
    share, nm = load.breakaway_torque, at.shaft_torque_nm
    freed = breakaway_of(circuit, share.number * nm)
    ends = [breakaway_of(circuit, each * nm) for each in (share.low, share.high)]
    plate = "the plate, at the link that is used"

    def out(number: float, unit: str, of: str, *around: float) -> Value:
        inputs = {
            "stator resistance": (circuit.stator_resistance_ohm, "ohm"),
            "breakaway torque": (share.number * nm, "Nm"),
        }
        return figure(
            number, unit, f"ways.drive_data.{of}", inputs, CIRCUIT,
            low=min(around, default=None), high=max(around, default=None),
        )  # fmt: skip

    power_w = exact(at.shaft_power_w, "W", "plate", plate)
    return MotorOnDrive(
        voltage_v=exact(circuit.line_voltage_v, "V", "plate", plate),
        frequency_hz=exact(circuit.frequency_hz, "Hz", "plate", plate),
        current_a=exact(circuit.rated_current_a, "A", "plate", plate),
        power_w=power_w if motor.power_w is None else motor.power_w,
        speed_rpm=exact(circuit.rated_speed_rpm, "rpm", "plate", plate),
        poles=exact(float(circuit.poles), "", "plate", plate),
        power_factor=out(at.power_factor, "", "motor_on_drive"),
        no_load_current_a=out(no_load(circuit).current_a, "A", "motor_on_drive"),
        stator_resistance_ohm=out(circuit.stator_resistance_ohm, "ohm", "motor_on_drive"),
        slip_hz=out(circuit.rated_slip * circuit.frequency_hz, "Hz", "motor_on_drive"),
        breakaway_boost_v=out(freed.boost_v, "V", "breakaway_of", *(each.boost_v for each in ends)),
        breakaway_a=out(freed.current_a, "A", "breakaway_of", *(each.current_a for each in ends)),
    )


def current_limit_a(circuit: Circuit, drive_a: float) -> Value:
    """The drive's short-time amps, or those of the breakdown torque where these are fewer: more
    than that only heats."""
    slip = breakdown(circuit).slip
    most = float(curve(circuit, np.array([slip])).current_a[0])
    gives = overload_share() * drive_a
    return figure(
        min(gives, most), "A", "ways.drive_data.current_limit_a",
        {"drive gives for a minute": (gives, "A"), "at breakdown torque": (most, "A")},
        "the lower of both; short-time amps of drives from memory",
    )  # fmt: skip


def is_old(motor: Motor) -> bool:
    """Whether its winding is from before drives."""
    return winding_asks_short_lead(motor.plate.year, motor.plate.insulation_class) is not None


def carrier_hz(
    motor: Motor, circuit: Circuit, drive_a: float, quiet: Quiet | None, lead_m: float | None
) -> Value:
    """The switching frequency: the usual one; the lowest for an old winding or a long lead; where
    quiet is wished for, the highest at which the drive still gives the motor's amps."""
    able = [each for each in carriers() if each.amps_share * drive_a >= circuit.rated_current_a]
    chosen = usual_carrier_hz()
    if is_old(motor) or (lead_m is not None and lead_m > long_lead_m()):
        chosen = carriers()[0].hertz
    elif quiet is not None:
        chosen = max(chosen, max((each.hertz for each in able), default=chosen))
    return figure(
        chosen, "Hz", "ways.drive_data.carrier_hz",
        {"drive gives": (drive_a, "A"), "motor takes": (circuit.rated_current_a, "A")},
        carrier_source(),
    )  # fmt: skip


def overload_class(
    circuit: Circuit, ramp_s: float, inertia_kg_m2: float, working_nm: float, limit_a: float
) -> tuple[Value, bool]:
    """The quickest class that lets a motor, warm from work, run up in `ramp_s` without tripping.

    The amps of the run-up are those of the torque that speeds up all that turns and works. False
    beside it where even the slowest class may trip.
    """
    speed = circuit.rated_speed_rpm * math.pi / 30.0
    wanted_nm = inertia_kg_m2 * speed / ramp_s + working_nm
    most_nm = breakdown(circuit).airgap_torque_nm
    amps = limit_a
    if wanted_nm < 0.95 * most_nm:
        amps = min(limit_a, at_torque(circuit, wanted_nm).current_a)
    multiple = amps / circuit.rated_current_a
    found, holds = CLASSES[-1], False
    for each in CLASSES:
        relay = overload_relay(each)
        trips = seconds_to_trip(multiple, relay.early_tau_s, relay.early_pick_up, before=1.0)
        if trips is None or trips > ramp_s:
            found, holds = each, True
            break
    value = figure(
        float(found), "", "ways.drive_data.overload_class",
        {"amps of the run-up": (amps, "A"), "rated": (circuit.rated_current_a, "A"),
         "ramp": (ramp_s, "s")},
        overload_relay(found).source,
    )  # fmt: skip
    return value, holds
