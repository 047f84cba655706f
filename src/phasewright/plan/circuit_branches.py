"""Circuits inside: the capacitors of a converter or a motor, and each machine's own controls."""

from __future__ import annotations

import math
from dataclasses import replace

from phasewright.circuits.devices import Start
from phasewright.plan.circuit_fittings import discharge_ohm
from phasewright.plan.circuit_jobs import Job
from phasewright.plan.circuit_plan import ALONE, PlanContext
from phasewright.plan.circuit_runs import run_to, usual_run
from phasewright.plan.circuit_single import supply_name
from phasewright.plan.circuit_told import of_converter, of_machine, only
from phasewright.plan.study import PlanMotor
from phasewright.plan.units import Unit
from phasewright.quantities.codes import ON_A_DRIVE
from phasewright.quantities.value import Value, figure
from phasewright.tables.circuits import (
    capacitor_circuit,
    control_pull_in,
    control_va,
    start_s,
)
from phasewright.tables.winding_heat import capacitor_starts_an_hour
from phasewright.ways.consumers import fed_from_two_lines
from phasewright.ways.figures import RunCapacitance

HOUR_S = 3600.0


def branches(of: PlanContext) -> tuple[Job, ...]:
    """Every capacitor branch, one control circuit for every machine that has contactors, and what
    else hangs on machines that are there."""
    return (*_of_converter(of), *_of_motors(of), *_controls(of), *_consumers(of))


def _of_converter(of: PlanContext) -> list[Job]:
    on = of.on
    if on is None or on.design is None or not of.hung():
        return []
    found: list[Job | None] = []
    told = only(of_converter(of.choice.facts.shop), "discharge_resistor", "capacitor_fuses")
    there = replace(usual_run("inside"), standing=told)
    run = on.figures.run_capacitance_f
    volts = on.design.idle.line_voltages_v
    if isinstance(run, RunCapacitance):
        for pair, capacitance, v in zip(("1-2", "2-3", "3-1"), (run.c12, run.c23, run.c31), volts,
                                        strict=True):  # fmt: skip
            job = _branch(of, on.name, f"run capacitor {pair}", on.place, capacitance, v)
            found.append(None if job is None else replace(job, run=there))
        found = _one_resistor([job for job in found if job is not None])
    start = on.figures.start_capacitance_f
    if start is not None:
        found.append(_branch(of, on.name, "start capacitor", on.place, start, volts[2]))
    for motor in of.hung():
        for own in motor.figures.travelling_capacitance_f or ():
            unit = of.unit(motor.motor)
            for pair, capacitance, v in (("2-3", own.c23, volts[1]), ("3-1", own.c31, volts[2])):
                name = f"run capacitor {pair} of {own.motor}"
                found.append(_of_motor(of, _branch(of, on.name, name, unit.place, capacitance, v,
                                                   motors=True), unit))  # fmt: skip
    return [job for job in found if job is not None]


def _of_motor(of: PlanContext, job: Job | None, unit: Unit) -> Job | None:
    """The same, with where such capacitors hang today."""
    if job is None:
        return None
    told = only(of_machine(of.choice.facts.shop, unit.task.machine), "capacitors_behind_overload")
    return replace(job, run=replace(job.run, standing=told))


def _one_resistor(jobs: list[Job]) -> list[Job | None]:
    """Run capacitors with the resistor that is small enough for each of them."""
    ohms = [
        discharge_ohm(job.capacitance, job.voltage_v).number
        for job in jobs
        if job.capacitance is not None
    ]
    return [replace(job, resistor_ohm=min(ohms, default=None)) for job in jobs]


def _of_motors(of: PlanContext) -> list[Job]:
    """Capacitors of a motor that makes its own third line."""
    found = []
    for motor in of.side.motors:
        if motor.way not in ALONE:
            continue
        unit = of.unit(motor.motor)
        place = unit.place
        run, start = motor.figures.run_capacitance_f, motor.figures.start_capacitance_f
        volts = motor.figures.capacitor_voltage_v
        supply_v = of.tap(place).site.source.voltage_v
        v = supply_v if volts is None else volts.number
        for capacitance, name in ((run, "run capacitor"), (start, "start capacitor")):
            if isinstance(capacitance, Value):
                job = _branch(of, motor.motor, f"{name} of {motor.motor}", place, capacitance, v,
                              motors=True)  # fmt: skip
                found.append(_of_motor(of, job, unit))
    return [job for job in found if job is not None]


