"""Facts that rules ask of a circuit in its installation, read off once in the rules' own units."""

from __future__ import annotations

import math
from typing import get_args

from phasewright.circuits.cables import Laid
from phasewright.circuits.installation import Circuit, Device, Equipment, Installation
from phasewright.quantities.codes import Method, Region
from phasewright.quantities.value import Value
from phasewright.rules.motor_circuits import DeviceKind
from phasewright.tables.published import table
from phasewright.tables.sizes import AWG_SIZES, awg_mm2

MOTOR_ROLES = frozenset(
    {"supply_to_converter", "converter_to_machine", "outlet_to_machine", "drive_to_motor",
     "supply_to_drive", "transformer_to_drive", "converter_to_outlet"}
)  # fmt: skip
"""Circuits whose conductors the code sends to the articles of motors, drives and converters."""
_SAME = 0.03
_METHODS: dict[str, Method] = {each: each for each in get_args(Method)}

_KINDS: dict[str, DeviceKind] = {
    "breaker": "inverse_time", "fuse": "fuse", "time_delay_fuse": "time_delay_fuse",
}  # fmt: skip


def number(value: Value | None) -> float | None:
    """The expected number of a figure."""
    return None if value is None else value.number


def rating_a(device: Device | None) -> float | None:
    """Rating of an overcurrent device."""
    return None if device is None else device.rating_a


def kind_of(device: Device) -> DeviceKind:
    """The device's kind as NEC table 430.52 names it."""
    return _KINDS[device.kind]


def mm2(area_m2: float | None) -> float | None:
    """An area in mm2."""
    return None if area_m2 is None else 1e6 * area_m2


def awg(area_m2: float | None) -> str | None:
    """The AWG size of an area; None for an area that is none."""
    if area_m2 is None:
        return None
    near = ((abs(1e6 * area_m2 / awg_mm2(size) - 1.0), size) for size in AWG_SIZES)
    off, size = min(near)
    return size if off <= _SAME else None


def protecting_a(circuit: Circuit) -> float | None:
    """What protects a circuit's conductors against overload: its overload relay, or its device."""
    setting = number(circuit.overload_setting_a)
    return rating_a(circuit.device) if setting is None else setting


def residual_trips(circuit: Circuit) -> bool:
    """Whether a residual-current device sees an earth fault of this circuit and trips."""
    return circuit.residual_current is not None and circuit.residual_current.trips_s is not None


def residual_ma(circuit: Circuit) -> float | None:
    """Rating of the residual-current device that covers a circuit."""
    return None if circuit.residual_current is None else circuit.residual_current.rating_ma


def fed_by(circuit: Circuit, installation: Installation) -> Equipment | None:
    """The equipment that a circuit hangs behind, if one serves what it feeds; never its own end."""
    for each in installation.equipment:
        if each.id == circuit.equipment:
            continue
        if each.id == circuit.source or set(each.serves) & set(circuit.feeds):
            return each
    return None


def by_id(id: str, installation: Installation) -> Equipment | None:
    """The equipment of this id."""
    return next((each for each in installation.equipment if each.id == id), None)


def at_end(circuit: Circuit, installation: Installation) -> Equipment | None:
    """The equipment at a circuit's far end."""
    return None if circuit.equipment is None else by_id(circuit.equipment, installation)


def ahead_of(behind: Equipment | None, circuit: Circuit, i: Installation) -> bool | None:
    """Whether a circuit's residual-current device stands ahead of what it hangs behind.

    None where it has none.
    """
    device = circuit.residual_current
    if device is None or behind is None:
        return None
    if device.upstream:
        return True
    return any(each.id == device.at and each.equipment == behind.id for each in i.circuits)


def generated(circuit: Circuit, installation: Installation) -> bool:
    """Whether a circuit carries a line that an idler, capacitors or electronics make."""
    behind = fed_by(circuit, installation)
    return circuit.lines == "1-2-3" and behind is not None and behind.generates_line3


def hangs_on_generated(circuit: Circuit, installation: Installation) -> bool:
    """Whether it goes straight from what makes line 3 to an outlet or a machine."""
    straight = circuit.role in ("converter_to_outlet", "converter_to_machine")
    return straight and generated(circuit, installation)


def order_is_fixed(circuit: Circuit, installation: Installation) -> bool:
    """Whether electronics make its lines, which always come in the same order."""
    behind = fed_by(circuit, installation)
    return behind is not None and circuit.lines != "1-2" and not behind.generates_line3


def inner(circuit: Circuit) -> bool:
    """Whether it only goes on from what another circuit feeds: capacitors, leads of a drive."""
    return circuit.role in ("capacitor_branch", "drive_to_motor")


def final(circuit: Circuit) -> bool:
    """Whether the shorter times to disconnect hold: it feeds a thing, and is not too large.

    Up to 32 A, with a socket up to 63 A (IEC 60364-4-41, 411.3.2.2, from memory).
    """
    if circuit.role in ("supply_to_converter", "supply_to_transformer"):
        return False
    of = table("clauses", "disconnection_by_voltage")
    most = of.number("final_most_a" if circuit.socket is None else "final_sockets_most_a")
    return circuit.device is None or circuit.device.rating_a <= most


def magnetic_a(device: Device | None) -> float | None:
    """Amps at which a breaker of a printed curve surely acts at once."""
    bands = table("protection", "iec_instantaneous")
    if device is None or device.curve is None or device.curve not in bands.rows:
        return None
    return bands.number(device.curve) * device.rating_a


def capacitor_a(circuit: Circuit, frequency_hz: float) -> float | None:
    """Current of a capacitor branch: w C V; of one that works at starts only its rms over the hour.

    Such a one has a starting current.
    """
    if circuit.capacitance_f is None or circuit.voltage_v is None:
        return None
    if circuit.starting_current_a is not None:
        return number(circuit.design_current_a)
    return 2.0 * math.pi * frequency_hz * circuit.capacitance_f * circuit.voltage_v


def laid(circuit: Circuit, region: Region) -> Laid | None:
    """How a circuit's cable is laid; None for a method that no table of cables knows."""
    method = None if circuit.method is None else _METHODS.get(circuit.method)
    if region == "IEC" and method is None:
        return None
    return Laid(region, circuit.loaded, method, circuit.ambient_c, circuit.grouped)


def live_conductors(circuit: Circuit) -> int:
    """Conductors that an isolator must open."""
    return 2 if circuit.lines in ("1-2", "control") else 3
