"""Everything the plan needs to know of a shop before money is counted: computed once.

Site, motors, units, the judgement of every way on every motor, and everything that could be
shared here with what each motor gets on it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache

from phasewright.machines.motor import Motor, motor_of
from phasewright.network.impedance import SupplyImpedance, supply_impedance
from phasewright.plan.units import Unit, groups_of, units_of
from phasewright.quantities.identity import Same
from phasewright.shop.model import Shop
from phasewright.ways.catalogue import CATALOGUE, SHARED
from phasewright.ways.on_two_lines import Linked, linked
from phasewright.ways.shared_source import Shared, Work
from phasewright.ways.site import Site
from phasewright.ways.site_of import site_of
from phasewright.ways.way import Judgement

Progress = Callable[[str, int, int], None]


@dataclass(frozen=True, slots=True)
class Facts:
    """What was computed of a shop; `judgements[unit]` holds the ten ways in catalogue order."""

    shop: Shop
    site: Site
    impedance: SupplyImpedance
    motors: tuple[Motor, ...]
    units: tuple[Unit, ...]
    groups: tuple[frozenset[int], ...]
    judgements: tuple[tuple[Judgement, ...], ...]
    shared: tuple[Shared, ...]


def motors_of(shop: Shop) -> tuple[Motor, ...]:
    """Every motor of the shop, read and fitted, in file order."""
    return tuple(
        motor_of(
            machine, motor,
            supply_voltage_v=shop.supply.voltage.number,
            frequency_hz=shop.supply.frequency.number,
            region=shop.region, path=path,
        )
        for path, machine, motor in shop.each_motor()
    )  # fmt: skip


def facts_of(shop: Shop, progress: Progress | None = None) -> Facts:
    """Compute everything about a shop that does not depend on money."""
    tell = progress or (lambda words, done, whole: None)
    impedance = supply_impedance(shop.supply, shop.region)
    site = site_of(shop, impedance)
    motors = motors_of(shop)
    units = units_of(shop, {motor.id: motor for motor in motors})
    groups = groups_of(shop, units)
    judgements = []
    for number, unit in enumerate(units):
        tell("judging the ways of each motor", number, len(units))
        judgements.append(tuple(way.judge(unit.task, site) for way in CATALOGUE))
    tell("trying converters", 0, 1)
    return Facts(
        shop, site, impedance, motors, units, groups, tuple(judgements),
        _shared(site, _work(units, groups)),
    )  # fmt: skip


def facts_anew(facts: Facts, shop: Shop) -> Facts:
    """The facts of a shop that differs in money, hours and chances only.

    Circuits and judgements are kept. What may be shared is looked at again where another motor
    is now the one that turns most, because capacitors are tuned for it.
    """
    units = units_of(shop, {motor.id: motor for motor in facts.motors})
    shared, was = facts.shared, _work(facts.units, facts.groups)
    if _work(units, facts.groups).busiest != was.busiest:
        shared = _shared_anew(Same(facts), _work(units, facts.groups).busiest)
    return replace(facts, shop=shop, units=units, shared=shared)


@lru_cache(maxsize=64)
def _shared_anew(facts: Same[Facts], busiest: int | None) -> tuple[Shared, ...]:
    """What the same motors may share with another one turning most."""
    work = replace(_work(facts.it.units, facts.it.groups), busiest=busiest)
    return _shared(facts.it.site, work)


def _shared(site: Site, work: Work) -> tuple[Shared, ...]:
    """Everything that could be shared here, way by way."""
    return tuple(one for way in SHARED for one in way.shared(site, work))


def _work(units: tuple[Unit, ...], groups: tuple[frozenset[int], ...]) -> Work:
    """The motors as what they may share sees them; the busiest of those that can be linked."""
    able = [k for k, unit in enumerate(units) if isinstance(linked(unit.motor), Linked)]
    busiest = max(able, key=lambda k: units[k].hours_per_year, default=None)
    return Work(tuple(unit.task for unit in units), groups, busiest)
