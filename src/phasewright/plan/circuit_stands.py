"""A circuit that stands there, judged by every rule: what is kept, what must be changed and how.

It is looked at whole as it is told. For each rule that it breaks, and that the circuit laid anew
does not, the smallest single change of what is told is sought under which the rule is kept: that
is the remedy, and the plan has its part new. What breaks no rule is kept and not bought.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from phasewright.circuits.installation import Equipment, Installation
from phasewright.circuits.standing import Standing
from phasewright.plan.circuit_as_ruled import as_ruled
from phasewright.plan.circuit_changes import Change, changes
from phasewright.plan.circuit_jobs import Job
from phasewright.plan.circuit_laid import laid
from phasewright.plan.circuit_study import PlanCircuit
from phasewright.plan.circuit_there import RULE as TOO_THIN
from phasewright.plan.circuit_told import CONVERTER, without
from phasewright.quantities.codes import Region
from phasewright.quantities.finding import Finding
from phasewright.rules.earthing import line_3_bonded, line_3_marked
from phasewright.rules.isolation import disconnect_in_sight, lockable
from phasewright.rules.machines_60204 import overload_there
from phasewright.rules.nec_converters import disconnect_in_sight as converter_in_sight
from phasewright.rules.nec_converters import marked
from phasewright.rules.nec_places import high_leg_marked
from phasewright.rules.over import of_one

Laid = tuple[PlanCircuit, tuple[Finding, ...]]
NOT_SIZED = "circuit.not_sized"
"""Of a circuit that no table sizes: nothing else is said of it, so nothing is mended."""
Wrong = dict[str, Finding]
"""What a rule finds, by the rule's id."""


@dataclass(slots=True)
class _Judge:
    """One circuit among the others of its installation; `anew` is it with nothing told."""

    job: Job
    installation: Installation
    anew: Laid
    fine: Wrong = field(init=False)
    tried: list[tuple[Change, Wrong]] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.fine = self.wrong(self.anew, Standing())

    def stands(self, of: Standing) -> Wrong:
        """What is wrong with the circuit as it is told, and not with one that is laid anew."""
        return {
            rule: found
            for rule, found in self.wrong(laid(self.job, of), of).items()
            if rule not in self.fine
        }

    def wrong(self, of_job: Laid, of: Standing) -> Wrong:
        """What every rule says of a circuit."""
        circuit, told = of_job
        ruled = as_ruled(circuit, self.job)
        among = tuple(ruled if c.id == ruled.id else c for c in self.installation.circuits)
        rulings = of_one(ruled, replace(self.installation, circuits=among))
        found = [each for ruling in rulings for each in ruling.findings]
        found += _by_hand(of, self.job)
        if of.overload == "none" and self.job.motor is not None:
            found += overload_there(self.job.motor.power_w, False, self.job.id).findings
        return {each.rule: each for each in (*told, *found) if each.severity != "info"}

    def remedy(self, rule: str, of: Standing, now: Wrong) -> Change | None:
        """The smallest change that ends it: one that ends all, else one that brings nothing new."""
        if not self.tried:
            self.tried = [
                (each, self.stands(each.of)) for each in changes(self.job, of, self.anew[0])
            ]
        ending = [
            (change, wrong)
            for change, wrong in self.tried
            if rule not in wrong and NOT_SIZED not in wrong
        ]
        whole = [change for change, wrong in ending if not wrong]
        clean = [change for change, wrong in ending if wrong.keys() <= now.keys()]
        return next(iter((*whole, *clean)), ending[0][0] if ending else None)


def _by_hand(of: Standing, job: Job) -> tuple[Finding, ...]:
    """Of an isolator that is told of: asked on site of any other."""
    told = of.isolator
    if told is None:
        return ()
    seen = None if isinstance(told, str) else told.in_sight
    if job.region == "NEC" and seen is not None:
        if job.kind == "converter":
            return converter_in_sight(True, seen, job.id).findings
        return disconnect_in_sight(seen, False, job.id).findings if _locks(job) else ()
    if job.region == "NEC" or not _locks(job):
        return ()
    if isinstance(told, str):
        return lockable(False, False, job.id).findings
    return () if told.lockable is None else lockable(True, told.lockable, job.id).findings


def _locks(job: Job) -> bool:
    """Whether a person works at what it feeds."""
    return job.kind in ("motor", "drive")


def standing_circuit(
    job: Job, of: Standing, anew: Laid, installation: Installation
) -> tuple[PlanCircuit, tuple[Finding, ...]]:
    """The plan's circuit with what stands there and serves, and what is wrong with the rest."""
    judge = _Judge(job, installation, anew)
    now = judge.stands(of)
    findings, dropped = [], set()
    for rule, found in now.items():
        change = judge.remedy(rule, of, now)
        findings.append(_as_it_stands(found, job, change))
        dropped |= set(of.told) if change is None else {change.key}
    kept = without(of, dropped | {"conductor"})
    while kept.told and judge.stands(kept):
        kept = without(kept, {kept.told[-1]})
    circuit, told = laid(job, kept)
    thin = any(each.rule == TOO_THIN for each in told)
    if of.conductor is not None and not thin:
        circuit = replace(circuit, there=(*circuit.there, "conductor"))
    return circuit, (*told, *findings)


def line_3_stands(of: Equipment, region: Region, *, high_leg: bool = False) -> tuple[Finding, ...]:
    """What is wrong with the ends of line 3 of what makes it, as they are told today.

    `high_leg`: it stands higher over earth than the others.
    """
    if not of.generates_line3:
        return ()
    found: list[Finding] = []
    if of.tied is not None:
        ruling = line_3_bonded(of.tied != "nothing", of.id)
        found += [_at(each, "tied", "nothing") for each in ruling.findings]
    if of.line_3_marked is not None:
        rule = marked if region == "NEC" else line_3_marked
        ruling = rule(True, of.line_3_marked, of.id)
        found += [_at(each, "line_3_marked", "true") for each in ruling.findings]
        if high_leg and region == "NEC":
            ruling = high_leg_marked(True, of.line_3_marked, of.id)
            found += [_at(each, "line_3_marked", "true") for each in ruling.findings]
    return tuple(found)


def _at(found: Finding, key: str, value: str) -> Finding:
    """A finding of what is there today, with the place in the shop file of its remedy."""
    assert found.remedy is not None
    return replace(
        found,
        severity="condition",
        words=f"as it stands today: {found.words}",
        remedy=replace(found.remedy, path=f"{CONVERTER}.{key}", value=value),
    )


def _as_it_stands(found: Finding, job: Job, change: Change | None) -> Finding:
    """The finding as one of what is there today; the plan puts it right, so it never stops it."""
    words = found.words
    if found.rule == TOO_THIN and change is not None and change.key != "conductor":
        words = words.rpartition(": ")[0]  # another thing is changed, and it stays
    return replace(
        found,
        id=f"{found.rule}:{job.id}",
        circuit=job.id,
        severity="condition" if found.severity == "stop" else found.severity,
        words=f"as it stands today: {words}",
        remedy=found.remedy if change is None else change.remedy,
    )
