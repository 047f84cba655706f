"""A job sized and told: conductor, device, fault currents, what opens them, and why."""

from __future__ import annotations

import math
from dataclasses import replace

from phasewright.circuits.cables import standard_size
from phasewright.circuits.devices import surely_trips_s
from phasewright.circuits.installation import ResidualCurrentDevice
from phasewright.circuits.need import Need, Origin
from phasewright.circuits.sizing import Sized, as_it_stands, sized
from phasewright.circuits.standing import NOTHING, Standing, device_of
from phasewright.plan.circuit_drop import plan_drop
from phasewright.plan.circuit_fittings import discharge_ohm, isolator_of, socket_of
from phasewright.plan.circuit_jobs import Job, asked_of
from phasewright.plan.circuit_residual import residual_of, trips_s
from phasewright.plan.circuit_study import PlanCircuit
from phasewright.plan.circuit_supply import earth_values
from phasewright.plan.circuit_there import too_thin
from phasewright.plan.circuit_told import fitted, residual_there, size_of
from phasewright.plan.circuit_words import why_it_holds, why_it_trips
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.finding import Finding, Remedy
from phasewright.quantities.value import Value, figure
from phasewright.tables.circuits import share_of_drop
from phasewright.tables.published import table

WHERE = "circuits.sizing.sized"
HOW = "smallest conductor that passes; IEC 60364-5-52 or NFPA 70-2023, 310.16"
NO_ORIGIN = Origin(None)


def laid(job: Job, of: Standing = NOTHING) -> tuple[PlanCircuit, tuple[Finding, ...]]:
    """The circuit of a job with what of it stands there, and what was found in laying it; one for
    which nothing large enough is sold is told without sizes."""
    residual = residual_there(job, of, residual_of(job))
    try:
        found = _sized(job, residual, of)
        if residual is None and of.residual_current is None and _too_slow(job, found):
            residual = residual_of(job, wanted=True)
            found = _sized(job, residual, of)
        thin = _thin(job, residual, found, of)
    except TableEnds as ends:
        return fitted(_unsized(job, of), job, of), (_not_sized(job, str(ends)),)
    circuit = fitted(_told(job, residual, found), job, of)
    return circuit, (*_findings(job, found), *thin)


def _thin(
    job: Job, residual: ResidualCurrentDevice | None, found: Sized, of: Standing
) -> tuple[Finding, ...]:
    """That the cable which lies there is too thin behind the device that is chosen or told."""
    need, there = _need(job, residual), device_of(of, job.region)
    if of.conductor is not None and there is not None:
        need = replace(need, device=there)
    return too_thin(job, need, sized(need) if of.conductor is not None else found)


def _sized(job: Job, residual: ResidualCurrentDevice | None, of: Standing) -> Sized:
    """Sized where nothing is told; else with the breaker and conductors that stand there."""
    need, there = _need(job, residual), device_of(of, job.region)
    lies = size_of(of.conductor, job.region)
    earth = size_of(of.protective_conductor, job.region)
    if there is None and lies is None and earth is None:
        return sized(need)
    if there is not None:
        need = replace(need, device=there)
    if lies is None or (there is None and need.own_device and need.device is None):
        chosen = sized(need)
        return as_it_stands(need, lies or chosen.size, chosen.device, earth)
    return as_it_stands(need, lies, need.device, earth)


def _unsized(job: Job, of: Standing) -> PlanCircuit:
    """What is known of a circuit that no table sizes: what lies and stands there."""
    lies = size_of(of.conductor, job.region)
    bare = replace(_bare(job), residual_current=residual_there(job, of, None))
    return bare if lies is None else replace(bare, conductor=lies.name, conductor_m2=lies.area_m2)


def _too_slow(job: Job, of: Sized) -> bool:
    """Whether the breaker alone may take longer over an earth fault than the code asks."""
    within = _within(job)
    if within is None or of.device is None or of.earth_fault_a is None:
        return False
    return of.device_opens_s is None or of.device_opens_s > within


