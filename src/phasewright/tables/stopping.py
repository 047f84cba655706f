"""How machines are stopped on a drive, and what resistors, noses and choppers bear."""

from __future__ import annotations

from phasewright.quantities.codes import LoadKindName
from phasewright.quantities.value import Value, spread
from phasewright.tables.published import table
from phasewright.tables.sizes import next_size


def stops_by_ramp(kind: LoadKindName) -> bool:
    """Whether such a machine is usually stopped by the drive's ramp; else it coasts."""
    return kind in table("stopping", "kinds").rows["ramp"]


def hurts_running_down(kind: LoadKindName) -> bool:
    """Whether its tool can hurt a hand while it runs down."""
    return kind in table("stopping", "kinds").rows["hurts"]


def may_be_injected(kind: LoadKindName) -> bool:
    """Whether direct current may brake such a machine."""
    return kind in table("stopping", "kinds").rows["injected"]


def pulls_its_shaft(kind: LoadKindName) -> bool:
    """Whether the load can turn the shaft by itself."""
    return kind in table("stopping", "kinds").rows["pulls"]


def at_once_s() -> float:
    """What rests within so many seconds by itself needs no braked emergency stop."""
    return table("stopping", "at_once").number("seconds")


def least_ramp_s(kind: LoadKindName) -> float:
    """The shortest ramp down such a machine bears [s]; 0 where it bears any."""
    return float(table("stopping", "least_ramp").rows.get(kind, 0.0))


def threaded_least_s(inertia_kg_m2: float, speed_rad_s: float) -> float:
    """The shortest ramp down of a chuck on a threaded nose [s].

    Its inertia times the slowing down stays below a share of the torque it was screwed on with,
    and no ramp is shorter than a floor; both at the motor's shaft, as if the spindle turned as
    fast.
    """
    of = table("stopping", "threaded_nose")
    holds_nm = of.number("share") * tightening_nm().number
    return max(of.number("least_s"), inertia_kg_m2 * speed_rad_s / holds_nm)


def tightening_nm() -> Value:
    """Torque a chuck is screwed on with by hand."""
    of = table("stopping", "tightening")
    number, low, high = of.column("nm")
    return spread(number, low, high, "N m", of.origin, f"tightening torque: {of.words}")


def resistor_warms_s() -> Value:
    """Time constant of a brake resistor."""
    of = table("stopping", "resistor")
    number, low, high = of.column("warms_s")
    return spread(number, low, high, "s", of.origin, f"brake resistor: {of.words}")


def resistor_peak_times() -> float:
    """What a brake resistor bears for seconds, over what it bears for ever."""
    return table("stopping", "resistor").number("peak_times")


def resistor_size_w(watts: float) -> float:
    """The next standard size of a brake resistor; TableEnds above the largest."""
    sizes = table("stopping", "resistor_sizes").column("watts")
    return next_size(watts, sizes, "brake resistor [W]")


def chopper_share() -> float:
    """What a drive's brake switch bears for a moment, over the drive's rated watts."""
    return table("stopping", "chopper").number("most")


def injection_share() -> float:
    """Usual braking current over the motor's rated one."""
    return table("stopping", "injection").number("share")


def injection_waits_s() -> float:
    """What a drive waits, its output off, before direct current [s]."""
    return table("stopping", "injection").number("waits_s")


def injection_heat_share() -> float:
    """Mean heat of stops by direct current that a motor bears beside its work, over its losses at
    rated load."""
    return table("stopping", "injection_heat").number("share")
