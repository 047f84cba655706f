"""What the shop file tells of a plan's circuits as they stand, and a circuit with it in its place.

Each key goes to the circuit that has such a thing: a breaker to where one stands, an overload
setting to where the relay is, a socket to a circuit with a socket.
"""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Literal

from phasewright.circuits.cables import Size
from phasewright.circuits.installation import (
    Device,
    Isolator,
    MotorServed,
    ProtectiveConductor,
    ResidualCurrentDevice,
    Socket,
)
from phasewright.circuits.standing import NOTHING, Standing
from phasewright.plan.circuit_fittings import pattern_of
from phasewright.plan.circuit_jobs import Job
from phasewright.plan.circuit_runs import Run, run_along, run_to, usual_run
from phasewright.plan.circuit_study import PlanCircuit
from phasewright.quantities.codes import EarthWire
from phasewright.quantities.units import format as printed
from phasewright.quantities.value import Value
from phasewright.shop.machine import Machine, motor_id
from phasewright.shop.model import Shop
from phasewright.shop.standing import CircuitThere, IsolatorThere, ResidualCurrent, SocketThere

CONVERTER = "supply.converter_circuit"
USUAL_RESIDUAL_MA = 30.0


def of_machine(shop: Shop, machine: Machine) -> Standing:
    """Of the circuit to a machine. One of several motors has a circuit to each: it is none of
    them alone, so nothing of it is used."""
    at = f"machines[{[each.name for each in shop.machines].index(machine.name)}]"
    if len(machine.motors) != 1:
        return NOTHING
    lies = None if machine.cable is None else machine.cable.conductor
    return _standing(machine.circuit, lies, f"{at}.circuit", f"{at}.cable.conductor")


def of_converter(shop: Shop) -> Standing:
    """Of the circuit to what makes three phases, and of what is in that."""
    told = shop.supply.converter_circuit
    lies = None if told is None or told.cable is None else told.cable.conductor
    return _standing(told, lies, CONVERTER, f"{CONVERTER}.cable.conductor")


def run_there(shop: Shop, machine: Machine) -> Run:
    """The cable to a machine, with what else stands there of its circuit."""
    return replace(run_to(shop, machine), standing=of_machine(shop, machine))


def run_to_motor(shop: Shop, id: str, length: Value) -> Run:
    """The lead from a drive to a motor, with the conductor that lies there."""
    for path, of, motor in shop.each_motor():
        if motor_id(of, motor) == id and motor.lead_conductor is not None:
            lies = motor.lead_conductor
            there = Standing(conductor=lies, paths={"conductor": f"{path}.lead_conductor"})
            return Run(length, conductor_m2=lies.number, standing=there)
    return Run(length)


def run_to_converter(shop: Shop) -> Run:
    """The cable to what makes three phases, with what else stands there of its circuit."""
    told = shop.supply.converter_circuit
    usual = usual_run("beside")
    if told is None:
        return usual
    run = usual if told.cable is None else run_along(told.cable, f"{CONVERTER}.cable")
    length = usual.length if told.cable is None or told.cable.length is None else run.length
    return replace(run, length=length, standing=of_converter(shop))


def cord_of(job: Job) -> Run:
    """A cord, with what stands there of the machine at its end."""
    return replace(usual_run("cord"), standing=job.run.standing)


def _standing(told: CircuitThere | None, lies: Value | None, at: str, cable: str) -> Standing:
    names = [each.name for each in fields(Standing) if each.name not in ("conductor", "paths")]
    facts = {name: getattr(told, name) for name in names if hasattr(told, name)}
    paths = {name: f"{at}.{name}" for name in names} | {"conductor": cable}
    return Standing(**facts, conductor=lies, paths=paths)


def only(of: Standing, *keys: str) -> Standing:
    """The same with these keys alone."""
    return Standing(paths=of.paths, **{key: getattr(of, key) for key in keys})


def without(of: Standing, keys: set[str]) -> Standing:
    """The same as if these keys had not been told."""
    return only(of, *(key for key in of.told if key not in keys))


def both(first: Standing, then: Standing) -> Standing:
    """What either of two tells; they have no key in common."""
    keys = {key: getattr(then, key) for key in then.told}
    paths = {**first.paths, **{key: then.paths[key] for key in keys}}
    return replace(first, paths=paths, **keys)


def told_of(job: Job) -> Standing:
    """What is told of a circuit, as far as it has such a thing at all."""
    has = {
        "breaker": job.own_device, "breaking": job.own_device,
        "residual_current": job.own_device,
        "conductor": job.own_device or job.role == "drive_to_motor",
        "protective_conductor": job.own_device, "earth_wire": job.own_device,
        "socket": job.socket, "isolator": job.isolator,
        "overload_units": job.overload is not None and job.motor is not None,
        "capacitors_behind_overload": job.behind_overload is not None,
        "capacitor_fuses": job.capacitance is not None,
        "overload": job.overload is not None, "undervoltage_release": job.release,
        "phase_relay": job.relay is not None, "discharge_resistor": job.capacitance is not None,
    }  # fmt: skip
    of = job.run.standing
    return only(of, *(key for key in of.told if has[key]))


