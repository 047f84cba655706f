"""What a whole shop may hang on: one frozen type for every way that is shared.

Every such way offers `shared(site, work) -> tuple[Shared, ...]` beside `judge`: each thing that
could stand here, the ways to have it, what every motor gets on it, and a way to ask what a set
of motors that turn together takes. The plan weighs them without knowing which way they are.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field, fields, replace
from typing import Any, Protocol

from phasewright.circuits.fault_source import FaultSource
from phasewright.machines.circuit import Circuit
from phasewright.machines.link import Link
from phasewright.network.supply import Source
from phasewright.quantities.codes import Buyable, WayName
from phasewright.quantities.finding import Finding, Reason
from phasewright.quantities.value import Value
from phasewright.rules.register import Ruling
from phasewright.ways.converter_design import Design
from phasewright.ways.figures import Figures
from phasewright.ways.phases import Phases
from phasewright.ways.purchase import Item
from phasewright.ways.site import Site
from phasewright.ways.way import Draw, Judgement, Offer, Service, Task


@dataclass(frozen=True, slots=True)
class Had:
    """How a shared thing can be had: its items and work, and what it is called then.

    `yearly_cost` is paid whatever turns (currency a year); `gives_up` is what it means to have it
    this way.
    """

    origin: Buyable
    items: tuple[Item, ...]
    labour_h: Value
    upkeep_h_per_year: float
    owned_item: int | None = None
    words: str = ""
    yearly_cost: float = 0.0
    gives_up: tuple[Reason, ...] = ()


@dataclass(frozen=True, slots=True)
class Served:
    """A motor that may hang on something shared, with what it gets and takes there.

    `full_load_current_a` is None where its own drive protects it: no relay is set to it.
    `unbalance` is (negative over positive sequence, by magnitudes) at its usual load. `own` is what
    it must have of its own to hang there (a place on a shared drive, capacitors that travel with
    it), the same on every shared thing of one way and variant; None where it needs nothing.
    `variant` is its own where it hangs there otherwise than the rest (in the first place of a
    shared drive), None where it is that of the shared thing.
    `rulings` are what rules say of its machine's rectifier there.
    """

    link: Link
    full_load_current_a: float | None
    service: Service
    conditions: tuple[Reason, ...]
    figures: Figures
    told: tuple[Reason, ...] = ()
    unbalance: tuple[float, float] = (0.0, 0.0)
    own: Offer | None = None
    variant: int | None = None
    rulings: tuple[Ruling, ...] = ()


@dataclass(frozen=True, slots=True)
class MachineLines:
    """Rms amps of one machine on lines 1, 2, 3."""

    name: str
    line_currents_a: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Lines:
    """The three lines while a set turns: volts [v12, v23, v31], unbalance, amps by machine."""

    line_voltages_v: tuple[float, float, float]
    vuf: float
    nema: float
    machines: tuple[MachineLines, ...]


@dataclass(frozen=True, slots=True)
class Turning:
    """A set of motors turning on something shared, the greatest asker at its highest load.

    `stands` is False where something would overheat or a start would not be borne.
    """

    draw: Draw
    lines: Lines
    stands: bool


class Turner(Protocol):
    """Asks the true network of motors that hang on this together; None where one stalls."""

    def __call__(self, tasks: tuple[Task, ...]) -> Turning | None: ...


class InTime(Protocol):
    """Adds to a motor's figures what is computed in time for what was chosen, by the motor's id."""

    def __call__(self, name: str, figures: Figures) -> Figures: ...


@dataclass(frozen=True, slots=True)
class OwnStart:
    """What the shared thing itself asks of the supply at its start."""

    supply_a: float
    dip_ratio: float


@dataclass(frozen=True, slots=True)
class Hire:
    """A thing hired by the day: price of a day, hours a motor turns in it, work for each day."""

    day: Item
    hours_per_day: Value
    labour_h: Value

    def days(self, hours_per_year: float) -> int:
        """Days of hire in a year for a motor that turns so many hours, on days of its own."""
        return math.ceil(hours_per_year / self.hours_per_day.number)


@dataclass(frozen=True, slots=True)
class Said:
    """What a shared thing gives, gives up and warns of, in words.

    The words of `gives` follow the names of the motors that hang on it; `idle` says who takes
    the idle power.
    """

    idle: str
    gives: tuple[Reason, ...] = ()
    gives_up: tuple[Reason, ...] = ()
    cautions: tuple[Reason, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Shared:
    """Something shared that could stand here. `served[unit]` is what it gets or why it may not.

    A way may have variants, numbered where a motor needs other things of its own on one or another
    of them, and else told apart by their `name`. `design` is the idler with its capacitors, where
    that is what it is; `phases` is None while the supply stays single-phase. `generated_line`: line
    3 is made by it, so nothing single-phase hangs there; `neutral`: it brings one. `three_lines`:
    its three lines are there for a machine's rectifiers too, and `turning` counts them. `place` is
    where it stands, empty at the intake.

    What it takes from the supply is asked of `turning`; the services of `served` count its energy,
    which costs the tariff's price, or `energy_price` a kWh where it has a source of its own.
    `always_on`: it takes `idle_power_w` the whole year, whatever turns. No motor hangs on it that
    takes more than `most_kwh_per_year`. `hire`: it is hired by the day. `few_habits`: it is weighed
    for a few of the shop's idle habits, the next larger one standing for those between. `in_time`
    adds figures that are computed only where this stands in a plan. `fault_source` is what it
    gives into a fault behind it; None where the supply does, or its idler.
    """

    way: WayName
    name: str
    rating: float
    unit: str
    hads: tuple[Had, ...]
    served: tuple[Served | tuple[Reason, ...], ...]
    turning: Turner
    said: Said
    idle_power_w: float = 0.0
    own_start: OwnStart | None = None
    figures: Figures = field(default_factory=Figures)
    circuit: Circuit | None = None
    design: Design | None = None
    noise_dba: Value | None = None
    findings: tuple[Finding, ...] = ()
    phases: Phases | None = None
    generated_line: bool = True
    neutral: bool = False
    three_lines: bool = True
    variant: int = 0
    place: str = ""
    energy_price: Value | None = None
    always_on: bool = False
    most_kwh_per_year: float = math.inf
    hire: Hire | None = None
    few_habits: bool = False
    in_time: InTime | None = None
    fault_source: FaultSource | None = None

    @property
    def for_these_motors(self) -> bool:
        """Whether it answers for the motors that it was made for alone, not for changed ones."""
        moved: Any = self.turning
        return "served" in {each.name for each in fields(moved)}

    def fed_from(self, source: Source) -> Shared | None:
        """The same thing on another supply; None where what it takes cannot be asked so."""
        moved: Any = self.turning
        if "source" not in {each.name for each in fields(moved)}:
            return None
        return replace(self, turning=replace(moved, source=source))

    def serves(self, unit: int) -> Served | None:
        """What the unit gets, None where it must not hang on this."""
        one = self.served[unit]
        return one if isinstance(one, Served) else None

    def figures_of(self, unit: int, name: str) -> Figures:
        """The figures as built of a unit that hangs here, `name` the motor's id."""
        one = self.serves(unit)
        assert one is not None
        return one.figures if self.in_time is None else self.in_time(name, one.figures)

    def variant_of(self, unit: int) -> int | None:
        """The variant on which the unit hangs here, None where it must not."""
        one = self.serves(unit)
        if one is None:
            return None
        return self.variant if one.variant is None else one.variant

    def serves_all(self, units: Iterable[int]) -> bool:
        """Whether every one of these units may hang on this."""
        return all(self.serves(unit) is not None for unit in units)


