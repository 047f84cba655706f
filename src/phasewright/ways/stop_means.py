"""What can stop a motor on its drive, as figures: coasting, direct current, a brake resistor.

Runs in time are those of `drive_in_time`; what a resistor must bear is that of
`electronics.brake_resistor`. The load does not help, but where it coasts.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from phasewright.electronics.brake_resistor import brake_duty, lasting_w
from phasewright.machines.injection import injection_stop_s, injection_torque_nm
from phasewright.machines.load import Load
from phasewright.machines.motor import Motor
from phasewright.machines.performance import rated
from phasewright.quantities.value import Value, exact, figure
from phasewright.starts.drive_waves import REST
from phasewright.tables.stopping import (
    chopper_share,
    injection_share,
    injection_waits_s,
    resistor_peak_times,
    resistor_warms_s,
)
from phasewright.tables.winding_heat import design_n_inertia_kg_m2
from phasewright.ways.drive_in_time import OnThisDrive, coasts, injected, with_resistor
from phasewright.ways.figures import BrakeResistorFigures, DcInjectionFigures, InjectedTorque

_RUN = "the motor run on its drive in time, computed"
_SPEEDS = (1.0, 0.75, 0.5, 0.3, 0.2, 0.1, 0.05, 0.02)
"""Speeds of the torque of direct current, over the field's."""


def field_rad_s(on: OnThisDrive) -> float:
    """Speed of the field at the plate's hertz."""
    return 4.0 * math.pi * on.circuit.frequency_hz / on.circuit.poles


def shaft_j(on: OnThisDrive) -> float:
    """What all that turns holds at the field's speed [J]."""
    return 0.5 * on.inertia_kg_m2 * field_rad_s(on) ** 2


def coasting(on: OnThisDrive, load: Load, inertia: Value) -> Value | None:
    """Seconds to rest with the drive off; None where nothing brakes it.

    Empty, but a pump or fan under its load: the drag of a machine that runs empty is taken as what
    it takes to break away, for want of better. Longest with the least drag and most inertia.
    """
    usual = coasts(on, 1.0)
    if usual is None:
        return None
    working = on.load.kind == "fan" or load.starts_loaded
    running, breakaway = load.running_torque, load.breakaway_torque
    of = running if working or running.number <= breakaway.number else breakaway
    ends = (of.high / of.number, of.low / of.number) if of.number > 0.0 else (1.0, 1.0)
    least, most = (coasts(on, share) for share in ends)
    return figure(
        usual, "s", "ways.stop_means.coasting",
        {
            "inertia": (on.inertia_kg_m2, "kg m2"),
            "drag": (on.load.torque_nm, "N m"),
            "friction": (on.circuit.friction_w, "W"),
        },
        "integral of inertia over torque, from the plate's speed to 3 % of it",
        low=None if least is None else least * inertia.low / inertia.number,
        high=None if most is None else most * inertia.high / inertia.number,
    )  # fmt: skip


def rotor_bears_j(on: OnThisDrive) -> float:
    """Heat its rotor is made to take at a time [J]: the heaviest start, once, warm.

    The load inertia of a design N motor of its size with that of its own rotor.
    """
    power_w = rated(on.circuit).shaft_power_w
    inertia = design_n_inertia_kg_m2(power_w, on.circuit.poles) + on.circuit.inertia_kg_m2
    return 0.5 * inertia * field_rad_s(on) ** 2


def by_direct_current(on: OnThisDrive, inertia: Value) -> DcInjectionFigures | None:
    """A stop by direct current from full speed; None where it comes to no rest."""
    circuit, waits_s = on.circuit, injection_waits_s()
    amps = min(injection_share() * circuit.rated_current_a, on.drive_a)
    field = field_rad_s(on)
    alone_s = injection_stop_s(circuit, amps, on.inertia_kg_m2, field, REST * field)
    found = injected(on, amps, waits_s, waits_s + 1.5 * alone_s + 2.0)
    if found.seconds is None:
        return None
    inputs = {"current": (amps, "A"), "inertia": (on.inertia_kg_m2, "kg m2")}

    def out(number: float, unit: str, fixed: float = 0.0) -> Value:
        ends = (inertia.low / inertia.number, inertia.high / inertia.number)
        low, high = (fixed + (number - fixed) * share for share in ends)
        return figure(
            number, unit, "ways.stop_means.by_direct_current", inputs, _RUN, low=low, high=high
        )

    return DcInjectionFigures(
        current_a=exact(amps, "A", "common practice", "the motor's rated amps, for its winding"),
        time_s=out(found.seconds, "s", waits_s),
        heat_j=out(found.stator_j + found.rotor_j, "J"),
        rotor_j=out(found.rotor_j, "J"),
        torque=tuple(
            InjectedTorque(
                share * field * 30.0 / math.pi, injection_torque_nm(circuit, amps, share * field)
            )
            for share in _SPEEDS
        ),
    )


@dataclass(frozen=True, slots=True)
class ResistorStop:
    """A stop with a brake resistor: the ramp that is set, seconds to rest, what the part is."""

    ramp_s: float
    seconds: float
    figures: BrakeResistorFigures


def by_resistor(on: OnThisDrive, motor: Motor, seconds: float) -> ResistorStop | None:
    """The brake resistor for a stop within so many seconds; None where none was found."""
    found, load = with_resistor(on, seconds), motor.load
    assert load is not None  # ways keep motors without one out
    if found is None:
        return None
    brake, stop = found
    assert stop.seconds is not None
    assert stop.ramp_s is not None
    starts, warms, on_s = load.starts_per_hour, resistor_warms_s(), stop.seconds
    peak_w, pulse_w = brake.on_v**2 / brake.ohm, stop.resistor_j / stop.seconds
    inputs = {
        "energy a stop": (stop.resistor_j, "J"),
        "time of a stop": (on_s, "s"),
        "stops an hour": (starts.number, "1/h"),
        "time constant": (warms.number, "s"),
        "peak": (peak_w, "W"),
    }

    def bears_w(an_hour: float, warms_s: float) -> float:
        lasting = lasting_w(pulse_w, on_s, _between_s(an_hour), warms_s)
        return max(lasting, peak_w / resistor_peak_times())

    def duty(an_hour: float) -> float:
        return brake_duty(on_s, _between_s(an_hour))

    def out(number: float, unit: str, low: float | None = None, high: float | None = None) -> Value:
        return figure(number, unit, "ways.stop_means.by_resistor", inputs, _RUN, low=low, high=high)

    return ResistorStop(
        stop.ramp_s,
        stop.seconds,
        BrakeResistorFigures(
            ohm=out(brake.ohm, "ohm"),
            least_ohm=out(brake.on_v**2 / (chopper_share() * on.rating_w), "ohm"),
            w=out(
                bears_w(starts.number, warms.number), "W",
                bears_w(starts.low, warms.high), bears_w(starts.high, warms.low),
            ),
            peak_w=out(peak_w, "W"),
            duty=out(duty(starts.number), "", duty(starts.low), duty(starts.high)),
        ),
    )  # fmt: skip


def _between_s(an_hour: float) -> float:
    """Seconds between two stops."""
    return 3600.0 / an_hour if an_hour > 0.0 else math.inf
