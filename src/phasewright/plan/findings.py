"""What the rules find in a plan. Every rule is asked; each says itself whether it applies."""

from __future__ import annotations

from dataclasses import replace

from phasewright.plan.arrays import Choice
from phasewright.plan.currents import running_sets
from phasewright.plan.options import shared_of
from phasewright.plan.problem import Solution
from phasewright.quantities.finding import Finding
from phasewright.rules.drives import drive_amps, nothing_opens_behind
from phasewright.rules.generated_line import (
    control_on_supply_lines,
    neutral,
    single_phase_loads_on_supply_lines,
    unbalance,
    wrong_direction,
)
from phasewright.rules.supply import (
    contracted_power,
    outlet_rating,
    service_rating,
    start_dip,
)

OPENING = ("reversing_drum", "two_speed_switch", "star_delta")


def findings_of(choice: Choice, plan: Solution, name: str) -> tuple[Finding, ...]:
    """The findings of every rule on a plan; ids are made unique by the plan's id."""
    found = [
        *_supply(choice, plan),
        *_shared(choice, plan),
        *(each for unit, index in enumerate(plan.options) if index >= 0
          for each in _motor(choice, plan, unit)),
    ]  # fmt: skip
    return tuple(replace(each, id=f"{name}:{each.id}", plan=name) for each in _once(found))


def _once(found: list[Finding]) -> list[Finding]:
    seen: dict[str, Finding] = {}
    for each in found:
        seen.setdefault(each.id, each)
    return list(seen.values())


def _supply(choice: Choice, plan: Solution) -> list[Finding]:
    site, supply = choice.facts.site, choice.facts.shop.supply
    sets = running_sets(choice, plan)
    if not sets:
        return []
    volts = site.source.voltage_v
    amps = max(choice.admission.supply_a(plan.state, each) for each in sets)
    on = shared_of(choice.facts, choice.states[plan.state])
    if on is not None and on.phases is not None:
        return [*service_rating(amps, on.phases.limit_a).findings]
    whole = amps + site.others_a.number
    service = None if supply.service_rating is None else supply.service_rating.number
    outlet = None if supply.outlet_rating is None else supply.outlet_rating.number
    contract = None if supply.contracted_power is None else supply.contracted_power.number
    return [
        *service_rating(whole, service).findings,
        *outlet_rating(amps, outlet).findings,
        *contracted_power(whole * volts, contract).findings,
    ]


def _shared(choice: Choice, plan: Solution) -> tuple[Finding, ...]:
    on = shared_of(choice.facts, choice.states[plan.state])
    return () if on is None else on.findings


def _motor(choice: Choice, plan: Solution, unit: int) -> list[Finding]:
    option, this = choice.options[plan.options[unit]], choice.facts.units[unit]
    machine, load = this.task.machine, this.motor.load
    if option.way is None or option.way == "direct":
        return []
    harms = None if load is None else load.wrong_direction_harms
    found = list(
        wrong_direction(
            harms, False, this.id, "" if load is None else load.kind.wrong_direction
        ).findings
    )
    if option.way in ("drive_per_motor", "step_up_drive", "motor_swap"):
        judgement = next(j for j in choice.facts.judgements[unit] if j.way == option.way)
        offer = judgement.offers[option.offer]
        rated, link = judgement.figures_of(offer).drive_rating_a, judgement.link_of(offer)
        if rated is None:
            return found
        switches = (machine.starter,) if machine.starter in OPENING else None
        found += nothing_opens_behind(switches, this.id).findings
        if link is not None and link.full_load_current_a is not None:
            found += drive_amps(link.full_load_current_a, rated.number, this.id).findings
        return found
    control = machine.control
    fed = None if control is None else control.fed_from
    single = tuple(each.kind for each in machine.others if each.phases != 3)
    found += control_on_supply_lines(fed, control is not None, machine.name).findings
    found += single_phase_loads_on_supply_lines(single, False, machine.name).findings
    found += neutral(machine.needs_neutral, False, machine.name).findings
    if option.shared:
        on = shared_of(choice.facts, choice.states[plan.state])
        served = None if on is None else on.serves(unit)
        if served is not None:
            electronics = control is not None and (control.cnc or control.electronics)
            found += unbalance(*served.unbalance, electronics, this.id).findings
            found += start_dip(served.service.dip_ratio, this.id).findings
    return found
