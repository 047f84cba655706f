"""The shop as its owner describes it: the supply, the machines, what is wanted.

Attribute names are the keys of the shop file. A quantity is a `Value` in SI (rpm, °C and dB(A)
stay), or None where the file does not give it; plate values that may be stamped twice are
tuples in plate order, empty where the plate gives nothing. Nothing here is a default for an
unknown fact: those stand with their spread in the published tables.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Annotated, Literal

from phasewright.quantities import codes
from phasewright.quantities.value import Value
from phasewright.shop.keys import Number, Pair, Quantity, Says, Text
from phasewright.shop.plate import Plate
from phasewright.shop.standing import CircuitThere, MachineCircuit, ResidualCurrent

Ratio = Number(0, 1, "a ratio")
Hours = Number(0, 8784, "hours in a year")
Money = Number(0, 1e9, "an amount of money, without a currency sign")
Years = Number(0, 100, "years")


@dataclass(frozen=True, slots=True, kw_only=True)
class VoltageRange:
    """What the meter showed at its lowest and at its highest."""

    low: Annotated[Value, Quantity("voltage", 50, 1000, "measured")]
    high: Annotated[Value, Quantity("voltage", 50, 1000, "measured")]


@dataclass(frozen=True, slots=True, kw_only=True)
class Surge:
    """What a generator or inverter gives for a while, and the peakiness it bears."""

    rating: Annotated[Value, Quantity("apparent_power", 100, 1e6)]
    seconds: Annotated[float | None, Number(0.01, 3600, "seconds")] = None
    crest_factor: Annotated[float | None, Number(1, 6, "peak over rms current")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class HeaterTest:
    """Volts without and with a heater on, and its amps: the owner's way to the impedance."""

    unloaded: Annotated[Value, Quantity("voltage", 50, 1000, "measured")]
    loaded: Annotated[Value, Quantity("voltage", 50, 1000, "measured")]
    current: Annotated[Value, Quantity("current", 0.5, 200, "measured")]


@dataclass(frozen=True, slots=True, kw_only=True)
class VoltsToEarth:
    """Volts of each supply wire to earth, read with a lamp or a meter of low resistance."""

    line_1: Annotated[Value, Quantity("voltage", 0, 1000, "measured")]
    line_2: Annotated[Value, Quantity("voltage", 0, 1000, "measured")]


