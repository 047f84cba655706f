"""What the rules say of a plan's circuits, told on the circuit and on the plan.

A plan whose circuits a rule forbids is not offered: it does not count as feasible.
"""

from __future__ import annotations

from dataclasses import replace

from phasewright.circuits.installation import Installation
from phasewright.plan.listed import Listed
from phasewright.plan.study import PlanSide
from phasewright.quantities.finding import Finding, Reason
from phasewright.rules.on_site import to_confirm
from phasewright.rules.over import findings as findings_over


def judged(side: PlanSide, installation: Installation) -> tuple[PlanSide, tuple[Finding, ...]]:
    """The plan with the findings of all rules over its circuits, their ids made unique by it,
    and with what is to be confirmed on site."""
    found = tuple(
        replace(each, id=f"{side.id}:{each.id}", plan=side.id)
        for each in findings_over(installation)
    )
    of_circuit: dict[str | None, list[str]] = {}
    for each in found:
        of_circuit.setdefault(each.circuit, []).append(each.id)
    whole = replace(
        side,
        feasible=side.feasible and not any(each.severity == "stop" for each in found),
        findings=(*side.findings, *(each.id for each in found)),
        circuits=tuple(
            replace(each, findings=(*each.findings, *of_circuit.get(each.id, ())))
            for each in side.circuits or ()
        ),
        to_confirm=to_confirm(installation),
    )
    return whole, found


def forbidden(listed: Listed, side: PlanSide) -> bool:
    """Whether a plan that serves every motor is one that a rule forbids."""
    return listed.plan.serves_all and not side.feasible


def offered_first(
    listed: tuple[Listed, ...], sides: tuple[PlanSide, ...]
) -> tuple[tuple[Listed, ...], tuple[PlanSide, ...]]:
    """The same plans; where a rule forbids the best, the cheapest that none does stands first."""
    if not forbidden(listed[0], sides[0]):
        return listed, sides
    offered = [k for k, side in enumerate(sides) if side.feasible]
    if not offered:
        return listed, sides
    first = min(offered, key=lambda k: sides[k].lifetime_cost.expected.number)
    order = (first, *(k for k in range(len(sides)) if k != first))
    return tuple(listed[k] for k in order), tuple(sides[k] for k in order)


def forbids(side: PlanSide, findings: tuple[Finding, ...]) -> tuple[Reason, ...]:
    """What the rules forbid in a plan that is not offered, as obstacles."""
    own = [each for each in findings if each.plan == side.id and each.severity == "stop"]
    return tuple(
        Reason(
            "forbidden_by_rule", f"{each.circuit or each.subject}: {each.words} ({each.source})."
        )
        for each in own
    )
