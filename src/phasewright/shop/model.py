"""The shop as its owner describes it: the supply, the machines, what is wanted.

Attribute names are the keys of the shop file. A quantity is a `Value` in SI (rpm, °C and dB(A)
stay), or None where the file does not give it; plate values that may be stamped twice are
tuples in plate order, empty where the plate gives nothing. Nothing here is a default for an
unknown fact: those stand with their spread in the published tables.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Annotated

from phasewright.quantities import codes
from phasewright.quantities.value import Value
from phasewright.shop.keys import Money, Number, Quantity, Says, Text, Years
from phasewright.shop.machine import Machine, Motor
from phasewright.shop.supply import Place, Supply, Tariff


@dataclass(frozen=True, slots=True, kw_only=True)
class Quiet:
    """How quiet it must be, where and when."""

    level: Annotated[Value | None, Quantity("sound", 10, 120)] = None
    at: Annotated[str, Text("whose ears, as: neighbour")] = ""
    distance: Annotated[Value | None, Quantity("length", 0.1, 2000)] = None
    hours: Annotated[str, Text("when, as: evening")] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """What the owner wants of the whole plan."""

    plan_years: Annotated[float | None, Number(0.5, 60, "years")] = None
    discount_rate: Annotated[float | None, Number(0, 0.5, "a ratio")] = None
    labour: Annotated[
        codes.OwnLabour | float | None,
        Number(0, 1e5, "an amount of money an hour"),
        Says("own, or a rate an hour"),
    ] = None
    quiet: Quiet | None = None
    stay_years: Annotated[float | None, Years] = None
    portable: bool = False
    who_wires: codes.WhoWires | None = None
    keep: Annotated[tuple[str, ...], Says("what shall stay, as: original controls")] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnedPart:
    """A part that need not be bought."""

    kind: codes.OwnedKind
    power: Annotated[Value | None, Quantity("power", 1, 5e5)] = None
    rating: Annotated[Value | None, Quantity("apparent_power", 10, 5e6)] = None
    voltage: Annotated[tuple[Value, ...], Quantity("voltage", 5, 1000, several=True)] = ()
    current: Annotated[tuple[Value, ...], Quantity("current", 0.01, 2000, several=True)] = ()
    input_phases: Annotated[int | None, Number(1, 3, "a count of phases, 1 or 3", whole=True)] = (
        None
    )
    capacitance: Annotated[Value | None, Quantity("capacitance", 1e-8, 0.1)] = None
    resistance: Annotated[Value | None, Quantity("resistance", 0.001, 1e6)] = None
    speed: Annotated[Value | None, Quantity("speed", 1, 1e5)] = None
    leads: Annotated[int | None, Number(2, 12, "a count of leads", whole=True)] = None
    year: Annotated[int | None, Number(1880, 2100, "the year it was made", whole=True)] = None
    isolating: Annotated[bool | None, Says("a transformer with separate windings")] = None
    energy: Annotated[Value | None, Quantity("energy", 0.1, 1000), Says("a battery's")] = None
    phases: Annotated[
        int | None, Number(1, 3, "a count of phases, 1 or 3", whole=True), Says("a generator's")
    ] = None
    years_unpowered: Annotated[float | None, Years] = None
    count: Annotated[int, Number(1, 1000, "a count", whole=True)] = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Quote:
    """A price that the owner was given; it replaces the illustrative price curve."""

    kind: codes.QuoteKind
    machine: Annotated[str, Text("the machine's name"), Says("for a whole machine or its job")] = ""
    power: Annotated[Value | None, Quantity("power", 1, 5e5)] = None
    rating: Annotated[Value | None, Quantity("apparent_power", 10, 5e6)] = None
    current: Annotated[Value | None, Quantity("current", 0.01, 2000)] = None
    capacitance: Annotated[Value | None, Quantity("capacitance", 1e-8, 0.1)] = None
    origin: codes.Buyable | None = None
    price: Annotated[float, Money]
    standing_per_year: Annotated[float | None, Money] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """A whole shop file.

    `lines` tells for every key that the file gives, by its path such as
    `machines[1].motors[0].plate.power`, the line it stands on; it takes no part in equality.
    """

    phasewright: Annotated[int, Number(1, 1, "1, the form of this file", whole=True)]
    shop: Annotated[str, Text("the name of the shop")]
    region: codes.Region
    currency: Annotated[str, Text("a currency's three letters", 8)] = ""
    supply: Supply
    tariff: Tariff = field(default_factory=Tariff)
    places: tuple[Place, ...] = ()
    machines: tuple[Machine, ...]
    wishes: Wishes = Wishes()
    owned_parts: tuple[OwnedPart, ...] = ()
    quotes: tuple[Quote, ...] = ()
    file: str = field(default="", compare=False, metadata={"not_a_key": True})
    lines: Mapping[str, int] = field(
        default_factory=dict, compare=False, repr=False, metadata={"not_a_key": True}
    )

    @property
    def name(self) -> str:
        """The name of the shop."""
        return self.shop

    def machine(self, name: str) -> Machine:
        """The machine of this name; KeyError where there is none."""
        return {machine.name: machine for machine in self.machines}[name]

    def place(self, name: str) -> Place:
        """The place of this name; KeyError where there is none."""
        return {place.name: place for place in self.places}[name]

    def each_motor(self) -> Iterator[tuple[str, Machine, Motor]]:
        """Every motor as (its path in the shop file, its machine, the motor), in file order."""
        for i, machine in enumerate(self.machines):
            for j, motor in enumerate(machine.motors):
                yield f"machines[{i}].motors[{j}]", machine, motor

    def users_of(self, machine: Machine) -> codes.Users | None:
        """Who uses a machine: those told of it, else those of its place."""
        if machine.users is not None:
            return machine.users
        place = next((each for each in self.places if each.name == machine.place), None)
        return None if place is None else place.users

    def gives(self, path: str) -> bool:
        """True where the file gives this path, as `supply.feeder.length`."""
        return path in self.lines
