"""What an installation consists of, as data: circuits, equipment, and the whole.

Knows no clause and no way of powering. A field that nothing has computed is None. SI units, ratios
as fractions; ratings of residual-current devices in mA as the trade prints them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from phasewright.quantities.codes import Buyable, Region, TiedTo
from phasewright.quantities.value import Value

Lines = Literal["1-2", "1-2-3", "drive output", "control"]
"""Which lines a circuit carries: the supply pair, all three, a drive's output, a control supply."""
Role = Literal[
    "supply_to_converter", "supply_to_drive", "supply_to_transformer", "supply_to_machine",
    "transformer_to_drive", "converter_to_outlet", "converter_to_machine", "outlet_to_machine",
    "drive_to_motor", "capacitor_branch", "control",
]  # fmt: skip
"""What a circuit is for."""


@dataclass(frozen=True, slots=True)
class Device:
    """An overcurrent device: breaker or fuse."""

    kind: Literal["breaker", "fuse", "time_delay_fuse"]
    rating_a: float
    curve: str | None = None
    breaking_ka: float | None = None


@dataclass(frozen=True, slots=True)
class ResidualCurrentDevice:
    """A residual-current device and the standing leakage it has to bear."""

    rating_ma: float
    type: Literal["AC", "A", "F", "B"]
    leakage_ma: float | None = None
    at: str | None = None
    """Id of the circuit at whose origin it stands; None for the circuit's own origin."""
    upstream: bool = False
    """True where it is the one the shop already has before everything."""
    trips_s: float | None = None
    """Longest it may take at this circuit's own earth-fault current; None where it is blind."""


@dataclass(frozen=True, slots=True)
class ProtectiveConductor:
    """The conductor that carries an earth fault, and the least area the fault asks for."""

    conductor: str
    area_m2: float
    adiabatic_m2: float | None = None
    separate: bool = False
    """True of a wire of its own, which is no core of the circuit's cable."""
    guarded: bool = False
    """Of such a wire: in a pipe, or else kept from blows."""


@dataclass(frozen=True, slots=True)
class Isolator:
    """What isolates a circuit by hand, all its poles at once; lockable where one works on it."""

    rating_a: float
    poles: int
    lockable: bool = True
    power_w: float | None = None
    """The motor power it is marked for, where it is rated so."""
    early_break: bool = False
    """True where a contact that opens first tells a drive to stop before its output opens."""


@dataclass(frozen=True, slots=True)
class Socket:
    """A socket and its plug, which mate with no other voltage."""

    rating_a: float
    pattern: str
    poles: int
    voltage_v: float


@dataclass(frozen=True, slots=True)
class MotorServed:
    """The one motor that a circuit ends at: its rated power, its phases, its overload units.

    `overload_units` counts the heaters or poles that watch its lines; None where nothing is known
    to, behind a drive for one, which watches all of them.
    """

    power_w: float | None
    phases: int
    overload_units: int | None = None
    wrong_direction_harms: bool | None = None
    insulation_ohm: float | None = None
    """Measured from its windings to its frame."""
    plate_a: float | None = None
    """Amps of its plate on the link it runs on."""
    service_factor: float | None = None


@dataclass(frozen=True, slots=True)
class Panel:
    """The control panel that a circuit ends at: the fault current it is marked for, and the largest
    device in it that guards a single motor; None where that is not known."""

    rating_ka: float | None = None
    largest_branch_a: float | None = None
    heating_a: float = 0.0


@dataclass(frozen=True, slots=True)
class PhaseRelay:
    """Lets the outlets live only while three lines are there, in sequence and balanced."""

    undervoltage_v: float
    unbalance: float
    delay_s: float


@dataclass(frozen=True, slots=True)
class VoltageDrop:
    """Voltage drop of a circuit as a share of its voltage, running and at the hardest start."""

    running: float | None = None
    starting: float | None = None


