"""Every rule of the NEC family that a circuit or an installation can answer, asked of it."""

from __future__ import annotations

import math

from phasewright.circuits.devices import surely_carries_a
from phasewright.circuits.installation import Circuit, Device, Equipment, Installation
from phasewright.quantities.errors import TableEnds
from phasewright.rules.capacitors import (
    capacitor_conductors,
    capacitor_device,
    capacitor_disconnect,
    discharged_in_a_minute,
)
from phasewright.rules.conductors import ampacity, terminals
from phasewright.rules.drives import drive_supply_conductors
from phasewright.rules.earthing import electrode_conductor, grounding_conductor
from phasewright.rules.isolation import disconnect_rating, drive_disconnect
from phasewright.rules.motor_circuits import motor_conductors, motor_overcurrent
from phasewright.rules.nec_converters import (
    capacitors_ahead_of_overload,
    fixed_loads_device,
    horsepower_disconnect,
    loads_drop_out,
    loads_wait,
    nameplate,
)
from phasewright.rules.nec_motors import (
    device_lets_start,
    drive_output_conductors,
    overload_setting,
    overload_units,
    several_motors,
    table_current,
)
from phasewright.rules.nec_places import (
    ground_fault_interrupter,
    panel_conductors,
    panel_device,
    panel_short_circuit,
)
from phasewright.rules.nec_transformers import (
    autotransformer_branch,
    autotransformer_device,
    autotransformer_feeder,
    primary_device,
    secondary_device,
)
from phasewright.rules.of_circuit import (
    MOTOR_ROLES,
    at_end,
    awg,
    by_id,
    capacitor_a,
    hangs_on_generated,
    kind_of,
    laid,
    live_conductors,
    mm2,
    number,
    rating_a,
    residual_ma,
)
from phasewright.rules.overcurrent import (
    conductor_protected,
    interrupting_rating,
    small_conductors,
    standard_rating,
)
from phasewright.rules.phase_converters import (
    converter_conductors,
    converter_disconnect,
    converter_overcurrent,
    variable_loads,
)
from phasewright.rules.register import Ruling
from phasewright.tables.efficiency import W_PER_HP
from phasewright.tables.sizes import BREAKERS_NEC_A
from phasewright.tables.starting import greatest_locked_current_a

CONVERTERS = ("rotary_converter", "static_converter")
"""What article 455 calls phase converters; capacitors of one motor are none."""
TRANSFORMER = "transformer"
_PERSONNEL_MA = 6.0
"""A device that trips at 4 to 6 mA protects people (class A)."""


def of_circuit(c: Circuit, i: Installation) -> tuple[Ruling, ...]:
    """What the NEC family says of one circuit."""
    return (
        *_any(c, i), *_motors(c), *_one_motor(c), *_panel(c), *_equipment(c, i),
        *_transformer(c, i), *_capacitors(c, i),
    )  # fmt: skip


def of_whole(i: Installation) -> tuple[Ruling, ...]:
    """What the NEC family says of the equipment and of the installation."""
    plates = (_plate(each) for each in i.equipment)
    rod, line = mm2(i.electrode_conductor_m2), awg(i.service_conductor_m2)
    return (*plates, electrode_conductor(rod, line, "supply"))


def _any(c: Circuit, i: Installation) -> tuple[Ruling, ...]:
    device, size, amps = rating_a(c.device), awg(c.conductor_m2), number(c.ampacity_a)
    special = c.role in MOTOR_ROLES or bool(c.full_load_a)
    earth = c.protective_conductor
    phases = 1 if live_conductors(c) == 2 else 3
    trips = residual_ma(c)
    return (
        interrupting_rating(
            None if c.device is None else c.device.breaking_ka, number(c.fault_at_origin_a), c.id
        ),
        conductor_protected(device, amps, c.id, motor_circuit=special),
        small_conductors(size, device, c.id, motor_circuit=special),
        standard_rating(device, c.id, c.path),
        ampacity(number(c.design_current_a), amps, c.id, laid(c, "NEC")),
        terminals(number(c.design_current_a), size, device, c.id),
        grounding_conductor(
            None if earth is None else mm2(earth.area_m2), device, mm2(c.conductor_m2), c.id
        ),
        ground_fault_interrupter(
            None if c.socket is None else c.socket.rating_a, c.voltage_v or i.line_voltage_v,
            c.to_earth_v, phases, None, trips is not None and trips <= _PERSONNEL_MA, c.id,
            machine=c.path,
        ),
    )  # fmt: skip


