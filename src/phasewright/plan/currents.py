"""What a plan takes from the supply: running, starting, and every set that turns together."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from phasewright.network.impedance import SupplyImpedance, fault_current
from phasewright.plan.arrays import Choice
from phasewright.plan.case_harmonics import case_harmonics
from phasewright.plan.options import shared_of
from phasewright.plan.problem import Solution
from phasewright.plan.study import (
    Dip,
    Impedance,
    MotorAmps,
    PlaceSide,
    PlanCase,
    SupplyCurrent,
    Unbalance,
)
from phasewright.plan.to_earth import lines_to_earth
from phasewright.quantities.value import Value, figure
from phasewright.quantities.words import place_words
from phasewright.ways.site import Site

Out = Callable[[float, str], Value]
Three = tuple[Value, Value, Value]


def running_sets(choice: Choice, plan: Solution) -> tuple[tuple[tuple[int, int], ...], ...]:
    """The largest sets of units that are there now and turn together, with their options."""
    sets = []
    for group in choice.facts.groups:
        running = tuple(
            (unit, plan.options[unit])
            for unit in sorted(group)
            if plan.options[unit] >= 0 and choice.options[plan.options[unit]].way is not None
        )
        if running and running not in sets:
            sets.append(running)
    return tuple(sets)


@dataclass(frozen=True, slots=True)
class StartAt:
    """One start of the plan: amps from the supply, its dip, and the place where it is that deep."""

    supply_a: float
    dip_ratio: float
    place: str


def supply_current(
    choice: Choice, plan: Solution, together: tuple[StartAt, ...] = ()
) -> SupplyCurrent:
    """Amps from the supply: the greatest set that turns, and the hardest start; `together` are
    starts beside machines that run already."""
    volts = choice.facts.site.source.voltage_v
    inputs = {"supply": (volts, "V")}
    sets = running_sets(choice, plan)
    if not sets:
        return SupplyCurrent(None, None)
    running = max(choice.admission.supply_a(plan.state, each) for each in sets)
    starting = max([running, *(start.supply_a for start in (*_starts(choice, plan), *together))])
    words = "network of each set that turns together"
    return SupplyCurrent(
        figure(running, "A", "plan.admit.Admission.draw", inputs, words),
        figure(
            starting,
            "A",
            "ways.on_converter.hang",
            inputs,
            "the starts of the plan, computed in time where they are",
        ),
    )


def _starts(choice: Choice, plan: Solution) -> list[StartAt]:
    """Every start of the plan: the idler's, and each motor's alone."""
    found = []
    state = choice.states[plan.state]
    on = shared_of(choice.facts, state)
    if on is not None and on.own_start is not None:
        found.append(StartAt(on.own_start.supply_a, on.own_start.dip_ratio, on.place))
    for unit, index in enumerate(plan.options):
        if index < 0:
            continue
        service = choice.ledger.service(unit, choice.options[index], state)
        if service is not None and service.dip_ratio is not None:
            place = choice.facts.units[unit].place
            found.append(StartAt(service.starting_current_a, service.dip_ratio, place))
    return found


def dip_of(choice: Choice, plan: Solution, together: tuple[StartAt, ...] = ()) -> Dip | None:
    """The deepest fall of the supply at any start of the plan; None where nothing starts."""
    starts = [*_starts(choice, plan), *together]
    if not starts:
        return None
    deepest = max(sorted(starts, key=lambda each: each.place), key=lambda each: each.dip_ratio)
    source = choice.facts.site_at(deepest.place).source
    tapped = (
        "where the three lines are tapped"
        if choice.facts.site.supply_kind == "three_phase"
        else "where lines 1 and 2 are tapped"
    )
    return Dip(
        figure(
            deepest.dip_ratio, "", "ways.on_converter.hang",
            {
                "supply resistance": (source.resistance_ohm, "ohm"),
                "supply reactance": (source.reactance_ohm, "ohm"),
            },
            "the starts of the plan, computed in time where they are",
        ),
        f"in {place_words(deepest.place)}, {tapped}" if deepest.place else tapped,
    )  # fmt: skip


def places_of(choice: Choice, plan: Solution) -> tuple[PlaceSide, ...]:
    """Every place where machines stand: its supply, and what its feeder bears in the plan."""
    return tuple(_place(choice, plan, site) for site in choice.facts.places)


def _place(choice: Choice, plan: Solution, site: Site) -> PlaceSide:
    impedance = SupplyImpedance(site.resistance_ohm, site.reactance_ohm, "at the place")
    limit, amps = site.feeder, 0.0
    for running in running_sets(choice, plan):
        of = choice.admission.feeder_limit(plan.state, running, site)
        taken = choice.admission.feeder_a(plan.state, running, site.place)
        if (
            limit is None
            or of is None
            or of.current_a.number - taken < (limit.current_a.number - amps)
        ):
            limit, amps = of, taken
    bears = None if limit is None else limit.current_a
    return PlaceSide(
        site.place,
        Impedance(site.resistance_ohm, site.reactance_ohm),
        fault_current(impedance, site.source.voltage_v),
        bears,
        None if bears is None else figure(
            bears.number - amps, "A", "plan.currents.places_of",
            {"what the feeder carries": (bears.number, "A"), "what runs over it": (amps, "A")},
            "the set that leaves least", low=bears.low - amps, high=bears.high - amps,
        ),
    )  # fmt: skip


def cases_of(choice: Choice, plan: Solution) -> tuple[PlanCase, ...]:
    """Every largest set that turns together now: its currents, volts and unbalance."""
    return tuple(_case(choice, plan, running) for running in running_sets(choice, plan))


def _case(choice: Choice, plan: Solution, running: tuple[tuple[int, int], ...]) -> PlanCase:
    site, units = choice.facts.site, choice.facts.units
    draw = choice.admission.draw(plan.state, running)
    amps = choice.admission.supply_a(plan.state, running)
    shared = choice.admission.hung(running)
    turning = choice.admission.turning(plan.state, shared) if shared else None
    point = None if turning is None else turning.lines
    on = shared_of(choice.facts, choice.states[plan.state])
    inputs = {
        units[unit].id: (power.number, "W")
        for unit, _ in running
        if (power := units[unit].motor.power_w) is not None
    }
    words = "usual loads, the greatest asker at its highest; harmonics as if in phase"
    room = choice.admission.room_a(plan.state) - amps

    def out(number: float, unit: str) -> Value:
        return figure(number, unit, "running.settle.settle", inputs, "three-line network")

    return PlanCase(
        running=tuple(units[unit].id for unit, _ in running),
        supply_current_a=figure(amps, "A", "plan.admit.Admission.draw", inputs, words),
        supply_power_w=figure(draw.power_w, "W", "plan.admit.Admission.draw", inputs, words),
        room_left_a=figure(
            room, "A", "plan.currents.cases_of",
            room_inputs(choice, plan) | {"this": (amps, "A")}, "shop file",
            low=room - (site.others_a.high - site.others_a.number),
        ),
        line_voltages_v=None if point is None else _three(point.line_voltages_v, "V", out),
        unbalance=None if point is None else Unbalance(out(point.vuf, ""), out(point.nema, "")),
        line_currents_a=None if point is None else tuple(
            MotorAmps(each.name, _three(each.line_currents_a, "A", out)) for each in point.machines
        ),
        lines_to_earth_v=None if point is None or on is None or not on.generated_line
        else lines_to_earth(choice.facts.shop.supply, point.line_voltages_v),
        harmonics=case_harmonics(choice, plan, running),
    )  # fmt: skip


def room_inputs(choice: Choice, plan: Solution) -> dict[str, tuple[float, str]]:
    """The limit that leaves least, and what of it other loads take; under a new service the limit
    of a phase, for there the others are in what the phase carries."""
    site, room = choice.facts.site, choice.admission.room_a(plan.state)
    limit = site.least.current_a.number if room == site.room_a else room
    return {"limit": (limit, "A"), "others": (limit - room, "A")}


def _three(numbers: tuple[float, float, float], unit: str, out: Out) -> Three:
    one, two, three = numbers
    return out(one, unit), out(two, unit), out(three, unit)
