"""The speeds a motor may run at for ever on a drive, over the plate's, and what sets them.

Downwards the motor's own cooling and the load kind's lowest hertz; upwards the tool, the
frame, the heat of weakened flux and the breakdown torque that is left above the base point.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from phasewright.machines.circuit import Circuit
from phasewright.machines.frequency import BasePoint
from phasewright.machines.load import Load
from phasewright.machines.motor import Motor
from phasewright.machines.performance import breakdown, rated
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value, exact, figure, spread
from phasewright.shop.machine import Machine, Wants
from phasewright.tables.drives import (
    lowest_self_cooled_speed,
    pull_out_reserve,
    self_cooled_torque,
)
from phasewright.tables.motors import default_overspeed_ratio, overspeed_by_frame_rpm
from phasewright.ways.asked import Asked, condition, told

_STEP = 0.01
_ROOM = 0.005
FRAME = "bearings and rotor"


@dataclass(frozen=True, slots=True)
class Speeds:
    """Slowest and fastest speed over the plate's, each with what sets it; None where unknown."""

    slowest: Value
    slowest_by: str
    fastest: Value | None
    fastest_by: str


def speeds_of(
    machine: Machine, motor: Motor, circuit: Circuit, load: Load, base: BasePoint
) -> Speeds:
    """The lasting speed range of this motor with its usual load on a drive.

    `base` is where the drive's volts end. The load's torque follows its own law over speed.
    """
    slowest, low_by = _slowest(circuit, load)
    fastest, high_by = fastest_of(machine, motor, circuit, load, base)
    return Speeds(slowest, low_by, fastest, high_by)


def law_ratio(load: Load, speed_ratio: float) -> float:
    """The load's usual torque at a share of the plate's speed, over the motor's rated torque."""
    power = {"constant": 0.0, "viscous": 1.0, "fan": 2.0}[load.law]
    return load.running_torque.number * float(speed_ratio**power)


def _slowest(circuit: Circuit, load: Load) -> tuple[Value, str]:
    cooled = [
        _cooled(load, lambda speed, of=of: float(getattr(self_cooled_torque(speed), of)))  # type: ignore[misc]
        for of in ("number", "high", "low")
    ]
    floor, why = cooled[0], "its own fan cools it too little below that"
    if cooled[0] <= lowest_self_cooled_speed():
        why = "the table of self-cooled motors begins there"
    kind = lowest_of_kind(circuit, load)
    if kind > floor:
        floor, why = kind, f"a {load.name.replace('_', ' ')} must not turn slower"
    inputs = {
        "usual torque": (load.running_torque.number, ""),
        "lowest of the load kind": (kind, ""),
    }
    return figure(
        floor, "", "ways.drive_speed.speeds_of", inputs, self_cooled_torque(1.0).source,
        low=max(kind, cooled[1]), high=max(kind, cooled[2]),
    ), why  # fmt: skip


def _cooled(load: Load, bears: Callable[[float], float]) -> float:
    """The slowest speed from which on the motor bears its load for ever; 1 where it never does."""
    lowest = lowest_self_cooled_speed()
    speed = 1.0
    while speed - _STEP >= lowest - 1e-9:
        slower = max(lowest, round(speed - _STEP, 9))
        if law_ratio(load, slower) > bears(slower):
            break
        speed = slower
    return speed


def lowest_of_kind(circuit: Circuit, load: Load) -> float:
    """The load kind's lowest hertz over the plate's; 0 where the trade names none."""
    rated_w = rated(circuit).shaft_power_w
    hertz = (limit.lowest_hz for limit in load.kind.limits("drive_per_motor", rated_w))
    return max((each / circuit.frequency_hz for each in hertz if each is not None), default=0.0)


def _frame(motor: Motor, circuit: Circuit) -> Value:
    """Highest safe speed of the motor alone over the plate's; TableEnds for unknown poles.

    A motor for 50 Hz of a year since which the standard asks for more is made for that; where
    no year is told it may be.
    """
    usual, plate = default_overspeed_ratio(circuit.poles), motor.plate
    fastest = _stamped_ratio(motor, circuit)
    if fastest > usual.number:
        return exact(fastest, "", "plate", "its higher speed, as stamped")
    height = None if plate.shaft_height is None else plate.shaft_height.number
    made = overspeed_by_frame_rpm(circuit.poles, height)
    if made is None or abs(circuit.frequency_hz - 50.0) > 1.0:
        return usual
    rpm, since = made
    ratio = max(usual.number, rpm / circuit.rated_speed_rpm)
    words = f"by frame, motors made since {since}: IEC 60034-1, Table 18 (from memory)"
    if plate.year is not None and plate.year >= since:
        return spread(ratio, usual.number, ratio, "", "table", words)
    if plate.year is not None:
        return usual
    source = f"{usual.source}; highest: {words}"
    return spread(usual.number, usual.low, max(usual.high, ratio), "", usual.origin, source)


