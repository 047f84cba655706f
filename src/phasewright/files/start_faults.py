"""Facts of a network file that do not agree with one another, each told at its path."""

from __future__ import annotations

from collections.abc import Iterator

from phasewright.files.start_shape import (
    MOST_MACHINES,
    DropOutShape,
    MachineShape,
    NetworkShape,
)
from phasewright.quantities.text import listed, nearest
from phasewright.shop.faults import Fault
from phasewright.starts.course import Course
from phasewright.starts.layout import HEAD, PER_MACHINE

MOST_STEPS = 50_000_000
MOST_FIGURES = 40_000_000
"""Steps of a run, and figures of its record at a hundred rows a cycle: what a computer bears."""
ROWS_A_CYCLE = 100
_NEEDS = {"speed": "speed_ratio", "time": "time_s", "volts": "line_voltage_v"}


def faults_of(shape: NetworkShape, course: Course) -> Iterator[Fault]:
    """Every disagreement of a network file; `course` is what it asks for."""
    names = [machine.id for machine in shape.machines]
    if not 1 <= len(names) <= MOST_MACHINES:
        yield Fault("machines", f"a list of {len(names)}", f"1 to {MOST_MACHINES} machines")
    for at, machine in enumerate(shape.machines):
        path = f"machines[{at}]"
        if machine.id in names[:at]:
            found = f"the id '{machine.id}' stands at a machine before"
            yield Fault(f"{path}.id", found, "every machine has an id of its own")
        yield from _machine(machine, path, course.starters[at].machine.circuit.rated_flux_vs)
        waits = at > 0 and shape.machines[at - 1].closes_s in ("when_settled", "with_the_last")
        if machine.closes_s == "with_the_last" and not waits:
            allowed = "only after a machine that closes 'when_settled'"
            yield Fault(f"{path}.closes_s", "'with_the_last'", allowed, also=("machines",))
    yield from _size(shape)
    yield from _source(shape)
    if shape.start_branch is not None:
        yield from _drop_out(shape.start_branch.drop_out, names)
    for at, step in enumerate(shape.load_steps):
        if step.machine not in names:
            yield _unknown(f"load_steps[{at}].machine", step.machine, names)


def _machine(machine: MachineShape, path: str, flux_vs: float) -> Iterator[Fault]:
    circuit = machine.equivalent_circuit
    if machine.poles % 2:
        yield Fault(f"{path}.poles", f"{machine.poles}", "an even number")
    synchronous = 120.0 * circuit.frequency_hz / machine.poles
    if machine.rated_speed_rpm >= synchronous:
        yield Fault(
            f"{path}.rated_speed_rpm", f"{machine.rated_speed_rpm:g}",
            f"below the synchronous speed, {synchronous:g} rpm with these poles",
            also=(f"{path}.poles", f"{path}.equivalent_circuit.frequency_hz"),
        )  # fmt: skip
    if not 1 <= len(circuit.cages) <= 2:
        found = f"a list of {len(circuit.cages)}"
        yield Fault(f"{path}.equivalent_circuit.cages", found, "one or two cages")
    given = None if circuit.saturation is None else circuit.saturation.flux_vs
    if given is not None and abs(given / flux_vs - 1.0) > 1e-3:
        yield Fault(
            f"{path}.equivalent_circuit.saturation.flux_vs", f"{given:g}",
            f"{flux_vs:.6g}, which follows from volts, frequency and reactances",
            "leave it out",
            also=(f"{path}.line_voltage_v", f"{path}.equivalent_circuit"),
        )  # fmt: skip
    closes, opens = machine.closes_s, machine.opens_s
    if isinstance(closes, float) and isinstance(opens, float) and opens <= closes:
        allowed = "later than closes_s; 'never' keeps it closed"
        yield Fault(f"{path}.opens_s", f"{opens:g}", allowed, also=(f"{path}.closes_s",))


def _size(shape: NetworkShape) -> Iterator[Fault]:
    if shape.steps_per_cycle % 2:
        yield Fault("steps_per_cycle", f"{shape.steps_per_cycle}", "an even number")
    cycles = shape.seconds * shape.source.frequency_hz
    also = ("steps_per_cycle", "source.frequency_hz", "machines")
    if (steps := cycles * shape.steps_per_cycle) > MOST_STEPS:
        allowed = f"at most {MOST_STEPS:,} steps in all"
        yield Fault("seconds", f"{steps:,.0f} steps", allowed, "run fewer seconds", also)
    figures = cycles * ROWS_A_CYCLE * (HEAD + PER_MACHINE * len(shape.machines))
    if figures > MOST_FIGURES:
        allowed = f"at most {MOST_FIGURES:,} figures in start.csv"
        yield Fault("seconds", f"{figures:,.0f} figures", allowed, "run fewer seconds", also)


def _source(shape: NetworkShape) -> Iterator[Fault]:
    lost, returns = shape.source.lost_s, shape.source.returns_s
    if isinstance(returns, float) and (lost == "never" or returns <= float(lost)):
        allowed = "later than lost_s; 'never' where it does not come back"
        yield Fault("source.returns_s", f"{returns:g}", allowed, also=("source.lost_s",))
    if shape.source.lines == 3:
        allowed, also = "only with a source of two lines", ("source.lines",)
        if isinstance(lost, float):
            yield Fault("source.lost_s", f"{lost:g}", allowed, also=also)
        if shape.start_resistor is not None:
            yield Fault("start_resistor", "stands here", allowed, "take it out", also)


def _drop_out(out: DropOutShape, names: list[str]) -> Iterator[Fault]:
    path = "start_branch.drop_out"
    asked = _NEEDS.get(out.rule)
    for rule, key in _NEEDS.items():
        given = getattr(out, key) is not None
        if key == asked and not given:
            allowed = f"must be there with the rule '{rule}'"
            yield Fault(f"{path}.{key}", "is missing", allowed, also=(f"{path}.rule",))
        if key != asked and given:
            allowed = f"only with the rule '{rule}'"
            yield Fault(f"{path}.{key}", "stands here", allowed, "take it out", (f"{path}.rule",))
    if out.rule != "speed" and out.machine is not None:
        allowed = "only with the rule 'speed'"
        yield Fault(f"{path}.machine", "stands here", allowed, "take it out", (f"{path}.rule",))
    if out.rule == "speed" and out.machine not in names:
        yield _unknown(f"{path}.machine", out.machine or "", names)


def _unknown(path: str, name: str, names: list[str]) -> Fault:
    like = nearest(name, names)
    remedy = f"did you mean '{like}'?" if like else ""
    allowed = f"the id of a machine: {listed(names)}" if names else "the id of a machine"
    return Fault(path, f"'{name[:60]}' is not there", allowed, remedy, ("machines",))
