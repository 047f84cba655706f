"""Everything the plan needs to know of a shop before money is counted: computed once.

Site, motors, units, the judgement of every way on every motor, and everything that could be
shared here with what each motor gets on it.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from functools import lru_cache

from phasewright.machines.motor import Motor, motor_of
from phasewright.network.impedance import SupplyImpedance, supply_impedance
from phasewright.plan.places import shared_things, sites_of
from phasewright.plan.units import Unit, groups_of, units_of
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.finding import Reason
from phasewright.quantities.identity import the_same
from phasewright.shop.machine import Machine
from phasewright.shop.model import Shop
from phasewright.tables.surroundings import heat_share
from phasewright.ways.catalogue import CATALOGUE
from phasewright.ways.place_of import surroundings_of
from phasewright.ways.shared_source import Shared
from phasewright.ways.site import Site
from phasewright.ways.site_of import site_of
from phasewright.ways.way import Judgement, Task, Way, refused

Progress = Callable[[str, int, int], None]


@dataclass(frozen=True, slots=True)
class Facts:
    """What was computed of a shop; `judgements[unit]` holds the ten ways in catalogue order.

    `site` and `impedance` are those of the intake, `places` the sites where machines stand.
    """

    shop: Shop
    site: Site
    impedance: SupplyImpedance
    motors: tuple[Motor, ...]
    units: tuple[Unit, ...]
    groups: tuple[frozenset[int], ...]
    judgements: tuple[tuple[Judgement, ...], ...]
    shared: tuple[Shared, ...]
    places: tuple[Site, ...] = ()

    def site_at(self, place: str) -> Site:
        """The site of a place, empty for the intake."""
        return next((site for site in self.places if site.place == place), self.site)


def motors_of(shop: Shop) -> tuple[Motor, ...]:
    """Every motor of the shop, read and fitted, in file order."""
    return tuple(
        the_same(_in_its_air(
            shop, machine,
            motor_of(
                machine, motor,
                supply_voltage_v=shop.supply.voltage.number,
                frequency_hz=shop.supply.frequency.number,
                region=shop.region, path=path,
                measured_voltage_v=_readings(shop),
            ),
        ))
        for path, machine, motor in shop.each_motor()
    )  # fmt: skip


def _in_its_air(shop: Shop, machine: Machine, motor: Motor) -> Motor:
    """The motor where it stands: warm or thin air leaves less of its heat."""
    if not machine.place:
        return motor
    air = surroundings_of(shop.place(machine.place))
    share = heat_share(air.ambient_c, air.altitude_m, motor.plate.insulation_class)
    return motor if share == 1.0 else replace(motor, heat_share=share)


def _readings(shop: Shop) -> tuple[float, float] | None:
    """Lowest and highest reading of the mains, where the owner took them."""
    measured = shop.supply.measured_voltage
    return None if measured is None else (measured.low.number, measured.high.number)


def facts_of(shop: Shop, progress: Progress | None = None) -> Facts:
    """Compute everything about a shop that does not depend on money."""
    tell = progress or (lambda words, done, whole: None)
    impedance = supply_impedance(shop.supply, shop.region)
    site = the_same(site_of(shop, impedance))
    motors = motors_of(shop)
    units = units_of(shop, {motor.id: motor for motor in motors})
    groups = groups_of(shop, units)
    places = sites_of(shop)
    at = {"": site} | {each.place: each for each in places}
    judgements = []
    # What may be shared is tried beside the ways of each motor: the kernels of both let each other
    # run, on a second core where there is one.
    with ThreadPoolExecutor(1) as beside:
        trying = beside.submit(shared_things, site, places, units, groups)
        for number, unit in enumerate(units):
            tell("judging the ways of each motor", number, len(units))
            judgements.append(_weighed(_each_way(unit.task, at[unit.place])))
        tell("trying converters", 0, 1)
        shared = trying.result()
    return Facts(shop, site, impedance, motors, units, groups, tuple(judgements), shared, places)


def judgements_of(facts: Facts, motor: Motor) -> tuple[Judgement, ...]:
    """The ten ways on a motor; judged here for a machine that the plan leaves out (chance 0)."""
    for unit, judgements in zip(facts.units, facts.judgements, strict=True):
        if unit.id == motor.id:
            return judgements
    machine = facts.shop.machine(motor.machine)
    siblings = tuple(
        each for each in facts.motors if each.machine == motor.machine and each.id != motor.id
    )
    task = Task(machine, motor, siblings)
    return _each_way(task, facts.site_at(machine.place))


@lru_cache(maxsize=256)
def _each_way(task: Task, site: Site) -> tuple[Judgement, ...]:
    """The ways in catalogue order; one that a table or price curve ends before is refused so.

    Kept: of a shop that was changed at one machine only that machine is judged anew.
    """
    return tuple(judged(way, task, site) for way in CATALOGUE)


def judged(way: Way, task: Task, site: Site) -> Judgement:
    """What a way is to a motor; refused where a table or price curve ends before."""
    try:
        return way.judge(task, site)
    except TableEnds as end:
        return refused(way.NAME, Reason("beyond_the_tables", f"Beyond what is known: {end}."))


def _weighed(judgements: tuple[Judgement, ...]) -> tuple[Judgement, ...]:
    """The judgements with last resorts left out where anything else serves the motor."""
    if all(offer.last_resort for each in judgements for offer in each.offers):
        return judgements
    return tuple(
        replace(each, offers=tuple(offer for offer in each.offers if not offer.last_resort))
        for each in judgements
    )


def facts_anew(facts: Facts, shop: Shop) -> Facts:
    """The facts of a shop that differs in money, hours and chances only.

    Circuits, judgements and what may be shared are kept: none of them rests on those.
    """
    return replace(
        facts, shop=shop, units=units_of(shop, {motor.id: motor for motor in facts.motors})
    )
