"""What an earth fault at the end of a circuit draws, and the conductor that carries it.

The protective conductor is that of the code's table, thicker where the fault would overheat it
before something opens (adiabatic, IEC 60364-5-54, 543.1).
"""

from __future__ import annotations

from phasewright.circuits.cables import Size, ohm_per_m, sizes
from phasewright.circuits.devices import surely_trips_s
from phasewright.circuits.installation import Device, ProtectiveConductor
from phasewright.circuits.need import Need
from phasewright.tables.circuits import (
    adiabatic_m2,
    half_cycle_s,
    iec_protective_mm2,
    limited_a2s,
    nec_protective_size,
    residual,
    usual,
)

_ROOM = 1e-9
Faults = tuple[float | None, float | None, float | None]
"""Loop [ohm], least earth-fault current and line 3's at its onset [A]."""
AT_ONCE_S = 0.1
"""A release that has surely acted within this is taken to open at a zero of the current."""
ADIABATIC_S = 5.0
"""So long a fault may last for its heat to stay in the copper (IEC 60364-4-43, 434.5.2; from
memory). What flows longer is an overload."""


def let_through_a2s(device: Device, fault_a: float) -> float | None:
    """I squared t of a fault: half a cycle where the device acts at once, or what it limits that
    to, else its latest time.

    None where nothing says when it acts: an inverse-time breaker below its release; and of amps
    that may flow so long that they are an overload.
    """
    seconds = surely_trips_s(device, fault_a)
    if seconds <= AT_ONCE_S:
        limited = limited_a2s(device.curve, device.rating_a, fault_a)
        return min(fault_a * fault_a * half_cycle_s(), limited)
    if device.curve is None or seconds > ADIABATIC_S:
        return None
    return fault_a * fault_a * seconds


def earth_fault(need: Need, own_ohm: complex) -> Faults:  # fmt: skip
    """Loop, least earth-fault current at its end, and line 3's in its first cycles."""
    of = need.origin
    if of.to_earth_v is None or of.earth_ohm is None:
        return None, None, None
    loop = abs(of.earth_ohm + own_ohm) + of.electrode_ohm
    current = of.to_earth_v / loop
    if of.limit is not None:
        current = min(current, of.limit.least_a)
    if of.line3 is None:
        return loop, current, None
    through = of.return_ohm + own_ohm + of.electrode_ohm
    settled = of.line3.through(through)
    first = settled * of.line3.first_cycles_a / of.line3.settled_a
    return loop, min(current, settled), first


def protective(
    need: Need, size: Size, device: Device | None, one_way: complex, there: Size | None = None
) -> tuple[ProtectiveConductor, Faults]:
    """The protective conductor, and (loop, earth fault, line 3's onset) with it: that of the table,
    thicker where the fault would overheat it before something opens; or that which is there."""
    least = there or _by_table(need, size, device)
    faults: Faults = (None, None, None)
    heated = None
    for of in (least,) if there is not None else sizes(need.laid.region):
        if of.area_m2 < least.area_m2 * (1.0 - _ROOM):
            continue
        faults = _faults(need, one_way, of)
        heated = _heated_m2(need, device, faults)
        if heated is None or heated <= of.area_m2 * (1.0 + _ROOM):
            return ProtectiveConductor(of.name, of.area_m2, heated), faults
    return ProtectiveConductor(least.name, least.area_m2, heated), faults


def _faults(need: Need, one_way: complex, earth: Size) -> Faults:
    """What an earth fault at its end draws, back through this protective conductor."""
    return earth_fault(need, one_way + ohm_per_m(earth.area_m2, usual("fault_c")) * need.length_m)


def _heated_m2(need: Need, device: Device | None, faults: Faults) -> float | None:
    """The least copper an earth fault leaves whole until breaker or residual device opens it."""
    _, earth, first = faults
    if device is None or earth is None:
        return None
    amps = max(earth, first or 0.0)
    through = let_through_a2s(device, amps)
    if need.residual:
        by_residual = amps * amps * residual("at_rating_s")
        through = by_residual if through is None else min(through, by_residual)
    return None if through is None else adiabatic_m2(through)


def _by_table(need: Need, size: Size, device: Device | None) -> Size:
    """The protective conductor of the code's table: by the line's size, or by the device."""
    if need.laid.region == "NEC":
        name = nec_protective_size(device.rating_a if device is not None else need.design_a)
        wanted = next(of for of in sizes("NEC") if of.name == f"{name} AWG")
        return min(wanted, size, key=lambda of: of.area_m2)
    mm2 = iec_protective_mm2(float(f"{1e6 * size.area_m2:.6g}"))
    return next(of for of in sizes("IEC") if of.area_m2 >= 1e-6 * mm2 * (1.0 - _ROOM))
