"""What a drive makes of one winding of a two-speed motor, and which winding to give it."""

from __future__ import annotations

from dataclasses import replace

from phasewright.machines.frequency import base_point
from phasewright.machines.performance import breakdown
from phasewright.machines.two_speed import DriveFeed, Layout, Speed
from phasewright.tables.drives import pull_out_reserve


def usable_torque_nm(speed: Speed, output_voltage_v: float, frequency_hz: float) -> float:
    """Lasting torque [N m] of this winding on a drive at this frequency, cooling apart.

    Rated torque up to the end of full flux, rated power from there on, and never more than the
    breakdown torque (computed from the circuit at the volts the drive then has) over the
    reserve a motor is to keep.
    """
    circuit = speed.circuit
    base = base_point(circuit.line_voltage_v, circuit.frequency_hz, speed.poles, output_voltage_v)
    weak = min(1.0, base.frequency_hz / frequency_hz)
    volts = circuit.line_voltage_v * frequency_hz / circuit.frequency_hz * weak
    top = breakdown(circuit, volts, frequency_hz).airgap_torque_nm
    return min(speed.rated_nm.number * weak, top / pull_out_reserve())


def feed(speed: Speed, other: Speed, output_voltage_v: float, layout: Layout) -> DriveFeed:
    """A drive of at most `output_voltage_v` on this winding alone."""
    circuit = speed.circuit
    hertz = circuit.frequency_hz
    base = base_point(circuit.line_voltage_v, hertz, speed.poles, output_voltage_v)
    other_hz = hertz * other.synchronous_speed_rpm / speed.synchronous_speed_rpm
    left = breakdown(circuit, output_voltage_v, hertz).airgap_torque_nm
    own = usable_torque_nm(speed, output_voltage_v, hertz) / speed.rated_nm.number
    at_other = usable_torque_nm(speed, output_voltage_v, other_hz) / other.rated_nm.number
    kept = "open" if layout == "two_windings" else "as this speed wants it"
    words = (
        f"A drive of {output_voltage_v:.0f} V wired for good to the {speed.name} speed (the other "
        f"ends {kept}, the speed switch taken out of the motor leads): full flux up to "
        f"{base.frequency_hz:.1f} Hz; at {hertz:g} Hz it has {own:.0%} of this speed's "
        f"torque. The switched {other.name} speed is lost; at {other_hz:.0f} Hz the drive turns "
        f"as fast with {at_other:.0%} of its torque."
    )
    return DriveFeed(
        output_voltage_v=output_voltage_v,
        base_frequency_hz=base.frequency_hz,
        breakdown_left=left / breakdown(circuit).airgap_torque_nm,
        own_speed_torque=own,
        other_speed_hz=other_hz,
        other_speed_torque=at_other,
        words=words,
    )


def with_drive(
    speeds: tuple[Speed, Speed], output_voltage_v: float, layout: Layout
) -> tuple[Speed, Speed]:
    """Both speeds with what a drive of these volts makes of them."""
    low, high = speeds
    return (
        replace(low, on_drive=feed(low, high, output_voltage_v, layout)),
        replace(high, on_drive=feed(high, low, output_voltage_v, layout)),
    )


def best_for_drive(
    speeds: tuple[Speed, ...], output_voltage_v: float, layout: Layout
) -> tuple[Speed, DriveFeed]:
    """The winding to give to a drive of these volts: the one that loses least at either speed.

    Raises ValueError for a motor that has not two speeds.
    """
    low, high = speeds
    both = [
        (low, feed(low, high, output_voltage_v, layout)),
        (high, feed(high, low, output_voltage_v, layout)),
    ]
    return max(both, key=lambda pair: pair[1].worst)