def _branch(
    of: PlanContext, source: str, to: str, place: str, capacitance: Value, volts: float, *,
    motors: bool = False,
) -> Job | None:  # fmt: skip
    """One capacitor with its leads: they carry more than its current, for volts have harmonics.

    `motors`: it goes with one motor, and is taken off ahead of that motor's overload relay.
    """
    if not capacitance.number > 0.0:
        return None
    hertz = of.choice.facts.site.source.frequency_hz
    amps = 2.0 * math.pi * hertz * capacitance.number * volts
    inputs = {"capacitance": (capacitance.number, "F"), "volts": (volts, "V"),
              "frequency": (hertz, "Hz")}  # fmt: skip
    starts: tuple[Start, ...] = ()
    words = "I = w C V"
    if to.startswith("start"):
        on_s = start_s() * capacitor_starts_an_hour(start_s())
        starts = (Start(amps, start_s(), math.sqrt(2.0) * amps),)
        amps *= math.sqrt(on_s / HOUR_S)
        inputs["on in an hour"] = (on_s, "s")
        words += ", rms over an hour of as many starts as such capacitors bear"
    return Job(
        role="capacitor_branch", source=source, to=to, lines="1-2", place=place, kind="other",
        voltage_v=volts,
        design=figure(amps, "A", "plan.circuit_branches.branches", inputs, words),
        run=usual_run("inside"), tap=None, region=of.region, code_a=amps,
        own_device=False, isolator=False, more_least=capacitor_circuit("conductor"),
        capacitance=capacitance, starts=starts, sources=("nec",),
        behind_overload=False if motors else None,
    )  # fmt: skip


def _controls(of: PlanContext) -> list[Job]:
    """One control circuit a machine, from lines 1 and 2."""
    machines: dict[str, PlanMotor] = {}
    for motor in of.side.motors:
        unit = of.unit(motor.motor)
        if motor.way is None or motor.way in ON_A_DRIVE or motor.figures.drive_rating_a:
            continue
        if motor.figures.input_current_a is not None or motor.overload_setting_a is not None:
            machines.setdefault(unit.machine, motor)
    return [_control(of, name, motor) for name, motor in machines.items()]


def _control(of: PlanContext, machine: str, motor: PlanMotor) -> Job:
    place = of.unit(motor.motor).place
    tap = of.tap(place)
    volts = tap.site.source.voltage_v
    held = control_va()
    pull_in_va, seconds = control_pull_in()
    rush = pull_in_va / volts
    return Job(
        role="control", source=supply_name(place), to=f"{machine} controls", lines="control",
        place=place, kind="other", voltage_v=volts,
        design=figure(
            held.number / volts, "A", "tables.circuits.control_va",
            {"volt-amperes": (held.number, "VA"), "volts": (volts, "V")}, held.source,
            low=held.low / volts, high=held.high / volts,
        ),
        run=run_to(of.choice.facts.shop, of.unit(motor.motor).task.machine, conductor=False),
        tap=tap, region=of.region, isolator=False,
        starts=(Start(rush, seconds, math.sqrt(2.0) * rush),),
        ambient_c=tap.site.surroundings.ambient_c,
    )  # fmt: skip


def _consumers(of: PlanContext) -> list[Job]:
    """Heaters, lamps and their like, each on lines 1 and 2 of its place, as far as its amps are
    known."""
    found = []
    shop = of.choice.facts.shop
    for machine in shop.machines:
        if machine.have != "owned":
            continue
        tap = of.tap(machine.place)
        for number, other in enumerate(machine.others):
            name = f"{machine.name}/{other.kind} {number + 1}"
            amps = fed_from_two_lines(other, name, "", shop.supply.voltage.number).current_a
            if amps is None:
                continue
            found.append(
                Job(
                    role="supply_to_machine", source=supply_name(machine.place), to=name,
                    lines="1-2", place=machine.place, kind="other",
                    voltage_v=tap.site.source.voltage_v, design=amps,
                    run=run_to(shop, machine, conductor=False), tap=tap, region=of.region,
                    socket=other.kind == "socket" or machine.connects_by == "plug",
                    ambient_c=tap.site.surroundings.ambient_c,
                )
            )  # fmt: skip
    return found
