"""Machines that may come: told, and hung where the plan will hang them, but not wired."""

from __future__ import annotations

from collections.abc import Mapping

from phasewright.papers.wiring.job import Job
from phasewright.papers.wiring.model import Later

INTAKE = "=G0-X1"


def later(job: Job, sources: Mapping[str, tuple[tuple[str, str], ...]]) -> tuple[Later, ...]:
    """Every motor of a planned machine; one whose start on the shared source the plan computed
    hangs there, any other at the intake, by a way that is chosen when it comes."""
    outlets = [rails[0][0].partition(":")[0] for rails in sources.values() if rails]
    started = {each.motor for each in job.plan.starts if each.planned}
    found = []
    for number, motor in enumerate(job.motors, 1):
        machine = job.machine(motor)
        if machine.have != "planned" or machine.chance == 0:
            continue
        there = motor in started and bool(outlets)
        where = "" if there else "; its way is chosen when it comes"
        found.append(
            Later(f"=M{number}", motor, f"{motor}{_when(machine.year, machine.chance)}{where}",
                  outlets[0] if there else INTAKE)
        )  # fmt: skip
    return tuple(found)


def _when(year: float | None, chance: float | None) -> str:
    after = "" if not year else f", in {year:g} year{'' if year == 1 else 's'}"
    likely = "" if chance is None or chance == 1 else f", {100.0 * chance:.0f} % likely"
    return f"{after}{likely}"
