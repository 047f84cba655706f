"""What a circuit has to do and what stands before it, as plain data."""

from __future__ import annotations

import math
from dataclasses import dataclass

from phasewright.circuits.cables import Laid
from phasewright.circuits.devices import Start
from phasewright.circuits.fault_source import Limit
from phasewright.circuits.installation import Device
from phasewright.running.line3_fault import Line3Fault


@dataclass(frozen=True, slots=True)
class Origin:
    """What stands behind the beginning of a circuit.

    `lines_ohm` is the loop between its lines, `earth_ohm` that of a line to earth with the way
    back; `to_earth_v` that line's volts to earth (None where nothing is earthed). Of a generated
    line `line3` is the fault current and `return_ohm` the way back of it ahead of this circuit.
    `limit` is the most that the source gives into a fault. None stands for what is not known.
    """

    lines_ohm: complex | None
    earth_ohm: complex | None = None
    to_earth_v: float | None = None
    line3: Line3Fault | None = None
    return_ohm: complex = 0j
    electrode_ohm: float = 0.0
    limit: Limit | None = None


USUAL_POWER_FACTOR = 0.85
"""Of what runs, where a drop is wanted (common practice, no source)."""


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
    power_factor: float = USUAL_POWER_FACTOR
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
