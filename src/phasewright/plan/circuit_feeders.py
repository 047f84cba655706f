"""The feeder of a place as it stands in a North American shop: its breaker and its conductors for
the motors, drives and other circuits of the plan that begin there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from phasewright.circuits.cables import Laid
from phasewright.plan.circuit_jobs import Job
from phasewright.plan.circuit_plan import PlanContext
from phasewright.plan.circuit_single import supply_name
from phasewright.plan.circuit_study import PlanCircuit
from phasewright.quantities.finding import Finding
from phasewright.quantities.units import format as printed
from phasewright.rules.nec_motors import feeder_device, several_motors
from phasewright.shop.standing import read_breaker
from phasewright.shop.supply import Place
from phasewright.ways.place_of import ambient_of, loaded_conductors


def feeders_stand(
    of: PlanContext, jobs: tuple[Job, ...], circuits: list[PlanCircuit]
) -> tuple[Finding, ...]:
    """What NFPA 70, 430.24 and 430.62, say of every feeder that is told; nothing elsewhere."""
    if of.region != "NEC":
        return ()
    pairs = tuple(zip(jobs, circuits, strict=True))
    places = enumerate(of.choice.facts.shop.places)
    return tuple(each for k, place in places for each in _stands(of, place, k, pairs))


def _stands(
    of: PlanContext, place: Place, number: int, pairs: tuple[tuple[Job, PlanCircuit], ...]
) -> Iterator[Finding]:
    here = [(job, each) for job, each in pairs if job.source == supply_name(place.name)]
    motors = tuple(amps for job, _ in here if (amps := _motor_a(job)) is not None)
    if place.feeder is None or not motors:
        return
    others = sum(job.design.number for job, _ in here if _motor_a(job) is None)
    path, subject = f"places[{number}].feeder", f"feeder {place.name}"
    limit = of.tap(place.name).site.feeder
    ampacity = None if limit is None else limit.current_a.number
    for each in several_motors(ampacity, motors, others, subject, _laid(of, place)).findings:
        yield _as_it_stands(each, f"{path}.conductor")
    read = read_breaker(place.feeder.breaker, "NEC") if place.feeder.breaker else None
    branches = [each.device.rating_a for _, each in here if each.device is not None]
    largest = max(branches, default=None)
    device = None if read is None else read[1]
    for each in feeder_device(device, largest, motors, others, subject).findings:
        yield _as_it_stands(each, f"{path}.breaker")


def _motor_a(job: Job) -> float | None:
    """Full-load amps of a motor, or a drive's rated input, which 430.24 counts as one."""
    if job.full_load_a:
        return job.full_load_a[0]
    return job.nameplate_input_a if job.role == "supply_to_drive" else None


def _laid(of: PlanContext, place: Place) -> Laid | None:
    """How the feeder lies; None of aluminium, for which no new cable is named."""
    if place.feeder is None or place.feeder.material != "copper":
        return None
    supply = of.choice.facts.shop.supply
    return Laid("NEC", loaded_conductors(supply), None, ambient_of(place))


def _as_it_stands(found: Finding, path: str) -> Finding:
    """The finding as one of what is there today, with its remedy's place in the shop file."""
    remedy = found.remedy
    assert remedy is not None
    value = remedy.value
    if isinstance(value, float):
        value = printed(value, "current")
    return replace(
        found,
        severity="condition",
        words=f"as it stands today: {found.words}",
        remedy=replace(remedy, path=path, value=value, unit=None),
    )
