"""What is wrong at a place of the shop's drawing: a few words there, the rest is counted."""

from __future__ import annotations

from collections.abc import Mapping

from phasewright.papers.shop_parts import Wrong
from phasewright.plan.study import PlanSide, Study
from phasewright.quantities.codes import Severity
from phasewright.quantities.finding import Finding
from phasewright.shop.machine import Machine, motor_id

MOST_WRONG = 2
"""Findings told in the drawing at one place; the rest are counted."""
NO_POWER = Wrong("stop", "left without power; why is told below.")


Found = list[tuple[int, Finding]]
"""Findings with their places among all of the answer."""


def findings_here(study: Study | None, plan: PlanSide | None) -> Found:
    """What was found of the shop itself and of this plan."""
    if study is None:
        return []
    wanted = set() if plan is None else set(plan.findings)
    return [
        (place, entry) for place, entry in enumerate(study.findings)
        if entry.plan is None or entry.id in wanted
    ]  # fmt: skip


def called(machine: Machine) -> dict[str, str]:
    """How the subjects of a machine are called beside it: a motor by its name where there are
    several, else not at all."""
    several = len(machine.motors) > 1
    motors = {motor_id(machine, m): m.name if several else "" for m in machine.motors}
    return {machine.name: ""} | motors


def wrong_at(findings: Found, called: Mapping[str, str]) -> tuple[Wrong, ...]:
    """What stops or must be kept to at these subjects, the worst first; the same of several motors
    is told once."""
    alike: dict[tuple[Severity, str], list[str]] = {}
    first: dict[tuple[Severity, str], int] = {}
    for place, one in findings:
        if one.subject in called and one.severity in ("stop", "condition"):
            key = one.severity, _first_sentence(one.words)
            alike.setdefault(key, []).append(called[one.subject])
            first.setdefault(key, place)
    told = [
        Wrong(
            severity,
            words,
            ", ".join(dict.fromkeys(filter(None, names))),
            f"/findings/{first[severity, words]}",
        )
        for (severity, words), names in alike.items()
    ]
    told.sort(key=lambda wrong: wrong.severity != "stop")
    more = len(told) - MOST_WRONG
    return (*told[:MOST_WRONG], *((Wrong("info", f"and {more} more below."),) if more > 0 else ()))


def _first_sentence(words: str) -> str:
    head, stop, _ = words.partition(". ")
    return head + "." if stop else words
