"""What the rules find in a plan. Every rule is asked; each says itself whether it applies."""

from __future__ import annotations

import math
from dataclasses import replace

from phasewright.plan.arrays import Choice
from phasewright.plan.code_needs import converter_conductors
from phasewright.plan.currents import places_of, running_sets
from phasewright.plan.options import Option, shared_of
from phasewright.plan.places import fed_over_feeder
from phasewright.plan.problem import Solution
from phasewright.plan.supply_lost import hung_sets, supply_lost_findings
from phasewright.plan.supply_quality import supply_quality_findings
from phasewright.plan.to_earth import earth_findings, source_findings
from phasewright.quantities.finding import Finding
from phasewright.rules.drives import drive_amps, nothing_opens_behind
from phasewright.rules.generated_line import (
    neutral,
    unbalance,
)
from phasewright.rules.own_sources import one_filling_a_day
from phasewright.rules.places import dust, feeder_rating, frost, third_conductor
from phasewright.rules.supply import (
    contracted_power,
    outlet_rating,
    service_rating,
    start_dip,
)
from phasewright.shop.machine import Machine
from phasewright.shop.model import Shop
from phasewright.ways.conditions import (
    direction_ruling,
    generated_line_rulings,
    has_electronics,
    switches_of,
)
from phasewright.ways.place_of import larger_feeder, loaded_conductors, path_of
from phasewright.ways.shared_source import Shared


def findings_of(choice: Choice, plan: Solution, name: str) -> tuple[Finding, ...]:
    """The findings of every rule on a plan; ids are made unique by the plan's id."""
    found = [
        *_supply(choice, plan),
        *_shared(choice, plan),
        *_places(choice, plan),
        *supply_quality_findings(choice, plan),
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
        *contracted_power(site.apparent_va(whole), contract).findings,
    ]


def _shared(choice: Choice, plan: Solution) -> tuple[Finding, ...]:
    on = shared_of(choice.facts, choice.states[plan.state])
    if on is None:
        return ()
    if math.isfinite(on.most_kwh_per_year):
        taken = choice.ledger.shared_kwh(plan.options, choice.states[plan.state])
        return (*on.findings, *one_filling_a_day(taken, on.most_kwh_per_year, on.name).findings)
    if on.phases is not None or on.neutral or not on.three_lines:
        return on.findings
    shop = choice.facts.shop
    hung = [choice.admission.hung(each) for each in running_sets(choice, plan)]
    turning = [choice.admission.turning(plan.state, each) for each in hung if each]
    running_v = tuple(one.lines.line_voltages_v for one in turning if one is not None)
    if on.design is None:
        return (*on.findings, *source_findings(shop.supply, running_v))
    return (
        *on.findings,
        *supply_lost_findings(
            choice.facts.site_at(on.place).source, on.design, hung_sets(choice, plan)
        ),
        *earth_findings(shop.supply, shop.region, on.design.idle.line_voltages_v, running_v),
        *converter_conductors(choice, plan),
    )


def _places(choice: Choice, plan: Solution) -> list[Finding]:
    """What the places ask: their feeders, their dust and their frost."""
    facts, on = choice.facts, shared_of(choice.facts, choice.states[plan.state])
    found: list[Finding] = []
    for site, side in zip(facts.places, places_of(choice, plan), strict=True):
        if side.limit_a is not None and side.headroom_a is not None:
            taken = side.limit_a.number - side.headroom_a.number
            larger = larger_feeder(facts.shop, site.place, taken)
            found += feeder_rating(taken, side.limit_a.number, site.place, larger).findings
        air = _at_place(facts.shop, site.place, "ambient")
        found += frost(site.surroundings.ambient_c, site.place, air).findings
    hung = [
        facts.units[unit]
        for unit, index in enumerate(plan.options)
        if index >= 0 and choice.options[index].shared
    ]
    if on is None:
        return found
    cores = loaded_conductors(facts.shop.supply)
    for unit in hung:
        there = facts.site_at(unit.place)
        if fed_over_feeder(on, unit, there, facts.site):
            ahead = on.phases is None
            found += third_conductor(3, cores, unit.place, counted_ahead=ahead).findings
        elif on.design is not None:
            dusty = _at_place(facts.shop, unit.place, "dust")
            found += dust(there.surroundings.dust, "hot idler", on.name, dusty).findings
    return found


