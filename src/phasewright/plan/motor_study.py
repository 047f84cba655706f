"""What the result file holds of a motor itself: its circuit, its torques, its two speeds."""

from __future__ import annotations

from dataclasses import dataclass, field

from phasewright.machines.circuit import Circuit
from phasewright.machines.motor import Motor
from phasewright.machines.two_speed import DriveFeed, Speed, SpeedName, SpeedWinding
from phasewright.quantities.codes import Connection
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value, exact, figure


@dataclass(frozen=True, slots=True)
class SaturationSide:
    """Main-flux law; `flux_vs` is the peak air-gap flux linkage at u = 1."""

    k: float
    s: float
    flux_vs: float


@dataclass(frozen=True, slots=True)
class CageSide:
    """One cage of the rotor, referred to the stator."""

    resistance_ohm: float
    leakage_ohm: float


@dataclass(frozen=True, slots=True)
class CircuitSide:
    """Equivalent circuit, star equivalent per phase, reactances at `frequency_hz`."""

    frequency_hz: float
    stator_resistance_ohm: float
    stator_leakage_ohm: float
    magnetising_ohm: float
    saturation: SaturationSide | None = field(metadata={"null": "a linear magnetising branch"})
    core_loss_ohm: float
    cages: tuple[CageSide, ...]
    friction_w: float
    stray_w: float
    inertia_kg_m2: float


@dataclass(frozen=True, slots=True)
class Torque:
    """Shaft torque rated, air-gap torques at standstill and at breakdown."""

    rated_nm: Value
    locked_nm: Value
    breakdown_nm: Value


@dataclass(frozen=True, slots=True)
class DriveFeedSide:
    """A drive on one speed's winding alone; see the machines' own `DriveFeed`."""

    output_voltage_v: Value
    base_frequency_hz: Value
    breakdown_left: Value
    own_speed_torque: Value
    other_speed_hz: Value
    other_speed_torque: Value
    words: str


@dataclass(frozen=True, slots=True)
class SpeedSide:
    """One speed of a two-speed motor, a motor of its own."""

    name: SpeedName
    winding: SpeedWinding
    words: str
    connection: Connection
    line_voltage_v: Value
    power_w: Value
    speed_rpm: Value
    poles: int
    synchronous_speed_rpm: float
    full_load_current_a: Value
    locked_rotor_current_a: Value
    torque: Torque
    equivalent_circuit: CircuitSide
    reasons: tuple[Reason, ...]
    on_drive: DriveFeedSide | None


def circuit_side(circuit: Circuit) -> CircuitSide:
    """An equivalent circuit as the result file has it."""
    saturation = circuit.saturation
    return CircuitSide(
        frequency_hz=circuit.frequency_hz,
        stator_resistance_ohm=circuit.stator_resistance_ohm,
        stator_leakage_ohm=circuit.stator_leakage_ohm,
        magnetising_ohm=circuit.magnetising_ohm,
        saturation=None
        if saturation is None
        else SaturationSide(saturation.k, saturation.s, circuit.rated_flux_vs),
        core_loss_ohm=circuit.core_loss_ohm,
        cages=tuple(CageSide(cage.resistance_ohm, cage.leakage_ohm) for cage in circuit.cages),
        friction_w=circuit.friction_w,
        stray_w=circuit.stray_w,
        inertia_kg_m2=circuit.inertia_kg_m2,
    )


def speeds_side(motor: Motor) -> tuple[SpeedSide, ...] | None:
    """Both speeds of a two-speed motor, the low one first; None for a motor of one speed."""
    return tuple(_speed(each) for each in motor.speeds) or None


def _speed(of: Speed) -> SpeedSide:
    return SpeedSide(
        name=of.name,
        winding=of.winding,
        words=of.words,
        connection="none" if of.link is None else of.link.connection,
        line_voltage_v=exact(of.line_voltage_v, "V", "plate", "plate"),
        power_w=of.power_w,
        speed_rpm=of.speed_rpm,
        poles=of.poles,
        synchronous_speed_rpm=of.synchronous_speed_rpm,
        full_load_current_a=of.full_load_current_a,
        locked_rotor_current_a=of.locked_rotor_current_a,
        torque=Torque(of.rated_nm, of.locked_nm, of.breakdown_nm),
        equivalent_circuit=circuit_side(of.circuit),
        reasons=of.link_reasons,
        on_drive=None if of.on_drive is None else _feed(of, of.on_drive),
    )


def _feed(of: Speed, feed: DriveFeed) -> DriveFeedSide:
    inputs = {
        "drive volts": (feed.output_voltage_v, "V"),
        "winding volts": (of.line_voltage_v, "V"),
        "plate frequency": (of.circuit.frequency_hz, "Hz"),
    }

    def out(number: float, unit: str) -> Value:
        return figure(
            number, unit, "machines.two_speed_drive.with_drive", inputs,
            "equivalent circuit of this speed at the drive's volts and hertz",
        )  # fmt: skip

    return DriveFeedSide(
        output_voltage_v=out(feed.output_voltage_v, "V"),
        base_frequency_hz=out(feed.base_frequency_hz, "Hz"),
        breakdown_left=out(feed.breakdown_left, ""),
        own_speed_torque=out(feed.own_speed_torque, ""),
        other_speed_hz=out(feed.other_speed_hz, "Hz"),
        other_speed_torque=out(feed.other_speed_torque, ""),
        words=feed.words,
    )
