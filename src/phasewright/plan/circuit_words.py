"""Why a circuit's device holds at the start and what opens a fault, in an owner's words."""

from __future__ import annotations

from phasewright.circuits.devices import magnetic_a
from phasewright.circuits.installation import Device, ResidualCurrentDevice
from phasewright.circuits.sizing import Sized
from phasewright.plan.circuit_jobs import Job


def device_words(device: Device) -> str:
    """A breaker as it is marked: B16, or 20 A where it has no letter."""
    return f"{device.curve}{device.rating_a:g}" if device.curve else f"{device.rating_a:g} A"


def residual_words(device: ResidualCurrentDevice) -> str:
    """A residual-current device as it is marked."""
    return f"{device.rating_ma:g} mA type {device.type}"


def seconds_words(seconds: float) -> str:
    """A time as it is told: 0.04 s, 3.2 s, 4 min."""
    return f"{seconds:.2g} s" if seconds < 100.0 else f"{seconds / 60.0:.0f} min"


def why_it_holds(job: Job, of: Sized) -> str | None:
    """What the start asks of the device; None where nothing starts or it has none."""
    if of.device is None or not job.starts:
        return None
    start = max(job.starts, key=lambda each: each.current_a)
    asks = (
        f"at the start {start.current_a:.3g} A flow for {seconds_words(start.seconds)}, "
        f"{start.crest_a:.3g} A at the highest crest"
    )
    name = device_words(of.device)
    if not of.device_holds:
        return f"{asks}: a {name} breaker is the largest allowed and is not sure to hold that"
    if of.lasts_s is None:
        return f"{asks}: a {name} breaker carries that for ever"
    return f"{asks}: a {name} breaker surely carries that for {seconds_words(of.lasts_s)}"


def why_it_trips(
    job: Job, of: Sized, residual: ResidualCurrentDevice | None, opens_s: float | None
) -> str | None:
    """What opens an earth fault at the end of the circuit, and when at the latest."""
    if of.earth_fault_a is None:
        return None
    where = "of line 3 " if job.line3 is not None else ""
    asks = f"an earth fault {where}at its end draws {of.earth_fault_a:.3g} A at the least"
    breaker = "" if of.device is None else _breaker(of.device, of.device_opens_s)
    if residual is not None and residual.trips_s is not None:
        sees = f"the {residual_words(residual)} residual-current device {_where(residual)}"
        opened = f"{sees} opens it within {seconds_words(residual.trips_s)}"
        return f"{asks}: {opened}" + (f"; {breaker}" if breaker else "")
    if opens_s is None:
        return f"{asks}: nothing here surely opens that" + (f"; {breaker}" if breaker else "")
    return f"{asks}: {breaker}"


def _breaker(device: Device, opens_s: float | None) -> str:
    release = magnetic_a(device)
    name = f"the {device_words(device)} breaker"
    at_once = "" if release is None else f", its magnetic part acts surely from {release:.3g} A"
    if opens_s is None:
        return f"{name} may never open it{at_once}"
    return f"{name} may take {seconds_words(opens_s)}{at_once}"


def _where(residual: ResidualCurrentDevice) -> str:
    if residual.upstream:
        return "that is there already"
    return f"at {residual.at}" if residual.at else "at its beginning"
