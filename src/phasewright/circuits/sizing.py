"""One circuit sized: its breaker, its conductors, what a fault lets through and what opens it.

The breaker is chosen first (`devices.smallest`), then the smallest conductor that passes every
check: ampacity as it is laid, voltage drop, what a fault heats it to. Knows no clause of a code:
what a code asks beyond physics comes in as `least_ampacity_a`, `most_device_a` and the like.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

from phasewright.circuits.cables import Size, ampacity, drop_ratio, ohm_per_m, sizes
from phasewright.circuits.devices import (
    Chosen,
    Start,
    band_of,
    holds,
    smallest,
    surely_trips_s,
)
from phasewright.circuits.earth_fault import let_through_a2s, protective
from phasewright.circuits.installation import Device, ProtectiveConductor
from phasewright.circuits.need import Need
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value
from phasewright.tables.circuits import (
    adiabatic_m2,
    breaking_ka,
    nec_small_conductor_a,
    start_power_factor,
    usual,
)
from phasewright.tables.clauses import limit

_ROOM = 1e-9
Check = Literal["amps", "drop", "short"]
"""What a conductor is asked: amps for ever, volts lost, heat of a short."""


@dataclass(frozen=True, slots=True)
class Sized:
    """A circuit as it comes out. Ratios of the volts, amps rms; None where it is not computed."""

    size: Size
    carries: Value
    device: Device | None
    device_holds: bool
    drop: float
    starting_drop: float | None
    fault_at_origin_a: float | None
    fault_at_end_a: float | None
    loop_ohm: float | None
    earth_fault_a: float | None
    first_cycles_a: float | None
    own_earth_ohm: complex
    device_opens_s: float | None
    protective: ProtectiveConductor
    lasts_s: float | None


def sized(need: Need) -> Sized:
    """The circuit with the smallest breaker and the smallest conductor that pass.

    Raises TableEnds where no breaker or no conductor sold is large enough.
    """
    return _with(need, _device(need))


def as_it_stands(need: Need, size: Size, device: Device | None, earth: Size | None) -> Sized:
    """The circuit with this conductor and device, whether they pass or not; `earth` is its
    protective conductor where that is told. Raises TableEnds for a device or size in no table."""
    held = device is None or all(holds(band_of(device), start) for start in need.starts)
    return _told(need, size, device, holds=held, earth=earth)


def passes(need: Need, size: Size, device: Device | None) -> bool:
    """Whether a conductor passes every check with this device."""
    return failing(need, size, device) is None


def failing(need: Need, size: Size, device: Device | None) -> Check | None:
    """The first check that a conductor fails with this device; None where it passes all."""
    if not _amps_pass(need, size, device):
        return "amps"
    if not _drop_passes(need, size):
        return "drop"
    return None if _heat(need, size, device) else "short"


def _with(need: Need, chosen: Chosen | None) -> Sized:
    device = need.device if chosen is None else chosen.device
    for size in sizes(need.laid.region):
        if size.area_m2 >= need.smallest_m2 * (1.0 - _ROOM) and passes(need, size, device):
            return _told(need, size, device, holds=_all_hold(need, chosen))
    largest = sizes(need.laid.region)[-1].name
    raise TableEnds(f"no conductor up to {largest} serves {need.design_a:.3g} A here")


def _device(need: Need) -> Chosen | None:
    if not need.own_device or need.device is not None:
        return None
    least = need.design_a if need.least_device_a is None else need.least_device_a
    return smallest(need.laid.region, least, need.most_device_a, need.starts)


def _all_hold(need: Need, chosen: Chosen | None) -> bool:
    return chosen is None or all(holds(chosen.band, start) for start in need.starts)


def _amps_pass(need: Need, size: Size, device: Device | None) -> bool:
    amps = ampacity(size, need.laid).number
    least = max(need.design_a, need.least_ampacity_a)
    if device is not None and need.follows_device and not _relay_is_enough(need, size, device):
        least = max(least, _guarded_a(device))
    if amps < least * (1.0 - _ROOM):
        return False
    if device is None or not need.small_conductors:
        return True
    return device.rating_a <= nec_small_conductor_a(size.name.split()[0])


def _guarded_a(device: Device) -> float:
    """The least ampacity that a device guards from overload: its rating, of a fuse a tenth more,
    for it surely acts only at 1.6 times that (IEC 60364-4-43, 433.1)."""
    if device.curve != "gG":
        return device.rating_a
    return device.rating_a * limit("overload", "fuse") / limit("overload", "ampacity")


def _relay_is_enough(need: Need, size: Size, device: Device) -> bool:
    """Whether the motor's relay guards these conductors from overload, as the device does from a
    short at either end (IEC 60364-4-43, 433.2 and 434; from memory)."""
    if not need.relay_protects or need.origin.lines_ohm is None:
        return False
    along = 2.0 * ohm_per_m(size.area_m2, usual("fault_c")) * need.length_m
    faults = [_fault_a(need, ohm) for ohm in (0j, along)]
    if need.origin.limit is not None:
        faults.append(min(faults[-1], need.origin.limit.least_a))
    heats = (let_through_a2s(device, amps) for amps in faults)
    return all(
        heat is not None and adiabatic_m2(heat) <= size.area_m2 * (1.0 + _ROOM) for heat in heats
    )


def _drop_passes(need: Need, size: Size) -> bool:
    return _drop(need, size) <= need.most_drop * (1.0 + _ROOM)


def _drop(need: Need, size: Size) -> float:
    ohm = ohm_per_m(size.area_m2, usual("fault_c")) * need.length_m
    return drop_ratio(
        need.design_a, need.power_factor, ohm, need.laid.loaded, need.voltage_v
    )  # fmt: skip


def _starting_drop(need: Need, size: Size) -> float | None:
    if not need.starts:
        return None
    ohm = ohm_per_m(size.area_m2, usual("fault_c")) * need.length_m
    amps = max(start.current_a for start in need.starts)
    return drop_ratio(amps, start_power_factor(), ohm, need.laid.loaded, need.voltage_v)


def _heat(need: Need, size: Size, device: Device | None) -> bool:
    """A dead short at its beginning does not overheat it before its device has opened.

    Where the source gives so little that the device takes it for an overload, the conductor must be
    guarded from that, or bear for ever all that the source can give (IEC 60364-4-43, 433.1 and 436;
    from memory).
    """
    if device is None or need.origin.lines_ohm is None:
        return True
    amps = _fault_a(need, 0j)
    let_through = let_through_a2s(device, amps)
    if let_through is not None:
        return adiabatic_m2(let_through) <= size.area_m2 * (1.0 + _ROOM)
    least = min(_guarded_a(device), amps)
    return device.curve is None or ampacity(size, need.laid).number >= least * (1.0 - _ROOM)


def _fault_a(need: Need, more_ohm: complex) -> float:
    """The greatest current of a dead short behind so much cable."""
    assert need.origin.lines_ohm is not None
    limit = need.origin.limit
    most = math.inf if limit is None else limit.greatest_a
    loop = abs(need.origin.lines_ohm + more_ohm)
    return min(need.voltage_v / loop, most) if loop > 0.0 else most


def _told(
    need: Need, size: Size, device: Device | None, *, holds: bool, earth: Size | None = None
) -> Sized:
    one_way = ohm_per_m(size.area_m2, usual("fault_c")) * need.length_m
    at_origin = at_end = None
    if need.origin.lines_ohm is not None:
        at_origin = _fault_a(need, 0j)
        at_end = _fault_a(need, 2.0 * one_way)
    if device is not None and at_origin is not None:
        device = replace(device, breaking_ka=breaking_ka(at_origin, need.laid.region))
    conductor, faults = protective(need, size, device, one_way, earth)
    loop, fault_a, first = faults
    back = ohm_per_m(conductor.area_m2, usual("fault_c")) * need.length_m
    opens = None if device is None or fault_a is None else surely_trips_s(device, fault_a)
    return Sized(
        size, ampacity(size, need.laid), device, holds, _drop(need, size),
        _starting_drop(need, size), at_origin, at_end, loop, fault_a, first,
        one_way + back,
        opens if opens is None or math.isfinite(opens) else None,
        conductor,
        None if device is None else _lasts_s(device, need.starts),
    )  # fmt: skip


def _lasts_s(device: Device, starts: tuple[Start, ...]) -> float | None:
    """How long the device surely carries the hardest start; None where for ever or no start."""
    if not starts:
        return None
    early = band_of(device).early
    seconds = min(early.seconds(start.current_a) for start in starts)
    return seconds if math.isfinite(seconds) else None