def _motors(c: Circuit) -> tuple[Ruling, ...]:
    amps, motors = number(c.ampacity_a), c.full_load_a
    converter = c.role in ("supply_to_converter", "supply_to_drive", "transformer_to_drive")
    behind = () if converter else motors
    one = behind[0] if len(behind) == 1 else None
    rated = None if c.isolator is None else c.isolator.rating_a
    driven = one if c.role == "drive_to_motor" else None
    plain = None if c.role == "drive_to_motor" else one
    kind = "inverse_time" if c.device is None else kind_of(c.device)
    how = laid(c, "NEC")
    return (
        motor_conductors(amps, plain, c.id, how),
        motor_overcurrent(rating_a(c.device), plain, kind, c.id, _holding_a(c)),
        several_motors(amps, behind, 0.0, c.id, how),
        drive_output_conductors(amps, driven, c.id, how),
        disconnect_rating(rated, one, c.id),
    )


def _plate(of: Equipment) -> Ruling:
    return nameplate(of.kind in CONVERTERS, of.origin, of.id, of.has_plate)


def _one_motor(c: Circuit) -> tuple[Ruling, ...]:
    """Of the one motor that it ends at."""
    motor = c.motor
    if motor is None or len(c.full_load_a) != 1 or c.voltage_v is None:
        return ()
    watched = None if c.overload_setting_a is None else motor.overload_units
    hp = None if motor.power_w is None else _hp(motor.power_w)
    start = number(c.starting_current_a)
    return (
        table_current(c.full_load_a[0], hp, c.voltage_v, c.id, phases=motor.phases),
        overload_units(watched, motor.phases, c.id),
        overload_setting(
            number(c.overload_setting_a),
            motor.plate_a,
            hp,
            c.id,
            service_factor=motor.service_factor,
        ),
        device_lets_start(rating_a(c.device), _carries_a(c), start, c.id),
    )


def _panel(c: Circuit) -> tuple[Ruling, ...]:
    """Of the control panel that it ends at."""
    of, amps, fault = c.panel, number(c.ampacity_a), number(c.fault_at_end_a)
    if of is None:
        return ()
    return (
        panel_conductors(amps, of.heating_a, c.full_load_a, c.id, laid(c, "NEC")),
        panel_device(rating_a(c.device), of.largest_branch_a, of.heating_a, 0.0, c.id),
        panel_short_circuit(of.rating_ka, fault, True, c.id, c.path),
    )


def _holding_a(c: Circuit) -> float | None:
    """The smallest breaker that surely holds its hardest start; infinite where none that is printed
    does, None where the start is not known."""
    amps, seconds = number(c.starting_current_a), c.starting_s
    if amps is None or seconds is None:
        return None
    for rating in BREAKERS_NEC_A:
        try:
            if surely_carries_a(Device("breaker", rating), seconds) >= amps:
                return rating
        except TableEnds:
            break
    return math.inf


def _carries_a(c: Circuit) -> float | None:
    """What its breaker surely carries for as long as its hardest start takes; None where no trip
    times of it are at hand."""
    if c.device is None or c.device.kind != "breaker" or c.starting_s is None:
        return None
    try:
        return surely_carries_a(c.device, c.starting_s)
    except TableEnds:
        return None


def _transformer(c: Circuit, i: Installation) -> tuple[Ruling, ...]:
    """Of what stands ahead of a transformer, and of what stands behind one."""
    end, source, device = at_end(c, i), by_id(c.source, i), rating_a(c.device)
    said: tuple[Ruling, ...] = ()
    if source is not None and source.kind == TRANSFORMER:
        said = (secondary_device(device, source.output_current_a, c.id),)
    if end is None or end.kind != TRANSFORMER:
        return said
    rated = _input_a(c, end)
    if not end.autotransformer:
        return (*said, primary_device(device, rated, c.id, with_secondary=True))
    from_v, to_v = end.input_voltage_v or i.line_voltage_v, end.output_voltage_v or 0.0
    several = sum(each.source == end.id for each in i.circuits) > 1
    branch = autotransformer_feeder if several else autotransformer_branch
    return (
        *said, autotransformer_device(device, rated, c.id),
        branch(True, end.grounded_through, from_v, to_v, c.id),
    )  # fmt: skip


