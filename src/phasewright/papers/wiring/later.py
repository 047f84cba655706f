"""Machines that may come: told, and hung where the plan will hang them, but not wired."""

from __future__ import annotations

from collections.abc import Mapping

from phasewright.papers.wiring.job import Job
from phasewright.papers.wiring.model import Later
from phasewright.quantities.units import format as shown

INTAKE = "=G0-X1"


def later(job: Job, sources: Mapping[str, tuple[tuple[str, str], ...]]) -> tuple[Later, ...]:
    """Every motor of a planned machine, and every other for which the plan buys something in a
    later year. One whose start on the shared source the plan computed hangs there, any other at
    the intake; what nothing says yet is chosen when it comes."""
    outlets = [rails[0][0].partition(":")[0] for rails in sources.values() if rails]
    started = {each.motor for each in job.plan.starts if each.planned}
    bought = _bought(job)
    found = []
    for number, motor in enumerate(job.motors, 1):
        machine = job.machine(motor)
        comes = machine.have == "planned" and machine.chance != 0
        if not comes and motor not in bought:
            continue
        there = motor in started and bool(outlets)
        way = bought.get(motor, "" if there else "its way is chosen when it comes")
        when = _when(machine.year, machine.chance) if comes else ""
        words = f"{motor}{when}; {way}" if way else f"{motor}{when}"
        found.append(Later(f"=M{number}", motor, words, outlets[0] if there else INTAKE))
    return tuple(found)


def _bought(job: Job) -> dict[str, str]:
    """What the plan buys in later years, by the motor it is first of all for."""
    found: dict[str, list[str]] = {}
    for buy in job.plan.buys:
        if buy.year > 0 and buy.serves:
            size = f" of {shown(buy.rating, buy.unit)}" if buy.unit else ""
            said = f"{buy.kind.replace('_', ' ')}{size} in year {buy.year}"
            found.setdefault(buy.serves[0], []).append(said)
    return {motor: ", ".join(said) for motor, said in found.items()}


def _when(year: float | None, chance: float | None) -> str:
    after = "" if not year else f", in {year:g} year{'' if year == 1 else 's'}"
    likely = "" if chance is None or chance == 1 else f", {chance:.0%} likely"
    return f"{after}{likely}"
