"""What is known of a changed shop before its whole answer: a touched machine, and the line.

What the last answer bought stays as it is; the motors of machines that were changed hang on it as
they hung there. What that asks of the supply is the true network's, settled anew for every set
with a touched motor in it. Whether it still starts, and what the rules say, the whole answer tells.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from phasewright.machines.motor import Motor
from phasewright.network.impedance import supply_impedance
from phasewright.network.supply import Source
from phasewright.plan.admit import Admission
from phasewright.plan.answer import Answered, motor_side
from phasewright.plan.arrays import Choice
from phasewright.plan.currents import running_sets
from phasewright.plan.facts import Facts, judged, motors_of
from phasewright.plan.listed import Listed
from phasewright.plan.options import Option, offer_of, shared_of
from phasewright.plan.places import sites_of
from phasewright.plan.problem import Running, Solution
from phasewright.plan.remedy_paths import rooted_ways
from phasewright.plan.study import MotorSide
from phasewright.plan.titles import title_of
from phasewright.plan.units import Unit, groups_of, units_of
from phasewright.quantities.value import Value, figure
from phasewright.shop.model import Shop
from phasewright.ways.catalogue import CATALOGUE
from phasewright.ways.shared_source import Lines
from phasewright.ways.site import Site
from phasewright.ways.site_of import site_of
from phasewright.ways.way import Judgement


@dataclass(frozen=True, slots=True)
class LineNow:
    """What the line carries with what the last answer bought, which is named in `plan`.

    `before_a` and `now_a` are rms amps from the supply while the greatest set turns, `limit_a` what
    it has for the machines; `lines` the generated lines in the first set with a touched motor on
    what is shared. `bears`: neither supply nor what was bought refuses any set; `hangs`: every
    motor may still hang where it hung, else `now_a` and `lines` are None.
    """

    plan: str
    before_a: Value
    now_a: Value | None
    limit_a: float
    lines: Lines | None
    bears: bool
    hangs: bool


@dataclass(frozen=True, slots=True)
class Touched:
    """The motors of the machines that were changed, each with the way it has in the last answer,
    judged anew; `line` is None where another supply or other machines leave nothing to compare."""

    motors: tuple[MotorSide, ...]
    line: LineNow | None


@dataclass(frozen=True, slots=True)
class Ranked:
    """A plan found by the search: what it costs over the years, and whether it serves every motor.

    The rules have not been asked about it yet.
    """

    title: str
    cost: float
    feasible: bool


def ranking(choice: Choice, listed: tuple[Listed, ...]) -> tuple[Ranked, ...]:
    """The plans that were found, the cheapest of those that serve every motor first."""
    found = [
        Ranked(title_of(choice, each.plan), each.plan.expected, each.plan.serves_all)
        for each in listed
    ]
    return tuple(sorted(found, key=lambda plan: (not plan.feasible, plan.cost)))


def touched(before: Answered, shop: Shop) -> Touched:
    """A shop that was changed, seen from its last answer."""
    was = before.choice.facts
    motors = motors_of(shop)
    units = units_of(shop, {motor.id: motor for motor in motors})
    known = {unit.id: unit for unit in was.units}
    anew = {unit.id for unit in units if unit.id not in known or known[unit.id].task != unit.task}
    facts = _facts(before, shop, motors, units)
    sides = tuple(_side(before, facts or was, m, known, facts is not None) for m in motors
                  if m.id in anew)  # fmt: skip
    return Touched(sides, None if facts is None else _line(before, facts, anew))


def _facts(
    before: Answered, shop: Shop, motors: tuple[Motor, ...], units: tuple[Unit, ...]
) -> Facts | None:
    """The facts of the changed shop with what the last answer bought; None where the two cannot be
    compared, or what is shared cannot be asked how it does on another supply."""
    was = before.choice.facts
    impedance = supply_impedance(shop.supply, shop.region)
    site, places = site_of(shop, impedance), sites_of(shop)
    alike = (
        (site.region, site.supply_kind) == (was.site.region, was.site.supply_kind)
        and [unit.id for unit in units] == [unit.id for unit in was.units]
        and [place.place for place in places] == [place.place for place in was.places]
    )
    if not alike:
        return None
    shared = was.shared
    on = before.choice.states[before.plan.state].shared
    if on is not None and _sources(site, places) != _sources(was.site, was.places):
        moved = None if places else shared[on].fed_from(site.source)
        if moved is None:
            return None
        shared = (*shared[:on], moved, *shared[on + 1 :])
    facts = replace(
        was, shop=shop, site=site, impedance=impedance, motors=motors, shared=shared, places=places
    )
    return _with(before, facts, units)


def _sources(site: Site, places: tuple[Site, ...]) -> list[Source]:
    return [each.source for each in (site, *places)]


def touched_alone(before: Shop, shop: Shop) -> Touched:
    """The motors of machines that were changed, with no answer to see them from."""
    site = site_of(shop, supply_impedance(shop.supply, shop.region))
    changed = {
        machine.name for machine in shop.machines
        if before.supply != shop.supply or machine not in before.machines
    }  # fmt: skip
    sides = (motor_side(site, motor, ()) for motor in motors_of(shop) if motor.machine in changed)
    return Touched(tuple(sides), None)


def _with(before: Answered, facts: Facts, units: tuple[Unit, ...]) -> Facts:
    """The facts with the touched units, each judged anew in the way it has in the last answer."""
    was, judgements = before.choice.facts, []
    for number, unit in enumerate(units):
        ways, there = facts.judgements[number], facts.site_at(unit.place)
        if unit.task != was.units[number].task or there != was.site_at(unit.place):
            ways = tuple(
                judged(way, unit.task, there) if _way_of(before, number) == way.NAME else each
                for way, each in zip(CATALOGUE, ways, strict=True)
            )
        judgements.append(ways)
    groups = groups_of(facts.shop, units)
    return replace(facts, units=units, groups=groups, judgements=tuple(judgements))


def _way_of(before: Answered, unit: int) -> str | None:
    option = _option(before, unit)
    return None if option is None else option.way


def _option(before: Answered, unit: int) -> Option | None:
    """What a unit has in the last answer; None where it is to come."""
    index = before.plan.options[unit]
    return before.choice.options[index] if index >= 0 else None


def _side(
    before: Answered, facts: Facts, motor: Motor, known: dict[str, Unit], same: bool
) -> MotorSide:
    """A touched motor with the one way that it has in the last answer, where it has one."""
    ways: tuple[Judgement, ...] = ()
    if same and motor.id in known:
        number = next(k for k, unit in enumerate(facts.units) if unit.id == motor.id)
        way = _way_of(before, number)
        ways = tuple(each for each in facts.judgements[number] if each.way == way)
    return rooted_ways(motor_side(facts.site, motor, ways), facts.shop)


def _line(before: Answered, facts: Facts, anew: set[str]) -> LineNow | None:
    choice, plan = before.choice, before.plan
    numbers = {k for k, unit in enumerate(facts.units) if unit.id in anew}
    was = choice.admission
    same = facts.site == choice.facts.site and facts.places == choice.facts.places
    kept = {key: it for key, it in was.points.items() if same and not numbers & set(key[1])}
    asked = Admission(facts, choice.options, choice.states, kept)
    now = replace(choice, facts=facts, admission=asked)
    sets, sets_before = running_sets(now, plan), running_sets(choice, plan)
    if not sets or not sets_before:
        return None
    on = shared_of(facts, choice.states[plan.state])
    hung = any(numbers & set(asked.hung(each)) for each in sets)
    if on is not None and on.for_these_motors and hung:
        return None
    hangs = all(_hangs(before, facts, unit) for unit in range(len(facts.units)))
    words = "network of each set that turns together, on what the last answer bought"
    inputs = {"supply": (facts.site.source.voltage_v, "V")}
    before_a = max(was.supply_a(plan.state, each) for each in sets_before)
    now_a = max(asked.supply_a(plan.state, each) for each in sets) if hangs else None
    draw = "plan.admit.Admission.draw"
    return LineNow(
        plan=title_of(choice, plan),
        before_a=figure(before_a, "A", draw, inputs, words),
        now_a=None if now_a is None else figure(now_a, "A", draw, inputs, words),
        limit_a=asked.room_a(plan.state),
        lines=_lines(asked, plan, sets, numbers) if hangs else None,
        bears=hangs and all(asked(plan.state, each) for each in sets),
        hangs=hangs,
    )


def _lines(
    asked: Admission, plan: Solution, sets: tuple[Running, ...], numbers: set[int]
) -> Lines | None:
    """The generated lines in the first set with a touched motor on what is shared."""
    for running in sets:
        hung = asked.hung(running)
        turning = asked.turning(plan.state, hung) if numbers & set(hung) else None
        if turning is not None:
            return turning.lines
    return None


def _hangs(before: Answered, facts: Facts, unit: int) -> bool:
    """Whether a motor may hang where it hung: its way does not refuse it, and its own equipment is
    still to be had."""
    option = _option(before, unit)
    if option is None or option.way is None:
        return True
    way = next(each for each in facts.judgements[unit] if each.way == option.way)
    own = option.shared or offer_of(facts, unit, option) is not None
    return own and way.verdict != "refused"
