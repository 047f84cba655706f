"""The circuits of a plan as built: every one from the supply to a machine, sized and told.

What stands in the plan decides what there is: a converter has its supply, its capacitors and a
circuit to every machine on it; a drive its supply and its motor's leads; what hangs straight on
the supply one circuit. Lengths nobody told are assumed and marked so.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Literal

from phasewright.circuits.cables import ohm_per_m
from phasewright.circuits.installation import Installation, ResidualCurrentDevice
from phasewright.plan.arrays import Choice
from phasewright.plan.circuit_as_ruled import as_ruled
from phasewright.plan.circuit_branches import branches
from phasewright.plan.circuit_feeder_breakers import feeder_breakers_stand
from phasewright.plan.circuit_feeders import feeders_stand
from phasewright.plan.circuit_jobs import Job
from phasewright.plan.circuit_laid import laid
from phasewright.plan.circuit_line3 import motor_with_line3, with_line3
from phasewright.plan.circuit_plan import PlanContext, context_of
from phasewright.plan.circuit_prices import CircuitPart, cost_of, parts_of, with_prices
from phasewright.plan.circuit_series import not_given, not_selective, with_series
from phasewright.plan.circuit_shared import shared_jobs
from phasewright.plan.circuit_single import own_jobs
from phasewright.plan.circuit_sources import told_of_sources
from phasewright.plan.circuit_stands import line_3_stands, standing_circuit
from phasewright.plan.circuit_study import PlanCircuit
from phasewright.plan.circuit_supply import dusty_places
from phasewright.plan.circuit_there import lengths_worth, pipes_worth
from phasewright.plan.circuit_told import told_of
from phasewright.plan.circuit_words import seconds_words
from phasewright.plan.problem import Solution
from phasewright.plan.study import PlanMotor, PlanSide
from phasewright.plan.to_earth import earthed_of
from phasewright.quantities.finding import Finding, Missing, Remedy
from phasewright.quantities.value import Value, figure
from phasewright.tables.circuits import usual

LATE_S = 5.0
"""Longest time for a circuit that is no final one (IEC 60364-4-41, from memory); North America
sets none."""


def with_circuits(
    choice: Choice, plan: Solution, side: PlanSide
) -> tuple[PlanSide, tuple[Finding, ...]]:
    """A plan with its circuits and the earth-fault current of its line 3, and what was found in
    laying them; the findings' ids are made unique by the plan's."""
    of = context_of(choice, plan, side)
    told: list[PlanCircuit] = []
    findings: list[Finding] = []
    jobs = jobs_of(of)
    for circuit, found in _all_laid(of, jobs):
        named = [replace(each, id=f"{side.id}:{each.id}", plan=side.id) for each in found]
        told.append(replace(circuit, findings=tuple(each.id for each in named)))
        findings += named
    region = choice.facts.shop.region
    own = {job.id for job in jobs if job.tap is not None and job.tap.own is not None}
    told = [replace(each, not_given=not_given(each, region)) for each in with_series(told, own)]
    line_3 = [
        found
        for each in of.installed_equipment()
        for found in line_3_stands(each, region, high_leg=_high_leg(of))
    ]
    late = (
        *not_selective(told), *_clears_late(told), *told_of_sources(told, jobs, of.upstream()),
        *line_3, *feeders_stand(of, jobs, told), *feeder_breakers_stand(of),
    )  # fmt: skip
    findings += [replace(each, id=f"{side.id}:{each.id}", plan=side.id) for each in late]
    parts = parts_of(told, jobs, side.buys, choice.facts.shop.quotes)
    whole = replace(
        priced(side, parts),
        circuits=tuple(told),
        findings=(*side.findings, *(each.id for each in findings)),
        equipment=tuple(
            with_line3(each, *of.faults.get(each.id, (None, 0.0))) for each in side.equipment
        ),
        motors=tuple(
            motor_with_line3(_rated(each, told), *of.faults.get(each.equipment or "", (None, 0.0)))
            for each in side.motors
        ),
    )
    return whole, tuple(findings)


def priced(side: PlanSide, parts: tuple[CircuitPart, ...]) -> PlanSide:
    """A plan with what its circuits cost, beside what the search weighed it by."""
    cost, life = cost_of(parts), side.lifetime_cost
    if cost is None:
        return replace(side, circuit_parts=parts)
    whole = replace(life.expected, low=life.low, high=life.high)
    return replace(
        side,
        circuit_parts=parts,
        circuits_cost=cost,
        purchase_with_circuits=with_prices(cost, side.purchase),
        lifetime_cost_with_circuits=with_prices(cost, whole),
    )


def _after(job: Job, told: Iterable[PlanCircuit]) -> Job:
    """A cord's job with the cable to its socket ahead of it."""
    fixed = next((each for each in told if job.cord and each.id == job.covered_by), None)
    if fixed is None or fixed.conductor_m2 is None:
        return job
    more = ohm_per_m(fixed.conductor_m2, usual("fault_c")) * fixed.length_m.number
    return replace(job, ahead_ohm=job.ahead_ohm + more)