def _need(job: Job, residual: ResidualCurrentDevice | None) -> Need:
    asked = asked_of(job)
    most = table("limits", "voltage_drop").number(job.region)
    return Need(
        design_a=max(job.design.number, job.design.high),
        voltage_v=job.voltage_v,
        length_m=job.length.number,
        laid=job.laid,
        origin=_origin(job),
        most_drop=most * (share_of_drop() if job.in_series else 1.0),
        starts=job.starts,
        least_ampacity_a=asked.ampacity_a,
        least_device_a=asked.device_from_a,
        most_device_a=asked.device_to_a,
        device=job.device,
        own_device=job.own_device,
        follows_device=asked.follows and not job.cord,
        relay_protects=job.kind == "motor" and job.overload is not None,
        small_conductors=asked.small,
        residual=residual is not None,
        smallest_m2=_there_m2(job),
    )


def _there_m2(job: Job) -> float:
    """What lies there already, as the standard size it is at least; 0 where nothing does."""
    if job.run.conductor_m2 is None:
        return 0.0
    there = standard_size(job.run.conductor_m2, job.region)
    return 0.0 if there is None else there.area_m2


def _origin(job: Job) -> Origin:
    if job.tap is None:
        return NO_ORIGIN
    origin = job.tap.origin(job.ahead_ohm)
    if job.unseen:
        origin = replace(origin, to_earth_v=None)
    return replace(origin, line3=job.line3, return_ohm=job.return_ohm)


def _told(job: Job, residual: ResidualCurrentDevice | None, of: Sized) -> PlanCircuit:
    loop = earth = None
    if job.tap is not None and not job.unseen and job.lines != "drive output":
        loop, earth = earth_values(job.tap, of.own_earth_ohm, job.ahead_ohm)
    if job.line3 is not None:
        earth = _line3(job, of)
    if residual is not None:
        residual = replace(residual, trips_s=trips_s(residual, of.earth_fault_a))
    opens = None if earth is None else _opens(job, of, residual, earth)
    return replace(
        _bare(job),
        starting_current_a=_start_value(job),
        starting_s=max((start.seconds for start in job.starts), default=None),
        conductor=of.size.name,
        conductor_m2=of.size.area_m2,
        ampacity_a=of.carries,
        voltage_drop=plan_drop(job, of),
        device=of.device,
        residual_current=residual,
        fault_at_origin_a=_fault(job, of.fault_at_origin_a),
        fault_at_end_a=_fault(job, of.fault_at_end_a),
        loop_ohm=loop,
        earth_fault_a=earth,
        first_cycles_a=_first_cycles(job, earth),
        disconnects_s=opens,
        within_s=_within(job),
        protective_conductor=of.protective,
        isolator=isolator_of(job, of.device),
        socket=socket_of(job, of.device),
        why_it_holds=why_it_holds(job, of),
        why_it_trips=None if earth is None
        else why_it_trips(job, of, residual, None if opens is None else opens.high),
    )  # fmt: skip


def _bare(job: Job) -> PlanCircuit:
    """What is known of a circuit before it is sized."""
    capacitance = job.capacitance
    return PlanCircuit(
        id=job.id, role=job.role, from_=job.source, to=job.to, lines=job.lines,
        place=job.place or None,
        voltage_v=figure(
            job.voltage_v, "V", "plan.circuit_laid.laid", {"its lines": (job.voltage_v, "V")},
            "supply, connection of the motor or settled network",
        ),
        design_current_a=job.design, starting_current_a=None, starting_s=None,
        conductor=None, conductor_m2=None, length_m=job.length,
        method=job.laid.method, ambient_c=job.ambient_c, grouped=job.laid.grouped,
        loaded=job.laid.loaded, ampacity_a=None, voltage_drop=None, device=job.device,
        residual_current=None, fault_at_origin_a=None, fault_at_end_a=None, loop_ohm=None,
        earth_fault_a=None, first_cycles_a=None, disconnects_s=None, within_s=None,
        protective_conductor=None, isolator=None, socket=None, phase_relay=job.relay,
        overload_setting_a=job.overload, undervoltage_release=job.release,
        upstream_blind=job.isolates,
        capacitance_f=capacitance,
        discharge_ohm=None if capacitance is None else discharge_ohm(capacitance, job.voltage_v),
        why_it_holds=None, why_it_trips=None, findings=(), sources=_sources(job),
        full_load_a=job.full_load_a, motor=job.motor, panel=job.panel,
        behind_overload=job.behind_overload,
    )  # fmt: skip


def _start_value(job: Job) -> Value | None:
    if not job.starts:
        return None
    start = max(job.starts, key=lambda each: each.current_a)
    return figure(
        start.current_a, "A", "plan.circuit_jobs.motor_start",
        {"seconds": (start.seconds, "s"), "crest": (start.crest_a, "A")}, "the hardest start",
    )  # fmt: skip


