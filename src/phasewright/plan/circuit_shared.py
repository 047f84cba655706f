"""Circuits of what a plan shares: its own supply, and one to every machine that hangs on it."""

from __future__ import annotations

from dataclasses import replace

from phasewright.circuits.devices import Start
from phasewright.circuits.installation import Role
from phasewright.plan.circuit_jobs import Job, code_amps
from phasewright.plan.circuit_line3 import return_ohm
from phasewright.plan.circuit_motors import motor_served, panel_of, watts
from phasewright.plan.circuit_plan import PlanContext
from phasewright.plan.circuit_runs import Run, usual_run
from phasewright.plan.circuit_single import drive_leads, inrush_of, supply_name
from phasewright.plan.circuit_sources import tap_behind
from phasewright.plan.circuit_supply import Tap
from phasewright.plan.circuit_told import (
    both,
    cord_of,
    of_converter,
    only,
    run_there,
    run_to_converter,
)
from phasewright.plan.places import fed_over_feeder
from phasewright.plan.study import PlanMotor
from phasewright.plan.units import Unit
from phasewright.quantities.codes import ResidualType
from phasewright.quantities.value import Value, figure
from phasewright.ways.converter_drive_inside import has_drive_inside
from phasewright.ways.shared_source import Shared

THREE_PHASE_SERVICE = "three-phase service"


def shared_jobs(of: PlanContext) -> tuple[Job, ...]:
    """Its supply, then its machines in the order of the plan."""
    on, hung = of.on, of.hung()
    if on is None or not hung:
        return ()
    if on.way == "shared_drive":
        return _shared_drive(of, on, hung)
    if on.phases is not None:
        tap = replace(of.tap(""), phase_v=on.phases.phase_voltage_v)
        return tuple(
            job
            for each in hung
            for job in _to_machine(of, on, each, tap, None, THREE_PHASE_SERVICE)
        )
    supply = _converter_supply(of, on, hung)
    here = of.tap(on.place)
    behind = here if on.design is not None else tap_behind(here, on.fault_source)
    covered = None if supply is None else supply.id
    found = [job for each in hung for job in _to_machine(of, on, each, behind, covered, on.name)]
    return (*(() if supply is None else (supply,)), *found)


def _converter_supply(of: PlanContext, on: Shared, hung: tuple[PlanMotor, ...]) -> Job | None:
    """The circuit that feeds a converter; None of a source that takes nothing from the supply."""
    drawn = of.through_shared_a()
    if not drawn:
        return None
    tap = of.tap(on.place)
    volts = tap.site.source.voltage_v
    rectified = [each for each in hung if has_drive_inside(of.unit(each.motor).task)]
    there = of.choice.facts.shop.supply.converter_circuit
    stamped = None if there is None else there.nameplate_input
    plate_a = drawn if stamped is None else stamped.number
    return Job(
        role="supply_to_converter", source=supply_name(on.place), to=on.name,
        lines="1-2-3" if tap.three_phase else "1-2", place=on.place, kind="converter",
        voltage_v=volts,
        design=figure(
            drawn, "A", "plan.admit.Admission.turning", {"supply": (volts, "V")},
            "network of each set that turns together, harmonics as if in phase",
        ),
        run=run_to_converter(of.choice.facts.shop), tap=tap, region=of.region, code_a=plate_a,
        starts=_supply_starts(of, on, hung), nameplate_input_a=plate_a, equipment=on.name,
        fixed_loads_a=_fixed(of, hung) if there is not None and there.fixed_loads else None,
        leakage_ma=_leakage(hung), in_series=True, release=on.design is not None,
        residual_type="B" if rectified or on.design is None else "A",
        ambient_c=tap.site.surroundings.ambient_c,
    )  # fmt: skip


