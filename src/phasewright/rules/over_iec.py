"""Every rule of the IEC family that a circuit or an installation can answer, asked of it."""

from __future__ import annotations

from phasewright.circuits.installation import Circuit, Installation
from phasewright.rules.capacitors import discharged_in_seconds
from phasewright.rules.conductors import carries, thick_enough
from phasewright.rules.earthing import (
    bonding,
    insulation_resistance,
    leaks_to_earth,
    protective_conductor,
    separate_protective_conductor,
)
from phasewright.rules.farms import farm_circuit, fire_protection
from phasewright.rules.isolation import isolates_all, residual_selective
from phasewright.rules.leakage import device_type
from phasewright.rules.machines_60204 import no_restart, overload_set, sequence_watched
from phasewright.rules.motor_circuits import loop_impedance
from phasewright.rules.of_circuit import (
    at_end,
    final,
    generated,
    inner,
    laid,
    live_conductors,
    mm2,
    number,
    order_is_fixed,
    protecting_a,
    rating_a,
    residual_ma,
    residual_trips,
)
from phasewright.rules.overcurrent import (
    breaking_capacity,
    device_acts,
    device_carries,
    device_protects,
    holds_at_start,
    short_circuit_heat,
)
from phasewright.rules.register import Ruling
from phasewright.rules.shock_protection import (
    disconnection_time,
    electrode_and_device,
    insulation_watched,
    sockets_protected,
)
from phasewright.tables.circuits import capacitor_circuit

_MACHINES = ("converter_to_machine", "outlet_to_machine", "supply_to_machine")
_DRIVES = ("supply_to_drive", "transformer_to_drive")


def of_circuit(c: Circuit, i: Installation) -> tuple[Ruling, ...]:
    """What the IEC family says of one circuit."""
    return (*_shock(c, i), *_overcurrent(c), *_conductors(c), *_rest(c, i))


def of_whole(i: Installation) -> tuple[Ruling, ...]:
    """What the IEC family says of the installation."""
    own = (c.residual_current for c in i.circuits)
    behind = max((each.rating_ma for each in own if each and not each.upstream), default=None)
    upstream = None if i.upstream_residual is None else i.upstream_residual.rating_ma
    return (
        insulation_watched(i.earthed, i.insulation_monitor, "supply"),
        residual_selective(upstream, behind, "supply", upstream_delayed=i.upstream_delayed),
        bonding(mm2(i.bonding_conductor_m2), "supply"),
    )


def _shock(c: Circuit, i: Installation) -> tuple[Ruling, ...]:
    by_device = residual_trips(c) or generated(c, i)
    fuse = c.device is not None and c.device.kind != "breaker"
    curve = None if c.device is None or fuse else c.device.curve
    socket = None if c.socket is None else c.socket.rating_a
    return (
        disconnection_time(number(c.disconnects_s), i.earthing, c.to_earth_v, final(c), c.id),
        loop_impedance(
            None if by_device else number(c.loop_ohm), curve, rating_a(c.device), c.id
        ),
        sockets_protected(socket, residual_ma(c), c.id),
        electrode_and_device(
            c.electrode_ohm, residual_ma(c), None if c.electrode_ohm is None else "TT", c.id
        ),
        farm_circuit(i.farm and not inner(c), socket, residual_ma(c), c.id),
        fire_protection(c.place in i.dusty and not inner(c), residual_ma(c), c.id),
    )  # fmt: skip


def _overcurrent(c: Circuit) -> tuple[Ruling, ...]:
    device, amps = c.device, number(c.ampacity_a)
    fuse = device is not None and device.kind != "breaker"
    relay = c.overload_setting_a is not None
    return (
        device_carries(number(c.design_current_a), rating_a(device), c.id),
        device_protects(protecting_a(c), amps, c.id, laid(c, "IEC")),
        device_acts(None if relay else rating_a(device), amps, c.id, fuse=fuse),
        breaking_capacity(
            None if device is None else device.breaking_ka, number(c.fault_at_origin_a), c.id
        ),
        short_circuit_heat(
            number(c.earth_fault_a), number(c.disconnects_s), mm2(c.conductor_m2), c.id
        ),
        holds_at_start(
            number(c.starting_current_a), None if device is None else device.curve,
            rating_a(device), c.id,
        ),
    )  # fmt: skip


def _conductors(c: Circuit) -> tuple[Ruling, ...]:
    earth = c.protective_conductor
    return (
        carries(number(c.design_current_a), number(c.ampacity_a), c.id, laid(c, "IEC")),
        thick_enough(mm2(c.conductor_m2), c.id, control=c.role == "control"),
        protective_conductor(
            None if earth is None else mm2(earth.area_m2), mm2(c.conductor_m2),
            None if earth is None else mm2(earth.adiabatic_m2), c.id,
        ),
        separate_protective_conductor(
            None if earth is None else mm2(earth.area_m2), earth is not None and earth.separate,
            earth is not None and earth.guarded, c.id,
        ),
    )  # fmt: skip


def _rest(c: Circuit, i: Installation) -> tuple[Ruling, ...]:
    end, earth = at_end(c, i), c.protective_conductor
    machine = c.role in _MACHINES and bool(c.full_load_a) and c.socket is None
    motor, watched = c.motor, c.phase_relay is not None or order_is_fixed(c, i)
    three = c.motor if c.motor is not None and c.motor.phases == 3 and c.lines != "1-2" else None
    alone = c.full_load_a[0] if len(c.full_load_a) == 1 else None
    kind = None if c.residual_current is None else c.residual_current.type
    return (
        sequence_watched(None if three is None else three.wrong_direction_harms, watched, c.id),
        insulation_resistance(None if motor is None else motor.insulation_ohm, c.id),
        no_restart(machine, c.undervoltage_release, c.id),
        overload_set(number(c.overload_setting_a), alone, c.id),
        device_type(int(c.role in _DRIVES), kind, c.id),
        isolates_all(None if c.isolator is None else c.isolator.poles, live_conductors(c), c.id),
        discharged_in_seconds(
            c.voltage_v, c.capacitance_f, c.discharge_ohm, c.id,
            wait_s=capacitor_circuit("within_s"),
        ),
        leaks_to_earth(
            None if end is None else end.leakage_ma, c.socket is None,
            None if earth is None else mm2(earth.area_m2), c.id,
        ),
    )  # fmt: skip