@dataclass(frozen=True, slots=True)
class Circuit:
    """One circuit from its protective device to what it feeds."""

    id: str
    feeds: tuple[str, ...]
    source: str
    lines: Lines = "1-2-3"
    design_current_a: Value | None = None
    conductor: str | None = None
    length_m: float | None = None
    ampacity_a: Value | None = None
    voltage_drop: VoltageDrop | None = None
    device: Device | None = None
    residual_current: ResidualCurrentDevice | None = None
    loop_ohm: Value | None = None
    earth_fault_a: Value | None = None
    disconnects_s: Value | None = None
    overload_setting_a: Value | None = None
    switches: tuple[str, ...] = ()
    """What can open this circuit under power, in the shop's own words (drum, contactor...)."""
    electrode_ohm: float | None = None
    """Of the earth electrode that a fault goes back through; None where a conductor does."""
    role: Role | None = None
    place: str | None = None
    equipment: str | None = None
    """Id of the equipment at its far end, where it feeds one."""
    voltage_v: float | None = None
    """Volts between its lines."""
    to_earth_v: float | None = None
    """Volts of its highest line to earth; None where nothing is earthed or it is not known."""
    full_load_a: tuple[float, ...] = ()
    """Full-load amps of the motors behind it on its own lines, the largest first."""
    nameplate_input_a: float | None = None
    """Input amps on the plate of the converter, drive or transformer it feeds (usual ones until
    it is bought)."""
    motor: MotorServed | None = None
    """The motor it ends at; None where it ends at several or at none."""
    panel: Panel | None = None
    """The machine's control panel at its end; None where nobody told of one."""
    starting_current_a: Value | None = None
    starting_s: float | None = None
    """The hardest start through it, and how long that lasts."""
    conductor_m2: float | None = None
    loaded: int = 2
    """Conductors that carry current."""
    method: str | None = None
    ambient_c: float | None = None
    grouped: int = 1
    """Circuits bunched with it, itself counted."""
    fault_at_origin_a: Value | None = None
    """Prospective current of a dead short between its lines at its beginning."""
    fault_at_end_a: Value | None = None
    protective_conductor: ProtectiveConductor | None = None
    isolator: Isolator | None = None
    socket: Socket | None = None
    phase_relay: PhaseRelay | None = None
    undervoltage_release: bool = False
    capacitance_f: float | None = None
    """Of a capacitor branch."""
    discharge_ohm: float | None = None
    """Of the resistor across a capacitor branch."""
    behind_overload: bool | None = None
    """Whether capacitors that go with one motor hang behind its overload relay; None of others."""
    fused: bool | None = None
    """Whether capacitors have an overcurrent device of their own; None where nobody told."""
    fixed_loads_a: tuple[float, ...] | None = None
    """Full-load amps of what a converter feeds, where that is fixed; None where it may vary."""
    path: str | None = None
    """Where in the shop file the machine stands that it goes to."""
    why_it_holds: str | None = None
    why_it_trips: str | None = None


@dataclass(frozen=True, slots=True)
class Equipment:
    """A thing that stands in the circuits: converter, drive, transformer, capacitor bank."""

    id: str
    kind: str
    rating: float | None = None
    unit: str | None = None
    place: str | None = None
    serves: tuple[str, ...] = ()
    nameplate_input_a: float | None = None
    output_current_a: float | None = None
    output_voltage_v: float | None = None
    isolates: bool = False
    """True where its output has no conductor in common with its input."""
    generates_line3: bool = False
    """True where line 3 comes from an idler, capacitors or an inverter and not from the street."""
    leakage_ma: float | None = None
    rectifier: Literal["two lines", "three lines"] | None = None
    """What a drive's rectifier takes its current from."""
    origin: Buyable | None = None
    """How it is come by: what is built at home has no plate but its builder's."""
    autotransformer: bool = False
    """True of a transformer whose input and output share a winding."""
    has_plate: bool | None = None
    """Of a converter: whether its plate was told of."""
    grounded_through: bool | None = None
    """Of an autotransformer: whether a grounded conductor goes through from input to output."""
    input_voltage_v: float | None = None
    line_3_marked: bool | None = None
    """Whether its line 3 is marked at every end; None where nobody told."""
    tied: TiedTo | None = None
    """What its line 3 or star point is tied to; None where nobody told."""


@dataclass(frozen=True, slots=True)
class Installation:
    """All circuits and equipment of one plan behind one supply."""

    region: Region
    line_voltage_v: float
    frequency_hz: float
    circuits: tuple[Circuit, ...] = ()
    equipment: tuple[Equipment, ...] = ()
    earthing: str | None = None
    """TN-S, TN-C-S, TT, IT."""
    earthed: str | None = None
    """Which point of the supply is at earth: line_2, centre, none, unknown."""
    service_rating_a: float | None = None
    upstream_residual: ResidualCurrentDevice | None = None
    """What the shop already has before everything."""
    upstream_delayed: bool = False
    """Whether it waits for the devices behind it (type S)."""
    insulation_monitor: bool | None = None
    """Whether something watches the insulation; None where nobody told."""
    farm: bool | None = None
    """Whether it stands on a farm; None where nobody told."""
    dusty: tuple[str, ...] = ()
    """Places in which dust or stock may burn."""
    electrode_conductor_m2: float | None = None
    service_conductor_m2: float | None = None
    bonding_conductor_m2: float | None = None
    """What leads to the building's earth electrode, in from the street, and to pipes and steel;
    None where nobody told."""
    high_leg: bool = False
    """Whether three lines here stand at unequal volts to earth: a delta earthed at a centre."""

    def circuit(self, id: str) -> Circuit:
        """The circuit of this id; raises KeyError without one."""
        for entry in self.circuits:
            if entry.id == id:
                return entry
        raise KeyError(f"no circuit {id!r}")