def _fixed(of: PlanContext, hung: tuple[PlanMotor, ...]) -> tuple[float, ...] | None:
    """Full-load amps of all motors on a converter that feeds nothing else; None where one's are
    not known."""
    volts = of.choice.facts.shop.supply.voltage.number
    found = []
    for each in hung:
        listed = code_amps(watts(of.unit(each.motor)), volts, 3, of.region)
        full = each.overload_setting_a
        amps = listed if listed is not None or full is None else full.number
        if amps is None:
            return None
        found.append(amps)
    return tuple(found)


def _supply_starts(
    of: PlanContext, on: Shared, hung: tuple[PlanMotor, ...]
) -> tuple[Start, ...]:  # fmt: skip
    """The converter's own start and those of its motors, as the supply sees them."""
    found = []
    own = next((f for each in hung if (f := each.figures.idler_start) is not None), None)
    if on.own_start is not None and own is not None:
        found.append(Start(on.own_start.supply_a, own.time_s.number, own.supply_peak_a.number))
    times = {each.motor: each for each in of.side.starts if each.runs_up and not each.planned}
    for each in hung:
        start, amps = times.get(each.motor), each.figures.starting_current_a
        if start is None or amps is None or start.time_s is None:
            continue
        seconds = max(v.number for v in (start.time_s, start.time_high_s) if v is not None)
        found.append(Start(amps.number, seconds, start.supply_peak_a.number))
    return tuple(found)


def _leakage(motors: tuple[PlanMotor, ...]) -> float:
    return sum(f.number for each in motors if (f := each.figures.leakage_ma) is not None)


def _to_machine(
    of: PlanContext, on: Shared, motor: PlanMotor, tap: Tap | None, covered: str | None, name: str
) -> tuple[Job, ...]:
    """One circuit to a machine that is wired in; to a socket and a cord where it has a plug."""
    unit = of.unit(motor.motor)
    served = on.serves(of.choice.facts.units.index(unit))
    if served is None:
        return ()
    design = _design(of, motor)
    if design is None:
        return ()
    volts = served.link.line_voltage_v
    plugged = unit.task.machine.connects_by == "plug"
    role: Role = "converter_to_outlet" if plugged else "converter_to_machine"
    if on.phases is not None:
        role = "supply_to_machine"
    full = motor.overload_setting_a
    locked = _locked_a(unit, full) if served.full_load_current_a else None
    code = code_amps(watts(unit), volts, 3, of.region)
    job = Job(
        role=role, source=name, to=f"{unit.machine} socket" if plugged else motor.motor,
        lines="1-2-3", place=unit.place, kind="motor", voltage_v=volts, design=design,
        run=_run(of, on, unit), tap=tap, region=of.region, code_a=code,
        starts=of.start_of(motor.motor, locked), line3=of.fault(on.name),
        return_ohm=return_ohm(of.choice.facts, of.tap(on.place)), socket=plugged,
        isolates=on.neutral and on.phases is None, covered_by=covered, overload=full, release=True,
        relay=of.relay if on.generated_line else None,
        residual_type=_type(on, unit),
        leakage_ma=_leakage((motor,)), in_series=covered is not None or plugged,
        full_load_a=() if full is None else (code or full.number,),
        motor=motor_served(unit, full), panel=panel_of(unit),
        ambient_c=of.tap(unit.place).site.surroundings.ambient_c,
    )  # fmt: skip
    if not plugged:
        return (job,)
    cord = replace(
        job, role="outlet_to_machine", source=job.to, to=motor.motor, socket=False, cord=True,
        run=cord_of(job), own_device=False, isolator=False, covered_by=job.id,
    )  # fmt: skip
    return replace(job, overload=None, release=False), cord