@dataclass(frozen=True, slots=True)
class Work:
    """Every motor that may come, and the largest sets of them that turn together.

    `sites[k]` is the supply as it reaches motor k where motors stand in several places: what is
    shared then stands at the intake, and their feeders lie behind it.
    """

    tasks: tuple[Task, ...]
    groups: tuple[frozenset[int], ...]
    sites: tuple[Site, ...] = ()

    def reached(self, site: Site) -> tuple[tuple[Task, Site], ...]:
        """Every motor with the supply as it reaches it."""
        return tuple(zip(self.tasks, self.sites or (site,) * len(self.tasks), strict=True))

    def feeders(self) -> Feeders:
        """The source at the end of each place's feeder, where motors stand in several places."""
        return tuple(sorted({site.place: site.source for site in self.sites}.items()))


Feeders = tuple[tuple[str, Source], ...]
"""Places by name, each with the supply at the end of its feeder."""


def softest(source: Source, feeders: Feeders, tasks: tuple[Task, ...]) -> Source:
    """The supply that motors in several places are tried on: behind the longest of their feeders.

    A network here has one impedance ahead of its three lines. A feeder that lies between what is
    shared and a motor is put there too, so lines 1 and 2 are told too weak for what stands
    elsewhere, and the fall along line 3's own conductor is left out.
    """
    ends = dict(feeders)
    there = [ends.get(task.machine.place, source) for task in tasks]
    return max([source, *there], key=lambda end: (end.resistance_ohm, end.reactance_ohm))


class SharedWay(Protocol):
    """A module of a way that a whole shop hangs on together."""

    NAME: WayName

    def judge(self, task: Task, site: Site) -> Judgement: ...

    def shared(self, site: Site, work: Work) -> tuple[Shared, ...]: ...