def _at_place(shop: Shop, place: str, key: str) -> str | None:
    """Where a fact of a place stands in the shop file; None where everything is one place."""
    return f"{path_of(shop, shop.place(place))}.{key}" if place else None


def _switches_to_move(shop: Shop, machine: Machine, subject: str) -> list[Finding]:
    """Switches in the motor's lines today: a step of the wiring, for the plan moves them.

    The rule judges what stands there now, and left there it would be a stop.
    """
    number = [each.name for each in shop.machines].index(machine.name)
    path = f"machines[{number}].circuit.behind_drive"
    return [
        replace(
            each,
            severity="condition",
            words=f"to be changed before the drive is switched on: as wired now, {each.words}",
            remedy=None
            if each.remedy is None
            else replace(each.remedy, path=path, value="isolator"),
        )
        for each in nothing_opens_behind(switches_of(machine), subject).findings
    ]


def _on_own_drive(choice: Choice, option: Option, unit: int) -> list[Finding]:
    """What a drive of its own asks; nothing where the offer has none."""
    this = choice.facts.units[unit]
    judgement = next(j for j in choice.facts.judgements[unit] if j.way == option.way)
    offer = judgement.offers[option.offer]
    rated, link = judgement.figures_of(offer).drive_rating_a, judgement.link_of(offer)
    if rated is None:
        return []
    found = _switches_to_move(choice.facts.shop, this.task.machine, this.id)
    if link is not None and link.full_load_current_a is not None:
        found += drive_amps(link.full_load_current_a, rated.number, this.id).findings
    return found


def _on_shared_drive(choice: Choice, on: Shared | None, unit: int) -> list[Finding]:
    this, served = choice.facts.units[unit], None if on is None else on.serves(unit)
    if on is None or served is None or on.figures.drive_rating_a is None:
        return []
    amps, carried = served.full_load_current_a, on.figures.drive_rating_a.number
    return [
        *_switches_to_move(choice.facts.shop, this.task.machine, this.id),
        *drive_amps(amps, carried, this.id).findings,
    ]


def _motor(choice: Choice, plan: Solution, unit: int) -> list[Finding]:
    option, this = choice.options[plan.options[unit]], choice.facts.units[unit]
    machine, load = this.task.machine, this.motor.load
    if option.way is None or (option.way == "direct" and not this.motor.three_phase):
        return []
    found = list(direction_ruling(load, this.id).findings)
    if option.way == "direct":
        service = choice.ledger.service(unit, option, choice.states[plan.state])
        return found + list(
            start_dip(None if service is None else service.dip_ratio, this.id).findings
        )
    if option.way in ("drive_per_motor", "step_up_drive", "motor_swap"):
        return found + _on_own_drive(choice, option, unit)
    on = shared_of(choice.facts, choice.states[plan.state]) if option.shared else None
    if option.way == "shared_drive":
        return found + _on_shared_drive(choice, on, unit)
    if on is None or on.generated_line:
        for ruling in generated_line_rulings(machine, on_line_3=False):
            found += ruling.findings
    elif not on.neutral:
        found += neutral(machine.needs_neutral, False, machine.name).findings
    if option.shared:
        served = None if on is None else on.serves(unit)
        if served is not None:
            found += unbalance(*served.unbalance, has_electronics(machine), this.id).findings
            found += start_dip(served.service.dip_ratio, this.id).findings
            for ruling in served.rulings:
                found += ruling.findings
    return found