@dataclass(frozen=True, slots=True, kw_only=True)
class Feeder:
    """The cable between the service and the place where the power is used."""

    length: Annotated[Value | None, Quantity("length", 0, 2000), Says("one way")] = None
    conductor: Annotated[Value | None, Quantity("area", 1e-7, 1e-3)] = None
    material: codes.Conductor = "copper"
    method: Annotated[codes.Method | None, Says("how the cable is laid")] = None
    breaker: Annotated[
        str, Text("a breaker or fuse", 20), Says("ahead of it, as marked: B16, gG 25 A")
    ] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cable:
    """The cable from the board, or from what feeds it, to a machine or to its socket."""

    length: Annotated[Value | None, Quantity("length", 0.1, 500), Says("one way")] = None
    conductor: Annotated[
        Value | None, Quantity("area", 1e-7, 1e-3), Says("where it lies there already, copper")
    ] = None
    method: Annotated[codes.Method | None, Says("how the cable is laid")] = None
    grouped: Annotated[
        int | None,
        Number(1, 20, "a count of circuits", whole=True),
        Says("circuits that lie in a bunch with it, itself counted"),
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ConverterCircuit(CircuitThere):
    """What stands there of whatever makes three phases: the circuit to it, and what is in it."""

    cable: Cable | None = None
    phase_relay: Annotated[
        bool | None, Says("a relay keeps its outlets dead until three lines stand in order")
    ] = None
    discharge_resistor: Annotated[
        Value | Literal["none"] | None,
        Quantity("resistance", 100, 1e8, words=("none",)),
        Says("across each run capacitor"),
    ] = None
    line_3_marked: Annotated[bool | None, Says("at every end of it")] = None
    capacitor_fuses: Annotated[bool | None, Says("one in every line to a bank")] = None
    plate: Annotated[bool | None, Says("its plate tells volts, hertz, amps and loads")] = None
    nameplate_input: Annotated[
        Value | None, Quantity("current", 1, 1000), Says("input amps on that plate")
    ] = None
    fixed_loads: Annotated[
        bool | None, Says("it feeds the machines told here and never others")
    ] = None
    straight_breakers: Annotated[
        bool | None, Says("breakers of its lines are marked with one voltage, no slash")
    ] = None
    tied: Annotated[
        codes.TiedTo | None, Says("what line 3 or the idler's star point is tied to")
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherLoad:
    """What else hangs on the same service."""

    name: str
    current: Annotated[Value, Quantity("current", 0.01, 1000)]
    can_wait: Annotated[bool, Says("it may wait while the machines work")] = False
    lines: codes.LoadLines = "both"
    type: codes.LoadType | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """The supply that will feed the conversion."""

    kind: codes.SupplyKind
    earthed: Annotated[codes.Earthed | None, Says("which conductor is at earth potential")] = None
    country: Annotated[str, Text("a country's two letters, as GB or US", 2)] = ""
    voltage: Annotated[
        Value, Quantity("voltage", 90, 700), Says("between the two lines that will be used")
    ]
    frequency: Annotated[Value, Quantity("frequency", 40, 70)]
    measured_voltage: VoltageRange | None = None
    service_rating: Annotated[
        Value | None, Quantity("current", 1, 2000), Says("main fuse or breaker")
    ] = None
    contracted_power: Annotated[Value | None, Quantity("apparent_power", 500, 1e6)] = None
    residual_current: ResidualCurrent | None = None
    surge: Surge | None = None
    transformer: Annotated[Value | None, Quantity("apparent_power", 1000, 5e6)] = None
    earthing: codes.Earthing | None = None
    loop_impedance: Annotated[Value | None, Quantity("resistance", 0.001, 10, "measured")] = None
    prospective_fault_current: Annotated[Value | None, Quantity("current", 20, 2e5, "measured")] = (
        None
    )
    insulation_monitor: Annotated[
        bool | None, Says("one watches a supply of which no conductor is earthed")
    ] = None
    heater_test: HeaterTest | None = None
    volts_to_earth: VoltsToEarth | None = None
    feeder: Feeder | None = None
    outlet_rating: Annotated[
        Value | None, Quantity("current", 1, 1000), Says("where only an outlet may be used")
    ] = None
    converter_circuit: ConverterCircuit | None = None
    farm: Annotated[bool | None, Says("it feeds a farm or market garden")] = None
    dwelling: Annotated[bool | None, Says("dwellings share its transformer")] = None
    service_conductor: Annotated[
        Value | None, Quantity("area", 1e-7, 1e-3), Says("copper, in from the street")
    ] = None
    electrode_conductor: Annotated[
        Value | None, Quantity("area", 1e-7, 1e-3), Says("copper, to its earth electrode")
    ] = None
    bonding_conductor: Annotated[
        Value | None, Quantity("area", 1e-7, 1e-3), Says("copper, to pipes and steel")
    ] = None
    other_loads: tuple[OtherLoad, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Tariff:
    """What energy costs, in the shop's currency."""

    energy: Annotated[float | None, Money, Says("for one kWh")] = None
    fuel: Annotated[float | None, Money, Says("for one litre, where a generator may run")] = None
    standing_per_year: Annotated[float | None, Money] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A building or room with its own feeder."""

    name: str
    feeder: Feeder | None = None
    residual_current: ResidualCurrent | None = None
    electrode: Annotated[Value | None, Quantity("resistance", 0.1, 1e4, "measured")] = None
    dust: bool = False
    damp: bool = False
    ambient: Annotated[Value | None, Quantity("temperature", -50, 70)] = None
    altitude: Annotated[Value | None, Quantity("length", 0, 6000)] = None
    users: codes.Users | None = None


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
    tariff: Tariff = Tariff()
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


def motor_id(machine: Machine, motor: Motor) -> str:
    """The id of a motor everywhere in the answer: `Machine/motor`."""
    return f"{machine.name}/{motor.name}"
