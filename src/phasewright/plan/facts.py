"""Everything the plan needs to know of a shop before money is counted: computed once.

Site, motors, units, the judgement of every way on every motor, and the converters that could
stand here with what each motor gets on each of them.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from phasewright.machines.motor import Motor, motor_of
from phasewright.network.impedance import SupplyImpedance, supply_impedance
from phasewright.plan.units import Unit, groups_of, units_of
from phasewright.quantities.errors import NoOperatingPoint, TableEnds
from phasewright.quantities.finding import Reason
from phasewright.running.network import Connected
from phasewright.shop.model import Shop
from phasewright.ways.catalogue import CATALOGUE
from phasewright.ways.conditions import demand_ratio, typical_ratio
from phasewright.ways.converter_design import Design, design, screened, sizes_w
from phasewright.ways.on_two_lines import Linked, linked
from phasewright.ways.rotary_converter import Served, serve
from phasewright.ways.site import Site
from phasewright.ways.site_of import site_of
from phasewright.ways.way import Judgement, Task, Way, refused

Progress = Callable[[str, int, int], None]


@dataclass(frozen=True, slots=True)
class OnDesign:
    """A converter that could stand here and what each unit gets on it (or why it must not)."""

    design: Design
    served: tuple[Served | tuple[Reason, ...], ...]

    def serves(self, unit: int) -> Served | None:
        """What the unit gets, None where it must not hang on this converter."""
        one = self.served[unit]
        return one if isinstance(one, Served) else None


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
    designs: tuple[OnDesign, ...]


def motors_of(shop: Shop) -> tuple[Motor, ...]:
    """Every motor of the shop, read and fitted, in file order."""
    return tuple(
        motor_of(
            machine, motor,
            supply_voltage_v=shop.supply.voltage.number,
            frequency_hz=shop.supply.frequency.number,
            region=shop.region, path=path,
            measured_voltage_v=_readings(shop),
        )
        for path, machine, motor in shop.each_motor()
    )  # fmt: skip


def _readings(shop: Shop) -> tuple[float, float] | None:
    """Lowest and highest reading of the mains, where the owner took them."""
    measured = shop.supply.measured_voltage
    return None if measured is None else (measured.low.number, measured.high.number)


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
        judgements.append(_weighed(_each_way(unit.task, site)))
    tell("trying converters", 0, 1)
    return Facts(
        shop, site, impedance, motors, units, groups, tuple(judgements),
        _designs(site, units, groups),
    )  # fmt: skip


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
    return _each_way(task, facts.site)


def _each_way(task: Task, site: Site) -> tuple[Judgement, ...]:
    """The ways in catalogue order; one that a table or price curve ends before is refused so."""
    return tuple(_judged(way, task, site) for way in CATALOGUE)


def _judged(way: Way, task: Task, site: Site) -> Judgement:
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

    Circuits, judgements and converters are kept: none of them rests on those.
    """
    return replace(
        facts, shop=shop, units=units_of(shop, {motor.id: motor for motor in facts.motors})
    )


def _designs(
    site: Site,
    units: tuple[Unit, ...],
    groups: tuple[frozenset[int], ...],
) -> tuple[OnDesign, ...]:
    """Converters from the first size that serves anything to the first that serves all it can.

    A larger one than the first that serves every motor, alone and together, costs more and
    loses more and gives nothing further, so it is left out.
    """
    able = {k: one for k, unit in enumerate(units) if isinstance(one := linked(unit.motor), Linked)}
    if not able:
        return ()
    workday = _workday(able, groups)
    found: list[OnDesign] = []
    enough = 0
    for size in sizes_w(site):
        if all(screened(site.source, size, one) for one in able.values()):
            continue
        try:
            of = design(site.source, size, workday)
        except (NoOperatingPoint, TableEnds):
            continue
        served = tuple(serve(unit.task, site, of) for unit in units)
        if not any(isinstance(one, Served) for one in served):
            if found:
                break
            continue
        found.append(OnDesign(of, served))
        if _serves_everything(found[-1], able, groups):
            enough += 1
            if enough == 2:
                break
    return tuple(found)


def _serves_everything(
    on: OnDesign, able: dict[int, Linked], groups: tuple[frozenset[int], ...]
) -> bool:
    """Whether every motor that can hang on a converter may, with room for those beside it."""
    if not all(isinstance(on.served[k], Served) for k in able):
        return False
    heaviest = max(
        sum(able[k].rated_w * typical_ratio(able[k].load) for k in group if k in able)
        for group in groups
    )
    return heaviest <= on.design.converter.idler_power_w


def _workday(
    able: dict[int, Linked], groups: tuple[frozenset[int], ...]
) -> tuple[tuple[Connected, ...], ...]:
    """The sets of motors the capacitors are tuned for: the heaviest alone at the highest load it
    may ask for, and the heaviest set that turns together at its usual loads; with the idler
    alone they span what a day asks for."""

    def weight(k: int) -> float:
        return able[k].rated_w * typical_ratio(able[k].load)

    def connected(k: int) -> Connected:
        return able[k].connected(typical_ratio(able[k].load))

    heaviest = max(sorted(able), key=weight)
    sets: list[tuple[Connected, ...]] = [
        (able[heaviest].connected(demand_ratio(able[heaviest].load)),)
    ]
    grouped = [tuple(sorted(k for k in group if k in able)) for group in groups]
    largest = max(grouped, key=lambda ks: (sum(map(weight, ks)), ks))
    if len(largest) > 1:
        sets.append(tuple(connected(k) for k in largest))
    return tuple(sets)