def size_of(area: Value | None, region: str) -> Size | None:
    """A told area as a conductor with its name in the trade."""
    if area is None:
        return None
    return Size(printed(area.number, "area", region=region), area.number)


def residual_there(
    job: Job, of: Standing, chosen: ResidualCurrentDevice | None
) -> ResidualCurrentDevice | None:
    """The device that covers a circuit as it stands: its own, or with none the one ahead of it."""
    told = of.residual_current
    covered = chosen is not None and chosen.at is not None
    if told is None or (isinstance(told, str) and covered):
        return chosen
    leak = job.leakage_ma or None
    if isinstance(told, str):
        ahead = None if job.tap is None or job.isolates else job.tap.ground.upstream
        if ahead is None:
            return None
        return ResidualCurrentDevice(ahead.rating_ma, ahead.type or "AC", leak, upstream=True)
    return _own(told, chosen, job, leak)


def _own(
    told: ResidualCurrent, chosen: ResidualCurrentDevice | None, job: Job, leak: float | None
) -> ResidualCurrentDevice:
    """Where a rating or a type is not told, the one that would be chosen."""
    usual = USUAL_RESIDUAL_MA if chosen is None else chosen.rating_ma
    rating = usual if told.rating is None else 1000.0 * told.rating.number
    return ResidualCurrentDevice(rating, told.type or job.residual_type, leak)


def fitted(circuit: PlanCircuit, job: Job, of: Standing) -> PlanCircuit:
    """The circuit with what is told of its fittings, and with the names of what is there."""
    if not of.told:
        return circuit
    return replace(
        circuit,
        device=_device(circuit.device, of),
        socket=_socket(circuit.socket, of.socket),
        isolator=_isolator(circuit.isolator, of.isolator),
        overload_setting_a=_overload(circuit.overload_setting_a, of.overload),
        undervoltage_release=circuit.undervoltage_release
        if of.undervoltage_release is None else of.undervoltage_release,
        phase_relay=None if of.phase_relay is False else circuit.phase_relay,
        discharge_ohm=_resistor(circuit.discharge_ohm, of.discharge_resistor),
        protective_conductor=_earth(circuit.protective_conductor, of.earth_wire),
        motor=_motor(circuit.motor, of.overload_units),
        behind_overload=circuit.behind_overload
        if of.capacitors_behind_overload is None else of.capacitors_behind_overload,
        fused=of.capacitor_fuses,
        there=of.told,
    )  # fmt: skip


def _earth(
    chosen: ProtectiveConductor | None, told: EarthWire | None
) -> ProtectiveConductor | None:
    if chosen is None or told is None:
        return chosen
    return replace(chosen, separate=told != "in_cable", guarded=told == "in_pipe")


def _motor(chosen: MotorServed | None, units: int | None) -> MotorServed | None:
    return chosen if chosen is None or units is None else replace(chosen, overload_units=units)


def _device(device: Device | None, of: Standing) -> Device | None:
    if device is None or of.breaking is None:
        return device
    return replace(device, breaking_ka=of.breaking.number / 1000.0)


def _socket(chosen: Socket | None, told: SocketThere | None) -> Socket | None:
    if chosen is None or told is None:
        return chosen
    poles = told.poles or chosen.poles
    volts = chosen.voltage_v if told.voltage is None else told.voltage.number
    rating = chosen.rating_a if told.rating is None else told.rating.number
    if told.poles is None and told.voltage is None:
        return replace(chosen, rating_a=rating)
    return Socket(rating, pattern_of(three=poles > 2, volts=volts), poles, volts)


def _isolator(
    chosen: Isolator | None, told: IsolatorThere | Literal["none"] | None
) -> Isolator | None:
    if isinstance(told, str):
        return None
    if chosen is None or told is None:
        return chosen
    return replace(
        chosen,
        rating_a=chosen.rating_a if told.rating is None else told.rating.number,
        poles=told.poles or chosen.poles,
        lockable=chosen.lockable if told.lockable is None else told.lockable,
        power_w=None if told.power is None else told.power.number,
    )


def _overload(chosen: Value | None, told: Value | Literal["none"] | None) -> Value | None:
    if isinstance(told, str):
        return None
    return told or chosen


def _resistor(chosen: Value | None, told: Value | Literal["none"] | None) -> Value | None:
    if isinstance(told, str):
        return None
    return chosen if told is None or chosen is None else told
