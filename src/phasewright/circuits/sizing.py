"""One circuit sized: its breaker, its conductors, what a fault lets through and what opens it.

The breaker is chosen first (`devices.smallest`), then the smallest conductor that passes every
check: ampacity as it is laid, voltage drop, what a fault heats it to. Knows no clause of a code:
what a code asks beyond physics comes in as `least_ampacity_a`, `most_device_a` and the like.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from phasewright.circuits.cables import Laid, Size, ampacity, drop_ratio, ohm_per_m, sizes
from phasewright.circuits.devices import (
    Chosen,
    Start,
    band_of,
    holds,
    smallest,
    surely_trips_s,
)
from phasewright.circuits.installation import Device, ProtectiveConductor
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value
from phasewright.running.line3_fault import Line3Fault
from phasewright.tables.circuits import (
    adiabatic_m2,
    breaking_ka,
    half_cycle_s,
    iec_protective_mm2,
    nec_protective_size,
    nec_small_conductor_a,
    start_power_factor,
    usual,
)

_ROOM = 1e-9
AT_ONCE_S = 0.1
"""A release that has surely acted within this is taken to open at a zero of the current."""


@dataclass(frozen=True, slots=True)
class Origin:
    """What stands behind the beginning of a circuit.

    `lines_ohm` is the loop between its lines, `earth_ohm` that of a line to earth with the way
    back; `to_earth_v` that line's volts to earth (None where nothing is earthed). Of a generated
    line `line3` is the fault current and `return_ohm` the way back of it ahead of this circuit.
    None stands for what a source of electronics does not let compute.
    """

    lines_ohm: complex | None
    earth_ohm: complex | None = None
    to_earth_v: float | None = None
    line3: Line3Fault | None = None
    return_ohm: complex = 0j
    electrode_ohm: float = 0.0


@dataclass(frozen=True, slots=True)
class Need:
    """What a circuit has to do. Amps rms, volts between its lines, metres one way.

    `least_ampacity_a` and the device's `least_device_a`, `most_device_a` are what a code asks;
    `device` is given where another circuit's breaker protects it too, `own_device` False where
    what feeds it limits its current by itself. `follows_device`: conductors carry the device's
    rating, but where an overload relay at the motor bounds what flows for ever
    (`relay_protects`) and a dead short at either end does not overheat them. `residual`:
    something else opens an earth fault.
    """

    design_a: float
    voltage_v: float
    length_m: float
    laid: Laid
    origin: Origin
    most_drop: float
    power_factor: float = 0.85
    starts: tuple[Start, ...] = ()
    least_ampacity_a: float = 0.0
    least_device_a: float | None = None
    most_device_a: float = math.inf
    device: Device | None = None
    own_device: bool = True
    follows_device: bool = True
    relay_protects: bool = False
    small_conductors: bool = False
    residual: bool = False
    smallest_m2: float = 0.0


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
    chosen = _device(need, None)
    found = _with(need, chosen)
    if chosen is None or need.device is not None or need.residual or found.earth_fault_a is None:
        return found
    again = _device(need, found.earth_fault_a)
    return found if again == chosen else _with(need, again)


def passes(need: Need, size: Size, device: Device | None) -> bool:
    """Whether a conductor passes every check with this device."""
    return _amps_pass(need, size, device) and _drop_passes(need, size) and _heat(need, size, device)


def _with(need: Need, chosen: Chosen | None) -> Sized:
    device = need.device if chosen is None else chosen.device
    for size in sizes(need.laid.region):
        if size.area_m2 >= need.smallest_m2 * (1.0 - _ROOM) and passes(need, size, device):
            return _told(need, size, device, holds=_all_hold(need, chosen))
    largest = sizes(need.laid.region)[-1].name
    raise TableEnds(f"no conductor up to {largest} serves {need.design_a:.3g} A here")


def _device(need: Need, fault_a: float | None) -> Chosen | None:
    if not need.own_device or need.device is not None:
        return None
    least = need.design_a if need.least_device_a is None else need.least_device_a
    return smallest(need.laid.region, least, need.most_device_a, need.starts, fault_a)


def _all_hold(need: Need, chosen: Chosen | None) -> bool:
    return chosen is None or all(holds(chosen.band, start) for start in need.starts)


def _amps_pass(need: Need, size: Size, device: Device | None) -> bool:
    amps = ampacity(size, need.laid).number
    least = max(need.design_a, need.least_ampacity_a)
    if device is not None and need.follows_device and not _relay_is_enough(need, size, device):
        least = max(least, device.rating_a)
    if amps < least * (1.0 - _ROOM):
        return False
    if device is None or not need.small_conductors:
        return True
    return device.rating_a <= nec_small_conductor_a(size.name.split()[0])


def _relay_is_enough(need: Need, size: Size, device: Device) -> bool:
    """Whether the motor's relay guards these conductors from overload, as the device does from a
    short at either end (IEC 60364-4-43, 433.2 and 434; from memory)."""
    if not need.relay_protects or need.origin.lines_ohm is None:
        return False
    along = 2.0 * ohm_per_m(size.area_m2, usual("fault_c")) * need.length_m
    heats = (let_through_a2s(device, _fault_a(need, ohm)) for ohm in (0j, along))
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


def let_through_a2s(device: Device, fault_a: float) -> float | None:
    """I squared t of a fault: half a cycle where the device acts at once, else its latest time.

    None where nothing says when it acts: an inverse-time breaker below its release, and amps that
    no breaker of this rating clears at all.
    """
    seconds = surely_trips_s(device, fault_a)
    if seconds <= AT_ONCE_S:
        return fault_a * fault_a * half_cycle_s()
    if device.curve is None or not math.isfinite(seconds):
        return None
    return fault_a * fault_a * seconds


def _heat(need: Need, size: Size, device: Device | None) -> bool:
    """A dead short at its beginning does not overheat it before its device has opened."""
    if device is None or need.origin.lines_ohm is None:
        return True
    let_through = let_through_a2s(device, _fault_a(need, 0j))
    return let_through is None or adiabatic_m2(let_through) <= size.area_m2 * (1.0 + _ROOM)


def _fault_a(need: Need, more_ohm: complex) -> float:
    assert need.origin.lines_ohm is not None
    return need.voltage_v / abs(need.origin.lines_ohm + more_ohm)


def _told(need: Need, size: Size, device: Device | None, *, holds: bool) -> Sized:
    one_way = ohm_per_m(size.area_m2, usual("fault_c")) * need.length_m
    at_origin = at_end = None
    if need.origin.lines_ohm is not None:
        at_origin = _fault_a(need, 0j)
        at_end = _fault_a(need, 2.0 * one_way)
    if device is not None and at_origin is not None:
        device = replace(device, breaking_ka=breaking_ka(at_origin, need.laid.region))
    protective = _protective(need, size, device)
    back = ohm_per_m(protective.area_m2, usual("fault_c")) * need.length_m
    loop, earth, first = _earth_fault(need, one_way + back)
    opens = None if device is None or earth is None else surely_trips_s(device, earth)
    let_through = None
    if device is not None and earth is not None:
        let_through = let_through_a2s(device, max(earth, first or 0.0))
    heated = None if let_through is None else adiabatic_m2(let_through)
    return Sized(
        size, ampacity(size, need.laid), device, holds, _drop(need, size),
        _starting_drop(need, size), at_origin, at_end, loop, earth, first,
        one_way + back,
        opens if opens is None or math.isfinite(opens) else None,
        replace(protective, adiabatic_m2=heated),
        None if device is None else _lasts_s(device, need.starts),
    )  # fmt: skip


def _earth_fault(
    need: Need, own_ohm: complex
) -> tuple[float | None, float | None, float | None]:  # fmt: skip
    """Loop, least earth-fault current at its end, and line 3's in its first cycles."""
    of = need.origin
    if of.to_earth_v is None or of.earth_ohm is None:
        return None, None, None
    loop = abs(of.earth_ohm + own_ohm) + of.electrode_ohm
    current = of.to_earth_v / loop
    if of.line3 is None:
        return loop, current, None
    through = of.return_ohm + own_ohm + of.electrode_ohm
    settled = of.line3.through(through)
    first = settled * of.line3.first_cycles_a / of.line3.settled_a
    return loop, min(current, settled), first


def _protective(need: Need, size: Size, device: Device | None) -> ProtectiveConductor:
    """The protective conductor by table: the line's own, or by the device."""
    if need.laid.region == "NEC":
        name = nec_protective_size(device.rating_a if device is not None else need.design_a)
        wanted = next(of for of in sizes("NEC") if of.name == f"{name} AWG")
        chosen = min(wanted, size, key=lambda of: of.area_m2)
        return ProtectiveConductor(chosen.name, chosen.area_m2)
    mm2 = iec_protective_mm2(float(f"{1e6 * size.area_m2:.6g}"))
    chosen = next(of for of in sizes("IEC") if of.area_m2 >= 1e-6 * mm2 * (1.0 - _ROOM))
    return ProtectiveConductor(chosen.name, chosen.area_m2)


def _lasts_s(device: Device, starts: tuple[Start, ...]) -> float | None:
    """How long the device surely carries the hardest start; None where for ever or no start."""
    if not starts:
        return None
    early = band_of(device).early
    seconds = min(early.seconds(start.current_a) for start in starts)
    return seconds if math.isfinite(seconds) else None
