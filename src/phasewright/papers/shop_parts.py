"""What stands in the drawing of a shop, in words and amps: service, rooms, machines, sources."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.quantities.codes import LoadKindName, Severity, WayName
from phasewright.quantities.finding import Said
from phasewright.quantities.value import Value


@dataclass(frozen=True, slots=True)
class Told:
    """A sentence and where the figures in it stand in the result file; `at` is the place of the
    sentence itself, to which its other numbers lead."""

    words: str
    figures: tuple[Said, ...] = ()
    at: str = ""


@dataclass(frozen=True, slots=True)
class Wrong:
    """What is wrong at a place, and how badly; `of` names its motors where there are several, `at`
    is where in the result file it stands."""

    severity: Severity
    words: str
    of: str = ""
    at: str = ""


@dataclass(frozen=True, slots=True)
class Drop:
    """One motor's line: `source` is the equipment it comes from, empty for the supply itself;
    `way` is None where the motor hangs on nothing."""

    motor: str
    way: WayName | None
    source: str
    amps: Value | None
    told: Told
    amps_at: str = ""
    """Where its amps stand in the result file."""


@dataclass(frozen=True, slots=True)
class Stand:
    """A machine on the floor; `decided` is False where no plan says yet what it hangs on, `room` is
    its place, and `to_come` what stands on its line where it is not there yet."""

    place: int
    name: str
    kind: LoadKindName
    drops: tuple[Drop, ...]
    told: tuple[Told, ...]
    wrong: tuple[Wrong, ...]
    planned: bool
    decided: bool
    room: str = ""
    to_come: str = ""


@dataclass(frozen=True, slots=True)
class Room:
    """A building or room with what is said of it; `name` and `page` are empty at the intake."""

    name: str
    page: str
    told: tuple[Told, ...]
    wrong: tuple[Wrong, ...]
    stands: tuple[Stand, ...]


@dataclass(frozen=True, slots=True)
class Source:
    """What makes three phases for several motors; `amps` is what its lines carry at the most, `at`
    where it stands in the result file."""

    id: str
    page: str
    way: WayName
    name: str
    amps: float | None
    told: tuple[Told, ...]
    wrong: tuple[Wrong, ...]
    at: str


@dataclass(frozen=True, slots=True)
class Scene:
    """The whole shop as it is drawn; `lines` come in, `amps` is what they carry at the most."""

    name: str
    plan: Told
    lines: int
    supply: tuple[Told, ...]
    fuse: str
    feeder: str
    amps: Value | None
    wrong: tuple[Wrong, ...]
    sources: tuple[Source, ...]
    stands: tuple[Stand, ...]
    rooms: tuple[Room, ...]
