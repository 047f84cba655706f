"""Circuits of a motor by itself: to its own drive and on, or straight from the supply."""

from __future__ import annotations

import math
from dataclasses import replace

from phasewright.circuits.devices import Start
from phasewright.circuits.installation import Lines
from phasewright.plan.circuit_jobs import Job, code_amps, motor_start
from phasewright.plan.circuit_motors import motor_served, panel_of, watts
from phasewright.plan.circuit_plan import PlanContext, transformer_name
from phasewright.plan.circuit_runs import usual_run
from phasewright.plan.circuit_sources import transformer_tap
from phasewright.plan.circuit_supply import Tap
from phasewright.plan.circuit_told import cord_of, run_there, run_to_motor
from phasewright.plan.study import PlanMotor
from phasewright.plan.units import Unit
from phasewright.quantities.value import Value, figure
from phasewright.tables.circuits import half_cycle_s
from phasewright.tables.stepping_up import boost_output_v, secondary_volts, transformer
from phasewright.ways.figures import Part
from phasewright.ways.motor_lead import lead_of


def supply_name(place: str) -> str:
    """Where circuits begin: the board at the intake, or that of a place."""
    return f"supply {place}" if place else "supply"


def own_jobs(of: PlanContext) -> tuple[Job, ...]:
    """The circuits of every motor that hangs on nothing shared, in the order of the plan."""
    hung = {each.motor for each in of.hung()}
    return tuple(
        job
        for motor in of.side.motors
        if motor.motor not in hung and motor.way is not None
        for job in _own(of, motor)
    )


def _own(of: PlanContext, motor: PlanMotor) -> tuple[Job, ...]:
    if motor.figures.drive_rating_a is not None:
        return _on_drive(of, motor)
    straight = _straight(of, motor)
    return () if straight is None else straight


def _on_drive(of: PlanContext, motor: PlanMotor) -> tuple[Job, ...]:
    """Supply to drive (through a transformer where the plan buys one), and the motor's leads."""
    taken, name = motor.figures.input_current_a, motor.equipment or f"drive {motor.motor}"
    if taken is None:
        return ()
    unit = of.unit(motor.motor)
    tap = of.tap(unit.place)
    leak = motor.figures.leakage_ma
    plate = _plate_input(motor)
    design = replace(taken.expected, low=taken.low, high=max(taken.high, taken.expected.number))
    plugged = unit.task.machine.connects_by == "plug"
    supply = Job(
        role="supply_to_drive", source=supply_name(unit.place), to=name,
        lines=_lines(tap, three=tap.three_phase), place=unit.place, kind="drive",
        voltage_v=tap.site.source.voltage_v, design=design,
        run=run_there(of.choice.facts.shop, unit.task.machine),
        tap=tap, region=of.region, code_a=plate, nameplate_input_a=plate, equipment=name,
        starts=inrush_of(motor), socket=plugged, residual_type="F", in_series=True,
        leakage_ma=0.0 if leak is None else leak.number,
        ambient_c=tap.site.surroundings.ambient_c,
    )  # fmt: skip
    leads = drive_leads(of, motor, name)
    transformer = of.transformer_of(motor.motor)
    ahead = (supply,) if transformer is None else _through(supply, transformer, motor.motor)
    return (*ahead, *(() if leads is None else (leads,)))


def drive_leads(of: PlanContext, motor: PlanMotor, drive: str) -> Job | None:
    """From a drive to a motor: the drive itself bounds the current; its isolator warns it first."""
    unit, full = of.unit(motor.motor), motor.overload_setting_a
    amps = motor.figures.output_current_a or full
    if amps is None:
        return None
    volts = _driven_v(of, motor, unit)
    design = figure(
        max(amps.number, 0.0 if full is None else full.number), "A",
        "plan.circuit_single.drive_leads",
        {"output": (amps.number, "A"), "plate": (0.0 if full is None else full.number, "A")},
        "what the drive gives at the highest load; never less than the plate",
    )  # fmt: skip
    code = code_amps(watts(unit), volts, 3, of.region)
    return Job(
        role="drive_to_motor", source=drive, to=motor.motor, lines="drive output",
        place=unit.place, kind="motor", voltage_v=volts, design=design,
        run=run_to_motor(
            of.choice.facts.shop, unit.id, lead_of(unit.task.machine, unit.motor)
        ),
        tap=None, region=of.region,
        code_a=code,
        own_device=False, early_break=True, overload=full, in_series=True,
        full_load_a=() if full is None else (code or full.number,),
        motor=motor_served(unit, full, driven=True),
        ambient_c=of.tap(unit.place).site.surroundings.ambient_c,
    )  # fmt: skip


def _driven_v(of: PlanContext, motor: PlanMotor, unit: Unit) -> float:
    """Line volts that the drive gives at its base frequency."""
    if motor.way != "step_up_drive":
        return of.choice.facts.site_at(unit.place).source.voltage_v
    stepped = of.transformer_of(motor.motor) is not None
    return secondary_volts(of.region, boost_output_v()) if stepped else boost_output_v()


