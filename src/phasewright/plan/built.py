"""A plan as built: what is bought, who hangs on what, what every set that turns together takes."""

from __future__ import annotations

import math
from dataclasses import replace

from phasewright.plan.arrays import Choice, once_all_have_come
from phasewright.plan.compared import compared_of
from phasewright.plan.currents import cases_of, dip_of, supply_current
from phasewright.plan.flows import Outcome, lifetime_cost, outcomes_of, years_of
from phasewright.plan.gives import gives_of, gives_up_of
from phasewright.plan.motor_study import circuit_side
from phasewright.plan.options import offer_of, shared_of
from phasewright.plan.problem import Solution
from phasewright.plan.starting_room import with_starting_room
from phasewright.plan.starts import beside_others, starting_order, starts_of
from phasewright.plan.study import (
    PlanEquipment,
    PlanMotor,
    PlanSide,
    Regret,
)
from phasewright.plan.sums import (
    energy_per_year,
    hours_of_work,
    idle_energy_per_year,
    labour,
    purchase,
)
from phasewright.plan.supply_lost import hung_sets, supply_lost
from phasewright.plan.titles import plan_id, title_of
from phasewright.plan.to_earth import lines_to_earth
from phasewright.quantities.value import Value, exact, figure
from phasewright.ways.figures import Buy, Figures
from phasewright.ways.purchase import buy


def side_of(
    choice: Choice, plan: Solution, best_by_future: tuple[float, ...], findings: tuple[str, ...]
) -> PlanSide:
    """Everything the result file says of a plan. `best_by_future` is the least cost in each
    future had it been known beforehand."""
    buys, outcomes = buys_of(choice, plan), outcomes_of(choice, plan)
    now = [unit for unit, index in enumerate(plan.options) if index >= 0]
    work, together = hours_of_work(choice, plan), beside_others(choice, plan)
    side = PlanSide(
        id=plan_id(choice, plan),
        title=title_of(choice, plan),
        feasible=plan.serves_all,
        buys=buys,
        purchase=purchase(choice, plan, buys),
        labour=labour(choice, work),
        hours_of_work=work,
        energy_per_year=energy_per_year(choice, plan),
        idle_energy_per_year_kwh=idle_energy_per_year(choice, plan),
        years=years_of(choice, outcomes),
        lifetime_cost=lifetime_cost(outcomes),
        regret=_regret(plan, outcomes, best_by_future),
        noise_dba=_noise(choice, plan),
        gives=gives_of(choice, plan),
        gives_up=gives_up_of(choice, plan),
        supply_current_a=supply_current(choice, plan, together),
        voltage_dip=dip_of(choice, plan, together),
        motors=tuple(_motor(choice, plan, unit) for unit in now),
        equipment=_equipment(choice, plan),
        cases=with_starting_room(choice, plan, cases_of(choice, plan)),
        starts=starts_of(choice, plan),
        starting_order=starting_order(choice, plan),
        findings=findings,
        motors_to_come=_to_come(choice, plan),
    )
    return replace(side, compared=compared_of(choice, plan, side))


def buys_of(choice: Choice, plan: Solution) -> tuple[Buy, ...]:
    """What is bought now, then what the machines to come will want if all of them come."""
    found = _bought(choice, plan.state, plan.options, 0)
    shared = _shared_buy(choice, plan.state, plan.options, 0)
    come = once_all_have_come(choice, plan)
    if come is None:
        return (*shared, *found)
    later, year = come
    if _same_equipment(choice, plan.state, later.state):
        then = shared
    else:
        then = (*shared, *_shared_buy(choice, later.state, later.options, _in_year(year)))
    known = {(each.kind, each.rating, each.origin, each.serves) for each in found}
    for each in _bought(choice, later.state, later.options, _in_year(year)):
        if (each.kind, each.rating, each.origin, each.serves) not in known:
            found.append(each)
    return (*then, *found)


def _same_equipment(choice: Choice, now: int, later: int) -> bool:
    one, other = choice.states[now], choice.states[later]
    return (one.shared, one.had) == (other.shared, other.had)


def _in_year(when: float) -> int:
    """The year of the plan in which something to come is paid; year 0 is today, for certain."""
    return max(1, math.ceil(when))


def _shared_buy(
    choice: Choice, state_index: int, options: tuple[int, ...], year: int
) -> tuple[Buy, ...]:
    """What is shared, as one purchase with all that hangs on it; nothing where nothing is."""
    state = choice.states[state_index]
    units = choice.facts.units
    hung = tuple(
        units[k].id
        for k, index in enumerate(options)
        if index >= 0 and choice.options[index].shared
    )
    on = shared_of(choice.facts, state)
    if on is None or state.had is None:
        return ()
    bought = buy(
        on.way, on.rating, on.unit, hung, state.had.items, origin=state.had.origin, year=year
    )
    return (bought,)


