"""The cable that lies there already: whether it serves, and which length would change what is laid.

A cable that is too thin is laid anew in the plan's circuit, never used; that is told.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from phasewright.circuits.cables import ampacity, standard_size
from phasewright.circuits.need import Need
from phasewright.circuits.sizing import Sized, failing
from phasewright.plan.circuit_jobs import Job
from phasewright.plan.circuit_study import PlanCircuit
from phasewright.plan.circuit_words import device_words
from phasewright.quantities.finding import Finding, Missing, Remedy
from phasewright.quantities.units import format as printed
from phasewright.quantities.value import Value, exact

RULE = "circuit.cable_too_thin"
APART = ("capacitor_branch", "control", "drive_to_motor", "outlet_to_machine")
"""Roles of circuits that share no pipe with those that leave a board."""
MOST_BUNCHED = 6
"""Circuits in one pipe reckoned with at the most; more are led in two (common practice)."""
Laying = Callable[[Job], tuple[PlanCircuit, tuple[Finding, ...]]]


def too_thin(job: Job, need: Need, of: Sized) -> tuple[Finding, ...]:
    """That the cable which lies there is thinner than what serves, and by which check."""
    there = job.run.conductor_m2
    if there is None or of.size.area_m2 <= there * (1.0 + 1e-3):
        return ()
    lies = printed(there, "area", region=job.region)
    return (
        Finding(
            f"{RULE}:{job.id}", RULE, "condition", job.to,
            f"the cable of {lies} that lies there {_why(need, of, there)}: "
            f"{of.size.name} is laid here instead",
            found=1e6 * there, allowed=1e6 * of.size.area_m2, unit="mm2", circuit=job.id,
            remedy=Remedy(f"Lay a cable of {of.size.name}.", _path(job, "conductor"), of.size.name),
            source="ampacity, voltage drop and heat of a short as for a cable laid anew",
        ),
    )  # fmt: skip


def _why(need: Need, of: Sized, there_m2: float) -> str:
    size = standard_size(there_m2, need.laid.region)
    if size is None:
        return "is thinner than any that is sold for such a circuit"
    match failing(need, size, of.device):
        case "drop":
            return f"loses more than {need.most_drop:.1%} of the volts over {need.length_m:.3g} m"
        case "short":
            return "would be overheated by a short at its beginning before its breaker opens"
        case _:
            carries = f"carries {ampacity(size, need.laid).number:.3g} A for ever as it lies"
            behind = "" if of.device is None else f", behind a {device_words(of.device)} breaker"
            return f"{carries}, and {need.design_a:.3g} A flow{behind}"


def lengths_worth(jobs: Iterable[Job], laying: Laying) -> tuple[Missing, ...]:
    """Lengths nobody told that decide a circuit: laid at both ends of what it may be.

    One a machine: that of the circuit whose conductor changes most.
    """
    found: dict[str, Missing] = {}
    for job in jobs:
        if job.run.path is None or job.length.origin != "assumed":
            continue
        changes = _changes(job, laying)
        if changes is not None:
            found.setdefault(job.run.path, _missing(job, changes))
    return tuple(found.values())


def pipes_worth(jobs: Sequence[Job], laying: Laying) -> tuple[Missing, ...]:
    """Circuits of one board that are laid apart because nobody told otherwise, where one pipe for
    all of them would make a conductor thicker: once a board."""
    boards: dict[str, list[Job]] = {}
    for job in jobs:
        if job.run.path is not None and job.role not in APART:
            boards.setdefault(job.source, []).append(job)
    found = (_pipe(board, of, laying) for board, of in boards.items() if len(of) > 1)
    return tuple(each for each in found if each is not None)


def _pipe(board: str, jobs: list[Job], laying: Laying) -> Missing | None:
    count = min(len(jobs), MOST_BUNCHED)
    thicker = []
    for job in jobs:
        if job.run.grouped is not None:
            continue
        alone, _ = laying(job)
        bunched, _ = laying(replace(job, run=replace(job.run, grouped=count)))
        if alone.conductor != bunched.conductor:
            size = bunched.conductor or "none that is sold"
            thicker.append((job, f"{_end(job)} {size}"))
    if not thicker:
        return None
    return Missing(
        "circuits in one pipe", _path(thicker[0][0], "grouped") or "", 1.0, float(len(jobs)),
        f"The {len(jobs)} circuits that leave {board} are taken to run apart; drawn into one pipe "
        "they warm each other, and some must be thicker.",
        "Look how many of them share a pipe or trunking on their way.",
        f"conductors, where {count} share one: {', '.join(words for _, words in thicker)}",
    )  # fmt: skip


def _end(job: Job) -> str:
    """What it feeds, in words: a motor's own drive by the motor."""
    way, _, motor = job.to.partition(" ")
    return f"the drive of {motor}" if job.role == "supply_to_drive" and "_" in way else job.to


def _changes(job: Job, laying: Laying) -> str | None:
    """What the shortest and the longest run differ in, in words; None where in nothing."""
    (short, told_short), (far, told_far) = (laying(_at(job, end)) for end in ("low", "high"))
    if short.conductor != far.conductor:
        thick = far.conductor or "none that is sold"
        return f"its conductor: {short.conductor or 'none'} to {thick}"
    if short.device != far.device:
        return "the breaker"
    return "what is found about the circuit" if len(told_short) != len(told_far) else None


def _at(job: Job, end: str) -> Job:
    length: Value = job.length
    metres = length.low if end == "low" else length.high
    at = exact(metres, "m", length.origin, length.source)
    return replace(job, run=replace(job.run, length=at))


def _missing(job: Job, changes: str) -> Missing:
    return Missing(
        "cable length", _path(job, "length") or "", job.length.low, job.length.high,
        "How far the cable runs to the machine decides how thick it must be.",
        "Pace out the way the cable takes, up and down the walls too, one way.",
        changes,
    )  # fmt: skip


def _path(job: Job, key: str) -> str | None:
    return None if job.run.path is None else f"{job.run.path}.{key}"
