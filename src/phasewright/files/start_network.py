"""A course as the `network` block of a start file, and a course read back from one, equal to it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from phasewright.files.json_reading import Keyed, Reader, tree_of
from phasewright.files.start_faults import faults_of
from phasewright.files.start_shape import (
    CageShape,
    CapacitorsShape,
    CircuitShape,
    DropOutShape,
    LoadShape,
    LoadStepShape,
    MachineShape,
    NetworkShape,
    ResistiveLoadsShape,
    ResistorShape,
    SaturationShape,
    SourceShape,
    StartBranchShape,
)
from phasewright.files.yaml_tree import load
from phasewright.machines.circuit import Cage, Circuit, Saturation
from phasewright.network.supply import Source
from phasewright.quantities.plain import as_it_is, plain
from phasewright.running.network import Between, Connected, LoadLaw
from phasewright.shop.keys import Either, ListOf, Number, Part, Shape, keys_of
from phasewright.starts.course import (
    FOREVER,
    WHEN_SETTLED,
    WITH_THE_LAST,
    Course,
    Drop,
    LoadStep,
    StartBranch,
    Starter,
    StartResistor,
)

WORDS = {"never": FOREVER, "when_settled": WHEN_SETTLED, "with_the_last": WITH_THE_LAST}
"""Words of the file that stand for an instant of a course."""


def read_network(path: Path) -> Course:
    """The course of a network file, which may also be a whole start file.

    Raises ShopFileError with every mistake in it, also where there is no such file.
    """
    return read_network_text(load(path), str(path))


def read_network_text(text: str, name: str = "network.json") -> Course:
    """The course of a JSON text; `name` stands for the file in mistakes."""
    tree, at = tree_of(text, name), ""
    if isinstance(tree, Keyed) and "network" in tree:
        tree, at = tree["network"], "network"
    reader = Reader(name)
    shape: NetworkShape = reader.part(tree, at, Part(NetworkShape))
    course = course_of(shape)
    reader.judge(faults_of(shape, course), at)
    return course


def network_block(course: Course) -> dict[str, Any]:
    """The block as plain data, every number with all its digits and whole ones where counted."""
    made: dict[str, Any] = _counted(plain(network_of(course), as_it_is), NetworkShape)
    return made


def _counted(tree: dict[str, Any], made_of: type[Any]) -> dict[str, Any]:
    """The tree with a point in every number that is no count, so that bytes repeat."""
    shapes = {name: key.shape for name, key in keys_of(made_of).items()}
    return {name: _pointed(value, shapes[name]) for name, value in tree.items()}


def _pointed(value: Any, shape: Shape) -> Any:
    match shape:
        case Part() if value is not None:
            return _counted(value, shape.made_of)
        case ListOf():
            return [_pointed(item, shape.item) for item in value]
        case Number(whole=False) | Either() if isinstance(value, int):
            return float(value)
    return value


def network_of(course: Course) -> NetworkShape:
    """A course in the names of the file."""
    c, g = course.capacitance_f, course.conductance_s
    resistor = course.resistor
    source = course.source
    return NetworkShape(
        source=SourceShape(
            voltage_v=source.voltage_v,
            frequency_hz=source.frequency_hz,
            resistance_ohm=source.resistance_ohm,
            reactance_ohm=source.reactance_ohm,
            lines=3 if course.three_lines else 2,
            phase_rad=course.phase_rad,
            lost_s=_written(course.lost_s),
            returns_s=_written(course.returns_s),
        ),
        machines=tuple(_machine_shape(starter) for starter in course.starters),
        seconds=course.seconds,
        run_capacitance_f=CapacitorsShape(c.c12, c.c23, c.c31),
        resistive_loads_s=ResistiveLoadsShape(g.c12, g.c23, g.c31),
        start_branch=None if course.start is None else _branch_shape(course.start),
        start_resistor=(
            None if resistor is None else ResistorShape(resistor.ohm, _written(resistor.bypass_s))
        ),
        load_steps=tuple(
            LoadStepShape(step.machine, step.at_s, step.share) for step in course.load_steps
        ),
        steps_per_cycle=course.steps_per_cycle,
        stops_when_settled=course.stops_when_settled,
    )


def course_of(shape: NetworkShape) -> Course:
    """The course a file asks for."""
    c, g, source = shape.run_capacitance_f, shape.resistive_loads_s, shape.source
    resistor = shape.start_resistor
    return Course(
        source=Source(
            source.voltage_v, source.resistance_ohm, source.reactance_ohm, source.frequency_hz
        ),
        capacitance_f=Between(c.c12, c.c23, c.c31),
        starters=tuple(_starter(machine) for machine in shape.machines),
        seconds=shape.seconds,
        three_lines=source.lines == 3,
        start=None if shape.start_branch is None else _branch(shape.start_branch),
        resistor=(
            None if resistor is None else StartResistor(resistor.ohm, _read(resistor.bypass_s))
        ),
        conductance_s=Between(g.g12, g.g23, g.g31),
        load_steps=tuple(LoadStep(of.machine, of.at_s, of.share) for of in shape.load_steps),
        phase_rad=source.phase_rad,
        lost_s=_read(source.lost_s),
        returns_s=_read(source.returns_s),
        steps_per_cycle=shape.steps_per_cycle,
        stops_when_settled=shape.stops_when_settled,
    )  # fmt: skip


def _written(at_s: float) -> Any:
    return next((word for word, instant in WORDS.items() if at_s == instant), at_s)


def _read(at_s: str | float) -> float:
    return WORDS[at_s] if isinstance(at_s, str) else at_s


def _branch_shape(start: StartBranch) -> StartBranchShape:
    drop = start.drop
    return StartBranchShape(
        capacitance_f=start.capacitance_f,
        drop_out=DropOutShape(
            rule=drop.rule,
            speed_ratio=drop.at if drop.rule == "speed" else None,
            machine=drop.of if drop.rule == "speed" else None,
            time_s=drop.at if drop.rule == "time" else None,
            line_voltage_v=drop.at if drop.rule == "volts" else None,
        ),
        resistance_ohm=start.resistance_ohm,
        bleeder_ohm=start.bleeder_ohm,
        joins_s=start.joins_s,
    )


def _branch(shape: StartBranchShape) -> StartBranch:
    out = shape.drop_out
    at = {"speed": out.speed_ratio, "time": out.time_s, "volts": out.line_voltage_v}.get(out.rule)
    return StartBranch(
        capacitance_f=shape.capacitance_f,
        resistance_ohm=shape.resistance_ohm,
        bleeder_ohm=shape.bleeder_ohm,
        drop=Drop(out.rule, at or 0.0, out.machine or ""),
        joins_s=shape.joins_s,
    )


def _machine_shape(starter: Starter) -> MachineShape:
    machine, circuit = starter.machine, starter.machine.circuit
    travelling = starter.travelling_f
    return MachineShape(
        id=machine.name,
        line_voltage_v=circuit.line_voltage_v,
        poles=circuit.poles,
        rated_current_a=circuit.rated_current_a,
        rated_speed_rpm=circuit.rated_speed_rpm,
        equivalent_circuit=_circuit_shape(circuit),
        inertia_kg_m2=starter.inertia_kg_m2,
        load=LoadShape(
            machine.load.kind, machine.load.torque_nm, machine.load.speed_rad_s,
            starter.breakaway_nm,
        ),
        reversed=machine.reversed,
        initial_speed_rad_s=starter.speed_rad_s,
        closes_s=_written(starter.closes_s),
        point_on_wave=starter.point_on_wave,
        opens_s=_written(starter.opens_s),
        travelling_capacitance_f=CapacitorsShape(travelling.c12, travelling.c23, travelling.c31),
        releases_below_v=starter.releases_below_v,
    )  # fmt: skip


def _starter(shape: MachineShape) -> Starter:
    travelling = shape.travelling_capacitance_f
    load = shape.load
    return Starter(
        machine=Connected(
            shape.id, circuit_of(shape), LoadLaw(load.law, load.torque_nm, load.speed_rad_s),
            shape.reversed,
        ),
        inertia_kg_m2=shape.inertia_kg_m2,
        closes_s=_read(shape.closes_s),
        opens_s=_read(shape.opens_s),
        speed_rad_s=shape.initial_speed_rad_s,
        breakaway_nm=load.breakaway_nm,
        point_on_wave=shape.point_on_wave,
        travelling_f=Between(travelling.c12, travelling.c23, travelling.c31),
        releases_below_v=shape.releases_below_v,
    )  # fmt: skip


def _circuit_shape(circuit: Circuit) -> CircuitShape:
    law = circuit.saturation
    return CircuitShape(
        frequency_hz=circuit.frequency_hz,
        stator_resistance_ohm=circuit.stator_resistance_ohm,
        stator_leakage_ohm=circuit.stator_leakage_ohm,
        magnetising_ohm=circuit.magnetising_ohm,
        core_loss_ohm=circuit.core_loss_ohm,
        cages=tuple(CageShape(cage.resistance_ohm, cage.leakage_ohm) for cage in circuit.cages),
        saturation=(None if law is None else SaturationShape(law.k, law.s, circuit.rated_flux_vs)),
        friction_w=circuit.friction_w,
        stray_w=circuit.stray_w,
        inertia_kg_m2=circuit.inertia_kg_m2,
    )


def circuit_of(shape: MachineShape) -> Circuit:
    """The equivalent circuit of a machine of the file."""
    circuit, rotor = shape.equivalent_circuit, shape.equivalent_circuit.inertia_kg_m2
    law = circuit.saturation
    return Circuit(
        line_voltage_v=shape.line_voltage_v,
        frequency_hz=circuit.frequency_hz,
        poles=shape.poles,
        stator_resistance_ohm=circuit.stator_resistance_ohm,
        stator_leakage_ohm=circuit.stator_leakage_ohm,
        magnetising_ohm=circuit.magnetising_ohm,
        saturation=None if law is None else Saturation(law.k, law.s),
        core_loss_ohm=circuit.core_loss_ohm,
        cages=tuple(Cage(cage.resistance_ohm, cage.leakage_ohm) for cage in circuit.cages),
        friction_w=circuit.friction_w,
        stray_w=circuit.stray_w,
        inertia_kg_m2=shape.inertia_kg_m2 if rotor is None else rotor,
        rated_current_a=shape.rated_current_a,
        rated_speed_rpm=shape.rated_speed_rpm,
    )