def _fault(job: Job, amps: float | None) -> Value | None:
    if amps is None:
        return None
    inputs = {"volts": (job.voltage_v, "V"), "length": (job.length.number, "m")}
    return figure(amps, "A", WHERE, inputs, "V/|Z| behind the stiffest credible supply")


def _line3(job: Job, of: Sized) -> Value | None:
    if of.earth_fault_a is None or job.line3 is None:
        return None
    rod = None if job.tap is None else job.tap.ground.electrode
    ohm = job.return_ohm + of.own_earth_ohm + (0.0 if rod is None else rod.number)
    inputs = {
        "source of line 3": (abs(job.line3.open_v), "V"),
        "behind": (abs(job.line3.behind_ohm), "ohm"),
        "way back": (abs(ohm), "ohm"),
    }
    words = "idler in two sequences with line 3 on earth; lowest: the least of its three lines"
    return figure(
        max(of.earth_fault_a, job.line3.through(ohm)), "A",
        "running.line3_fault.line3_fault", inputs, words, low=of.earth_fault_a,
    )  # fmt: skip


def _first_cycles(job: Job, earth: Value | None) -> Value | None:
    """What line 3 gives at the onset of its fault, in the ratio of onset to settled."""
    if job.line3 is None or earth is None:
        return None
    ratio = max(1.0, job.line3.first_cycles_a / job.line3.settled_a)
    return figure(
        ratio * earth.number, "A", "running.line3_fault.line3_fault",
        {"settled": (earth.number, "A"), "onset over settled": (ratio, "")},
        "rotor flux of before, behind the transient reactance", low=ratio * earth.low,
    )  # fmt: skip


def _opens(
    job: Job, of: Sized, residual: ResidualCurrentDevice | None, earth: Value
) -> Value | None:
    """What opens an earth fault first, at the latest; high: at the least fault. None where nothing
    surely does."""
    by_residual = None if residual is None else residual.trips_s
    least = _first((of.device_opens_s, by_residual))
    usual = None
    if of.device is not None:
        seconds = surely_trips_s(of.device, earth.number)
        usual = seconds if math.isfinite(seconds) else None
    first = _first((usual, by_residual))
    if first is None or least is None:
        return None
    return figure(
        first, "s", "circuits.devices.surely_trips_s",
        {"fault": (earth.number, "A"), "least fault": (earth.low, "A")},
        "latest edge of what opens it first", high=max(first, least),
    )  # fmt: skip


def _first(times: tuple[float | None, float | None]) -> float | None:
    return min((each for each in times if each is not None), default=None)


def _within(job: Job) -> float | None:
    if job.tap is None or job.region == "NEC" or job.lines == "drive output":
        return None
    return job.tap.ground.within_s(final=job.role != "supply_to_converter")


def _sources(job: Job) -> tuple[str, ...]:
    of = "nec" if job.region == "NEC" else "iec_60364_52"
    devices = "ul_489" if job.region == "NEC" else "iec_60898"
    return (of, devices, *job.sources)


def _by_clause(job: Job) -> bool:
    """Whether NFPA 70, 430.52(B), says of its device that it may not hold the start."""
    return job.region == "NEC" and job.motor is not None and len(job.full_load_a) == 1


def _not_sized(job: Job, why: str) -> Finding:
    return Finding(
        f"circuit.not_sized:{job.id}", "circuit.not_sized", "condition", job.to,
        f"its circuit from {job.source} is beyond what is sold or known: {why}",
        circuit=job.id,
        remedy=Remedy("Have it laid out by an electrician, shorter or in parts."),
        source="the tables of conductors and breakers",
    )  # fmt: skip


def _findings(job: Job, of: Sized) -> tuple[Finding, ...]:
    if of.device is None or of.device_holds or _by_clause(job):
        return ()
    return (
        Finding(
            f"circuit.may_not_hold:{job.id}", "circuit.may_not_hold", "caution", job.to,
            f"its {of.device.rating_a:g} A breaker is the largest allowed here, and is not sure "
            "to hold the start",
            found=of.device.rating_a, unit="A", circuit=job.id,
            remedy=Remedy("Soften the start, or ask the breaker's maker for its curve."),
            source=f"published trip bands of {'UL 489' if job.region == 'NEC' else 'IEC 60898'}",
        ),
    )  # fmt: skip