def _design(of: PlanContext, motor: PlanMotor) -> Value | None:
    """The highest of what a line to the motor carries: plate, any set that turns, rectifier."""
    full = motor.overload_setting_a
    box = motor.figures.rectifier
    known = {
        "plate": 0.0 if full is None else full.number,
        "highest line of any set": of.line_amps(motor.motor),
        "rectifier": 0.0 if box is None else max(box.line_currents_a),
    }
    if max(known.values()) == 0.0:
        taken = motor.figures.input_current_a
        return None if taken is None else taken.expected
    inputs = {name: (amps, "A") for name, amps in known.items() if amps}
    words = "three-line network of every set that turns together; never less than the plate"
    return figure(max(known.values()), "A", "plan.currents.cases_of", inputs, words)


def _type(on: Shared, unit: Unit) -> ResidualType:
    """B where a three-line rectifier or inverter may let smooth current to earth, else A."""
    electronics = on.fault_source is not None and on.fault_source.smooth
    smooth = has_drive_inside(unit.task) or electronics
    return "B" if smooth else "A"


def _locked_a(unit: Unit, full: Value | None) -> float | None:
    """Locked-rotor amps in the connection that is used, by the motor's own ratio."""
    locked, rated = unit.motor.locked_rotor_current_a, unit.motor.full_load_current_a
    if locked is None or rated is None or full is None:
        return None
    return locked.number * full.number / rated.number


def _run(of: PlanContext, on: Shared, unit: Unit) -> Run:
    """Along the feeder of the machine's place too, where the three lines run over it."""
    facts = of.choice.facts
    own = run_there(facts.shop, unit.task.machine)
    if on.generated_line:
        relay = only(of_converter(facts.shop), "phase_relay")
        own = replace(own, standing=both(own.standing, relay))
    there = facts.site_at(unit.place)
    if not fed_over_feeder(on, unit, there, facts.site):
        return own
    feeder = facts.shop.place(unit.place).feeder
    if feeder is None or feeder.length is None:
        return own
    more, to_it = feeder.length.number, own.length
    whole = replace(
        to_it, number=to_it.number + more, low=to_it.low + more, high=to_it.high + more
    )  # fmt: skip
    return replace(own, length=whole)


def _shared_drive(of: PlanContext, on: Shared, hung: tuple[PlanMotor, ...]) -> tuple[Job, ...]:
    """The drive's supply, sized by the motor that takes most, and leads to each motor."""
    tap = of.tap(on.place)
    rated, inputs = on.figures.drive_rating_a, {}
    for each in hung:
        if (of_it := each.figures.input_current_a) is not None:
            inputs[each.motor] = (of_it.high, "A")
    if not inputs:
        return ()
    amps = [each for each, _ in inputs.values()]
    plate = _plate_input(hung, None if rated is None else rated.number)
    supply = Job(
        role="supply_to_drive", source=supply_name(on.place), to=on.name,
        lines="1-2-3" if tap.three_phase else "1-2", place=on.place, kind="drive",
        voltage_v=tap.site.source.voltage_v,
        design=figure(max(amps), "A", "electronics.drive.drive_input", inputs,
                      "rectifier and link, the motor that takes most"),
        run=usual_run("fixed"), tap=tap, region=of.region, code_a=plate,
        nameplate_input_a=plate, equipment=on.name, residual_type="F",
        leakage_ma=max((f.number for each in hung if (f := each.figures.leakage_ma)), default=0.0),
        in_series=True, ambient_c=tap.site.surroundings.ambient_c,
        starts=max((inrush_of(each) for each in hung), key=_crest_a, default=()),
    )  # fmt: skip
    leads = (drive_leads(of, each, on.name) for each in hung)
    return (supply, *(job for job in leads if job is not None))


def _crest_a(of: tuple[Start, ...]) -> float:
    return max((each.crest_a for each in of), default=0.0)


def _plate_input(hung: tuple[PlanMotor, ...], rated_a: float | None) -> float | None:
    """What stands on the drive's plate as its input, until it is bought: as its output."""
    found = [
        f.expected.number * rated_a / out.number
        for each in hung
        if rated_a
        and (f := each.figures.input_current_a) is not None
        and (out := each.figures.output_current_a) is not None
    ]
    return max(found, default=None)