def _all_laid(
    of: PlanContext, jobs: tuple[Job, ...]
) -> list[tuple[PlanCircuit, tuple[Finding, ...]]]:
    """Every circuit, with what stands there of it and serves."""
    circuits: list[tuple[PlanCircuit, tuple[Finding, ...]]] = []
    for job in jobs:
        circuits.append(laid(_after(job, (circuit for circuit, _ in circuits))))
    if not any(told_of(job).told for job in jobs):
        return circuits
    installation = _installation(of, jobs, tuple(circuit for circuit, _ in circuits))
    ahead: dict[str, ResidualCurrentDevice | Literal["none"]] = {}
    for k, bare in enumerate(jobs):
        job = _after(bare, (circuit for circuit, _ in circuits[:k]))
        if job.covered_by in ahead:
            job = replace(job, covering=ahead[job.covered_by])
            circuits[k] = laid(job)
        if (there := told_of(job)).told:
            circuits[k] = standing_circuit(job, there, circuits[k], installation)
            ahead[job.id] = circuits[k][0].residual_current or "none"
    return circuits


def _clears_late(circuits: list[PlanCircuit]) -> tuple[Finding, ...]:
    """Where no residual-current device is chosen (North America): the circuit whose breaker
    takes longest over an earth fault of line 3."""
    found = [
        (each.disconnects_s.high, each)
        for each in circuits
        if each.first_cycles_a is not None
        and each.residual_current is None
        and each.disconnects_s is not None
        and each.disconnects_s.high > LATE_S
    ]
    if not found:
        return ()
    seconds, worst = max(found, key=lambda pair: pair[0])
    amps = 0.0 if worst.earth_fault_a is None else worst.earth_fault_a.low
    return (
        Finding(
            f"circuit.line3_clears_late:{worst.id}", "circuit.line3_clears_late", "caution",
            worst.to,
            f"an earth fault of line 3 draws {amps:.3g} A, for the idler and not the street drives "
            f"it: its breaker may take {seconds_words(seconds)}, and all that time the frame it "
            "touches is live as far as its earth conductor lets it",
            found=seconds, unit="s", circuit=worst.id,
            remedy=Remedy("Have a ground-fault relay behind the converter open its contactor."),
            source="computed; latest edge of the breaker's published band",
        ),
    )  # fmt: skip


def _rated(motor: PlanMotor, circuits: list[PlanCircuit]) -> PlanMotor:
    """A motor with the rating of the breaker ahead of it: its own, or that of its drive alone."""
    ends = {each.to: each for each in circuits}
    at = ends.get(motor.motor)
    while at is not None and at.device is None:
        at = ends.get(at.from_)
    if at is None or at.device is None or motor.way is None:
        return motor
    inputs = {"design current": (0.0 if at.design_current_a is None else
                                 at.design_current_a.number, "A")}  # fmt: skip
    rating = figure(
        at.device.rating_a, "A", "circuits.devices.smallest", inputs,
        "smallest breaker that carries it and holds its start",
    )  # fmt: skip
    return replace(motor, figures=replace(motor.figures, circuit_rating_a=rating))


def lengths_wanted(choice: Choice, plan: Solution, side: PlanSide) -> tuple[Missing, ...]:
    """Cable lengths, and what lies in one pipe, that nobody told and that decide a circuit."""
    jobs = jobs_of(context_of(choice, plan, side))
    return (*lengths_worth(jobs, laid), *pipes_worth(jobs, laid))


def jobs_of(of: PlanContext) -> tuple[Job, ...]:
    """Every circuit of the plan as what it has to do, what is shared first."""
    return (*shared_jobs(of), *own_jobs(of), *branches(of))


def installation_of(choice: Choice, plan: Solution, side: PlanSide) -> Installation:
    """The plan's circuits and equipment as the rules look at them; `side` has its circuits."""
    of = context_of(choice, plan, side)
    return _installation(of, jobs_of(of), side.circuits or ())


def _installation(
    of: PlanContext, jobs: tuple[Job, ...], circuits: tuple[PlanCircuit, ...]
) -> Installation:
    by_id = {job.id: job for job in jobs}
    shop = of.choice.facts.shop
    supply = shop.supply
    return Installation(
        region=shop.region,
        line_voltage_v=supply.voltage.number,
        frequency_hz=supply.frequency.number,
        circuits=tuple(as_ruled(each, by_id[each.id]) for each in circuits),
        equipment=of.installed_equipment(),
        earthing=supply.earthing,
        earthed=earthed_of(supply),
        service_rating_a=None if supply.service_rating is None else supply.service_rating.number,
        upstream_residual=of.upstream(),
        upstream_delayed=bool(supply.residual_current and supply.residual_current.delayed),
        insulation_monitor=supply.insulation_monitor,
        farm=supply.farm,
        dusty=dusty_places(shop),
        electrode_conductor_m2=_area_m2(supply.electrode_conductor),
        service_conductor_m2=_area_m2(supply.service_conductor),
        bonding_conductor_m2=_area_m2(supply.bonding_conductor),
        high_leg=_high_leg(of),
    )


def _area_m2(of: Value | None) -> float | None:
    return None if of is None else of.number


def _high_leg(of: PlanContext) -> bool:
    """Whether one of three lines stands higher over earth than the others: a delta of which the
    middle of one side is earthed, from the street or made on such a supply."""
    supply, on = of.choice.facts.shop.supply, of.on
    if earthed_of(supply) != "centre":
        return False
    made = on is not None and on.generated_line and on.three_lines
    return supply.kind == "three_phase" or made