def _equipment(c: Circuit, i: Installation) -> tuple[Ruling, ...]:
    end, amps, device = at_end(c, i), number(c.ampacity_a), rating_a(c.device)
    rated = None if c.isolator is None else c.isolator.rating_a
    drive = _input_a(c, end) if c.role in ("supply_to_drive", "transformer_to_drive") else None
    converter = _input_a(c, end) if c.role == "supply_to_converter" else None
    fixed = None if converter is None else c.fixed_loads_a
    hangs = hangs_on_generated(c, i)
    machine = hangs and c.role == "converter_to_machine"
    return (
        loads_wait(hangs, c.phase_relay is not None, c.id),
        loads_drop_out(machine, c.undervoltage_release, c.id),
        drive_supply_conductors(amps, drive, c.id),
        motor_overcurrent(
            device, drive, "inverse_time" if c.device is None else kind_of(c.device), c.id
        ),
        drive_disconnect(rated, drive, c.id),
        converter_conductors(amps, converter, c.id, fixed, laid=laid(c, "NEC")),
        converter_overcurrent(device, converter, c.id),
        fixed_loads_device(device, amps, _by_loads(amps, converter, fixed), c.id),
        converter_disconnect(rated, converter, c.id, fixed),
        *(_horsepower(c, i) if c.role == "supply_to_converter" else ()),
    )


def _by_loads(
    ampacity_a: float | None, input_a: float | None, fixed_a: tuple[float, ...] | None
) -> bool:
    """Whether a converter's conductors are thinner than its plate alone would ask for."""
    if ampacity_a is None or input_a is None or fixed_a is None:
        return False
    return ampacity_a < variable_loads(input_a).conductor_a * (1.0 - 1e-9)


def _horsepower(c: Circuit, i: Installation) -> tuple[Ruling, ...]:
    """Of a converter's disconnect that is marked in horsepower; what it must open is that of the
    largest motor behind it by the code's table, and the full-load amps of the others."""
    marked = None if c.isolator is None else c.isolator.power_w
    behind = sorted(
        (each.motor.power_w, each.full_load_a[0], each.voltage_v)
        for each in i.circuits
        if each.source == c.equipment and each.motor and each.motor.power_w
        and each.full_load_a and each.voltage_v
    )  # fmt: skip
    if marked is None or c.voltage_v is None or not behind:
        return ()
    watts, _, volts = behind[-1]
    opens, locked = _locked_a(marked, c.voltage_v, 1), _locked_a(watts, volts, 3)
    others = sum(amps for _, amps, _ in behind[:-1])
    return (horsepower_disconnect(opens, locked, others, c.id),)


def _locked_a(power_w: float, voltage_v: float, phases: int) -> float | None:
    """Locked-rotor amps by the code's table 430.251; None of a power that it does not list."""
    try:
        return greatest_locked_current_a(_hp(power_w), voltage_v, phases)
    except TableEnds:
        return None


def _hp(power_w: float) -> float:
    return round(power_w / W_PER_HP, 2)


def _input_a(c: Circuit, end: Equipment | None) -> float | None:
    if c.nameplate_input_a is not None or end is None:
        return c.nameplate_input_a
    return end.nameplate_input_a


def _fused(c: Circuit) -> bool | None:
    """Whether capacitors have a device of their own, as told or as planned."""
    return True if c.fused is None and c.device is not None else c.fused


def _capacitors(c: Circuit, i: Installation) -> tuple[Ruling, ...]:
    amps, behind = capacitor_a(c, i.frequency_hz), c.behind_overload
    branch = c.role == "capacitor_branch"
    return (
        capacitors_ahead_of_overload(behind is not None, not behind, c.id),
        capacitor_device(_fused(c) if branch else None, bool(behind), c.id),
        discharged_in_a_minute(c.voltage_v, c.capacitance_f, c.discharge_ohm, c.id),
        capacitor_conductors(number(c.ampacity_a), amps, c.id, laid=laid(c, "NEC")),
        capacitor_disconnect(None if c.isolator is None else c.isolator.rating_a, amps, c.id),
    )
