"""The whole answer: facts, choice, the best plans, the words, in one frozen tree."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from importlib.metadata import version

from phasewright.machines.motor import Motor
from phasewright.plan.arrays import Choice, choice_of, known_beforehand
from phasewright.plan.beside import beside
from phasewright.plan.built import side_of
from phasewright.plan.circuit_rules import forbidden, forbids, judged, offered_first
from phasewright.plan.circuit_runs import cable_assumptions
from phasewright.plan.circuits import installation_of, lengths_wanted, with_circuits
from phasewright.plan.currents import places_of
from phasewright.plan.earth_contradictions import earth_contradictions
from phasewright.plan.facts import Facts, facts_of, judgements_of
from phasewright.plan.findings import findings_of
from phasewright.plan.flows import outcomes_of
from phasewright.plan.listed import Listed, listed_plans
from phasewright.plan.missing import missing_of
from phasewright.plan.motor_rules import motors_judged
from phasewright.plan.motor_study import Torque, circuit_side, speeds_side
from phasewright.plan.network_effects import with_network_effects
from phasewright.plan.problem import Solution
from phasewright.plan.remedy_paths import rooted, rooted_ways
from phasewright.plan.search import better
from phasewright.plan.stakes import NOTHING
from phasewright.plan.start_detail import looked_at
from phasewright.plan.study import (
    Answer,
    ChangesIf,
    Made,
    MotorSide,
    OtherSide,
    PlanSide,
    SourceSide,
    StaysIf,
    Study,
    WaySide,
)
from phasewright.plan.supply_side import supply_side
from phasewright.plan.terms import terms_of
from phasewright.plan.titles import plan_id
from phasewright.plan.turning import turning_points
from phasewright.plan.wording import cautions_of, headline_of, obstacles_of, reasons_of
from phasewright.quantities.finding import Assumed, Finding, Missing, Said, joined
from phasewright.quantities.plain import plain
from phasewright.quantities.value import figure
from phasewright.shop.check import cautions
from phasewright.shop.check_circuit import circuits_not_used
from phasewright.shop.model import Shop
from phasewright.tables.own_sources import fuel_price
from phasewright.tables.published import tables_digest
from phasewright.tables.sources import all_sources
from phasewright.ways.consumers import fed_from_two_lines
from phasewright.ways.place_of import place_assumptions, place_findings
from phasewright.ways.site import Site
from phasewright.ways.way import Judgement

Progress = Callable[[str, int, int], None]
MOST_KNOBS = 8


@dataclass(frozen=True, slots=True)
class Answered:
    """The whole answer with what it was made from; `plan` is that of `study.answer.plan`."""

    study: Study
    choice: Choice
    plan: Solution


def answer(shop: Shop, *, quick: bool = False, progress: Progress | None = None) -> Study:
    """The whole answer for a shop; see `answered`."""
    return answered(shop, quick=quick, progress=progress).study


def answered(
    shop: Shop,
    *,
    quick: bool = False,
    progress: Progress | None = None,
    ranked: Callable[[Choice, tuple[Listed, ...]], None] | None = None,
) -> Answered:
    """The whole answer for a shop, and the chosen plan as it was searched.

    `quick` leaves out the turning points. `progress` is called with (what is being done, steps
    done, steps in all); what it raises ends the work. `ranked` is called as soon as the plans are
    found, before the rules are asked about them.
    """
    tell = progress or (lambda words, done, whole: None)
    facts = facts_of(shop, progress)
    terms = terms_of(shop)
    choice = choice_of(facts, terms)
    tell("weighing the plans", 0, 1)
    listed = listed_plans(choice)
    if ranked is not None:
        ranked(choice, listed)
    best = listed[0].plan
    looking = partial(tell, "looking for turning points")
    with beside(
        partial(_turned, choice, best, quick), partial(_turned, choice, best, quick, looking)
    ) as turned:
        listed, sides, findings = _sides(choice, listed, tell)
        side = sides[0]
        if side.feasible and listed[0].plan is best:
            looking(0, 1)
            points, stays, missing = turned()
        else:  # the rules of circuits had another come first
            best = listed[0].plan
            points, stays, missing = _turned(choice, best, quick or not side.feasible, looking)
    headline = headline_of(choice, sides)
    others, about_others = _others(facts)
    study = Study(
        made=_made(shop, quick),
        shop=shop.shop,
        region=shop.region,
        currency=shop.currency or None,
        answer=Answer(
            headline=joined(*headline),
            plan=side.id,
            reasons=reasons_of(choice, listed, sides),
            cautions=cautions_of(choice, best),
            obstacles=(
                *obstacles_of(choice, best),
                *(forbids(side, findings) if forbidden(listed[0], side) else ()),
            ),
            changes_if=points,
            figures=tuple(part for part in headline if isinstance(part, Said)),
            stays_if=stays,
        ),
        supply=supply_side(facts, side),
        motors=tuple(
            rooted_ways(motor_side(facts.site, motor, judgements_of(facts, motor)), shop)
            for motor in facts.motors
        ),
        others=others,
        plans=sides,
        findings=rooted((*_shop_findings(facts), *about_others, *findings), shop),
        assumed=_assumed(facts, terms.assumed),
        missing=(*missing, *lengths_wanted(choice, best, side)),
        sources=tuple(
            SourceSide(each.id, each.title, each.edition, each.status) for each in all_sources()
        ),
        places=places_of(choice, best),
    )
    return Answered(study, choice, best)


def _turned(
    choice: Choice, plan: Solution, quick: bool, tell: Callable[[int, int], None] | None = None
) -> tuple[tuple[ChangesIf, ...], tuple[StaysIf, ...], tuple[Missing, ...]]:
    """What another fact would change: where another plan wins, and what is worth finding out."""
    points, stays = ((), ()) if quick else turning_points(choice, plan, MOST_KNOBS, tell)
    return points, stays, missing_of(choice, plan)


def _sides(
    choice: Choice, listed: tuple[Listed, ...], tell: Progress
) -> tuple[tuple[Listed, ...], tuple[PlanSide, ...], tuple[Finding, ...]]:
    """The listed plans as the answer tells them, the best that is offered first."""
    best_by_future = _known_beforehand(choice, listed[0].plan)
    sides: list[PlanSide] = []
    findings: list[Finding] = []
    for done, each in enumerate(listed):
        tell("drawing up the plans", done, len(listed))
        name = plan_id(choice, each.plan)
        found = findings_of(choice, each.plan, name)
        findings += found
        bare = side_of(choice, each.plan, best_by_future, tuple(one.id for one in found))
        side, more = with_circuits(choice, each.plan, bare)
        side, ruled = judged(side, installation_of(choice, each.plan, side))
        side, shaken = with_network_effects(choice, each.plan, side)
        side, of_motors = motors_judged(choice, each.plan, side)
        findings += (*more, *ruled, *shaken, *of_motors)
        sides.append(side)
    listed, first = offered_first(listed, tuple(sides))
    closer, told = looked_at(choice, listed[0].plan, first[0], first[0].id)
    return listed, (closer, *first[1:]), (*findings, *told)


def _known_beforehand(choice: Choice, plan: Solution) -> tuple[float, ...]:
    """The least cost in each future, had it been known before anything was bought; `plan` is the
    best for all of them together, for that of each to beat."""
    later = choice.later_in(plan)
    without = len(choice.options) - 1
    found = []
    for future, outcome in enumerate(outcomes_of(choice, plan)):
        problem = known_beforehand(choice, future)
        left = [*plan.options, *later[future].options].count(without)
        best = better(problem, outcome.cost + problem.penalty * left - NOTHING)
        found.append(outcome.cost if best is None else best.expected)
    return tuple(found)


def _made(shop: Shop, quick: bool) -> Made:
    text = repr(plain(replace(shop, file="", lines={})))
    return Made(
        version("phasewright"),
        tables_digest(),
        hashlib.sha256(text.encode()).hexdigest(),
        quick,
    )


def motor_side(site: Site, motor: Motor, judgements: tuple[Judgement, ...]) -> MotorSide:
    """What the answer tells of a motor, with the ways that were judged on it."""
    link = motor.circuit_link
    torque = None
    if motor.rated_nm is not None and motor.locked_nm is not None and motor.breakdown_nm:
        torque = Torque(motor.rated_nm, motor.locked_nm, motor.breakdown_nm)
    chosen = motor.link
    words = [reason.words for reason in (motor.link_reasons or motor.reasons)]
    return MotorSide(
        id=motor.id,
        connection=motor.connection,
        connection_words=chosen.words if chosen is not None else " ".join(words),
        line_voltage_v=None
        if link is None
        else figure(
            link.line_voltage_v, "V", "machines.connection.link_for",
            {"supply": (site.source.voltage_v, "V")}, "plate",
        ),
        full_load_current_a=motor.full_load_current_a,
        poles=motor.poles,
        synchronous_speed_rpm=motor.synchronous_speed_rpm,
        rated_power_w=motor.power_w,
        rated_speed_rpm=motor.speed_rpm,
        equivalent_circuit=None if motor.circuit is None else circuit_side(motor.circuit),
        torque=torque,
        locked_rotor_current_a=motor.locked_rotor_current_a,
        speeds=speeds_side(motor),
        ways=tuple(_way(site, judgement) for judgement in judgements),
    )  # fmt: skip


def _way(site: Site, judgement: Judgement) -> WaySide:
    link = judgement.link
    amps = None if link is None else link.full_load_current_a
    inputs = {"supply": (site.source.voltage_v, "V")}
    return WaySide(
        way=judgement.way,
        verdict=judgement.verdict,
        connection=None if link is None else link.connection,
        line_voltage_v=None
        if link is None
        else figure(
            link.line_voltage_v, "V", "machines.connection.link_for", inputs, "plate and its links"
        ),
        full_load_current_a=None
        if amps is None
        else figure(amps, "A", "machines.connection.link_for", inputs, "plate and its links"),
        reasons=judgement.reasons,
        conditions=judgement.conditions,
        figures=judgement.figures,
    )


def _others(facts: Facts) -> tuple[tuple[OtherSide, ...], tuple[Finding, ...]]:
    """Consumers that are no motors, each on lines 1 and 2, and what is found about them."""
    sides: list[OtherSide] = []
    findings: list[Finding] = []
    for i, machine in enumerate(facts.shop.machines):
        for number, other in enumerate(machine.others):
            name = f"{machine.name}/{other.kind} {number + 1}"
            path = f"machines[{i}].others[{number}]"
            fed = fed_from_two_lines(other, name, path, facts.shop.supply.voltage.number)
            sides.append(
                OtherSide(name, "direct", fed.current_a, tuple(each.id for each in fed.findings))
            )
            findings += fed.findings
    return tuple(sides), tuple(findings)


def _shop_findings(facts: Facts) -> tuple[Finding, ...]:
    return (
        *cautions(facts.shop),
        *facts.impedance.findings,
        *earth_contradictions(facts.shop.supply),
        *place_findings(facts.shop),
        *circuits_not_used(facts.shop),
        *(finding for motor in facts.motors for finding in motor.findings),
    )


def _assumed(facts: Facts, terms: tuple[Assumed, ...]) -> tuple[Assumed, ...]:
    found = [*facts.impedance.assumed, *terms]
    if facts.site.limit.current_a.origin not in ("stated", "plate", "measured", "computed"):
        found.append(Assumed("service rating", facts.site.limit.path, facts.site.limit.current_a))
    if facts.shop.supply.measured_voltage is None:
        found.append(Assumed("mains volts", "supply.measured_voltage", facts.site.voltage_v))
    found += [*place_assumptions(facts.shop), *cable_assumptions(facts.shop)]
    if facts.site.fuel_price is None and any(on.energy_price for on in facts.shared):
        usual = fuel_price(facts.shop.region, None)
        found.append(Assumed("price of a litre of fuel", "tariff.fuel", usual))
    for motor in facts.motors:
        found += motor.assumed
    return tuple(found)