def _bought(choice: Choice, state_index: int, options: tuple[int, ...], year: int) -> list[Buy]:
    """What the units have of their own."""
    found: list[Buy] = []
    for unit, index in enumerate(options):
        if index < 0:
            continue
        offer = offer_of(choice.facts, unit, choice.options[index])
        if offer is not None:
            comes = max(_in_year(float(choice.futures.years[unit])), year) if year else 0
            found += [
                Buy(
                    each.kind, each.rating, each.unit, each.quantity, comes, each.origin,
                    each.serves, each.price, each.price_origin, each.parts,
                )
                for each in offer.buys
            ]  # fmt: skip
    return found


def _regret(
    plan: Solution, outcomes: tuple[Outcome, ...], best: tuple[float, ...]
) -> Regret | None:
    if not plan.serves_all:
        return None
    gaps = [each.cost - least for each, least in zip(outcomes, best, strict=True)]
    words = "this plan in each future against the best one had that future been known"

    def out(number: float) -> Value:
        inputs = {f"future {k + 1}": (gap, "") for k, gap in enumerate(gaps)}
        return figure(number, "", "plan.built.side_of", inputs, words)

    expected = sum(each.chance * gap for each, gap in zip(outcomes, gaps, strict=True))
    return Regret(out(expected), out(max(gaps)))


def _noise(choice: Choice, plan: Solution) -> Value | None:
    """Sound level 1 m from what is shared, the part that a way of powering adds."""
    on = shared_of(choice.facts, choice.states[plan.state])
    return None if on is None else on.noise_dba


def _motor(choice: Choice, plan: Solution, unit: int) -> PlanMotor:
    option = choice.options[plan.options[unit]]
    name = choice.facts.units[unit].id
    if option.way is None:
        return PlanMotor(name, None, None, None, None, Figures())
    if option.shared:
        on = shared_of(choice.facts, choice.states[plan.state])
        served = None if on is None else on.serves(unit)
        assert on is not None
        assert served is not None
        return PlanMotor(
            name, option.way, on.name, served.link.connection,
            _relay_amps(served.full_load_current_a), on.figures_of(unit, name),
        )  # fmt: skip
    judgement = next(j for j in choice.facts.judgements[unit] if j.way == option.way)
    offer = judgement.offers[option.offer]
    link = judgement.link_of(offer)
    amps = None if link is None else link.full_load_current_a
    return PlanMotor(
        name, option.way, f"{option.way} {name}" if offer.buys else None,
        None if link is None else link.connection,
        _relay_amps(amps), judgement.figures_of(offer),
    )  # fmt: skip


def _to_come(choice: Choice, plan: Solution) -> tuple[PlanMotor, ...] | None:
    """Motors that are not there yet, as built once all have come; None where none is planned."""
    come = once_all_have_come(choice, plan)
    if come is None:
        return None
    then, _ = come
    return tuple(
        _motor(choice, then, unit)
        for unit, index in enumerate(then.options)
        if index >= 0 > plan.options[unit]
    )


def _of_thing(figures: Figures) -> Figures:
    """A way's figures without the sheet of its drive and what is on it, which stand with the
    motor."""
    return replace(
        figures, settings=None, rewiring=None, motor_on_drive=None, current_limit_a=None,
        overload_class=None, carrier_hz=None,
    )  # fmt: skip


def _relay_amps(amps: float | None) -> Value | None:
    """What the overload relay is set to; None where nothing has one."""
    if amps is None:
        return None
    return exact(amps, "A", "plate", "rated current of the connection that is used")


def _equipment(choice: Choice, plan: Solution) -> tuple[PlanEquipment, ...]:
    state = choice.states[plan.state]
    units = choice.facts.units
    found = []
    on = shared_of(choice.facts, state)
    if on is not None:
        hung = tuple(
            units[k].id
            for k, index in enumerate(plan.options)
            if index >= 0 and choice.options[index].shared
        )
        found.append(
            PlanEquipment(
                on.name, on.way, on.rating, on.unit, on.place or None, hung, on.figures,
                None if on.circuit is None else circuit_side(on.circuit),
                None if on.design is None else supply_lost(
                    choice.facts.site_at(on.place).source, on.design, hung_sets(choice, plan)
                ),
                None if on.design is None
                else lines_to_earth(choice.facts.shop.supply, on.design.idle.line_voltages_v),
            )
        )  # fmt: skip
    for unit, index in enumerate(plan.options):
        if index < 0:
            continue
        option = choice.options[index]
        offer = offer_of(choice.facts, unit, option)
        if offer is None or not offer.buys or option.way is None or option.shared:
            continue
        found.append(
            PlanEquipment(
                f"{option.way} {units[unit].id}", option.way, offer.buys[0].rating,
                offer.buys[0].unit, units[unit].task.machine.place or None, (units[unit].id,),
                _of_thing(
                    next(j for j in choice.facts.judgements[unit] if j.way == option.way).figures
                ),
                None,
            )
        )  # fmt: skip
    return tuple(found)