def _plate_input(motor: PlanMotor) -> float | None:
    """The drive's own input amps until it is bought: as its rated output is to this motor's."""
    taken, out, rated = (
        motor.figures.input_current_a, motor.figures.output_current_a,
        motor.figures.drive_rating_a,
    )  # fmt: skip
    if taken is None or out is None or rated is None:
        return None
    return taken.expected.number * max(1.0, rated.number / out.number)


def inrush_of(motor: PlanMotor) -> tuple[Start, ...]:
    """Charging its link: one crest, dying away."""
    inrush = motor.figures.inrush
    if inrush is None:
        return ()
    crest = inrush.peak_a.number
    return (Start(crest / math.sqrt(2.0), inrush.charge_s.number, crest),)


def _through(supply: Job, of: Part, motor: str) -> tuple[Job, Job]:
    """Supply to transformer and transformer to drive: what stands behind is seen by nothing ahead
    of it, so it has an earth and a residual-current device of its own."""
    name = transformer_name(motor)
    rated = of.rating / supply.voltage_v
    out = secondary_volts(supply.region, boost_output_v())
    crest = transformer(of.rating).inrush_a(supply.voltage_v).number
    ahead = replace(
        supply, role="supply_to_transformer", to=name, equipment=name, kind="other",
        starts=(Start(crest / math.sqrt(2.0), half_cycle_s(), crest),), code_a=rated,
        nameplate_input_a=rated, leakage_ma=0.0, residual_type="A",
    )  # fmt: skip
    behind = replace(
        supply, role="transformer_to_drive", source=name, voltage_v=out,
        design=supply.design.scaled(supply.voltage_v / out), run=usual_run("beside"),
        tap=None if supply.tap is None
        else transformer_tap(supply.tap, name, of.rating, supply.voltage_v, out),
        isolates=True, socket=False, code_a=_over(supply.code_a, supply.voltage_v / out),
        nameplate_input_a=_over(supply.nameplate_input_a, supply.voltage_v / out),
        starts=tuple(each.scaled(supply.voltage_v / out) for each in supply.starts),
        lines="1-2",
    )  # fmt: skip
    return ahead, behind


def _over(amps: float | None, ratio: float) -> float | None:
    return None if amps is None else amps * ratio


def _straight(of: PlanContext, motor: PlanMotor) -> tuple[Job, ...] | None:
    """A motor straight on the supply, or on two lines of it with capacitors of its own."""
    taken = motor.figures.input_current_a
    unit = of.unit(motor.motor)
    tap = of.tap(unit.place)
    full = motor.overload_setting_a
    three = tap.three_phase and motor.way == "direct" and unit.motor.three_phase
    if taken is None and full is None:
        return None
    design = _straight_design(motor)
    of_motor = 3 if unit.motor.three_phase and motor.way != "motor_swap" else 1
    code = code_amps(watts(unit), tap.site.source.voltage_v, of_motor, of.region)
    plugged = unit.task.machine.connects_by == "plug"
    started = motor.figures.starting_current_a
    amps = None if started is None else started.number
    job = Job(
        role="supply_to_machine", source=supply_name(unit.place),
        to=f"{unit.machine} socket" if plugged else motor.motor,
        lines=_lines(tap, three=three), place=unit.place, kind="motor",
        voltage_v=tap.site.source.voltage_v, design=design,
        run=run_there(of.choice.facts.shop, unit.task.machine),
        tap=tap, region=of.region, code_a=code if motor.way == "direct" else None,
        starts=_starts(of, motor.motor, amps), socket=plugged, overload=full, release=True,
        full_load_a=() if full is None else (code or full.number,), in_series=plugged,
        motor=motor_served(unit, full, phases=of_motor), panel=panel_of(unit),
        ambient_c=tap.site.surroundings.ambient_c,
    )  # fmt: skip
    if not plugged:
        return (job,)
    cord = replace(
        job, role="outlet_to_machine", source=job.to, to=motor.motor, socket=False, cord=True,
        run=cord_of(job), own_device=False, isolator=False, covered_by=job.id,
    )  # fmt: skip
    return replace(job, overload=None, release=False), cord


def _starts(of: PlanContext, motor: str, amps: float | None) -> tuple[Start, ...]:
    found = of.start_of(motor, amps)
    return found if found or amps is None else (motor_start(amps, half_cycle_s()),)


def _straight_design(motor: PlanMotor) -> Value:
    """The highest of what it takes and of what its plate says."""
    taken, full = motor.figures.input_current_a, motor.overload_setting_a
    known = {
        "taken": 0.0 if taken is None else max(taken.high, taken.expected.number),
        "plate": 0.0 if full is None else full.number,
    }
    inputs = {name: (amps, "A") for name, amps in known.items() if amps}
    words = "what it takes at its highest load; never less than the plate"
    return figure(max(known.values()), "A", "running.settle.settle", inputs, words)


def _lines(tap: Tap, *, three: bool) -> Lines:
    return "1-2-3" if tap.three_phase and three else "1-2"
