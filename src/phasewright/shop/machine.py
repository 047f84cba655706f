"""A machine as its owner describes it: its motors, what they drive, its controls and wishes.

Attribute names are the keys of the shop file, as in the model of the whole shop.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from phasewright.quantities import codes
from phasewright.quantities.value import Value
from phasewright.shop.keys import Hours, Number, Pair, Quantity, Ratio, Says, Text, Years
from phasewright.shop.plate import Plate
from phasewright.shop.standing import MachineCircuit
from phasewright.shop.supply import Cable


@dataclass(frozen=True, slots=True, kw_only=True)
class Wheel:
    """The heavy wheel of a machine (flywheel, saw wheels, grindstone), as a rule finds it."""

    diameter: Annotated[Value, Quantity("length", 0.02, 5, "measured")]
    width: Annotated[
        Value, Quantity("length", 0.001, 2, "measured"), Says("thickness of the wheel")
    ]
    material: codes.WheelMaterial
    rim: Annotated[
        Value | None,
        Quantity("length", 0.001, 1, "measured"),
        Says("thickness of the rim of a wheel with spokes, in the radius; missing = a solid disc"),
    ] = None
    speed: Annotated[
        Value | None,
        Quantity("speed", 1, 24000, "measured"),
        Says("of the wheel; missing = as fast as the motor"),
    ] = None
    count: Annotated[int, Number(1, 20, "a count of equal wheels", whole=True)] = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """What the motor drives."""

    kind: codes.LoadKindName = "other"
    start: codes.LoadStart | None = None
    torque: Annotated[
        float | None, Number(0, 4, "a share of the motor's rated torque"), Says("while working")
    ] = None
    inertia: Annotated[
        Value | None, Quantity("inertia", 0, 1e4), Says("of the load, seen at the motor shaft")
    ] = None
    wheel: Annotated[Wheel | None, Says("instead of inertia: the heavy wheel's size")] = None
    run_up: Annotated[
        Value | None,
        Quantity("time", 0.05, 1800, "measured"),
        Says(
            "instead of inertia: seconds from standstill to full speed, switched straight on to a "
            "real three-phase supply, nothing being worked"
        ),
    ] = None
    duty: Annotated[float | None, Ratio, Says("share of the switched-on time under load")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Wants:
    """What the owner wants this motor to do."""

    speed: Annotated[
        tuple[float, float] | None, Pair(0, 10, "slowest and fastest, as multiples of the plate's")
    ] = None
    stop_within: Annotated[Value | None, Quantity("time", 0.05, 3600)] = None
    reverse: bool = False
    soft_start: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Motor:
    """One motor of a machine."""

    name: str
    plate: Plate
    lead_length: Annotated[
        Value | None,
        Quantity("length", 0.1, 500),
        Says("between it and the place where a drive would hang"),
    ] = None
    lead_conductor: Annotated[
        Value | None, Quantity("area", 1e-7, 1e-3), Says("of that lead where it lies, copper")
    ] = None
    insulation_resistance: Annotated[
        Value | None,
        Quantity("resistance", 1, 1e9, "measured"),
        Says("from its windings to its frame, at 500 V"),
    ] = None
    load: Load = Load()
    wants: Wants = Wants()


@dataclass(frozen=True, slots=True, kw_only=True)
class Brake:
    """A brake that the machine has."""

    kind: codes.BrakeKind = "none"
    coil: Annotated[Value | None, Quantity("voltage", 5, 700)] = None
    fed_from: codes.FedFrom | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnSpeeds:
    """Speeds that the machine changes by itself."""

    kind: codes.OwnSpeedKind = "none"
    steps: Annotated[int | None, Number(1, 100, "a count of steps", whole=True)] = None
    range: Annotated[
        float | None,
        Number(1, 1000, "a ratio"),
        Says("its fastest speed over its slowest, the motor turning as on its plate"),
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Consumer:
    """A consumer of the machine that is no motor."""

    kind: codes.ConsumerKind
    power: Annotated[Value | None, Quantity("power", 1, 5e5)] = None
    current: Annotated[Value | None, Quantity("current", 0.001, 1000)] = None
    phases: Annotated[int | None, Number(1, 3, "a count of phases, 1 or 3", whole=True)] = None
    voltage: Annotated[Value | None, Quantity("voltage", 5, 700)] = None
    split: Annotated[bool, Says("its three parts can be fed one by one from two lines")] = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Control:
    """What switches the machine, and where it takes its supply."""

    voltage: Annotated[Value | None, Quantity("voltage", 5, 700)] = None
    fed_from: codes.FedFrom | None = None
    electronics: bool = False
    cnc: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """The control panel of a machine, as it is marked inside its door."""

    short_circuit_rating: Annotated[
        Value | None, Quantity("current", 100, 2e5), Says("the fault current it bears")
    ] = None
    largest_branch: Annotated[
        Value | None, Quantity("current", 1, 2000), Says("largest breaker or fuse of one motor")
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Machine:
    """A machine, owned or planned, with its motors."""

    name: str
    have: codes.Have = "owned"
    chance: Annotated[float | None, Ratio, Says("planned: how likely it comes")] = None
    year: Annotated[float | None, Years, Says("planned: years from now")] = None
    hours_per_year: Annotated[float | None, Hours, Says("motor turning")] = None
    idle_hours_per_year: Annotated[
        float | None, Hours, Says("converter left running with nothing turning")
    ] = None
    starts_per_hour: Annotated[float | None, Number(0, 3600, "starts in an hour")] = None
    place: Annotated[str, Text("the name of a place")] = ""
    connects_by: codes.ConnectsBy | None = None
    cable: Cable | None = None
    circuit: Annotated[MachineCircuit | None, Says("the circuit to it as it stands")] = None
    starter: codes.Starter | None = None
    brake: Brake | None = None
    own_speeds: OwnSpeeds | None = None
    never_above: Annotated[
        Value | None, Quantity("speed", 1, 1e5), Says("limit of the tool, not of the motor")
    ] = None
    wrong_direction_harms: bool | None = None
    starts_with: Annotated[tuple[str, ...], Says("machines that start by the same event")] = ()
    starts_before: Annotated[
        tuple[str, ...], Says("which must run first, as: pump before spindle")
    ] = ()
    users: codes.Users | None = None
    others: tuple[Consumer, ...] = ()
    runs_with: Annotated[tuple[str, ...], Says("machines that may turn at the same time")] = ()
    needs_neutral: bool | None = None
    control: Control | None = None
    panel: Annotated[Panel | None, Says("its control panel, if it has one")] = None
    spindle_nose: codes.SpindleNose | None = None
    motors: tuple[Motor, ...]

    @property
    def orders(self) -> tuple[tuple[str, str], ...]:
        """`starts_before` as pairs of names: the first runs before the second starts."""
        pairs = (words.partition(" before ") for words in self.starts_before)
        return tuple((first.strip(), then.strip()) for first, _, then in pairs)

    def motor(self, name: str) -> Motor:
        """The motor of this name; KeyError where there is none."""
        return {motor.name: motor for motor in self.motors}[name]


def motor_id(machine: Machine, motor: Motor) -> str:
    """The id of a motor everywhere in the answer: `Machine/motor`."""
    return f"{machine.name}/{motor.name}"
