"""What a plan's circuits and purchases ask of its wiring, made without looking at the wiring."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

from phasewright.papers.wiring.circuits import unit_of
from phasewright.papers.wiring.job import Job
from phasewright.papers.wiring.model import DeviceKind, Wanted
from phasewright.papers.wiring.origin import own_residual
from phasewright.plan.circuit_study import PlanCircuit
from phasewright.ways.figures import Buy

DEVICES: dict[str, DeviceKind] = {
    "idler_motor": "idler", "run_capacitor": "run_capacitor",
    "run_capacitor_600": "run_capacitor", "start_capacitor": "start_capacitor",
    "bleeder": "discharge_resistor", "contactor": "contactor", "overload_relay": "overload_relay",
    "drop_out_relay": "drop_out_relay", "phase_sequence_relay": "phase_sequence_relay",
    "start_resistor": "start_resistor", "pony_motor": "pony_motor",
    "rotary_converter": "converter", "static_converter": "converter", "capacitor_run": "converter",
    "electronic_converter": "electronic_source", "battery_inverter": "electronic_source",
    "battery": "battery", "generator": "generator", "generator_used": "generator",
    "generator_hire_day": "generator", "drive_per_motor": "drive", "step_up_drive": "drive",
    "three_phase_input_drive": "drive", "ac_choke": "choke", "dc_choke": "choke",
    "output_choke": "output_filter", "sine_filter": "output_filter",
    "brake_resistor": "brake_resistor", "isolator": "isolator",
    "isolating_transformer": "power_transformer", "transformer": "power_transformer",
    "breaker_two_pole": "breaker", "residual_current_a": "residual_current_device",
    "residual_current_f": "residual_current_device",
    "residual_current_b": "residual_current_device", "motor_swap": "motor",
    "motor_swap_three_phase": "motor",
}  # fmt: skip
"""By kind of part, as which device it stands in the wiring."""
WITHOUT = frozenset((
    "undervoltage_release", "converter_box", "dust_box", "shared_place", "motor_mounting",
    "star_point_out", "rewind", "utility_service", "forced_fan", "cable", "cable_armoured",
))  # fmt: skip
"""Parts that are no device of their own: a property of a contactor, boxes, work, wires."""
WHOLE = ("rotary_converter",)
"""Boxes whose inside is their maker's: what else is bought with one is in it."""
BESIDE = frozenset((*WHOLE, "phase_sequence_relay"))


def wanted(job: Job, units: Mapping[str, str], unwired: frozenset[str]) -> tuple[Wanted, ...]:
    """Everything the plan asks for, of its purchases of today and of its circuits."""
    return (*_bought(job, unwired), *_of_circuits(job, units, unwired))


def _bought(job: Job, unwired: frozenset[str]) -> Iterator[Wanted]:
    count: Counter[DeviceKind] = Counter()
    names: dict[DeviceKind, list[str]] = {}
    for buy in job.plan.buys:
        if buy.year != 0 or set(buy.serves) <= unwired:
            continue
        for kind, number in _parts(buy):
            count[DEVICES[kind]] += number
            names.setdefault(DEVICES[kind], []).append(f"{number} {kind.replace('_', ' ')}")
    for device, number in count.items():
        yield Wanted(device, "", number, f"{', '.join(names[device])} in its price")


def _parts(buy: Buy) -> Iterator[tuple[str, int]]:
    whole = any(part.kind in WHOLE for part in buy.parts)
    for part in buy.parts:
        if part.kind in DEVICES and (not whole or part.kind in BESIDE):
            yield part.kind, part.quantity


def _of_circuits(job: Job, units: Mapping[str, str], unwired: frozenset[str]) -> Iterator[Wanted]:
    count: Counter[tuple[DeviceKind, str]] = Counter()
    names: dict[tuple[DeviceKind, str], list[str]] = {}
    for circuit in job.plan.circuits or ():
        if circuit.to in unwired:
            continue
        for kind, at in _asked(circuit):
            unit = unit_of(circuit, job.plan, units, at)
            if unit is not None:
                count[kind, unit] += 1
                names.setdefault((kind, unit), []).append(circuit.id)
    for (kind, unit), number in count.items():
        said = f"{kind.replace('_', ' ')} in the circuits {', '.join(names[kind, unit])}"
        yield Wanted(kind, unit, 1 if kind == "phase_sequence_relay" else number, said)


def _asked(circuit: PlanCircuit) -> Iterator[tuple[DeviceKind, str]]:
    """The devices of a circuit, and at which of its ends each stands."""
    if circuit.device is not None:
        yield "breaker", "to"
    if own_residual(circuit) is not None:
        yield "residual_current_device", "to"
    if circuit.isolator is not None:
        yield "isolator", "to"
    if circuit.socket is not None:
        yield "plug_and_socket", "to"
    if circuit.phase_relay is not None:
        yield "phase_sequence_relay", "from"