def _stamped_ratio(motor: Motor, circuit: Circuit) -> float:
    """The highest stamped speed of a two-speed motor over that of the winding the drive feeds; 1
    for any other motor, and for one that stands in its place."""
    speeds = [speed.speed_rpm.number for speed in motor.speeds]
    if not any(speed.circuit == circuit for speed in motor.speeds):
        return 1.0
    return max(speeds) / circuit.rated_speed_rpm


def fastest_of(
    machine: Machine, motor: Motor, circuit: Circuit, load: Load, base: BasePoint
) -> tuple[Value | None, str]:
    """The highest lasting speed over the plate's and what sets it; None for unknown poles."""
    try:
        frame = _frame(motor, circuit)
    except TableEnds:
        return None, "no safe speed is known for so many poles"
    tool, tool_by = _tool(machine, motor, circuit, load)
    cap, why = frame.number, FRAME
    if tool is not None and tool < cap:
        cap, why = tool, tool_by
    base_ratio = base.frequency_hz / circuit.frequency_hz
    reach = _reach(circuit, load, base, base_ratio, cap)
    if reach < cap:
        cap, why = reach, "above the base point its torque fades"
    inputs = {
        "safe speed of the motor": (frame.number, ""),
        "base point": (base.frequency_hz, "Hz"),
        "usual torque": (load.running_torque.number, ""),
        "breakdown reserve": (pull_out_reserve(), ""),
    }
    if tool is not None:
        inputs["limit of the tool"] = (tool, "")
    most = frame.high if tool is None else min(tool, frame.high)
    least = reach if tool is None else min(tool, reach)
    return figure(
        cap, "", "ways.drive_speed.speeds_of", inputs, frame.source,
        low=min(least, frame.low), high=_reach(circuit, load, base, base_ratio, most),
    ), why  # fmt: skip


def _tool(machine: Machine, motor: Motor, circuit: Circuit, load: Load) -> tuple[float | None, str]:
    """The tool's own limit over the plate's speed.

    A limit below the motor's speed belongs to a shaft geared down, whose ratio is not known:
    then the original speed is the highest.
    """
    if machine.never_above is not None:
        ratio = machine.never_above.number / circuit.rated_speed_rpm
        return max(1.0, ratio), "the tool's own limit"
    rated_w = rated(circuit).shaft_power_w
    kind = [
        limit.speed_max
        for limit in load.kind.limits("drive_per_motor", rated_w)
        if limit.speed_max is not None
    ]
    if not kind:
        return None, ""
    ratio = min(kind) * _stamped_ratio(motor, circuit)
    return ratio, "the tool, whose own limit is not given"


def _reach(
    circuit: Circuit, load: Load, base: BasePoint, base_ratio: float, cap: float
) -> float:  # fmt: skip
    """The fastest speed up to `cap` at which heat and breakdown torque still carry the load."""
    rated_nm = rated(circuit).shaft_torque_nm

    def carries(ratio: float) -> bool:
        asked = law_ratio(load, ratio)
        weak = max(1.0, ratio / base_ratio)
        if asked * weak > 1.0 + 1e-9 and ratio > 1.0:
            return False
        volts = min(base.voltage_v, circuit.line_voltage_v * ratio)
        most = breakdown(circuit, volts, ratio * circuit.frequency_hz).airgap_torque_nm
        return most >= pull_out_reserve() * asked * rated_nm

    if carries(cap):
        return cap
    low, high = min(1.0, cap), cap
    for _ in range(10):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if carries(middle) else (low, middle)
    return low


def of_speeds(wants: Wants, speeds: Speeds) -> Asked:
    """Whether the wished speeds lie within; outside is a condition with what would help."""
    if wants.speed is None:
        return Asked()
    slow, fast = wants.speed
    whole = Asked()
    least, most = speeds.slowest.number, speeds.fastest
    if slow < least - _ROOM:
        whole += condition(
            "too_slow_for_ever",
            f"{slow:.0%} of its speed is slower than {least:.0%}, the slowest for ever: "
            f"{speeds.slowest_by}. For short spells only, or, where the machine itself bears such "
            "speeds, with a fan of its own, a larger motor or a belt step.",
        )
    if most is not None and fast > most.number + _ROOM:
        whole += condition(
            "too_fast",
            f"{fast:.0%} of its speed is faster than {most.number:.0%}: {speeds.fastest_by}. Lock "
            "the drive's top frequency there, or change the pulleys."
            + (
                f" A motor made since 2000 may stand up to {most.high:.0%}: ask its maker."
                if most.high > most.number + _ROOM and speeds.fastest_by == FRAME
                else ""
            ),
        )
    if not whole.conditions:
        whole += told("speeds_given", f"{slow:.0%} to {fast:.0%} of its speed by the drive.")
    return whole
